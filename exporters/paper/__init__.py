"""Exam papers as PDF: versions of a question paper, and apart from it a file with their keys and marking guide."""

from __future__ import annotations

from .papers import PARTS, Layout, Papers, papers, parts_of
from .writing import WrittenPapers, write_papers

__all__ = ["PARTS", "Layout", "Papers", "WrittenPapers", "papers", "parts_of", "write_papers"]
