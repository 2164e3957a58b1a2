"""What goes round in level circles: vehicles from behind, aircraft from ahead, and loads on tables, cords and walls."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, radians, sin

from ..parts import Point
from .bodies import BodyLook
from .pen import Frame, Pen


def _rect(pen: Pen, frame: Frame, left: float, low: float, right: float, high: float, *, filled: bool = False) -> None:
    pen.shape(frame.points((left, low), (right, low), (right, high), (left, high)), filled=filled)


def _lines(pen: Pen, frame: Frame, *lines: tuple[Point, ...], thin: bool = False) -> None:
    for line in lines:
        pen.line(*frame.points(*line), weight="thin" if thin else "medium")


def _oval(
    frame: Frame, x: float, y: float, across: float, up: float, start: float = 0.0, end: float = 360.0
) -> list[Point]:
    """Points of an ellipse in a frame, or of a part of it."""
    steps = max(6, round(abs(end - start) / 20))
    turns = [radians(start + (end - start) * step / steps) for step in range(steps + 1)]
    return frame.points(*((x + across * cos(turn), y + up * sin(turn)) for turn in turns))


def _drum(pen: Pen, frame: Frame, across: float, low: float, high: float, flat: float = 0.33) -> None:
    """A low, round body seen from slightly above."""
    up = across * flat
    pen.shape([*_oval(frame, 0, high, across, up, 0, 180), *_oval(frame, 0, low, across, up, 180, 360)])
    pen.line(*_oval(frame, 0, high, across, up, 180, 360))


def _block(pen: Pen, frame: Frame, half: float, low: float, high: float, deep: float) -> None:
    """A block seen from slightly above: its front and its top."""
    pen.shape(frame.points((-half, high), (-half + deep, high + deep), (half + deep, high + deep), (half, high)))
    pen.shape(frame.points((half, low), (half + deep, low + deep), (half + deep, high + deep), (half, high)))
    _rect(pen, frame, -half, low, half, high)


# --- vehicles, from behind ---


def _car(pen: Pen, frame: Frame) -> None:
    for x in (-16.0, 9.0):
        _rect(pen, frame, x, -13, x + 7, -5, filled=True)
    roof = ((-18, -1), (-15, 2), (-11, 13), (11, 13), (15, 2), (18, -1))
    pen.shape(frame.points((-18, -9), *roof, (18, -9)))
    pen.line(*frame.points((-12, 3), (-9, 10.5), (9, 10.5), (12, 3), (-12, 3)), weight="thin")
    for x in (-16.5, 11.5):
        _rect(pen, frame, x, -3.5, x + 5, 0)
    _lines(pen, frame, ((-6, -6.5), (-6, -2.5), (6, -2.5), (6, -6.5), (-6, -6.5)), thin=True)


def _kart(pen: Pen, frame: Frame) -> None:
    """A kart with its driver."""
    pen.shape(frame.points((-10, -3), (-10, 4), (-6, 10), (6, 10), (10, 4), (10, -3)))
    _rect(pen, frame, -7, -5, 7, 5)
    pen.disc(frame.at(0, 14), 5.5 * frame.scale)
    _lines(pen, frame, ((-5, 15), (5, 15)), thin=True)
    _rect(pen, frame, -13, -6.5, 13, -3)
    for x in (-19, 12):
        _rect(pen, frame, x, -11, x + 7, 1, filled=True)


def _toy_car(pen: Pen, frame: Frame) -> None:
    """A toy racing car with a wing."""
    for x in (-16, 9):
        _rect(pen, frame, x, -10, x + 7, 3, filled=True)
    pen.shape(frame.points((-10, -6), (-10, 1), (-6, 5), (6, 5), (10, 1), (10, -6)))
    pen.disc(frame.at(0, 6), 3.5 * frame.scale)
    _lines(pen, frame, ((-7, 3), (-7, 11)), ((7, 3), (7, 11)), thin=True)
    _rect(pen, frame, -13, 10, 13, 13)


def _luge(pen: Pen, frame: Frame) -> None:
    """A flat luge sled on two runners from behind and above; two riders lie on it, one on the other, feet ahead."""
    for side in (-1, 1):
        _lines(pen, frame, ((side * 19, -11), (side * 17, -6), (side * 12, 26), (side * 8, 32)))
    pen.shape(frame.points((-16, -4), (16, -4), (12, 18), (-12, 18)))
    for side in (-1, 1):
        pen.shape(frame.points((0, 12), (side * 7, 12), (side * 5, 29), (side * 1.5, 29)), filled=True)
    pen.shape(frame.points((-11, 8), (-7, 13), (7, 13), (11, 8), (9, 1), (-9, 1)), filled=True)
    pen.disc(frame.at(0, 9.5), 5.2 * frame.scale)
    pen.shape(frame.points((-13, -4), (-8, 2), (8, 2), (13, -4), (11, -7), (-11, -7)), filled=True)
    pen.disc(frame.at(0, -2), 6.0 * frame.scale)


def _sledge(pen: Pen, frame: Frame) -> None:
    """A sledge with a roped load."""
    _lines(pen, frame, ((-13, -11), (-13, -4)), ((13, -11), (13, -4)), ((-16, -11), (-10, -11)), ((10, -11), (16, -11)))
    _rect(pen, frame, -17, -4, 17, -1)
    _rect(pen, frame, -13, -1, 13, 12)
    _lines(pen, frame, ((-4, -1), (-4, 12)), ((4, -1), (4, 12)), ((-13, 5.5), (13, 5.5)), thin=True)


def _motorcyclist(pen: Pen, frame: Frame) -> None:
    """A motorcycle with its rider, from ahead."""
    _rect(pen, frame, -3, -21, 3, -4)
    _lines(pen, frame, ((-4, -12), (-4, 0)), ((4, -12), (4, 0)), ((-13, 3), (-6, 1), (6, 1), (13, 3)))
    pen.shape(frame.points((-13, 3), (-9, 13), (9, 13), (13, 3), (7, 1), (-7, 1)))
    pen.shape(frame.points((-6, -4), (-7, 3), (-3, 7), (3, 7), (7, 3), (6, -4)))
    pen.disc(frame.at(0, 1), 3.0 * frame.scale)
    pen.disc(frame.at(0, 17), 5.0 * frame.scale)
    _lines(pen, frame, ((-4, 18.5), (4, 18.5)), ((-4, 15.5), (4, 15.5)), thin=True)


def _skater_leaning(pen: Pen, frame: Frame) -> None:
    """Somebody on inline skates, seen from behind."""
    _lines(pen, frame, ((-5, -19), (-3, -8), (0, -1), (3, -8), (5, -19)), ((-8, 2), (-5, 9), (5, 9), (8, 2)))
    pen.shape(frame.points((-4, -1), (-5, 9), (5, 9), (4, -1)))
    for x in (-5, 5):
        _rect(pen, frame, x - 2.5, -21, x + 2.5, -17, filled=True)
    pen.disc(frame.at(0, 14.5), 4.5 * frame.scale)
    _lines(pen, frame, ((-4.3, 15.5), (4.3, 15.5)), thin=True)


def _coach(pen: Pen, frame: Frame) -> None:
    """A railway coach or a tram, from behind."""
    for x in (-15, 10):
        _rect(pen, frame, x, -24, x + 5, -14, filled=True)
    _lines(pen, frame, ((-10, -20), (10, -20)))
    pen.shape(frame.points((-19, -15), (-19, 14), (-14, 22), (14, 22), (19, 14), (19, -15)))
    for left, right in ((-16, -6), (6, 16)):
        pen.line(*frame.points((left, 3), (left, 14), (right, 14), (right, 3), (left, 3)), weight="thin")
    pen.line(*frame.points((-4, -15), (-4, 15), (4, 15), (4, -15)), weight="thin")
    for x in (-13, 13):
        pen.arc(frame.at(x, -9), 2.2 * frame.scale, weight="thin")


def _tram(pen: Pen, frame: Frame) -> None:
    """A tram, from behind, with its bow to the overhead line."""
    _lines(pen, frame, ((-6, 22), (6, 30), (-6, 38), (6, 38)), thin=True)
    _coach(pen, frame)


# --- aircraft, from ahead; the wings lie across the frame ---


def _wing(pen: Pen, frame: Frame, half: float, root: float) -> None:
    pen.shape(frame.points((-half, 0.8), (half, 0.8), (half, -0.8), (0, -root), (-half, -0.8)))


def _aeroplane(pen: Pen, frame: Frame) -> None:
    """A small aeroplane with low wings, a propeller and three wheels."""
    _lines(pen, frame, ((-13, -3), (-15, -12)), ((13, -3), (15, -12)), ((0, -6), (0, -13)), ((0, 8), (0, 24)))
    for x in (-15, 15):
        _rect(pen, frame, x - 2, -16, x + 2, -9, filled=True)
    _rect(pen, frame, -1.8, -17, 1.8, -11, filled=True)
    _rect(pen, frame, -18, 6, 18, 7.6)
    _wing(pen, frame, 44, 4)
    pen.shape(frame.points((-7, -5), (-8, 3), (-5, 11), (5, 11), (8, 3), (7, -5)))
    _lines(pen, frame, ((-6, 4.5), (-4, 9), (4, 9), (6, 4.5), (-6, 4.5)), thin=True)
    _lines(pen, frame, ((-9, 11), (9, -12)), thin=True)
    pen.disc(frame.at(0, -0.5), 2.4 * frame.scale, filled=True)


def _glider(pen: Pen, frame: Frame) -> None:
    """A glider: long, thin wings, a small body and a high tail."""
    _lines(pen, frame, ((0, 5), (0, 20)))
    _rect(pen, frame, -12, 19.5, 12, 21)
    _rect(pen, frame, -1.5, -9, 1.5, -5, filled=True)
    _wing(pen, frame, 50, 2.5)
    pen.shape(_oval(frame, 0, 0, 5, 7))
    _lines(pen, frame, ((-4.2, 2.5), (4.2, 2.5)), thin=True)


def _model_aeroplane(pen: Pen, frame: Frame) -> None:
    """A model aeroplane: high wings on a slim body, a propeller and two large wheels."""
    _lines(pen, frame, ((-5, -12), (-11, -20)), ((5, -12), (11, -20)), ((0, 0), (0, 9)))
    for x in (-11, 11):
        pen.disc(frame.at(x, -20), 3.6 * frame.scale, filled=True)
    _rect(pen, frame, -13, -5.5, 13, -4.2)
    _rect(pen, frame, -5, -13, 5, 0)
    _lines(pen, frame, ((-5, -10), (-24, -1)), ((5, -10), (24, -1)), thin=True)
    _rect(pen, frame, -40, -1.2, 40, 1.8)
    _lines(pen, frame, ((-10, -14), (10, -2)), thin=True)
    pen.disc(frame.at(0, -8), 2.2 * frame.scale, filled=True)


def _toy_glider(pen: Pen, frame: Frame) -> None:
    """A toy glider of balsa that hangs by its middle."""
    _lines(pen, frame, ((0, 0), (0, 11)))
    _rect(pen, frame, -11, 4.5, 11, 6)
    _rect(pen, frame, -25, -1.2, 25, 1.2)
    pen.shape(_oval(frame, 0, -1, 3, 5))


# --- on cords ---


def _bob(pen: Pen, frame: Frame) -> None:
    """A rubber bob with an eyelet."""
    pen.arc(frame.at(0, 9.5), 2.5 * frame.scale, weight="thin")
    pen.shape(frame.points((-6, 7), (6, 7), (9, -7), (-9, -7)), filled=True)


def _lantern(pen: Pen, frame: Frame) -> None:
    """A round paper lantern with ribs."""
    pen.shape(_oval(frame, 0, 0, 13, 10))
    for y in (-6, -2, 2, 6):
        half = 13 * (1 - (y / 10) ** 2) ** 0.5
        _lines(pen, frame, ((-half, y), (half, y)), thin=True)
    _rect(pen, frame, -5, 9, 5, 12)
    _rect(pen, frame, -5, -12, 5, -9)


def _chair_rider(pen: Pen, frame: Frame) -> None:
    """A chair on a chain with its rider, from behind."""
    _lines(pen, frame, ((0, 24), (-12, 12), (-12, -8)), ((0, 24), (12, 12), (12, -8)))
    for x in (-5, 2):
        pen.shape(frame.points((x, -10), (x, -22), (x + 3, -22), (x + 3, -10)))
    pen.shape(frame.points((-6, -8), (-7, 2), (-12, 5), (-12, 8), (-4, 6), (4, 6), (12, 8), (12, 5), (7, 2), (6, -8)))
    pen.disc(frame.at(0, 11), 5.0 * frame.scale)
    _rect(pen, frame, -14, -11, 14, -7)


def _toy_chair(pen: Pen, frame: Frame) -> None:
    """An empty toy chair, from the side."""
    _lines(pen, frame, ((0, 20), (-8, 12)), ((0, 20), (9, 0)), thin=True)
    _rect(pen, frame, -9, -14, -6, 13)
    _rect(pen, frame, 6, -14, 9, -1)
    _rect(pen, frame, -9, -3, 10, 1)


def _hammer(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.origin, 9.0 * frame.scale, filled=True)


def _stone(pen: Pen, frame: Frame) -> None:
    """A stone in a sling."""
    pen.shape(frame.points((-8, 2), (-5, 7), (2, 8), (8, 4), (9, -3), (4, -8), (-4, -8), (-9, -3)))
    _lines(pen, frame, ((0, 12), (-5, 7)), ((0, 12), (5, 6)), thin=True)


def _felt_bird(pen: Pen, frame: Frame) -> None:
    """A bird of felt with spread wings, from ahead."""
    pen.shape(frame.points((-4, 2), (-14, 9), (-24, 6), (-14, 3), (-5, -4)))
    pen.shape(frame.points((4, 2), (14, 9), (24, 6), (14, 3), (5, -4)))
    pen.shape(_oval(frame, 0, -1, 6, 8))
    pen.shape(frame.points((-2, 1), (2, 1), (0, -3)), filled=True)


# --- on tables, rods and discs, seen from slightly above ---


def _puck(pen: Pen, frame: Frame) -> None:
    _drum(pen, frame, 14, -5, 4)
    pen.line(*_oval(frame, 0, 4, 7, 2.3), weight="thin", tone="soft")


def _disc(pen: Pen, frame: Frame) -> None:
    """A heavy disc with a knob."""
    _drum(pen, frame, 16, -4, 0)
    _drum(pen, frame, 5, 1, 6)


def _ice_block(pen: Pen, frame: Frame) -> None:
    _block(pen, frame, 12, -8, 6, 6)
    _lines(pen, frame, ((-8, -1), (-4, 3)), ((-8, -5), (0, 3)), thin=True)


def _wooden_block(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -15, -9, 15, 9)
    _lines(pen, frame, ((-11, 4), (-2, 5), (11, 4)), ((-11, -1), (2, 0), (11, -1)), ((-11, -5), (11, -5)), thin=True)


def _ice_cube(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -8, -8, 8, 8)
    _lines(pen, frame, ((-5, -1), (-1, 4)), ((-4, -5), (3, 3)), thin=True)


def _flat_puck(pen: Pen, frame: Frame) -> None:
    """A puck on an inclined wall, from the side."""
    _rect(pen, frame, -14, -5, 14, 5)
    _lines(pen, frame, ((-14, 1), (14, 1)), thin=True)


def _steel_block(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -10, -9, 10, 9)
    pen.arc(frame.at(0, 12), 3.0 * frame.scale, weight="thin")


def _curling_stone(pen: Pen, frame: Frame) -> None:
    _drum(pen, frame, 16, -5, 3)
    _lines(pen, frame, ((0, 4), (0, 10), (10, 11)))


def _slider(pen: Pen, frame: Frame) -> None:
    """A steel sleeve on a rod."""
    _rect(pen, frame, -12, -10, 12, 10)
    _lines(pen, frame, ((-8, -10), (-8, 10)), ((8, -10), (8, 10)), thin=True)


def _bead(pen: Pen, frame: Frame) -> None:
    """A bead on a rod."""
    pen.disc(frame.origin, 10.0 * frame.scale)
    _lines(pen, frame, ((-10, 0), (10, 0)), thin=True)


def _tile(pen: Pen, frame: Frame) -> None:
    pen.shape(frame.points((-18, 0), (-10, 7), (18, 7), (10, 0)))
    pen.shape(frame.points((10, -4), (18, 3), (18, 7), (10, 0)))
    _rect(pen, frame, -18, -4, 10, 0)


def _basket(pen: Pen, frame: Frame) -> None:
    """A picnic basket with a lid and a handle."""
    pen.line(*_oval(frame, 0, 4, 13, 15, 0, 180))
    pen.shape(frame.points((-16, 6), (16, 6), (13, -12), (-13, -12)))
    _rect(pen, frame, -18, 4, 18, 8)
    for y in (-1, -6):
        _lines(pen, frame, ((-15, y), (15, y)), thin=True)
    for x in (-8, 0, 8):
        _lines(pen, frame, ((x, -12), (x * 1.1, 4)), thin=True)


def _wooden_crate(pen: Pen, frame: Frame) -> None:
    """A crate of planks with a brace across."""
    _rect(pen, frame, -16, -14, 16, 14)
    _lines(pen, frame, ((-16, 8), (16, 8)), ((-16, -8), (16, -8)))
    _lines(pen, frame, ((-16, -8), (12, 8)), ((-12, -8), (16, 8)), thin=True)


# --- in tubes and drums ---


def _mud(pen: Pen, frame: Frame) -> None:
    """A plug at the bottom of a tube, which lies below it in the frame."""
    pen.shape([*_oval(frame, 0, 0, 7.5, 8, 180, 360), *frame.points((7.5, 8), (-7.5, 8))], filled=True)


def _pulp(pen: Pen, frame: Frame) -> None:
    """A plug of fruit pulp."""
    pen.shape([*_oval(frame, 0, 0, 7.5, 8, 180, 360), *frame.points((7.5, 8), (3, 6), (-2, 9), (-7.5, 7))])
    for x, y in ((-4, 2), (0, -3), (4, 3), (0, 3), (-3, -2), (4, -2)):
        pen.disc(frame.at(x, y), 0.8 * frame.scale, filled=True)


def _glass_bead(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.at(0, -1), 6.0 * frame.scale)
    pen.arc(frame.at(-1.5, 1), 1.8 * frame.scale, weight="thin")


def _rider(pen: Pen, frame: Frame) -> None:
    """Somebody from the side with the back to the left, their feet free."""
    pen.shape(frame.points((-4, -3), (-3, -23), (5, -23), (5, -21), (1, -20), (2, -3)))
    pen.shape(frame.points((-5, 11), (-3, 13), (2, 12), (3, 0), (2, -4), (-4, -4)))
    _lines(pen, frame, ((-1, 9), (1, 1), (5, -5)))
    pen.disc(frame.at(-0.5, 18), 5.5 * frame.scale)


def _wooden_cube(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -8, -8, 8, 8)
    _lines(pen, frame, ((-5, 4), (5, 4)), ((-5, 0), (5, 0)), ((-5, -4), (5, -4)), thin=True)


def _lettuce(pen: Pen, frame: Frame) -> None:
    """A lettuce heart with its leaves."""
    left = ((-3, -9), (-8, -6), (-9, 2), (-8, 8), (-4, 7), (-2, 12))
    right = ((2, 9), (6, 11), (7, 6), (10, 4), (8, -1), (9, -6), (4, -8))
    pen.shape(frame.points(*left, *right))
    _lines(pen, frame, ((-1, -8), (0, 0), (-3, 5)), ((0, 0), (4, 5)), ((3, -6), (6, 0)), ((-3, -6), (-6, 0)), thin=True)


# --- bags that hang ---


def _bag(pen: Pen, frame: Frame) -> None:
    belly = ((-3, 10), (-9, 5), (-13, -4), (-10, -12), (10, -12), (13, -4), (9, 5), (3, 10))
    pen.shape(frame.points((5, 16), (-5, 16), *belly))
    _lines(pen, frame, ((-3.5, 10.5), (3.5, 10.5)))


def _sandbag(pen: Pen, frame: Frame) -> None:
    _bag(pen, frame)
    for x, y in ((-7, -4), (0, 0), (7, -3), (-3, -8), (4, -8), (-5, 3), (5, 4)):
        pen.disc(frame.at(x, y), 0.7 * frame.scale, filled=True)


def _marble_bag(pen: Pen, frame: Frame) -> None:
    _bag(pen, frame)
    for x, y in ((-8, -3), (0, -3), (8, -3), (-4, 3), (4, 3), (-4, -8.5), (4, -8.5)):
        pen.arc(frame.at(x, y), 3.0 * frame.scale, weight="thin")


def _bolt_bag(pen: Pen, frame: Frame) -> None:
    _bag(pen, frame)
    for x, y in ((-6, -3), (4, 2), (2, -8)):
        _lines(pen, frame, ((x - 4, y), (x + 3, y + 2)), ((x + 2, y - 1), (x + 4, y + 5)), thin=True)


LOOKS: Mapping[str, BodyLook] = {
    "car-behind": BodyLook(13.0, _car),
    "kart-behind": BodyLook(11.0, _kart),
    "toy-car-behind": BodyLook(10.0, _toy_car),
    "luge-behind": BodyLook(11.0, _luge),
    "sledge": BodyLook(11.0, _sledge),
    "motorcyclist": BodyLook(21.0, _motorcyclist),
    "inline-skater": BodyLook(21.0, _skater_leaning),
    "coach-behind": BodyLook(24.0, _coach),
    "tram-behind": BodyLook(24.0, _tram),
    "aeroplane-ahead": BodyLook(12.0, _aeroplane),
    "glider-ahead": BodyLook(10.0, _glider),
    "model-aeroplane-ahead": BodyLook(12.0, _model_aeroplane),
    "toy-glider": BodyLook(4.0, _toy_glider),
    "rubber-bob": BodyLook(11.0, _bob),
    "paper-lantern": BodyLook(12.0, _lantern),
    "chair-rider": BodyLook(24.0, _chair_rider),
    "toy-chair": BodyLook(20.0, _toy_chair),
    "hammer-head": BodyLook(9.0, _hammer),
    "sling-stone": BodyLook(12.0, _stone),
    "felt-bird": BodyLook(7.0, _felt_bird),
    "puck": BodyLook(5.0, _puck),
    "knob-disc": BodyLook(4.0, _disc),
    "ice-block": BodyLook(8.0, _ice_block),
    "wooden-block": BodyLook(9.0, _wooden_block),
    "ice-cube": BodyLook(8.0, _ice_cube),
    "flat-puck": BodyLook(5.0, _flat_puck),
    "steel-block": BodyLook(15.0, _steel_block),
    "curling-stone": BodyLook(5.0, _curling_stone),
    "sleeve": BodyLook(12.0, _slider),
    "threaded-bead": BodyLook(10.0, _bead),
    "clay-tile": BodyLook(4.0, _tile),
    "picnic-basket": BodyLook(12.0, _basket),
    "wooden-crate": BodyLook(14.0, _wooden_crate),
    "mud-plug": BodyLook(8.0, _mud),
    "pulp-plug": BodyLook(8.0, _pulp),
    "glass-bead": BodyLook(7.0, _glass_bead),
    "wall-rider": BodyLook(5.0, _rider),
    "wooden-cube": BodyLook(8.0, _wooden_cube),
    "lettuce": BodyLook(9.0, _lettuce),
    "sandbag": BodyLook(12.0, _sandbag),
    "marble-bag": BodyLook(12.0, _marble_bag),
    "bolt-bag": BodyLook(12.0, _bolt_bag),
}
