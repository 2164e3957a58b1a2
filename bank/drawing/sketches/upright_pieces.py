"""Pieces that settings of vertical circles are drawn from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import atan2, degrees, hypot, pi, sin

from ...item.drawing import Label
from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .bodies import BodyLook
from .looks import LOOKS
from .pen import DASHES, HEIGHT, MARGIN, WIDTH, Frame, Pen
from .pieces import oval, smooth, towards

FLOOR = HEIGHT - MARGIN - 8.0  # of a ground with its hatching
CEILING = MARGIN + 8.0
LEFT, RIGHT = MARGIN + 6.0, WIDTH - MARGIN - 6.0  # ends of a ground
MIDDLE = WIDTH / 2


def draw_ground(pen: Pen, y: float = FLOOR, left: float = LEFT, right: float = RIGHT) -> None:
    """The ground."""
    pen.solid([(left, y), (right, y)])


def draw_ceiling(pen: Pen) -> None:
    """A ceiling."""
    pen.solid([(LEFT, CEILING), (RIGHT, CEILING)], left=True)


def draw_dashed(pen: Pen, centre: Point, radius: float, start: float, end: float) -> None:
    """A part of the circle without its centre."""
    pen.arc(centre, radius, start, end, weight="thin", tone="soft", dashes=DASHES)


def draw_ghost(pen: Pen, look: BodyLook, frame: Frame) -> None:
    """The body in thin light lines, where it was at the start."""
    other = Pen()
    look.draw(other, frame)
    for mark in other.marks:
        pen.marks.append(mark if isinstance(mark, Label) else replace(mark, weight="thin", tone="soft"))


def draw_body_inside(pen: Pen, view: SketchView, centre: Point, reach: float, scale: float = 1.0) -> Point:
    """The body with its head towards the centre, its middle ``reach`` from there; returns its middle."""
    turn = towards(view)
    middle = along(centre, turn, reach)
    LOOKS[view.look].draw(pen, Frame(middle, turn + 180.0, scale))
    return middle


def draw_body_outside(pen: Pen, view: SketchView, centre: Point, radius: float) -> None:
    """The body on the outside of an arc, its foot towards the centre."""
    look, turn = LOOKS[view.look], towards(view)
    look.draw(pen, Frame(along(centre, turn, radius + look.half), turn))


def draw_at_angle(pen: Pen, view: SketchView, centre: Point, radius: float, reach: float = 32.0) -> None:
    """The vertical and the radius to a body at an angle, and the letter at the angle between them."""
    if view.spot != "angle":
        return
    turn = towards(view) % 360.0
    upright = 90.0 if turn < 180.0 else 270.0
    pen.soft(centre, along(centre, upright, radius), dashed=True)
    pen.soft(centre, along(centre, turn, radius), dashed=True)
    pen.angle("angle", centre, min(turn, upright), max(turn, upright), reach)


def draw_strip(pen: Pen, points: Sequence[Point], thick: float, ties: float = 0.0) -> None:
    """A track: its surface, a line to the right of its way, and cross pieces so far apart."""
    ways = [degrees(atan2(a[1] - b[1], b[0] - a[0])) for a, b in pairwise(points)]
    pen.line(*points)
    pen.line(*(along(point, way, 0.0, -thick) for point, way in zip(points, [*ways, ways[-1]], strict=True)))
    left = ties / 2
    for (start, end), way in zip(pairwise(points), ways, strict=True):
        far = hypot(end[0] - start[0], end[1] - start[1])
        while ties and left <= far:
            pen.line(along(start, way, left), along(start, way, left, -thick), weight="thin")
            left += ties
        left -= far


def draw_waves(pen: Pen, left: float, right: float, y: float) -> None:
    """The surface of water."""
    count = round((right - left) / 2)
    pen.soft(*((left + 2 * step, y + 1.8 * sin(pi * step / 5)) for step in range(count + 1)))


def draw_tuft(pen: Pen, x: float, y: float) -> None:
    """Some grass."""
    for across in (-4, 0, 4):
        pen.soft((x, y), (x + across, y - 8 + abs(across) / 2))


def draw_tree(pen: Pen, x: float, y: float) -> None:
    """A small tree in the background."""
    pen.soft((x - 2, y), (x - 2, y - 20), (x + 2, y - 20), (x + 2, y))
    crown = [(-14, -22), (-17, -32), (-9, -42), (0, -46), (9, -42), (17, -32), (14, -22), (0, -19)]
    pen.soft(*smooth([(x + across, y + up) for across, up in crown]))


def draw_cloud(pen: Pen, x: float, y: float) -> None:
    """A cloud."""
    crown = [(-14, 4), (-15, -1), (-8, -4), (-3, -9), (5, -8), (9, -3), (15, 0), (13, 4)]
    pen.soft(*smooth([(x + across, y + up) for across, up in crown]))


def draw_chequered(pen: Pen, x: float, top: float, base: float) -> None:
    """A flag at a start."""
    pen.line((x, base), (x, top), weight="thin")
    for row in range(3):
        for column in range(4):
            left, high = x + 5 * column, top + 5 * row
            pen.box(left, high, left + 5, high + 5, filled=(row + column) % 2 == 0)


def draw_awning(pen: Pen) -> None:
    """The window of a shop below a striped awning."""
    pen.soft((20, 24), (20, FLOOR), (240, FLOOR), (240, 24))
    pen.line((14, MARGIN + 2), (246, MARGIN + 2))
    for step in range(8):
        left = 14.0 + 29 * step
        edge = oval((left + 14.5, 17), 14.5, 0.5, 180, 360)
        pen.shape([(left, MARGIN + 2), *edge, (left + 29, MARGIN + 2)], filled=step % 2 == 0, tone="soft")
