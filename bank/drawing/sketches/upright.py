"""Settings of vertical circles: tracks, cords, rods, wheels, ramps and domes, seen from the side."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ...writing.sketched.view import SketchView
from ..parts import along
from .bodies import LOOKS
from .pen import HEIGHT, WIDTH, Frame, Pen

CENTRE, RADIUS = (WIDTH / 2, HEIGHT / 2 - 4), 70.0


def _towards(view: SketchView) -> float:
    """The page direction from the centre to the body."""
    return (90.0 if view.inward is None else view.inward) + 180.0


def _loop(pen: Pen, view: SketchView) -> None:
    """A loop of track with its run-in; the body rides inside."""
    look, turn = LOOKS[view.look], _towards(view)
    foot = (CENTRE[0], CENTRE[1] + RADIUS)
    pen.solid([(MARGIN_LEFT, foot[1]), (WIDTH - MARGIN_LEFT, foot[1])])
    pen.arc(CENTRE, RADIUS)
    pen.dot(CENTRE)
    body = along(CENTRE, turn, RADIUS - look.half)
    look.draw(pen, Frame(body, turn + 180.0))
    pen.length("radius", CENTRE, along(CENTRE, 200.0, RADIUS))


def _cord(pen: Pen, view: SketchView) -> None:
    look, turn = LOOKS[view.look], _towards(view)
    pen.path(CENTRE, RADIUS)
    body = along(CENTRE, turn, RADIUS)
    pen.line(CENTRE, along(CENTRE, turn, RADIUS - look.half), weight="thin")
    look.draw(pen, Frame(body, turn + 180.0))
    pen.length("radius", CENTRE, along(CENTRE, 200.0, RADIUS))


MARGIN_LEFT = 24.0
SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {"loop": _loop, "cord-upright": _cord}
