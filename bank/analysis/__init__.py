"""Item analysis of results: statistics of neutral rows, whatever file they came from; no format, no page."""

from __future__ import annotations

from .analysing import analyse
from .assessment import SatAssessment, assessment, read_assessment
from .outcome import Outcome
from .rows import Rows
from .told import Ledger

__all__ = ["Ledger", "Outcome", "Rows", "SatAssessment", "analyse", "assessment", "read_assessment"]
