"""Exam papers as PDF: versions of a question paper, and apart from it a file with their keys and marking guide."""

from __future__ import annotations

from .heading import Heading, read_heading
from .pdf import PARTS, PaperLayout, Papers, papers, parts_of
from .writing import WrittenPapers, paths_of, write_papers

__all__ = [
    "PARTS", "Heading", "PaperLayout", "Papers", "WrittenPapers", "papers", "parts_of", "paths_of", "read_heading",
    "write_papers",
]  # fmt: skip
