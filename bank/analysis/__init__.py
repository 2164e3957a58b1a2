"""Item analysis of results: statistics of neutral rows, whatever file they came from; no format, no page."""

from __future__ import annotations

from turnwright.bank.analysis.analysing import analyse
from turnwright.bank.analysis.assessment import Assessment, assessment, read_assessment
from turnwright.bank.analysis.outcome import Outcome
from turnwright.bank.analysis.rows import Rows
from turnwright.bank.analysis.told import Ledger

__all__ = ["Assessment", "Ledger", "Outcome", "Rows", "analyse", "assessment", "read_assessment"]
