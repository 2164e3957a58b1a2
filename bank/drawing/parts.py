"""What a force diagram consists of once every part but the labels has its place, in page units."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import cos, radians, sin

from ..item.drawing import Curve
from .plane import Point, ThickLine, along

WIDTH, HEIGHT, MARGIN = 320.0, 300.0, 6.0
BODY = 16.0  # radius
SHORTEST, LONGEST = 34.0, 90.0  # of a force arrow, from the body's edge to the tip
HEAD, HEAD_HALF, SHAFT_HALF = 15.0, 6.5, 2.0
OPEN_ARROW, OPEN_HALF = 46.0, 9.0  # length and half-width of the acceleration


@dataclass(frozen=True)
class Arrow:
    """An arrow by its tail, page direction and length."""

    tail: Point
    direction: float
    length: float

    @property
    def tip(self) -> Point:
        """The point of the head."""
        return along(self.tail, self.direction, self.length)

    @property
    def neck(self) -> Point:
        """Where the head of a force arrow begins."""
        return along(self.tail, self.direction, self.length - HEAD)

    @property
    def room(self) -> tuple[ThickLine, ThickLine]:
        """Shaft and head of a force arrow, as round-ended lines that cover them."""
        head = ThickLine(self.neck, along(self.neck, self.direction, HEAD - HEAD_HALF), HEAD_HALF)
        return ThickLine(self.tail, self.neck, SHAFT_HALF), head


@dataclass(frozen=True)
class FigureLayout:
    """All parts but the labels; ``sides`` say how far each force stepped to its left.

    A surface is straight (``surface``) or, on a circle seen face on, follows the circle (``track``); ``hatches`` are
    on the side away from the body. ``upright`` is the axis of a level circle seen from the side.
    """

    body: Point
    radius: float
    forces: tuple[Arrow, ...]
    sides: tuple[float, ...]
    inward: ThickLine | None = None
    second: ThickLine | None = None
    path: Curve | None = None
    upright: ThickLine | None = None
    surface: ThickLine | None = None
    track: Curve | None = None
    hatches: tuple[ThickLine, ...] = ()
    arcs: tuple[Curve, ...] = ()
    legs: tuple[ThickLine, ...] = ()
    acceleration: Arrow | None = None

    @property
    def centre(self) -> Point | None:
        """The centre of the circle."""
        return (self.path.cx, self.path.cy) if self.path else None

    @property
    def axes(self) -> tuple[ThickLine, ...]:
        """The inward and the second axis, where drawn."""
        return tuple(axis for axis in (self.inward, self.second) if axis)

    @cached_property
    def solid(self) -> tuple[ThickLine, ...]:
        """What neither a label nor the acceleration may touch."""
        ball = ThickLine(self.body, self.body, self.radius + 1.0)
        dot = (ThickLine(self.centre, self.centre, 4.0),) if self.centre else ()
        shafts_and_heads = (line for force in self.forces for line in force.room)
        curves = [*self.arcs, *([self.track] if self.track else [])]
        surface = (self.surface,) if self.surface else ()
        curved = (piece for curve in curves for piece in pieces(curve))
        return (ball, *shafts_and_heads, *self.axes, *dot, *self.legs, *surface, *self.hatches, *curved)

    @cached_property
    def light(self) -> tuple[ThickLine, ...]:
        """What labels and acceleration keep off where there is room: the dashed path and upright axis of the circle."""
        upright = (self.upright,) if self.upright else ()
        return upright + (pieces(self.path) if self.path else ())


def pieces(curve: Curve) -> tuple[ThickLine, ...]:
    """A curve as short straight lines."""
    steps = max(4, round((curve.end - curve.start) / 6))
    turns = [radians(curve.start + (curve.end - curve.start) * step / steps) for step in range(steps + 1)]
    points = [(curve.cx + curve.rx * cos(each), curve.cy - curve.ry * sin(each)) for each in turns]
    return tuple(ThickLine(start, end, 0.5) for start, end in pairwise(points))
