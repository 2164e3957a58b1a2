"""What goes round in vertical circles, from the side: riders, vehicles, loads on cords and things in wheels."""

from __future__ import annotations

from collections.abc import Mapping

from ..parts import Point
from .bodies import BodyLook
from .pen import Frame, Pen


def _rect(pen: Pen, frame: Frame, left: float, low: float, right: float, high: float, *, filled: bool = False) -> None:
    pen.shape(frame.points((left, low), (right, low), (right, high), (left, high)), filled=filled)


def _lines(pen: Pen, frame: Frame, *lines: tuple[Point, ...], thin: bool = False) -> None:
    for line in lines:
        pen.line(*frame.points(*line), weight="thin" if thin else "medium")


def _disc(pen: Pen, frame: Frame, x: float, y: float, radius: float, *, filled: bool = False) -> None:
    pen.disc(frame.at(x, y), radius * frame.scale, filled=filled)


def _ring(pen: Pen, frame: Frame, y: float, radius: float = 2.5) -> None:
    """An eyelet by which something hangs."""
    pen.arc(frame.at(0, y), radius * frame.scale, weight="thin")


# --- in wheels ---


def _seated(pen: Pen, frame: Frame) -> None:
    """Somebody in the tub of a seat, from ahead."""
    pen.shape(frame.points((-5, -8), (5, -8), (6, 4), (3, 6), (-3, 6), (-6, 4)))
    _lines(pen, frame, ((-3, -8), (-3, 1)), ((3, -8), (3, 1)), thin=True)
    _disc(pen, frame, 0, 10, 4.2)


def _cake(pen: Pen, frame: Frame) -> None:
    """A cake of two tiers with a cherry on it."""
    _rect(pen, frame, -9, -8, 9, 0)
    _lines(pen, frame, ((-9, -3), (-6, -5), (-3, -3), (0, -5), (3, -3), (6, -5), (9, -3)), thin=True)
    _rect(pen, frame, -6, 0, 6, 6)
    _disc(pen, frame, 0, 8.2, 2.2, filled=True)


def _figure(pen: Pen, frame: Frame) -> None:
    """A plump figure of clay."""
    _lines(pen, frame, ((-4, 0), (-9, -3)), ((4, 0), (9, -3)))
    pen.shape(frame.points((-6, -9), (-5, 0), (-3, 3), (3, 3), (5, 0), (6, -9)))
    _disc(pen, frame, 0, 6, 4.2)
    for x in (-1.5, 1.5):
        _disc(pen, frame, x, 7, 0.5, filled=True)


# --- vehicles ---


def _wheels(pen: Pen, frame: Frame, y: float, radius: float, *places: float) -> None:
    for x in places:
        _disc(pen, frame, x, y, radius)
        _disc(pen, frame, x, y, radius / 3, filled=True)


def _minibus(pen: Pen, frame: Frame) -> None:
    pen.shape(frame.points((-25, -8), (-25, 10), (-22, 13), (14, 13), (22, 4), (26, 1), (26, -8)))
    for left, right in ((-22, -14), (-12, -4), (-2, 6)):
        _lines(pen, frame, ((left, 3), (left, 10), (right, 10), (right, 3), (left, 3)), thin=True)
    _lines(pen, frame, ((8, 3), (8, 10), (13, 10), (18.5, 3), (8, 3)), thin=True)
    _wheels(pen, frame, -8, 5, -15, 16)


def _buggy(pen: Pen, frame: Frame) -> None:
    """A golf buggy with its roof and a bag of clubs."""
    _lines(pen, frame, ((-19, 1), (-23, 13)), ((-17, 1), (-19, 14)), ((-15, 1), (-16, 13)), thin=True)
    _lines(pen, frame, ((-9, -2), (-11, 15)), ((15, -1), (9, 15)), ((2, -3), (7, 4)))
    _rect(pen, frame, -15, 14.5, 13, 17)
    pen.shape(frame.points((-12, -3), (-12, 6), (-9, 6), (-8, 0), (2, 0), (2, -3)))
    pen.shape(frame.points((-22, 1), (-14, 1), (-13, -3), (10, -3), (13, 1), (19, -1), (21, -8), (-21, -8)))
    _wheels(pen, frame, -9, 5, -13, 13)


