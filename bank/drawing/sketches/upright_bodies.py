"""What moves in vertical circles: vehicles from the side, people, and things on cords."""

from __future__ import annotations

from collections.abc import Mapping

from ..parts import Point
from .bodies import BodyLook
from .pen import Frame, Pen


def _thin(pen: Pen, frame: Frame, *points: Point) -> None:
    pen.line(*frame.points(*points), weight="thin")


def _wheels(pen: Pen, frame: Frame, y: float, radius: float, *places: float) -> None:
    for x in places:
        pen.disc(frame.at(x, y), radius * frame.scale)


# --- vehicles ---


def _minibus(pen: Pen, frame: Frame) -> None:
    """A minibus with four windows."""
    pen.shape(frame.points((-26, -8), (-26, 8), (-22, 12), (18, 12), (24, 3), (26, 1), (26, -8)))
    for left in (-22, -12, -2):
        pen.shape(frame.points((left, 3), (left, 9), (left + 7, 9), (left + 7, 3)))
    pen.shape(frame.points((9, 3), (9, 9), (16, 9), (20, 3)))
    _wheels(pen, frame, -8, 5.0, -15, 15)


def _buggy(pen: Pen, frame: Frame) -> None:
    """A golf buggy: a roof on posts, a bench, a bag at the back."""
    pen.shape(frame.points((-20, -7), (-20, 0), (2, 0), (6, -4), (12, -4), (15, 2), (20, 1), (20, -7)))
    pen.line(*frame.points((-18, 16), (14, 16)))
    _thin(pen, frame, (-15, 16), (-15, 0))
    _thin(pen, frame, (11, 16), (15, 2))
    pen.line(*frame.points((-7, 0), (-9, 8)))
    pen.shape(frame.points((-22, 0), (-17, 0), (-18, 9), (-23, 9)))
    _wheels(pen, frame, -9, 5.0, -12, 12)


def _wagon(pen: Pen, frame: Frame) -> None:
    """An open model wagon."""
    pen.shape(frame.points((-18, -4), (-20, 8), (20, 8), (18, -4)))
    _thin(pen, frame, (-6, -4), (-6, 8))
    _thin(pen, frame, (6, -4), (6, 8))
    _wheels(pen, frame, -6, 4.0, -11, 11)


def _coaster_car(pen: Pen, frame: Frame) -> None:
    """An empty car of a roller coaster, with a curved bow."""
    pen.shape(frame.points((-22, -4), (-22, 9), (-14, 9), (-12, 1), (2, 1), (6, 5), (16, 5), (22, -1), (22, -4)))
    _thin(pen, frame, (-5, 1), (-7, 8))
    _wheels(pen, frame, -6, 3.5, -14, 0, 14)


def _aircraft(pen: Pen, frame: Frame) -> None:
    """An aerobatic aircraft from the side; the pilot's head is dark."""
    hull = ((-27, 4), (-21, 3), (-8, 5), (12, 5), (23, 2), (23, -4), (10, -7), (-8, -6), (-27, 1))
    pen.shape(frame.points(*hull))
    pen.shape(frame.points((-28, 2), (-31, 12), (-26, 12), (-20, 4)))
    pen.line(*frame.points((-6, 5), (-2, 12), (6, 12), (11, 5)), weight="thin")
    pen.disc(frame.at(2, 8), 3.0 * frame.scale, filled=True)
    pen.shape(frame.points((-4, -3), (12, -3), (10, -5), (-2, -5)), filled=True)
    _thin(pen, frame, (25, 9), (25, -10))


# --- people ---


def _skateboarder(pen: Pen, frame: Frame) -> None:
    """Somebody on a board, the knees bent."""
    pen.line(*frame.points((-15, -13), (-12, -15), (12, -15), (15, -13)))
    _wheels(pen, frame, -18, 2.4, -8, 8)
    pen.line(*frame.points((-7, -15), (-5, -7), (-9, -1), (7, -3), (8, -15)))
    pen.line(*frame.points((-9, -1), (-3, 10)))
    pen.line(*frame.points((-14, 4), (-4, 8), (6, 4)))
    pen.disc(frame.at(-1, 15), 4.5 * frame.scale)


def _hanging(pen: Pen, frame: Frame) -> None:
    """Somebody who holds on to a rope, the legs together."""
    pen.line(*frame.points((0, 24), (-3, 8), (-3, 4)))
    pen.line(*frame.points((0, 20), (3, 8), (3, 4)))
    pen.shape(frame.points((-4, 5), (4, 5), (3, -8), (-3, -8)))
    pen.line(*frame.points((-2, -8), (-2, -24), (-5, -24)))
    pen.line(*frame.points((2, -8), (2, -24), (5, -24)))
    pen.disc(frame.at(0, 10), 4.5 * frame.scale)


def _gymnast(pen: Pen, frame: Frame) -> None:
    """Somebody who holds on to a rope, the legs stretched forward."""
    pen.line(*frame.points((0, 24), (-3, 8), (-3, 3)))
    pen.line(*frame.points((0, 20), (3, 8), (3, 3)))
    pen.shape(frame.points((-4, 4), (4, 4), (3, -8), (-3, -8)))
    pen.line(*frame.points((0, -7), (20, -9)))
    pen.line(*frame.points((0, -9), (20, -12)))
    pen.disc(frame.at(0, 9), 4.5 * frame.scale)


