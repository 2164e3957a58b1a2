"""Points, thick lines and boxes on the page, and what a force diagram consists of; x runs right and y down."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import cos, hypot, inf, radians, sin
from typing import TypeAlias

from ..item.drawing import Curve

Point: TypeAlias = tuple[float, float]


def along(start: Point, direction: float, distance: float, left: float = 0.0) -> Point:
    """The point ``distance`` onward in a page direction and ``left`` to the left of it."""
    ux, uy = cos(radians(direction)), -sin(radians(direction))
    return start[0] + distance * ux + left * uy, start[1] + distance * uy - left * ux


def turn(start: float, end: float) -> float:
    """The turn from one direction to another by the shorter way, over -180 up to 180, anticlockwise positive."""
    return 180.0 - (180.0 - (end - start)) % 360.0


@dataclass(frozen=True)
class ThickLine:
    """A straight line with rounded ends, ``half_width`` to each side; a disc where both ends are one point."""

    start: Point
    end: Point
    half_width: float = 0.0

    def gap_to_point(self, point: Point) -> float:
        """The distance from a point to the edge of this line, negative inside it."""
        (left, top), (right, bottom) = self.start, self.end
        dx, dy, px, py = right - left, bottom - top, point[0] - left, point[1] - top
        square = dx * dx + dy * dy
        share = (px * dx + py * dy) / square if square else 0.0
        if not 0.0 <= share <= 1.0:
            share = 0.0 if share < 0.0 else 1.0
        return hypot(px - share * dx, py - share * dy) - self.half_width

    def gap(self, other: ThickLine) -> float:
        """The distance between the edges of two lines, at most the negative of a half-width where they cross."""
        if _cross(self.start, self.end, other.start, other.end):
            return -self.half_width - other.half_width
        of_ends = [self.gap_to_point(point) - other.half_width for point in (other.start, other.end)]
        return min(of_ends + [other.gap_to_point(point) - self.half_width for point in (self.start, self.end)])


@dataclass(frozen=True)
class Box:
    """An upright rectangle about its centre."""

    x: float
    y: float
    width: float
    height: float

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The four corners, one after the other round the box."""
        dx, dy = self.width / 2, self.height / 2
        return (
            (self.x - dx, self.y - dy),
            (self.x + dx, self.y - dy),
            (self.x + dx, self.y + dy),
            (self.x - dx, self.y + dy),
        )

    def contains(self, point: Point) -> bool:
        """Whether a point lies in the box or on its edge."""
        return abs(point[0] - self.x) <= self.width / 2 and abs(point[1] - self.y) <= self.height / 2

    def gap_to_box(self, other: Box) -> float:
        """The greater of the distances across and up to another box; negative where the boxes overlap."""
        across = abs(self.x - other.x) - (self.width + other.width) / 2
        return max(across, abs(self.y - other.y) - (self.height + other.height) / 2)

    def gap(self, line: ThickLine) -> float:
        """The distance from the box to the edge of a line, negative where they overlap."""
        if self.contains(line.start) or self.contains(line.end):
            return -inf
        corners = self.corners
        edges = zip(corners, (*corners[1:], corners[0]), strict=True)
        return min(line.gap(ThickLine(start, end)) for start, end in edges)


def _side(start: Point, end: Point, point: Point) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the inner parts of two lines cross; touching ends are found by their zero distance."""
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


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