def _wagon(pen: Pen, frame: Frame) -> None:
    """An open wagon of a model railway."""
    _rect(pen, frame, -19, -5, 19, 8)
    for x in (-9.5, 0, 9.5):
        _lines(pen, frame, ((x, -5), (x, 8)), thin=True)
    _lines(pen, frame, ((-19, -3), (-23, -3)), ((19, -3), (23, -3)))
    _wheels(pen, frame, -6, 4, -11, 11)


def _coaster_car(pen: Pen, frame: Frame) -> None:
    """An empty car of a roller coaster: a pointed front, two seats and bars before them."""
    for x in (-14, 0):
        pen.shape(frame.points((x - 1, 0), (x - 3, 12), (x + 1, 12), (x + 4, 0)))
        _lines(pen, frame, ((x + 11, 2), (x + 7, 8), (x + 4, 8)), thin=True)
    pen.shape(frame.points((-21, -5), (-21, 4), (13, 4), (22, -1), (22, -5)))
    _lines(pen, frame, ((-21, -1), (21, -1)), thin=True)
    _wheels(pen, frame, -6, 4, -13, 13)


def _skateboard(pen: Pen, frame: Frame) -> None:
    _lines(pen, frame, ((-17, 2), (-13, -1), (13, -1), (17, 2)))
    _wheels(pen, frame, -3, 2.6, -9, 9)


def _skateboarder(pen: Pen, frame: Frame) -> None:
    """Somebody on a skateboard, with bent knees and spread arms."""
    _skateboard(pen, Frame(frame.at(0, -12), frame.up, frame.scale, frame.mirrored))
    _lines(pen, frame, ((-7, -12), (-9, -4), (-2, -2)), ((9, -12), (8, -3), (0, -1)))
    _lines(pen, frame, ((3, 8), (-6, 6), (-13, 10)), ((3, 8), (10, 5), (16, 8)))
    pen.shape(frame.points((-4, -4), (2, -3), (6, 8), (1, 10)))
    _disc(pen, frame, 6, 14.5, 4.4)
    _lines(pen, frame, ((2, 16), (10, 16)), thin=True)


def _aircraft(pen: Pen, frame: Frame) -> None:
    """An aerobatic aircraft with its pilot below a canopy; its nose is to the right."""
    _lines(pen, frame, ((-9, 5), (-6, 12), (0, 16), (7, 14), (13, 5)), thin=True)
    _disc(pen, frame, 1, 9.5, 2.6, filled=True)
    _lines(pen, frame, ((1, 8), (1, 4)))
    pen.shape(frame.points((-31, 3), (-36, 15), (-28, 15), (-20, 4)))
    _lines(pen, frame, ((8, -6), (12, -13)), ((31, 12), (31, -12)), ((-31, -1), (-32, -6)))
    pen.shape(frame.points((-35, 1), (-31, 4), (-8, 6), (15, 6), (26, 4), (30, 0), (26, -4), (10, -7), (-10, -5)))
    pen.shape(frame.points((-9, -1.5), (9, -0.5), (9, -3), (-9, -3)), filled=True)
    _wheels(pen, frame, -14, 3.4, 12)
    _disc(pen, frame, 31, 0, 1.8, filled=True)


# --- on cords, lines and ropes; they hang by their upper end ---


def _brass_lantern(pen: Pen, frame: Frame) -> None:
    """A lantern with panes, a pointed cap and a foot."""
    _ring(pen, frame, 12)
    pen.shape(frame.points((-8, 5), (-2, 10), (2, 10), (8, 5)), filled=True)
    _rect(pen, frame, -6.5, -9, 6.5, 5)
    _lines(pen, frame, ((-2.2, -9), (-2.2, 5)), ((2.2, -9), (2.2, 5)), thin=True)
    _rect(pen, frame, -9, -12, 9, -9, filled=True)


def _soft_ball(pen: Pen, frame: Frame) -> None:
    """A ball sewn of strips."""
    _disc(pen, frame, 0, 0, 9)
    _lines(pen, frame, ((-5, 7), (-2, 3), (-2, -3), (-5, -7)), ((5, 7), (2, 3), (2, -3), (5, -7)), thin=True)


