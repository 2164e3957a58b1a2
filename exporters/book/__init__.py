"""The sign-off page: one HTML file with all that a person reads who puts a name to the questions."""

from __future__ import annotations

from .page import BookPage, page
from .sheet import BookHead, Quality, Sheet
from .writing import Book, write_book

__all__ = ["Book", "BookHead", "BookPage", "Quality", "Sheet", "page", "write_book"]
