"""The sign-off page: one HTML file with all that a person reads who puts a name to the questions."""

from __future__ import annotations

from turnwright.exporters.book.page import Page, page
from turnwright.exporters.book.sheet import Head, Quality, Sheet
from turnwright.exporters.book.writing import Book, write_book

__all__ = ["Book", "Head", "Page", "Quality", "Sheet", "page", "write_book"]
