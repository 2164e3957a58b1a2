"""Settings of vertical wheels with seats, shelves or gondolas."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .looks import LOOKS
from .pen import HEIGHT, MARGIN, Frame, Pen
from .pieces import towards
from .upright_pieces import FLOOR, LEFT, MIDDLE, RIGHT, draw_awning, draw_ground

# --- wheels with what hangs in them ---


def _cabin(pen: Pen, frame: Frame, kind: str) -> None:
    """What carries the load of a wheel: a seat, a shelf or a gondola."""
    if kind == "shelf":
        pen.line(*frame.points((-13, -9), (0, 0), (13, -9)), weight="thin")
        pen.shape(frame.points((-15, -12), (15, -12), (15, -7), (12, -9), (-12, -9), (-15, -7)))
        return
    if kind == "seat":
        for x in (-11, 11):
            pen.line(*frame.points((x, -2), (x, 15)), weight="thin")
        pen.shape(frame.points((-14, 15), (-8, 19), (8, 19), (14, 15)))
        return
    pen.shape(frame.points((-11, -9), (11, -9), (11, 14), (-11, 14)))
    pen.shape(frame.points((-14, 14), (0, 20), (14, 14)))


def _tub(pen: Pen, frame: Frame) -> None:
    """The front of a seat, before the rider."""
    pen.shape(frame.points((-13, -1), (13, -1), (10, -11), (-10, -11)))


def _wheel(pen: Pen, view: SketchView, kind: str) -> None:
    """A wheel on a stand; one of its cabins has the body in it."""
    look, centre, radius = LOOKS[view.look], (MIDDLE, 90.0), 60.0
    x, y = centre
    if kind == "shelf":
        centre, radius = (MIDDLE, 98.0), 54.0
        x, y = centre
        draw_awning(pen)
    if kind == "gondola":
        centre, radius, base = (MIDDLE, 78.0), 50.0, 148.0
        x, y = centre
        _bench(pen, base)
    else:
        base = FLOOR
        draw_ground(pen)
    half = {"seat": 52.0, "shelf": 46.0, "gondola": 42.0}[kind]
    for sign in (-1, 1):
        pen.line(centre, (x + sign * half, base), weight="thin" if kind == "shelf" else "medium")
    if kind == "gondola":
        pen.box(x - 54, base - 5, x + 84, base)
        pen.box(x + 58, base - 25, x + 82, base - 5)
        pen.disc((x + 70, base - 15), 5.0)
    pen.path(centre, radius)
    for rim in (radius - 14, radius - 18) if kind != "shelf" else (radius - 14,):
        pen.arc(centre, rim, weight="thin")
    pen.disc(centre, 5.0)
    for turn in range(30, 390, 60):
        pen.line(along(centre, turn, 5), along(centre, turn, radius), weight="thin")
        hang = Frame(along(centre, turn, radius))
        _cabin(pen, hang, kind)
        if turn == towards(view) % 360.0:
            look.draw(pen, Frame(hang.at(0, look.half - 9.0)))
        if kind == "seat":
            _tub(pen, hang)
    pen.dot(centre)
    _beside(pen, "radius", x + radius + 36, centre, (x + 18, y - radius))
    _beside(pen, "diameter", x - radius - 36, (x - 18, y + radius), (x - 18, y - radius))


def _bench(pen: Pen, top: float) -> None:
    """A bench of a laboratory with its drawers, and a flask with a liquid on it."""
    foot = HEIGHT - MARGIN - 1
    pen.box(LEFT, top, RIGHT, top + 6)
    for left in (LEFT + 6, RIGHT - 66):
        pen.box(left, top + 6, left + 60, foot)
        pen.soft((left, top + 20), (left + 60, top + 20))
        for handle in (top + 13, top + 27):
            pen.line((left + 24, handle), (left + 36, handle), weight="thin")
    pen.shape([(22, top), (40, top), (34, top - 14), (34, top - 22), (28, top - 22), (28, top - 14)])
    pen.line((26, top - 22), (36, top - 22))
    pen.line((24.5, top - 6), (37.5, top - 6), weight="thin")


def _beside(pen: Pen, role: str, x: float, low: Point, high: Point) -> None:
    """A height as a length beside what has no room for it within."""
    if role in pen.letters:
        for level in (low, high):
            pen.soft(level, (x + (4 if x > level[0] else -4), level[1]))
        pen.length(role, (x, low[1]), (x, high[1]))


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "wheel-fair": partial(_wheel, kind="seat"),
    "wheel-bakery": partial(_wheel, kind="shelf"),
    "wheel-model": partial(_wheel, kind="gondola"),
}
