"""Mistakes that stay apart from the key and from each other in one variant: options of a choice, feedback on a number.

Rules (ids from the trade's list of checks on items; gaps are house limits): M3 every wrong answer is solved from a
named mistake; M4 options differ by 5 % and three tolerances at least, and by two units in the last printed figure; M5
they stand in order of size; M6, M13 the place of the key is drawn evenly from those that the wrong answers allow; M12
none is more than a thousand times the key, or less than a thousandth.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray
from turnwright.bank.grid import Numbers
from turnwright.bank.quantity import from_float, half_unit, print_figures, round_figures
from turnwright.bank.slip import Slip, slip_values
from turnwright.bank.variant import ScenePool, Variant

LEAST_GAP = 0.05
TOLERANCES_APART = 3.0
LAST_PLACES_APART = 2.0
FARTHEST = 1000.0
SAME = 1e-3  # two mistakes that give one number are named together
FEWEST_WRONG = 2
MOST_WRONG = 4
RECOGNISED_WIDTH = 0.005


@dataclass(frozen=True)
class WrongAnswer:
    """A wrong answer in the printed unit, rounded as the key is, with the mistakes that lead to it."""

    value: Decimal
    slips: tuple[Slip, ...]


def candidates(pool: ScenePool, slips: Sequence[Slip], numbers: Numbers) -> NDArray[np.float64]:
    """Wrong answers as an array (slips x combinations) in the printed unit; nan where one is no possible answer.

    Possible: real, of a sign that the quantity can have, and within a factor of a thousand of the key.
    """
    if not slips:
        return np.empty((0, len(numbers)))
    found = np.stack([slip_values(slip, pool, numbers) for slip in slips])
    key = pool.exact(numbers) / pool.answer.unit.factor
    with np.errstate(all="ignore"):
        ratio = np.abs(found / key)
        possible = np.isfinite(found) & (ratio < FARTHEST) & (ratio > 1 / FARTHEST)
    if pool.answer.positive:
        possible &= found > 0
    if pool.answer.unit.symbol == "deg":
        possible &= found < 90
    return np.where(possible, found, np.nan)


def apart(variant: Variant, values: NDArray[np.float64], slips: Sequence[Slip]) -> list[WrongAnswer]:
    """The wrong answers of one variant that are far enough from the key and from each other, the telling ones first."""
    key = round_figures(variant.answer.value, variant.answer.figures)
    gap = max(LEAST_GAP * abs(float(key)), TOLERANCES_APART * float(variant.half_width))
    return list(_spaced(variant, values, slips, key, gap))


def _spaced(
    variant: Variant, values: NDArray[np.float64], slips: Sequence[Slip], key: Decimal, gap: float
) -> Iterator[WrongAnswer]:
    kept: list[tuple[float, list[Slip]]] = []
    for value, slip in zip(values, slips, strict=True):
        if not np.isfinite(value) or abs(value - float(key)) < _room(value, variant.answer.figures, gap):
            continue
        if _has_power(from_float(value), variant) != _has_power(key, variant):
            continue  # M7: all options in one notation
        near = [each for each in kept if abs(each[0] - value) < _room(value, variant.answer.figures, gap)]
        if not near:
            kept.append((float(value), [slip]))
        elif abs(near[0][0] - value) <= SAME * abs(value):
            near[0][1].append(slip)
    for value, found in kept:
        yield WrongAnswer(round_figures(from_float(value), variant.answer.figures), tuple(found))


def _has_power(value: Decimal, variant: Variant) -> bool:
    return "×" in print_figures(value, variant.answer.figures)


def _room(value: float, figures: int, gap: float) -> float:
    """How far apart two options must be: the gap of the key, 5 % of the value, two units of its last figure."""
    last = 2 * float(half_unit(from_float(value), figures))
    return max(gap, LEAST_GAP * abs(value), LAST_PLACES_APART * last)


def chosen(variant: Variant, wrong: Sequence[WrongAnswer], draw: str) -> tuple[WrongAnswer, ...]:
    """Two to four of the wrong answers in order of size, so that the place of the key is drawn evenly; () if too few.

    ``draw`` names the variant: the same name gives the same place on every machine.
    """
    total = min(MOST_WRONG, len(wrong))
    if total < FEWEST_WRONG:
        return ()
    key = variant.answer.value
    below, above = ([each for each in wrong if (each.value < key) == side] for side in (True, False))
    places = range(max(0, total - len(above)), min(total, len(below)) + 1)
    place = places[int.from_bytes(hashlib.sha256(draw.encode()).digest()[:4], "big") % len(places)]
    return tuple(sorted((*below[:place], *above[: total - place]), key=lambda each: each.value))


def recognisable(
    variant: Variant, values: NDArray[np.float64], slips: Sequence[Slip]
) -> Iterator[tuple[WrongAnswer, Decimal]]:
    """Wrong answers that a typed number is known by, with half-widths; their bands meet no other and not the key's."""
    key = round_figures(variant.answer.value, variant.answer.figures)
    taken = [(float(key), float(variant.half_width))]
    kept: list[tuple[Decimal, Decimal, list[Slip]]] = []
    for value, slip in zip(values, slips, strict=True):
        if not np.isfinite(value):
            continue
        rounded = round_figures(from_float(value), variant.answer.figures)
        width = max(
            half_unit(rounded, variant.answer.figures), round_figures(from_float(RECOGNISED_WIDTH * abs(value)), 2)
        )
        same = next((each for each in kept if abs(float(each[0]) - value) <= SAME * abs(value)), None)
        if same:
            same[2].append(slip)
        elif all(abs(value - other) > reach + float(width) for other, reach in taken):
            taken.append((float(rounded), float(width)))
            kept.append((rounded, width, [slip]))
    for rounded, width, found in kept:
        yield WrongAnswer(rounded, tuple(found)), width
