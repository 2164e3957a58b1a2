"""Where an item stops taking answers as right, found from outside through its marking alone."""

from __future__ import annotations

from collections.abc import Callable
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from turnwright.exporters.proof.report import Band, Edge

DOUBLINGS = 80
HALVINGS = 40

IsRight = Callable[[Decimal], bool]


def find_band(is_right: IsRight, key: Decimal, whole: bool) -> Band | None:
    """The run of right answers around the right answer ``key``; None when it has no end on one side."""
    lower, upper = (_find_edge(is_right, key, side, whole) for side in (-1, 1))
    return Band(lower, upper) if lower and upper else None


def _find_edge(is_right: IsRight, key: Decimal, side: int, whole: bool) -> Edge | None:
    """Steps twice as long each time until an answer is wrong, then halves the gap."""
    step = Decimal(1) if whole else abs(key) * Decimal("1e-6") or Decimal("1e-9")
    right = key
    for _ in range(DOUBLINGS):
        wrong = key + side * step
        if not is_right(wrong):
            return _narrow(is_right, right, wrong, whole)
        right, step = wrong, 2 * step
    return None


def _narrow(is_right: IsRight, right: Decimal, wrong: Decimal, whole: bool) -> Edge:
    for _ in range(DOUBLINGS + HALVINGS if whole else HALVINGS):
        if whole and abs(wrong - right) <= 1:
            return Edge(right)
        middle = (right + wrong) / 2
        middle = middle.to_integral_value(ROUND_FLOOR) if whole else middle
        right, wrong = (middle, wrong) if is_right(middle) else (right, middle)
    edge = shortest_between(*sorted((right, wrong)))
    return Edge(edge, is_right(edge))


def shortest_between(low: Decimal, high: Decimal) -> Decimal:
    """The number with the fewest decimal places from ``low`` to ``high``, both included."""
    if low <= 0 <= high:
        return Decimal(0)
    largest = max(abs(low), abs(high)).adjusted()
    for place in range(largest, largest - 38, -1):
        grid = Decimal(1).scaleb(place)
        candidate = (low / grid).to_integral_value(ROUND_CEILING) * grid
        if candidate <= high:
            return candidate
    return high
