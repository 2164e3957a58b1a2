"""Simple ratios between numbers to choose from: half, double, 4, π or √2 times another.

Mistakes lose such factors, so that the key is often the number that most others are a simple ratio of. Who knows no
physics finds it there, unless a wrong number is as much a centre.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import combinations, product
from math import pi, sqrt
from typing import Final, TypeVar

SIMPLE: Final = (2.0, 4.0, pi, sqrt(2))
NEAR: Final = 0.012  # of a ratio, since options are rounded
SPARE: Final = 2  # wrong numbers more on each side of the key that are looked at

_Wrong = TypeVar("_Wrong")


def partners(values: Sequence[Decimal]) -> tuple[int, ...]:
    """Of each number, how many others it has a simple ratio to."""
    return tuple(
        sum(_is_simple(one, other) for at, other in enumerate(values) if at != place)
        for place, one in enumerate(values)
    )


def tells(key: Decimal, wrong: Sequence[Decimal]) -> bool:
    """Whether who takes a number with the most partners takes the key more often than who takes any number."""
    own, *others = partners((key, *wrong))
    most = max(own, *others)
    return (own == most and others.count(most) + 1 <= len(others)) or _is_the_middle(key, wrong)


def _is_the_middle(key: Decimal, wrong: Sequence[Decimal]) -> bool:
    """Whether the key alone is as many times one number, in a simple ratio, as another one is times it: 5, 10, 20."""
    every = (key, *wrong)
    middles = [
        each
        for each in every
        for one, other in combinations([rest for rest in every if rest != each], 2)
        if _is_simple(one, each) and _is_simple(each, other) and _are_near(one * other, each**2)
    ]
    return set(middles) == {key}


def choices(below: Sequence[_Wrong], above: Sequence[_Wrong], lower: int, upper: int) -> Iterator[tuple[_Wrong, ...]]:
    """So many of the wrong numbers below and above the key, the sets with the most telling ones first."""
    low, high = (combinations(range(min(n + SPARE, len(side))), n) for n, side in ((lower, below), (upper, above)))
    for few, many in sorted(product(low, high), key=lambda each: (sum(each[0]) + sum(each[1]), each)):
        yield (*(below[at] for at in few), *(above[at] for at in many))


def _are_near(one: Decimal, other: Decimal) -> bool:
    return abs(float(one) - float(other)) < 2 * NEAR * abs(float(other))


def _is_simple(one: Decimal, other: Decimal) -> bool:
    if not one or not other:
        return False
    ratio = abs(float(one) / float(other))
    return any(abs(max(ratio, 1 / ratio) / each - 1) < NEAR for each in SIMPLE)
