"""The report on results: one HTML page that needs no network, the same as JSON, and files beside the problems."""

from __future__ import annotations

from .data import outcome_data
from .page import ReportHead, report_page
from .statistics import statistics_files, statistics_paths

__all__ = ["ReportHead", "outcome_data", "report_page", "statistics_files", "statistics_paths"]
