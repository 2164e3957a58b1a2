"""Results as platforms give them out, read into neutral rows: QTI results reporting (XML), and a CSV of our own."""

from __future__ import annotations

from turnwright.exporters.results.groups import with_groups
from turnwright.exporters.results.pseudonym import Pseudonyms
from turnwright.exporters.results.reading import read_results

__all__ = ["Pseudonyms", "read_results", "with_groups"]
