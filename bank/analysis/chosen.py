"""Which thinking the answers show: each named by the mistakes that it came from, and counted by third of the totals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, TypeAlias

import numpy as np

from .assessment import SatItem, SatPart
from .classical import Scores, thirds, totals
from .responses import given_to, numbers
from .sameness import is_within, reaches
from .table import Table

Sort: TypeAlias = Literal["right", "mistake", "other", "omitted"]

ORDER: tuple[Sort, ...] = ("right", "mistake", "other", "omitted")


@dataclass(frozen=True)
class Chosen:
    """Answers of one sort to a question, those from the same ``mistakes`` together, whatever the variant.

    ``by_third`` counts them in the lower, middle and upper third. ``correlation`` is that of giving such an answer with
    the total; ``offered`` is how many met a variant in which it was an option or a recognised number.
    """

    sort: Sort
    mistakes: tuple[str, ...]
    by_third: tuple[int, int, int]
    share: float
    correlation: float
    offered: int

    @property
    def count(self) -> int:
        """How many gave such an answer."""
        return sum(self.by_third)


def thinking(item: SatItem, response: str) -> tuple[str, ...]:
    """The mistakes that an answer to an item comes from, each once; nothing where it shows none."""
    found: dict[str, None] = {}
    for part, text in zip(item.parts, given_to(response, len(item.parts)), strict=True):
        options = {each.name: each for each in part.options}
        for name in text.split() if options else ():
            if name in options:
                found.update(dict.fromkeys(options[name].mistakes))
        if part.bands:
            found.update(dict.fromkeys(_recognised(part, numbers(text, part.key.get("unit", "")))))
    return tuple(found)


def _recognised(part: SatPart, typed: Sequence[Decimal]) -> tuple[str, ...]:
    """The mistakes of the nearest known wrong number that is near enough."""
    apart = [(abs(float(value) - each.value), value, each) for value in typed for each in part.bands]
    near = [(off, each) for off, value, each in apart if is_within(float(value), each.value, each.half_width)]
    return min(near, key=lambda pair: pair[0])[1].mistakes if near else ()


def chosen(table: Table) -> list[tuple[Chosen, ...]]:
    """What was answered to each question of a table: right, each mistake by its count, other answers, omitted."""
    total = totals(table.scores, table.marks)
    third = thirds(total)
    tallies: list[dict[tuple[Sort, tuple[str, ...]], _Tally]] = [{} for _ in table.questions]
    data = table.answers
    full = reaches(data["counted"].to_numpy(), table.marks[data["column"].to_numpy()])
    rows = data["row"].to_numpy()
    data = data.assign(full=full, third=third[rows], total=np.nan_to_num(total)[rows])
    keys = ["column", "inside", "response", "full", "third"]
    counted = data.groupby(keys, observed=True, sort=False)["total"].agg(["size", "sum"])
    for (column, inside, response, right, group), size, points in counted.itertuples(name=None):
        name = _name(table.questions[column].items[inside], response, right)
        tallies[column].setdefault(name, _Tally()).add(group, size, points)
    for column, missing in enumerate((table.omitted & (table.variant < 0)).T):
        for group in range(3):
            here = missing & (third == group)
            if here.any():
                tally = tallies[column].setdefault(("omitted", ()), _Tally())
                tally.add(group, int(here.sum()), float(np.nan_to_num(total)[here].sum()))
    return [_sorted(table, column, each, np.nan_to_num(total)) for column, each in enumerate(tallies)]


def _name(item: SatItem, response: str, right: bool) -> tuple[Sort, tuple[str, ...]]:
    if right:
        return "right", ()
    if not response:
        return "omitted", ()
    mistakes = thinking(item, response)
    return ("mistake", mistakes) if mistakes else ("other", ())


class _Tally:
    """Counts by third, and the sum of the totals of those counted."""

    def __init__(self) -> None:
        self.by_third = [0, 0, 0]
        self.points = 0.0

    def add(self, third: int, count: int, points: float) -> None:
        self.by_third[third] += count
        self.points += points


def _sorted(
    table: Table, column: int, tallies: dict[tuple[Sort, tuple[str, ...]], _Tally], total: Scores
) -> tuple[Chosen, ...]:
    offered = _offered(table, column)
    for mistakes in offered:
        tallies.setdefault(("mistake", mistakes), _Tally())
    count, mean, spread = len(total), float(total.mean()), float(total.std())
    made = [
        Chosen(
            sort,
            mistakes,
            (tally.by_third[0], tally.by_third[1], tally.by_third[2]),
            sum(tally.by_third) / count,
            _correlation(sum(tally.by_third), tally.points, count, mean, spread),
            offered.get(mistakes, 0) if sort == "mistake" else count,
        )
        for (sort, mistakes), tally in tallies.items()
    ]
    return tuple(sorted(made, key=lambda each: (ORDER.index(each.sort), -each.count, each.mistakes)))


def _offered(table: Table, column: int) -> dict[tuple[str, ...], int]:
    """How many met each set of mistakes as an option, or as a number that would be recognised."""
    met = np.bincount(table.variant[:, column] + 1, minlength=len(table.questions[column].items) + 1)[1:]
    found: dict[tuple[str, ...], int] = {}
    for item, count in zip(table.questions[column].items, met, strict=True):
        known = {each.mistakes for part in item.parts for each in part.options}
        known |= {each.mistakes for part in item.parts for each in part.bands}
        sets = {each for each in known if each}
        for mistakes in sorted(sets) if count else ():
            found[mistakes] = found.get(mistakes, 0) + int(count)
    return found


def _correlation(some: int, points: float, count: int, mean: float, spread: float) -> float:
    """The point-biserial correlation of being one of ``some`` with the total."""
    if not 0 < some < count or spread <= 1e-12:
        return math.nan
    share = some / count
    return (points / some - mean) / spread * math.sqrt(share / (1 - share))
