"""Parallel forms from a blueprint: a table of what a test must cover, met by all forms at once.

Words of the trade: a *blueprint* (table of specifications) says what each form holds; *enemies* may not stand in one
form; an *anchor* stands in all of them; *facility* is the share of candidates who get an item right.
"""

from __future__ import annotations
