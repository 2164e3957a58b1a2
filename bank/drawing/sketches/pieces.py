"""Pieces that several settings are drawn from."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .pen import HEIGHT, WIDTH, Pen

CENTRE = (WIDTH / 2, HEIGHT / 2)
FLAT = 0.33  # of a level circle, seen from slightly above


def towards(view: SketchView) -> float:
    """The page direction from the centre to the body."""
    return (270.0 if view.inward is None else view.inward) + 180.0


def oval(centre: Point, radius: float, flat: float, start: float = 0.0, end: float = 360.0) -> list[Point]:
    """Points of an ellipse or a part of it, anticlockwise."""
    steps = max(8, round(abs(end - start) / 8))
    turns = [radians(start + (end - start) * step / steps) for step in range(steps + 1)]
    return [(centre[0] + radius * cos(turn), centre[1] - radius * flat * sin(turn)) for turn in turns]


def smooth(points: Sequence[Point]) -> list[Point]:
    """A closed line through the points without corners."""
    count, found = len(points), []
    for step in range(count):
        a, b, c, d = (points[(step + each) % count] for each in (-1, 0, 1, 2))
        for t in (0.0, 0.25, 0.5, 0.75):
            shares = (
                (t * (2 - t) - 1) * t / 2,
                (t * t * (3 * t - 5) + 2) / 2,
                ((4 - 3 * t) * t + 1) * t / 2,
                (t - 1) * t * t / 2,
            )
            x, y = (
                sum(share * each[axis] for share, each in zip(shares, (a, b, c, d), strict=True)) for axis in (0, 1)
            )
            found.append((x, y))
    return [*found, found[0]]


def rays(pen: Pen, centre: Point, size: float) -> None:
    """What tells a star from a planet."""
    for turn in range(0, 360, 30):
        pen.soft(along(centre, turn + 15, size + 3), along(centre, turn + 15, size + 8))


def disc_aslant(pen: Pen, centre: Point, radius: float, thick: float, flat: float = FLAT) -> None:
    """A level disc seen from slightly above, with its edge."""
    x, y = centre
    pen.shape([*oval(centre, radius, flat, 0, 180), *oval((x, y + thick), radius, flat, 180, 360)])
    pen.arc(centre, radius, 180, 360, flat=flat)


def spoked(pen: Pen, hub: Point, radius: float, pairs: int, first: float) -> None:
    """A bicycle wheel: tyre, rim, and spokes that meet in pairs at the rim."""
    pen.arc(hub, radius)
    pen.arc(hub, radius - 5)
    for step in range(pairs):
        end = along(hub, first + step * 360 / pairs, radius - 5)
        for side in (-1, 1):
            pen.soft(along(hub, first + step * 360 / pairs + side * 75, 5), end)
    pen.disc(hub, 5.0)
    pen.dot(hub)
