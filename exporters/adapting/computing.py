"""Whether a platform may work out the keys of a template item: only where it comes to every key that the solver has."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from decimal import ROUND_HALF_UP, Context, Decimal

from ...bank.item.computation import Computation
from ...bank.item.item import Item, NumberEntry
from .template import Computed, TemplateItem

UNROUNDED = (10, 9, 8)  # figures of a key that is not to be rounded, so that the noise of doubles is cut off
NOISE = 1e-12  # relative: more than two ways of working in doubles may differ
LEAST_MARGIN = 1e-6


def computed(template: TemplateItem) -> TemplateItem | None:
    """The template with its key worked out on the platform; None where the key must stand in the table.

    The key is rounded as ours is where that gives our key in every row. Where a half would be rounded otherwise in
    some row, all rows keep the unrounded key, with the same tolerance around it.
    """
    entries = tuple(template.row_entries)
    found = [entry.computation for entry in entries]
    known = [each for each in found if each is not None]
    if len(known) < len(found) or len({(each.form, _names(each)) for each in known}) > 1:
        return None
    results = [each.result for each in known]
    for figures in (template.entry.figures, *UNROUNDED):
        keys = [_rounded(each, figures) for each in results]
        rows = [_with_key(row, key) for row, key in zip(template.rows, keys, strict=True)]
        honest = figures in UNROUNDED or all(key == entry.key for key, entry in zip(keys, entries, strict=True))
        if honest and all(_is_sure(each, figures) for each in results) and all(_is_apart(row.entry) for row in rows):
            computation = Computed(known[0].form, _givens(known), figures)
            return replace(template, entries=rows[0].entries, rows=tuple(rows), computed=computation)
    return None


def _names(computation: Computation) -> tuple[str, ...]:
    return tuple(name for name, _ in computation.values)


def _givens(known: Sequence[Computation]) -> tuple[tuple[str, tuple[Decimal, ...]], ...]:
    columns = zip(*(each.values for each in known), strict=True)
    return tuple((column[0][0], tuple(value for _, value in column)) for column in columns)


def _rounded(result: float, figures: int) -> Decimal:
    """As a platform rounds, halves away from zero; zeros at the end are kept."""
    if not math.isfinite(result):
        return Decimal("NaN")
    return Context(prec=figures, rounding=ROUND_HALF_UP).plus(Decimal(repr(result)))


def _is_sure(result: float, figures: int) -> bool:
    """Whether the result lies far enough from a half that noise can't turn the rounding."""
    if not result or not math.isfinite(result):
        return False
    places = abs(result) / 10.0 ** (math.floor(math.log10(abs(result))) - figures + 1)
    return bool(abs(places % 1 - 0.5) > max(LEAST_MARGIN, NOISE * 10.0**figures))


def _with_key(row: Item, key: Decimal) -> Item:
    return row if key == row.entry.key else replace(row, entries=(replace(row.entry, key=key),))


def _is_apart(entry: NumberEntry) -> bool:
    """Whether no wrong answer that is known meets the right ones."""
    return all(abs(wrong.value - entry.key) > entry.half_width + wrong.half_width for wrong in entry.recognised)
