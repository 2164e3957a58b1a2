"""Where the parts of a force diagram stand on the page, all but the labels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import cos, radians

from turnwright.bank.arrow_offsets import side_offsets
from turnwright.bank.figure_acceleration import open_arrow
from turnwright.bank.figure_lines import with_lines
from turnwright.bank.figure_parts import (
    BODY,
    HEIGHT,
    LONGEST,
    SHORTEST,
    WIDTH,
    Arrow,
    Layout,
)
from turnwright.bank.plane import Point, along
from turnwright.bank.view import DiagramView

ROOM = (34.0, 24.0)  # for a label beyond a tip, across and up
CENTRE_ROOM = 92.0  # for the words at the centre, where the axis runs level


def lay_out(view: DiagramView) -> Layout:
    """All parts about one body, moved to the middle of the page; the acceleration goes where there is room."""
    sides = side_offsets([force.direction for force in view.forces])
    trial = with_lines(view, _bare(view, sides, (0.0, 0.0)))
    across, up = zip(*_needed(view, trial), strict=True)
    body = WIDTH / 2 - (min(across) + max(across)) / 2, HEIGHT / 2 - (min(up) + max(up)) / 2
    return _with_acceleration(view, with_lines(view, _bare(view, sides, body)))


def _bare(view: DiagramView, sides: tuple[float, ...], body: Point) -> Layout:
    """Body and forces: each tail on the body's edge, stepped aside."""
    radius = max([BODY, *(abs(side) + 4.0 for side in sides)])
    arrows = []
    for force, side in zip(view.forces, sides, strict=True):
        tail = along(body, force.direction, (radius**2 - side**2) ** 0.5, side)
        arrows.append(Arrow(tail, force.direction, max(SHORTEST, LONGEST * min(force.length, 1.0))))
    return Layout(body, radius, tuple(arrows), sides)


def _needed(view: DiagramView, trial: Layout) -> Iterator[Point]:
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


def _with_acceleration(view: DiagramView, layout: Layout) -> Layout:
    if view.acceleration is None:
        return layout
    return replace(layout, acceleration=open_arrow(layout, view.acceleration))
