"""Simple relations between numbers to choose from: half, double, 4, π or √2 times another, its square, 90° less it.

Mistakes lose such factors or a root, or take the other angle, so that the key is often the number that most others are
simply related to. Who knows no physics finds it there, unless a wrong number is as much a centre.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import combinations, product
from math import pi, sqrt
from typing import Final, TypeAlias, TypeVar

SIMPLE: Final = (2.0, 4.0, pi, sqrt(2))
NEAR: Final = 0.012  # of a ratio, since options are rounded
LEAST, MOST = 1.3, 4.1  # beyond which no ratio is near to a simple one
RIGHT_ANGLE, ROUNDED = Decimal(90), Decimal("0.2")  # degrees
SPARE: Final = 2  # wrong numbers more on each side of the key that are looked at

_Wrong = TypeVar("_Wrong")
_Pairs: TypeAlias = Sequence[Sequence[bool]]  # what holds of one number, by its place, and another


def partners(values: Sequence[Decimal], *, in_degrees: bool = False) -> tuple[int, ...]:
    """Of each number, how many others it is simply related to."""
    return _partners(values, _simple(values), in_degrees=in_degrees)


def _partners(values: Sequence[Decimal], simple: _Pairs, *, in_degrees: bool) -> tuple[int, ...]:
    found = [0] * len(values)
    sizes, squares = [float(each) for each in values], [float(each**2) for each in values]
    for one, other in combinations(range(len(values)), 2):
        also = _are_near(sizes[one], squares[other]) or _are_near(sizes[other], squares[one])
        also = also or (in_degrees and abs(values[one] + values[other] - RIGHT_ANGLE) < ROUNDED)
        found[one] += also or simple[one][other]
        found[other] += also or simple[other][one]
    return tuple(found)


def telling(key: Decimal, wrong: Sequence[Decimal], *, in_degrees: bool = False) -> int:
    """How clearly numbers point to the key: 2 where it alone is in the middle of a chain or has the digits of a wrong
    one, 0 where they do not.

    They do where who takes a number with the most partners takes the key more often than who takes any number.
    """
    every = (key, *wrong)
    simple = _simple(every)
    is_middle = _is_middle(0, every, simple) and not any(_is_middle(at, every, simple) for at in range(1, len(every)))
    if is_middle or any(_has_the_digits(each, key) for each in wrong):
        return 2
    own, *others = _partners(every, simple, in_degrees=in_degrees)
    most = max(own, *others)
    return int(own == most and others.count(most) + 1 <= len(others))


def _is_middle(place: int, values: Sequence[Decimal], simple: _Pairs) -> bool:
    """Whether a number is as many times one of the others, in a simple ratio, as another one is times it: 5, 10, 20."""
    around = [at for at in range(len(values)) if at != place]
    return any(
        simple[one][place]
        and simple[place][other]
        and _are_near(float(values[one] * values[other]), float(values[place] ** 2))
        for one, other in combinations(around, 2)
    )


def _has_the_digits(one: Decimal, key: Decimal) -> bool:
    """Whether a number is the key but for its power of ten, so that one of these two must be right: 2.97 and 29.7."""
    return abs(one.normalize().scaleb(-one.adjusted())) == abs(key.normalize().scaleb(-key.adjusted()))


def choices(below: Sequence[_Wrong], above: Sequence[_Wrong], lower: int, upper: int) -> Iterator[tuple[_Wrong, ...]]:
    """So many of the wrong numbers below and above the key, the sets with the most telling ones first."""
    low, high = (combinations(range(min(n + SPARE, len(side))), n) for n, side in ((lower, below), (upper, above)))
    for few, many in sorted(product(low, high), key=lambda each: (sum(each[0]) + sum(each[1]), each)):
        yield (*(below[at] for at in few), *(above[at] for at in many))


def _are_near(one: float, other: float) -> bool:
    return abs(one - other) < 2 * NEAR * abs(other)


def _simple(values: Sequence[Decimal]) -> _Pairs:
    """Whether each number is in a simple ratio to each."""
    sizes = [abs(float(each)) for each in values]
    return [[_is_simple(one, other) for other in sizes] for one in sizes]


def _is_simple(one: float, other: float) -> bool:
    if not one or not other:
        return False
    ratio = one / other
    larger = max(ratio, 1 / ratio)
    return LEAST < larger < MOST and any(abs(larger / each - 1) < NEAR for each in SIMPLE)
