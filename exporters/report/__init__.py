"""The report on results: one HTML page that needs no network, the same as JSON, and files beside the problems."""

from __future__ import annotations

from turnwright.exporters.report.data import outcome_data
from turnwright.exporters.report.page import Head, report_page
from turnwright.exporters.report.statistics import statistics_files

__all__ = ["Head", "outcome_data", "report_page", "statistics_files"]
