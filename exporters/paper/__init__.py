"""Exam papers as PDF: versions of a question paper, and apart from it a file with their keys and marking guide."""

from __future__ import annotations

from .pdf import PARTS, PaperLayout, Papers, papers, parts_of
from .writing import WrittenPapers, write_papers

__all__ = ["PARTS", "PaperLayout", "Papers", "WrittenPapers", "papers", "parts_of", "write_papers"]