def _camera(pen: Pen, frame: Frame) -> None:
    """A film camera with its lens to the right."""
    _ring(pen, frame, 11)
    _rect(pen, frame, -9, 5, 0, 9)
    pen.shape(frame.points((8, -2), (8, 2), (15, 5), (15, -5)))
    _rect(pen, frame, -11, -8, 8, 6)
    _disc(pen, frame, -5, 0, 3)
    _disc(pen, frame, 3, 0, 3)


def _on_a_rope(pen: Pen, frame: Frame) -> None:
    """Head, trunk and raised arms of somebody beside a rope, which goes on downwards between the hands and beyond."""
    _lines(pen, frame, ((0, 30), (0, -31)), thin=True)
    _rect(pen, frame, -1.5, -32, 1.5, -29, filled=True)
    _lines(pen, frame, ((-16, 8), (-21, 20), (-1, 34)), ((-9, 9), (-4, 18), (0, 27)))
    pen.shape(frame.points((-17, 9), (-8, 9), (-8.5, -8), (-15.5, -8)))
    _disc(pen, frame, -12, 16, 5)
    for y in (27, 34):
        _disc(pen, frame, 0, y, 1.8, filled=True)


def _acrobat(pen: Pen, frame: Frame) -> None:
    """Somebody who hangs by the hands from a rope, with one leg stretched out and one bent."""
    _on_a_rope(pen, frame)
    _lines(pen, frame, ((-14, -8), (-22, -20), (-34, -30)), ((-10, -8), (-6, -19), (-14, -28)))


def _gymnast(pen: Pen, frame: Frame) -> None:
    """Somebody who hangs by the hands from a rope and holds it between the feet."""
    _on_a_rope(pen, frame)
    _lines(pen, frame, ((-14, -7), (4, -11), (-2, -26), (4, -27)), ((-10, -5), (8, -7), (1, -22), (7, -23)))


def _plumb_bob(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -2, 7, 2, 11)
    pen.shape(frame.points((-6.5, 7), (6.5, 7), (6.5, 1), (0, -14), (-6.5, 1)))
    _lines(pen, frame, ((-6.5, 3), (6.5, 3)), thin=True)


def _wooden_bob(pen: Pen, frame: Frame) -> None:
    """A short cylinder with its grain and an eyelet."""
    _ring(pen, frame, 10.5)
    _rect(pen, frame, -8, -8, 8, 8)
    _lines(pen, frame, ((-5, 4), (5, 4)), ((-5, 0), (5, 0)), ((-5, -4), (5, -4)), thin=True)


def _rubber_ball(pen: Pen, frame: Frame) -> None:
    """A ball with a band round it."""
    _disc(pen, frame, 0, 0, 9)
    _lines(pen, frame, ((-8.5, 2.5), (8.5, 2.5)), ((-8.5, -2.5), (8.5, -2.5)), thin=True)


def _beanbag(pen: Pen, frame: Frame) -> None:
    """A small square bag with a seam, tied by its upper corner."""
    pen.shape(
        frame.points((0, 12), (4, 7), (11, 0), (10, -2), (5, -7), (0, -11), (-5, -7), (-10, -2), (-11, 0), (-4, 7))
    )
    _lines(pen, frame, ((0, 5), (6, -1), (0, -6.5), (-6, -1), (0, 5)), thin=True)


def _brass_ball(pen: Pen, frame: Frame) -> None:
    """A polished ball."""
    _disc(pen, frame, 0, 0, 10)
    pen.arc(frame.origin, 6.0 * frame.scale, 110, 170, weight="thin")


def _wooden_ball(pen: Pen, frame: Frame) -> None:
    """A ball with its grain."""
    _disc(pen, frame, 0, 0, 10)
    for radius in (3.0, 6.0):
        pen.arc(frame.at(-2, 0), radius * frame.scale, weight="thin")


def _gondola(pen: Pen, frame: Frame) -> None:
    """An empty gondola at the end of an arm: a tub with two seats under a roof."""
    _lines(pen, frame, ((-14, -2), (-14, 11)), ((14, -2), (14, 11)))
    for x in (-9, 3):
        pen.shape(frame.points((x, -2), (x - 1, 7), (x + 2, 7), (x + 4, -2)))
    pen.shape(frame.points((-17, -1), (17, -1), (14, -12), (-14, -12)))
    _rect(pen, frame, -17, 11, 17, 14)


