"""The sign-off page: one HTML file with all that a person reads who puts a name to the questions."""

from __future__ import annotations

from .page import Page, page
from .sheet import Head, Quality, Sheet
from .writing import Book, write_book

__all__ = ["Book", "Head", "Page", "Quality", "Sheet", "page", "write_book"]
