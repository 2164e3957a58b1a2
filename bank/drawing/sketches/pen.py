"""The lines of every sketch, and the letters at its lengths and angles, put where they touch nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import atan2, ceil, cos, degrees, hypot, radians, sin

from ...item.drawing import Curve, Disc, Label, Mark, Shape, Stroke, Tone, Trace, Weight
from ...item.formula import Node
from ..labels import Wish, place
from ..parts import Box, Point, ThickLine, along

WIDTH, HEIGHT = 260.0, 190.0
MARGIN = 6.0
DASHES = (5.0, 4.0)
HATCH, HATCH_STEP, HATCH_SLANT = 6.0, 8.0, 40.0  # length, distance and slant of the strokes behind what is solid
LETTER = 17.0  # height of type
HEAD, HEAD_HALF = 7.0, 2.6  # of the arrow heads of a dimension
GAP = 4.0  # between a dimension and its letter


@dataclass(frozen=True)
class Frame:
    """A place with its own axes: ``up`` is a page direction in degrees; x runs to the right of it."""

    origin: Point
    up: float = 90.0
    scale: float = 1.0
    mirrored: bool = False

    def at(self, x: float, y: float) -> Point:
        """The point of the page ``x`` to the right and ``y`` up from the origin."""
        side = -x if self.mirrored else x
        return along(self.origin, self.up, y * self.scale, -side * self.scale)

    def points(self, *pairs: Point) -> list[Point]:
        """Several such points."""
        return [self.at(x, y) for x, y in pairs]


@dataclass
class Pen:
    """Collects the marks of one sketch. ``letters`` are those to write, by what they measure.

    A setting draws what it shows, and offers each length and angle; those without a letter are not drawn.
    """

    letters: Mapping[str, Node] = field(default_factory=dict)
    marks: list[Mark] = field(default_factory=list)
    wishes: list[Wish] = field(default_factory=list)

    # --- lines ---

    def line(
        self, *points: Point, weight: Weight = "medium", tone: Tone = "ink", dashes: tuple[float, ...] = ()
    ) -> None:
        """A line through points."""
        if len(points) == 2:
            self.marks.append(Stroke(*points[0], *points[1], weight, tone, dashes))
        else:
            self.marks.append(Trace(tuple(points), weight, tone, dashes))

    def arc(
        self,
        centre: Point,
        radius: float,
        start: float = 0.0,
        end: float = 360.0,
        *,
        flat: float = 1.0,
        weight: Weight = "medium",
        tone: Tone = "ink",
        dashes: tuple[float, ...] = (),
    ) -> None:
        """A circle or a part of it, anticlockwise from ``start``; ``flat`` is height over width of one seen aslant."""
        self.marks.append(Curve(*centre, radius, radius * flat, start, end, weight, tone, dashes))

    def path(self, centre: Point, radius: float, start: float = 0.0, end: float = 360.0, *, flat: float = 1.0) -> None:
        """The path of the body: thin, dashed, with a dot at its centre."""
        self.arc(centre, radius, start, end, flat=flat, weight="thin", tone="soft", dashes=DASHES)
        self.dot(centre)

    def dot(self, point: Point) -> None:
        """The centre of a circle."""
        self.marks.append(Disc(*point, 2.5, "thin", "soft", filled=True))

    def shape(self, points: Sequence[Point], *, tone: Tone = "ink", filled: bool = False) -> None:
        """A closed polygon, white inside unless it is filled."""
        self.marks.append(Shape(tuple(points), "medium", tone, filled))

    def box(self, left: float, top: float, right: float, bottom: float, *, filled: bool = False) -> None:
        """An upright rectangle."""
        self.shape([(left, top), (right, top), (right, bottom), (left, bottom)], filled=filled)

    def soft(self, *points: Point, dashed: bool = False) -> None:
        """A thin light line: an axis, a seam, what stands behind."""
        self.line(*points, weight="thin", tone="soft", dashes=DASHES if dashed else ())

    def disc(self, centre: Point, radius: float, *, tone: Tone = "ink", filled: bool = False) -> None:
        """A circle, white inside unless it is filled."""
        self.marks.append(Disc(*centre, radius, "medium", tone, filled))

    def solid(self, points: Sequence[Point], *, left: bool = False) -> None:
        """The surface of something solid: a line with hatching to the right of its way, or to the ``left``."""
        self.line(*points)
        for start, end in pairwise(points):
            far = hypot(end[0] - start[0], end[1] - start[1])
            way = degrees(atan2(start[1] - end[1], end[0] - start[0]))
            away = way + (90.0 if left else -90.0)
            for step in range(max(1, ceil(far / HATCH_STEP - 0.5))):
                self.hatch(along(start, way, min(far, HATCH_STEP * (step + 0.5))), away)

    def solid_arc(self, centre: Point, radius: float, start: float, end: float, *, outside: bool = True) -> None:
        """A surface along a circle with hatching outside of it, or inside."""
        self.arc(centre, radius, start, end)
        count = max(1, round(radians(end - start) * radius / HATCH_STEP))
        for step in range(count):
            turn = start + (step + 0.5) * (end - start) / count
            self.hatch(along(centre, turn, radius), turn if outside else turn + 180.0)

    def hatch(self, point: Point, away: float) -> None:
        """One stroke of hatching from a point of a surface."""
        self.line(point, along(point, away + HATCH_SLANT, HATCH), weight="thin", tone="soft")

    def spring(self, start: Point, end: Point, half: float = 5.0, turns: int = 9) -> None:
        """A coiled spring between two points, as a zigzag."""
        far = hypot(end[0] - start[0], end[1] - start[1])
        way = degrees(atan2(start[1] - end[1], end[0] - start[0]))
        lead = min(8.0, far / 6)
        inner = far - 2 * lead
        teeth = [
            along(start, way, lead + inner * (step + 0.5) / turns, half if step % 2 else -half) for step in range(turns)
        ]
        self.line(start, along(start, way, lead), *teeth, along(start, way, far - lead), end, weight="thin")

    # --- letters at lengths and angles ---

    def length(self, role: str, start: Point, end: Point, aside: float = 0.0) -> None:
        """A length between two points with its letter; ``aside`` moves its line to the left of its way."""
        if role not in self.letters:
            return
        way = degrees(atan2(start[1] - end[1], end[0] - start[0]))
        first, last = along(start, way, 0.0, aside), along(end, way, 0.0, aside)
        if aside:
            sign = 1.0 if aside > 0 else -1.0
            for own, moved in ((start, first), (end, last)):
                beyond = along(moved, way, 0.0, 3.0 * sign)
                self.line(along(own, way, 0.0, 3.0 * sign), beyond, weight="thin", tone="soft")
        self.line(first, last, weight="thin", tone="accent")
        for tip, back in ((first, way), (last, way + 180.0)):
            barbs = (along(tip, back, HEAD, HEAD_HALF), along(tip, back, HEAD, -HEAD_HALF))
            self.marks.append(Shape((tip, *barbs), "thin", "accent"))
        beside = []
        for share in (0.5, 0.4, 0.6, 0.3, 0.7):
            middle = (first[0] + share * (last[0] - first[0]), first[1] + share * (last[1] - first[1]))
            for side in (90.0, -90.0):
                for past in (0.0, 1.3, 4.0, 9.0):
                    beside.append((abs(share - 0.5) + past / 6, along(middle, way + side, GAP + LETTER / 2 + past)))
        self.wishes.append(Wish(self.letters[role], LETTER, tuple(beside), ThickLine(first, last), tone="accent"))

    def angle(self, role: str, vertex: Point, first: float, second: float, reach: float = 30.0) -> None:
        """An angle at a point between two page directions, anticlockwise from ``first``, with its letter."""
        if role not in self.letters:
            return
        self.arc(vertex, reach, first, second, weight="thin", tone="accent")
        middle = (first + second) / 2
        spots = [(past / 8, along(vertex, middle, reach + 11.0 + past)) for past in (0.0, 4.0, 8.0, 14.0)]
        spots += [(3.0 + abs(turn) / 20, along(vertex, middle + turn, reach + 13.0)) for turn in (-15, 15, -30, 30)]
        at_arc = along(vertex, middle, reach)
        self.wishes.append(Wish(self.letters[role], LETTER, tuple(spots), ThickLine(at_arc, at_arc), tone="accent"))

    def labels(self) -> list[Label]:
        """The letters on places where they touch no line."""
        page = Box(WIDTH / 2, HEIGHT / 2, WIDTH - 2 * MARGIN, HEIGHT - 2 * MARGIN)
        return place(self.wishes, self.lines(), (), page)

    def lines(self) -> list[ThickLine]:
        """All that is drawn, as straight lines, for those who put something beside it."""
        return [line for mark in self.marks for line in _lines(mark)]


def _lines(mark: Mark) -> list[ThickLine]:
    match mark:
        case Stroke():
            return [ThickLine((mark.x1, mark.y1), (mark.x2, mark.y2), 1.0)]
        case Trace(points=points):
            return [ThickLine(a, b, 1.0) for a, b in pairwise(points)]
        case Shape(points=points):
            return [ThickLine(a, b, 1.0) for a, b in pairwise((*points, points[0]))]
        case Disc():
            return [ThickLine((mark.cx, mark.cy), (mark.cx, mark.cy), mark.radius)]
        case Curve():
            steps = max(6, round((mark.end - mark.start) / 12))
            turns = [radians(mark.start + (mark.end - mark.start) * step / steps) for step in range(steps + 1)]
            along_it = [(mark.cx + mark.rx * cos(turn), mark.cy - mark.ry * sin(turn)) for turn in turns]
            return [ThickLine(a, b, 1.0) for a, b in pairwise(along_it)]
        case _:
            return []