def _rider(pen: Pen, frame: Frame) -> None:
    """Somebody on a seat, from the side."""
    pen.line(*frame.points((-5, 4), (-5, -4), (4, -4), (5, -11)))
    pen.disc(frame.at(-4, 8), 3.5 * frame.scale)


# --- things ---


def _lantern(pen: Pen, frame: Frame) -> None:
    """A brass lantern with a handle."""
    pen.arc(frame.at(0, 8), 4.5 * frame.scale, weight="thin")
    pen.shape(frame.points((-5, 6), (5, 6), (7, 3), (-7, 3)), filled=True)
    pen.shape(frame.points((-6, 3), (6, 3), (6, -9), (-6, -9)))
    _thin(pen, frame, (-2, 3), (-2, -9))
    _thin(pen, frame, (2, 3), (2, -9))
    pen.shape(frame.points((-8, -9), (8, -9), (7, -12), (-7, -12)), filled=True)


def _plumb_bob(pen: Pen, frame: Frame) -> None:
    """A plumb bob: a cap and a point."""
    pen.shape(frame.points((-3, 12), (3, 12), (3, 8), (-3, 8)), filled=True)
    pen.shape(frame.points((-8, 8), (8, 8), (8, 4), (0, -14), (-8, 4)))


def _camera(pen: Pen, frame: Frame) -> None:
    """A film camera, hung up by a frame."""
    pen.line(*frame.points((0, 12), (-10, 7), (10, 7), (0, 12)), weight="thin")
    pen.shape(frame.points((-10, 7), (10, 7), (10, -8), (-10, -8)))
    pen.shape(frame.points((10, 2), (17, 5), (17, -6), (10, -3)))
    pen.disc(frame.at(-2, 0), 3.5 * frame.scale)


def _wooden_bob(pen: Pen, frame: Frame) -> None:
    """A turned wooden bob, with grain."""
    pen.disc(frame.origin, 10.0 * frame.scale)
    _thin(pen, frame, (-7, 4), (7, 4))
    _thin(pen, frame, (-8, -1), (8, -1))
    _thin(pen, frame, (-6, -6), (6, -6))


def _beanbag(pen: Pen, frame: Frame) -> None:
    """A soft bag, tied at its top."""
    sides = ((0, 11), (-3, 7), (-10, 2), (-11, -6), (-5, -10), (5, -10), (11, -6), (10, 2), (3, 7))
    pen.shape(frame.points(*sides))
    _thin(pen, frame, (-3, 7), (3, 7))


def _brass_ball(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.origin, 9.0 * frame.scale, filled=True)


def _gondola(pen: Pen, frame: Frame) -> None:
    """An empty gondola of a ride: a tub with a roof."""
    pen.shape(frame.points((-12, 0), (12, 0), (9, -11), (-9, -11)))
    pen.line(*frame.points((-12, 8), (0, 12), (12, 8), (-12, 8)))
    _thin(pen, frame, (-9, 8), (-9, 0))
    _thin(pen, frame, (9, 8), (9, 0))


def _cake(pen: Pen, frame: Frame) -> None:
    """A cake with two tiers and a cherry."""
    pen.shape(frame.points((-9, -8), (9, -8), (9, -1), (-9, -1)))
    pen.shape(frame.points((-5, -1), (5, -1), (5, 4), (-5, 4)))
    pen.disc(frame.at(0, 6), 2.0 * frame.scale, filled=True)


def _clay_figure(pen: Pen, frame: Frame) -> None:
    """A small figure without limbs."""
    pen.shape(frame.points((-5, -9), (5, -9), (2.5, 3), (-2.5, 3)), filled=True)
    pen.disc(frame.at(0, 6), 3.5 * frame.scale, filled=True)


def _lump(pen: Pen, frame: Frame) -> None:
    """A lump of ice with edges."""
    pen.shape(frame.points((-10, -8), (-11, 0), (-5, 7), (4, 8), (10, 2), (10, -8)))
    _thin(pen, frame, (-5, 7), (-2, 0), (4, 8))
    _thin(pen, frame, (-2, 0), (-4, -8))


LOOKS: Mapping[str, BodyLook] = {
    "minibus": BodyLook(13.0, _minibus),
    "golf-buggy": BodyLook(14.0, _buggy),
    "model-wagon": BodyLook(10.0, _wagon),
    "coaster-car": BodyLook(9.5, _coaster_car),
    "aerobatic-aircraft": BodyLook(10.0, _aircraft),
    "skateboarder": BodyLook(20.5, _skateboarder),
    "acrobat": BodyLook(24.0, _hanging),
    "gymnast": BodyLook(24.0, _gymnast),
    "seated-rider": BodyLook(11.0, _rider),
    "brass-lantern": BodyLook(12.0, _lantern),
    "plumb-bob": BodyLook(12.0, _plumb_bob),
    "film-camera": BodyLook(12.0, _camera),
    "wooden-bob": BodyLook(10.0, _wooden_bob),
    "beanbag": BodyLook(11.0, _beanbag),
    "brass-ball": BodyLook(9.0, _brass_ball),
    "empty-gondola": BodyLook(12.0, _gondola),
    "cake": BodyLook(8.0, _cake),
    "clay-figure": BodyLook(9.0, _clay_figure),
    "lump-of-ice": BodyLook(8.0, _lump),
}
