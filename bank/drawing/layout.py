"""Where the parts of a force diagram stand on the page, all but the labels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import accumulate, pairwise
from math import cos, fsum, inf, radians, sin

from ..writing.view import DiagramView
from .lines import with_lines
from .parts import BODY, HEIGHT, LONGEST, MARGIN, OPEN_ARROW, OPEN_HALF, SHORTEST, WIDTH, Arrow, FigureLayout
from .plane import Point, ThickLine, along

# --- how far the arrows of a force diagram step aside, so that those with (nearly) one direction can be told apart ---


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


# --- where the open arrow of the acceleration stands: beside the body, apart from every force ---


ONWARD, ASIDE = 20.0, 54.0  # from the body to the middle of the arrow, where there is room
INWARDS, ONWARDS = 3.0, 0.6  # what a unit nearer to the body's line, or along it, counts; a unit outwards counts one
CLEAR = 9.0  # from anything that it may not touch
LABEL_ROOM, CROWDED = 34.0, 0.8  # wanted between it and a force; what each missing unit counts
CROSSED = 70.0  # what it counts to touch a light line
STEP = 4


def open_arrow(layout: FigureLayout, direction: float) -> Arrow:
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


def _crowding(layout: FigureLayout, arrow: Arrow) -> float:
    """What the neighbours of a place add to its dislike; infinite where it touches something or leaves the page."""
    edge = MARGIN + OPEN_HALF
    if not all(edge <= x <= WIDTH - edge and edge <= y <= HEIGHT - edge for x, y in (arrow.tail, arrow.tip)):
        return inf
    own = ThickLine(arrow.tail, arrow.tip, OPEN_HALF)
    if any(own.gap(line) < CLEAR for line in layout.solid):
        return inf
    to_force = min((own.gap(line) for force in layout.forces for line in force.room), default=inf)
    crossed = any(own.gap(line) < CLEAR / 2 for line in layout.light)
    return CROWDED * max(0.0, LABEL_ROOM - to_force) + (CROSSED if crossed else 0.0)


ROOM = (34.0, 24.0)  # for a label beyond a tip, across and up
CENTRE_ROOM = 92.0  # for the words at the centre, where the axis runs level


def lay_out(view: DiagramView) -> FigureLayout:
    """All parts about one body, moved to the middle of the page; the acceleration goes where there is room."""
    sides = side_offsets([force.direction for force in view.forces])
    trial = with_lines(view, _bare(view, sides, (0.0, 0.0)))
    across, up = zip(*_needed(view, trial), strict=True)
    body = WIDTH / 2 - (min(across) + max(across)) / 2, HEIGHT / 2 - (min(up) + max(up)) / 2
    return _with_acceleration(view, with_lines(view, _bare(view, sides, body)))


def _bare(view: DiagramView, sides: tuple[float, ...], body: Point) -> FigureLayout:
    """Body and forces: each tail on the body's edge, stepped aside."""
    radius = max([BODY, *(abs(side) + 4.0 for side in sides)])
    arrows = []
    for force, side in zip(view.forces, sides, strict=True):
        tail = along(body, force.direction, (radius**2 - side**2) ** 0.5, side)
        arrows.append(Arrow(tail, force.direction, max(SHORTEST, LONGEST * min(force.length, 1.0))))
    return FigureLayout(body, radius, tuple(arrows), sides)


def _needed(view: DiagramView, trial: FigureLayout) -> Iterator[Point]:
    """Points that must fit on the page, about a body at the origin."""
    corner = trial.radius + 10.0
    yield from ((-corner, -corner), (corner, corner))
    for x, y in [force.tip for force in trial.forces] + [axis.end for axis in trial.axes]:
        yield x + _sign(x) * ROOM[0], y
        yield x, y + _sign(y) * ROOM[1]
    if view.inward is not None and trial.inward and not view.side_view:
        yield along(trial.inward.end, view.inward, CENTRE_ROOM * cos(radians(view.inward)) ** 2)
    for line in (*trial.light, *trial.solid):
        yield from (line.start, line.end)


def _sign(number: float) -> float:
    """-1, 0 or 1; what is next to nothing counts as zero."""
    return 0.0 if abs(number) < 1.0 else number / abs(number)


def _with_acceleration(view: DiagramView, layout: FigureLayout) -> FigureLayout:
    if view.acceleration is None:
        return layout
    return replace(layout, acceleration=open_arrow(layout, view.acceleration))