def _foam_ball(pen: Pen, frame: Frame) -> None:
    """A ball of foam."""
    _disc(pen, frame, 0, 0, 9)
    for x, y in ((-4, 3), (2, 5), (5, 0), (0, 0), (-5, -2), (-1, -5), (4, -4)):
        _disc(pen, frame, x, y, 0.7, filled=True)


def _hollow_ball(pen: Pen, frame: Frame) -> None:
    """A hollow ball in section."""
    _disc(pen, frame, 0, 0, 9)
    pen.arc(frame.origin, 6.5 * frame.scale, weight="thin")


def _hammer(pen: Pen, frame: Frame) -> None:
    """A hammer that hangs by the end of its shaft."""
    _rect(pen, frame, -1.8, -8, 1.8, 12)
    pen.shape(frame.points((-10, -7), (-10, -13), (7, -13), (12, -9), (7, -7)), filled=True)


def _owl(pen: Pen, frame: Frame) -> None:
    """A wooden owl."""
    pen.shape(frame.points((-8, 12), (-4, 9), (4, 9), (8, 12), (9, 2), (7, -8), (3, -12), (-3, -12), (-7, -8), (-9, 2)))
    for x in (-3.6, 3.6):
        _disc(pen, frame, x, 4, 2.8)
        _disc(pen, frame, x, 4, 0.8, filled=True)
    pen.shape(frame.points((-1.5, 1), (1.5, 1), (0, -2)), filled=True)
    _lines(pen, frame, ((0, 9), (0, 13)), ((-5, -5), (0, -8), (5, -5)), thin=True)


def _hanging_lamp(pen: Pen, frame: Frame) -> None:
    """A lamp of brass on three chains."""
    _lines(pen, frame, ((0, 16), (-7, 6)), ((0, 16), (7, 6)), ((0, 16), (0, 6)), thin=True)
    pen.shape(frame.points((-5, 6), (5, 6), (4, 2), (10, -4), (6, -11), (-6, -11), (-10, -4), (-4, 2)))
    _lines(pen, frame, ((-9.5, -4), (9.5, -4)), thin=True)
    _rect(pen, frame, -4, -14, 4, -11, filled=True)


def _fruit_basket(pen: Pen, frame: Frame) -> None:
    """A basket of fruit that hangs by its handle."""
    _lines(pen, frame, ((-10, 2), (-7, 11), (0, 15), (7, 11), (10, 2)))
    for x in (-6, 0, 6):
        _disc(pen, frame, x, 4, 3.6)
    pen.shape(frame.points((-12, 2), (12, 2), (9, -11), (-9, -11)))
    for y in (-2, -6.5):
        _lines(pen, frame, ((-11, y), (11, y)), thin=True)


def _dummy(pen: Pen, frame: Frame) -> None:
    """A dummy of cloth that hangs by its shoulders."""
    _lines(pen, frame, ((0, 24), (-6, 9)), ((0, 24), (6, 9)), thin=True)
    _lines(pen, frame, ((-6, 8), (-11, -3)), ((6, 8), (11, -3)), ((-3, -6), (-4, -22)), ((3, -6), (4, -22)))
    pen.shape(frame.points((-6, 9), (6, 9), (4, -7), (-4, -7)))
    _disc(pen, frame, 0, 14, 4.6)
    _lines(pen, frame, ((-1.5, 15.5), (1.5, 12.5)), ((-1.5, 12.5), (1.5, 15.5)), thin=True)


def _cyclist_side(pen: Pen, frame: Frame) -> None:
    """A bicycle with its rider, from the side."""
    for x in (-12, 12):
        _disc(pen, frame, x, -10, 8)
    _lines(pen, frame, ((-12, -10), (-5, 1), (8, 1), (12, -10)), ((-5, 1), (0, -10), (8, 1)), ((-12, -10), (0, -10)))
    _lines(pen, frame, ((-8, 3), (-2, 3)), ((8, 1), (7, 5), (11, 6)), thin=True)
    _lines(pen, frame, ((-5, 4), (3, 0), (1, -12)), ((-4, 5), (4, 14), (11, 6)))
    _disc(pen, frame, 8, 19, 4.2)


