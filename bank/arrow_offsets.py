"""How far the arrows of a force diagram step aside, so that those with (nearly) one direction can be told apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate, pairwise
from math import fsum, radians, sin

SPACING = 17.0  # between two arrows of one direction
APART_AT = 36.0  # from the body's centre: where arrows that part by their directions alone must be SPACING apart


def side_offsets(directions: Sequence[float]) -> tuple[float, ...]:
    """How far each arrow moves to its left, with the least moves in all; zero for arrows that are apart anyway.

    Round the body, each must lie ``SPACING - APART_AT * sin(gap)`` further left than the one before it. Taking the
    sums of these needs away leaves a series that may not fall, and the nearest such series is found by pooling.
    """
    order = _from_widest_gap(directions)
    gaps = [(directions[after] - directions[before]) % 360.0 for before, after in pairwise(order)]
    needs = [SPACING - APART_AT * sin(radians(min(gap, 90.0))) for gap in gaps]
    totals = list(accumulate(needs, initial=0.0))[: len(order)]
    rise = _nearest_rise([-total for total in totals])
    offsets = {index: up + total for index, up, total in zip(order, rise, totals, strict=True)}
    return tuple(offsets[index] for index in range(len(directions)))


def _from_widest_gap(directions: Sequence[float]) -> list[int]:
    """The arrows in order round the body, anticlockwise, beginning after the widest empty angle."""
    order = sorted(range(len(directions)), key=lambda index: (directions[index] % 360.0, index))
    gaps = [(directions[index] - directions[order[place - 1]]) % 360.0 for place, index in enumerate(order)]
    first = gaps.index(max(gaps)) if gaps else 0
    return order[first:] + order[:first]


def _nearest_rise(values: Iterable[float]) -> list[float]:
    """The series that never falls and is nearest to ``values`` in squares: neighbours that fall share their mean."""
    pools: list[list[float]] = []
    for value in values:
        pools.append([value])
        while len(pools) > 1 and _mean(pools[-2]) > _mean(pools[-1]):
            pools[-2:] = [pools[-2] + pools[-1]]
    return [_mean(pool) for pool in pools for _ in pool]


def _mean(pool: Sequence[float]) -> float:
    return fsum(pool) / len(pool)
