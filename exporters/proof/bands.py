"""Where an item stops taking answers as right, found from outside through its marking alone."""

from __future__ import annotations

from collections.abc import Callable
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from turnwright.exporters.proof.report import Band, Edge

DOUBLINGS = 80
HALVINGS = 40
GUESSING = 10

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
            return (_narrow_whole if whole else _narrow)(is_right, right, wrong)
        right, step = wrong, 2 * step
    return None


def _narrow(is_right: IsRight, right: Decimal, wrong: Decimal) -> Edge:
    """Halves the gap, and asks now and then whether right answers end just at the shortest number in it."""
    finest = (wrong - right) / 2**HALVINGS
    for halving in range(1, HALVINGS + 1):
        middle = (right + wrong) / 2
        right, wrong = (middle, wrong) if is_right(middle) else (right, middle)
        if halving % GUESSING == 0:
            edge = _shortest_edge(is_right, right, wrong)
            beside = edge.value + (finest if edge.included else -finest)
            if is_right(beside) != edge.included:
                break
    return edge


def _shortest_edge(is_right: IsRight, right: Decimal, wrong: Decimal) -> Edge:
    value = shortest_between(*sorted((right, wrong)))
    return Edge(value, is_right(value))


def _narrow_whole(is_right: IsRight, right: Decimal, wrong: Decimal) -> Edge:
    for _ in range(DOUBLINGS + HALVINGS):
        if abs(wrong - right) <= 1:
            break
        middle = ((right + wrong) / 2).to_integral_value(ROUND_FLOOR)
        right, wrong = (middle, wrong) if is_right(middle) else (right, middle)
    return Edge(right)


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
