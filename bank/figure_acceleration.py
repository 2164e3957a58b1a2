"""Where the open arrow of the acceleration stands: beside the body, apart from every force."""

from __future__ import annotations

from functools import cache
from math import inf

from turnwright.bank.figure_parts import HEIGHT, MARGIN, OPEN_ARROW, OPEN_HALF, WIDTH, Arrow, Layout
from turnwright.bank.plane import Line, Point, along

ONWARD, ASIDE = 20.0, 54.0  # from the body to the middle of the arrow, where there is room
INWARDS, ONWARDS = 3.0, 0.6  # what a unit nearer to the body's line, or along it, counts; a unit outwards counts one
CLEAR = 9.0  # from anything that it may not touch
LABEL_ROOM, CROWDED = 34.0, 0.8  # wanted between it and a force; what each missing unit counts
CROSSED = 70.0  # what it counts to touch a light line
STEP = 4


def open_arrow(layout: Layout, direction: float) -> Arrow:
    """The best of all places on the page: near the body, off the light lines, with room beside the forces' labels."""
    best, least = _arrow(layout.body, direction, (ONWARD, ASIDE)), inf
    for dislike, shift in _shifts():
        if dislike >= least:
            break
        arrow = _arrow(layout.body, direction, shift)
        in_all = dislike + _crowding(layout, arrow)
        if in_all < least:
            best, least = arrow, in_all
    return best


@cache
def _shifts() -> tuple[tuple[float, Point], ...]:
    """Shifts along and to the left of the acceleration, each with its dislike, the least disliked first."""
    steps = range(-int(WIDTH), int(WIDTH) + 1, STEP)
    shifts = [(ONWARD + onward, float(left)) for onward in steps for left in steps]
    return tuple(sorted((_dislike(onward, abs(left)), (onward, left)) for onward, left in shifts))


def _dislike(onward: float, aside: float) -> float:
    across = INWARDS * (ASIDE - aside) if aside < ASIDE else aside - ASIDE
    return across + ONWARDS * abs(onward - ONWARD)


def _arrow(body: Point, direction: float, shift: Point) -> Arrow:
    return Arrow(along(body, direction, shift[0] - OPEN_ARROW / 2, shift[1]), direction, OPEN_ARROW)


def _crowding(layout: Layout, arrow: Arrow) -> float:
    """What the neighbours of a place add to its dislike; infinite where it touches something or leaves the page."""
    edge = MARGIN + OPEN_HALF
    if not all(edge <= x <= WIDTH - edge and edge <= y <= HEIGHT - edge for x, y in (arrow.tail, arrow.tip)):
        return inf
    own = Line(arrow.tail, arrow.tip, OPEN_HALF)
    if any(own.gap(line) < CLEAR for line in layout.solid):
        return inf
    to_force = min((own.gap(line) for force in layout.forces for line in force.room), default=inf)
    crossed = any(own.gap(line) < CLEAR / 2 for line in layout.light)
    return CROWDED * max(0.0, LABEL_ROOM - to_force) + (CROSSED if crossed else 0.0)