def _sledge_child(pen: Pen, frame: Frame) -> None:
    """A child on a sledge."""
    _lines(pen, frame, ((-18, -12), (14, -12), (19, -8), (19, -4)), ((-13, -12), (-13, -6)), ((8, -12), (8, -6)))
    _lines(pen, frame, ((-17, -6), (14, -6)))
    _lines(pen, frame, ((-4, -3), (6, 0), (12, -5)), ((-5, 6), (4, 3), (12, -2)))
    pen.shape(frame.points((-10, -5), (-3, -5), (-2, 8), (-7, 8)))
    _disc(pen, frame, -4, 12.5, 4.4)
    _lines(pen, frame, ((-8.3, 14), (0.3, 14)), thin=True)


# --- what slides ---


def _ice_lump(pen: Pen, frame: Frame) -> None:
    pen.shape(frame.points((-12, -7), (-11, 1), (-5, 7), (3, 5), (9, 7), (12, 0), (11, -7)))
    _lines(pen, frame, ((-6, 0), (-2, 3)), ((-5, -4), (1, 1)), ((4, -3), (7, 1)), thin=True)


def _soap(pen: Pen, frame: Frame) -> None:
    """A bar of soap with round edges."""
    pen.shape(frame.points((-12, -5), (-10, -7), (10, -7), (12, -5), (12, 3), (9, 7), (-9, 7), (-12, 3)))
    _lines(pen, frame, ((-6, 2), (6, 2), (6, -2), (-6, -2), (-6, 2)), thin=True)


def _slider(pen: Pen, frame: Frame) -> None:
    """A small block of wood."""
    _rect(pen, frame, -13, -8, 13, 8)
    _lines(pen, frame, ((-9, 3), (-1, 4), (9, 3)), ((-9, -3), (2, -2), (9, -3)), thin=True)


LOOKS: Mapping[str, BodyLook] = {
    "seated-rider": BodyLook(8.0, _seated),
    "cake": BodyLook(8.0, _cake),
    "clay-figure": BodyLook(9.0, _figure),
    "minibus": BodyLook(13.0, _minibus),
    "golf-buggy": BodyLook(14.0, _buggy),
    "model-wagon": BodyLook(10.0, _wagon),
    "coaster-car": BodyLook(10.0, _coaster_car),
    "skateboarder": BodyLook(17.6, _skateboarder),
    "aerobatic-aircraft": BodyLook(10.0, _aircraft),
    "brass-lantern": BodyLook(13.0, _brass_lantern),
    "soft-ball": BodyLook(9.0, _soft_ball),
    "film-camera": BodyLook(12.0, _camera),
    "acrobat": BodyLook(30.0, _acrobat),
    "gymnast": BodyLook(30.0, _gymnast),
    "plumb-bob": BodyLook(11.0, _plumb_bob),
    "wooden-bob": BodyLook(12.0, _wooden_bob),
    "rubber-ball": BodyLook(9.0, _rubber_ball),
    "beanbag": BodyLook(10.0, _beanbag),
    "brass-ball": BodyLook(10.0, _brass_ball),
    "wooden-ball": BodyLook(10.0, _wooden_ball),
    "gondola": BodyLook(14.0, _gondola),
    "ice-lump": BodyLook(7.0, _ice_lump),
    "small-block": BodyLook(8.0, _slider),
    "foam-ball": BodyLook(9.0, _foam_ball),
    "hollow-ball": BodyLook(9.0, _hollow_ball),
    "hammer-tool": BodyLook(12.0, _hammer),
    "wooden-owl": BodyLook(12.0, _owl),
    "hanging-lamp": BodyLook(15.0, _hanging_lamp),
    "fruit-basket": BodyLook(14.0, _fruit_basket),
    "dummy": BodyLook(23.0, _dummy),
    "cyclist-side": BodyLook(18.0, _cyclist_side),
    "sledge-with-child": BodyLook(12.0, _sledge_child),
    "bar-of-soap": BodyLook(7.0, _soap),
    "skateboard": BodyLook(5.6, _skateboard),
}
