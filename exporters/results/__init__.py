"""Results as platforms give them out, read into neutral rows: QTI results reporting (XML), and a CSV of our own."""

from __future__ import annotations

from .groups import with_groups
from .pseudonym import Pseudonyms
from .reading import read_results

__all__ = ["Pseudonyms", "read_results", "with_groups"]
