"""What goes round planets, axes and fields: satellites, moons, particles, and people and things on what turns."""

from __future__ import annotations

from collections.abc import Mapping

from ..parts import Point
from .bodies import BodyLook
from .pen import Frame, Pen


def _rect(pen: Pen, frame: Frame, left: float, low: float, right: float, high: float, *, filled: bool = False) -> None:
    pen.shape(frame.points((left, low), (right, low), (right, high), (left, high)), filled=filled)


def _lines(pen: Pen, frame: Frame, *lines: tuple[Point, ...]) -> None:
    for line in lines:
        pen.line(*frame.points(*line))


def _panel(pen: Pen, frame: Frame, left: float, right: float, half: float = 4.0) -> None:
    """A solar panel with its cells."""
    _rect(pen, frame, left, -half, right, half)
    pen.line(*frame.points((left, 0), (right, 0)), weight="thin")
    middle = (left + right) / 2
    pen.line(*frame.points((middle, -half), (middle, half)), weight="thin")


def _dish(pen: Pen, frame: Frame, y: float, half: float, *, down: bool) -> None:
    """An aerial dish whose back is at ``y``."""
    sign = -1.0 if down else 1.0
    bowl = [(half * part, y + sign * 5.0 * part * part) for part in (-1.0, -0.7, -0.4, 0.0, 0.4, 0.7, 1.0)]
    pen.line(*frame.points(*bowl))
    pen.line(*frame.points((0, y), (0, y + sign * 7)), weight="thin")


# --- in orbit; up is away from the planet ---


def _station(pen: Pen, frame: Frame) -> None:
    """A space station: modules on a truss between four panels."""
    _lines(pen, frame, ((-20, 0), (20, 0)))
    for x in (-22, -13, 8, 17):
        _rect(pen, frame, x, 2, x + 5, 13)
        _rect(pen, frame, x, -13, x + 5, -2)
    _rect(pen, frame, -7, -3.5, 7, 3.5)
    _rect(pen, frame, -2.5, -10, 2.5, -3.5)


def _winged(pen: Pen, frame: Frame) -> None:
    for left, right in ((-24, -10), (10, 24)):
        _panel(pen, frame, left, right)
    _lines(pen, frame, ((-10, 0), (10, 0)))
    _rect(pen, frame, -6, -6, 6, 6)


def _camera_satellite(pen: Pen, frame: Frame) -> None:
    """Two panels, and a lens that looks down."""
    _winged(pen, frame)
    pen.shape(frame.points((-2.5, -6), (2.5, -6), (4, -11), (-4, -11)))


def _probe(pen: Pen, frame: Frame) -> None:
    """Two panels, and a dish that looks away from the planet."""
    _winged(pen, frame)
    _dish(pen, frame, 6, 8, down=False)


def _relay(pen: Pen, frame: Frame) -> None:
    """Two panels, and a wide dish that looks down."""
    _winged(pen, frame)
    _dish(pen, frame, -6, 10, down=True)


def _weather_satellite(pen: Pen, frame: Frame) -> None:
    """A drum set with cells, a mast on it and an eye below."""
    _rect(pen, frame, -9, -7, 9, 7)
    for x in (-4.5, 0, 4.5):
        pen.line(*frame.points((x, -7), (x, 7)), weight="thin")
    _lines(pen, frame, ((0, 7), (0, 13)), ((-4, 13), (4, 13)))
    _rect(pen, frame, -3, -11, 3, -7)


def _signal_station(pen: Pen, frame: Frame) -> None:
    """A hexagonal station with two masts and a dish below."""
    _lines(pen, frame, ((-5, 7), (-9, 14)), ((5, 7), (9, 14)))
    pen.shape(frame.points((-11, 0), (-6, 8), (6, 8), (11, 0), (6, -6), (-6, -6)))
    pen.disc(frame.at(0, 1.5), 2.5 * frame.scale)
    _dish(pen, frame, -6, 7, down=True)


def _lander(pen: Pen, frame: Frame) -> None:
    """A cabin on four legs, of which two are seen."""
    for side in (-1, 1):
        _lines(pen, frame, ((side * 6, -3), (side * 11, -11)), ((side * 9, -11), (side * 14, -11)))
    pen.shape(frame.points((-3, -4), (3, -4), (5, -9), (-5, -9)))
    _rect(pen, frame, -9, -4, 9, 3)
    pen.shape(frame.points((-7, 3), (-4, 11), (4, 11), (7, 3)))
    pen.arc(frame.at(0, 6.5), 2.0 * frame.scale, weight="thin")


def _comet(pen: Pen, frame: Frame) -> None:
    """A head with a tail to the right."""
    for y in (-6, 0, 6):
        pen.line(*frame.points((4, y / 2), (24, 9 + y)), weight="thin", tone="soft")
    pen.disc(frame.origin, 5.0 * frame.scale)


def _asteroid(pen: Pen, frame: Frame) -> None:
    pen.shape(frame.points((-8, -2), (-6, 5), (1, 7), (7, 4), (8, -3), (3, -6), (-4, -6)))
    pen.arc(frame.at(1, 1), 2.0 * frame.scale, weight="thin", tone="soft")


def _star(pen: Pen, frame: Frame) -> None:
    for turn in range(0, 360, 45):
        ray = Frame(frame.origin, frame.up + turn, frame.scale)
        pen.line(*ray.points((0, 9), (0, 13)), weight="thin", tone="soft")
    pen.disc(frame.origin, 6.5 * frame.scale)


def _clump(pen: Pen, frame: Frame) -> None:
    """A dense clump of gas."""
    pen.shape(frame.points((-9, -2), (-8, 4), (-3, 4), (0, 8), (5, 5), (9, 3), (8, -3), (3, -6), (-3, -4), (-6, -6)))


def _moon(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.origin, 6.5 * frame.scale)
    pen.arc(frame.at(-1.5, 1.5), 2.2 * frame.scale, weight="thin", tone="soft")


# --- particles ---


def _sign(pen: Pen, middle: Point, half: float, *, positive: bool) -> None:
    x, y = middle
    pen.line((x - half, y), (x + half, y), weight="thin")
    if positive:
        pen.line((x, y - half), (x, y + half), weight="thin")


def _electron(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.origin, 6.0)
    _sign(pen, frame.origin, 3.0, positive=False)


def _proton(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.origin, 7.0)
    _sign(pen, frame.origin, 3.5, positive=True)


def _bead(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.origin, 6.0)


def _deuteron(pen: Pen, frame: Frame) -> None:
    """A proton and a neutron."""
    pen.disc(frame.at(-5, 0), 5.6)
    pen.disc(frame.at(5, 0), 5.6)
    _sign(pen, frame.at(5, 0), 2.8, positive=True)


def _alpha(pen: Pen, frame: Frame) -> None:
    """Two protons and two neutrons."""
    for x, y in ((-4.6, -4.6), (4.6, 4.6), (4.6, -4.6), (-4.6, 4.6)):
        middle = frame.at(x, y)
        pen.disc(middle, 5.2)
        if x == y:
            _sign(pen, middle, 2.6, positive=True)


# --- on the ground ---


def _crate(pen: Pen, frame: Frame) -> None:
    """A crate of slats with fruit in it."""
    for x in (-10, -3.4, 3.4, 10):
        pen.disc(frame.at(x, 8), 4.2 * frame.scale)
    _rect(pen, frame, -15, -11, 15, 7)
    for y in (-5, 1):
        pen.line(*frame.points((-15, y), (15, y)), weight="thin")


def _instruments(pen: Pen, frame: Frame) -> None:
    """A box with a handle, a dial and two switches."""
    pen.line(*frame.points((-6, 10), (-6, 14), (6, 14), (6, 10)), weight="thin")
    _rect(pen, frame, -13, -10, 13, 10)
    pen.arc(frame.at(-4, 1), 5.0 * frame.scale, weight="thin")
    pen.line(*frame.points((-4, 1), (-1, 4)), weight="thin")
    for y in (4, -2):
        pen.arc(frame.at(7, y), 1.6 * frame.scale, weight="thin")


def _chest(pen: Pen, frame: Frame) -> None:
    """A chest with a vaulted lid and a lock."""
    lid = ((-15, 3), (-14, 8), (-9, 11), (9, 11), (14, 8), (15, 3))
    pen.shape(frame.points((-15, -11), *lid, (15, -11)))
    _lines(pen, frame, ((-15, 3), (15, 3)))
    _rect(pen, frame, -2.5, -1.5, 2.5, 4.5)


def _barrel(pen: Pen, frame: Frame) -> None:
    staves = ((-8, -14), (-11, -6), (-11, 6), (-8, 14), (8, 14), (11, 6), (11, -6), (8, -14))
    pen.shape(frame.points(*staves))
    for y, x in ((-7, 10.8), (7, 10.8)):
        pen.line(*frame.points((-x, y), (x, y)))
    pen.line(*frame.points((0, -14), (0, 14)), weight="thin")


def _lighthouse(pen: Pen, frame: Frame) -> None:
    """A tapering tower with bands, a gallery and a lantern room."""
    pen.shape(frame.points((-6, -14), (-4, 6), (4, 6), (6, -14)))
    for low, high, wide, narrow in ((-8, -3, 5.4, 4.9),):
        pen.shape(frame.points((-wide, low), (-narrow, high), (narrow, high), (wide, low)), filled=True)
    _lines(pen, frame, ((-6, 6), (6, 6)))
    _rect(pen, frame, -3, 6, 3, 11)
    pen.shape(frame.points((-4, 11), (0, 15), (4, 11)), filled=True)


def _rover(pen: Pen, frame: Frame) -> None:
    """Six wheels, a flat body and a mast with a camera."""
    _lines(pen, frame, ((-10, -5), (-4, 0), (10, -5)))
    for x in (-10, 0, 10):
        pen.disc(frame.at(x, -6), 3.5 * frame.scale)
    _rect(pen, frame, -11, -2, 10, 3)
    _lines(pen, frame, ((6, 3), (6, 11)))
    _rect(pen, frame, 3, 10, 10, 14)


def _lamp(pen: Pen, frame: Frame) -> None:
    """A small lamp with its shade."""
    _lines(pen, frame, ((-5, -9), (5, -9)), ((0, -9), (0, 1)))
    pen.shape(frame.points((-7, 1), (-3.5, 9), (3.5, 9), (7, 1)))


def _bulb(pen: Pen, frame: Frame) -> None:
    """A bulb in its socket."""
    _rect(pen, frame, -2.5, -7, 2.5, -2)
    pen.disc(frame.at(0, 2), 5.0 * frame.scale)


def _chair(pen: Pen, frame: Frame) -> None:
    _lines(pen, frame, ((-5, 10), (-5, -10)), ((5, -1), (5, -10)), ((-5, -1), (6, -1)), ((-5, 9), (-5, 4)))
    pen.line(*frame.points((-5, -6), (5, -6)), weight="thin")


def _person(pen: Pen, frame: Frame) -> None:
    """Somebody who stands."""
    _lines(pen, frame, ((-1.8, -4), (-2.4, -14.5), (-4.5, -14.5)), ((1.8, -4), (2.4, -14.5), (4.5, -14.5)))
    _lines(pen, frame, ((-3.5, 6), (-6, 1), (-5.5, -4)), ((3.5, 6), (6, 1), (5.5, -4)))
    pen.shape(frame.points((-3.5, 6), (3.5, 6), (3, -4.5), (-3, -4.5)))
    pen.disc(frame.at(0, 10.8), 4.0 * frame.scale)


def _sitting(pen: Pen, frame: Frame) -> None:
    """Somebody small who sits, the legs stretched out."""
    _lines(pen, frame, ((-2, -7), (7, -7), (11, -8), (11, -5)), ((-3, 2), (2, -3), (5, -4)))
    pen.shape(frame.points((-5, -8), (0, -8), (-0.5, 3), (-4.5, 3)))
    pen.disc(frame.at(-2.5, 7), 3.8 * frame.scale)


def _skater(pen: Pen, frame: Frame) -> None:
    """Somebody on skates, with the arms spread."""
    _lines(
        pen,
        frame,
        ((-6, -16), (-1, -4), (7, -15)),
        ((-1, -4), (1, 7)),
        ((-10, 3), (1, 6), (11, 4)),
        ((-9, -17), (-2, -17)),
        ((4, -16.5), (11, -15)),
    )
    pen.disc(frame.at(1.5, 11), 4.0 * frame.scale)


def _cyclist(pen: Pen, frame: Frame) -> None:
    """A cyclist as seen from ahead."""
    _rect(pen, frame, -1.6, -18, 1.6, -4)
    _lines(pen, frame, ((-8, 1), (8, 1)), ((0, -4), (0, 1)))
    _lines(pen, frame, ((-8, 1), (-6, 9), (6, 9), (8, 1)), ((-4, 8), (-4, -9), (-6, -9)), ((4, 8), (4, -5), (6, -5)))
    pen.shape(frame.points((-5, 9), (5, 9), (4, 1), (-4, 1)))
    pen.disc(frame.at(0, 13.5), 4.2 * frame.scale)
    pen.line(*frame.points((-4.2, 14.5), (4.2, 14.5)), weight="thin")


def _horse(pen: Pen, frame: Frame) -> None:
    """A wooden horse, its head to the right."""
    back = ((-14, 3), (-11, 6), (-4, 4), (3, 5), (8, 12), (10, 15), (11, 12.5), (16, 9), (15, 6.5), (10, 7.5), (8, 1))
    legs = ((11, -5), (8, -9), (5, -2), (-4, -2), (-6, -9), (-9, -9), (-9, 0), (-11, 2))
    pen.shape(frame.points(*back, *legs))


def _runner(pen: Pen, frame: Frame) -> None:
    """Somebody in the middle of a step."""
    _lines(pen, frame, ((-8, -12), (-2, -13), (0, -4), (4, -9), (4, -15), (7, -15)), ((0, -4), (1.5, 7)))
    _lines(pen, frame, ((-6, 0), (-4, 5), (1.5, 6), (5, 1), (9, 3)))
    pen.disc(frame.at(2.5, 11), 4.0 * frame.scale)


def _boat(pen: Pen, frame: Frame) -> None:
    """A small open boat with somebody in it."""
    _lines(pen, frame, ((0, 0), (0, 6)))
    pen.disc(frame.at(0, 9), 3.2 * frame.scale)
    pen.shape(frame.points((-14, 1), (-10, -7), (10, -7), (15, 1)))


def _robot(pen: Pen, frame: Frame) -> None:
    """A low robot on wheels."""
    for x in (-8, 8):
        pen.disc(frame.at(x, -7), 3.0 * frame.scale)
    _rect(pen, frame, -12, -6, 12, 3)
    _rect(pen, frame, -5, 3, 5, 9)
    _lines(pen, frame, ((0, 9), (0, 12)))


# --- from above; they move to the right ---


def _from_above(pen: Pen, frame: Frame) -> None:
    """Shoulders and head."""
    pen.shape(frame.points((-3, -10), (3, -10), (4, -6), (4, 6), (3, 10), (-3, 10), (-4, 6), (-4, -6)))
    pen.disc(frame.origin, 4.5 * frame.scale)


def _bicycle_above(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -19, -1.5, 19, 1.5)
    _lines(pen, frame, ((9, -9), (9, 9)))
    _from_above(pen, frame)


def _coach(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -20, -8, 20, 8)
    for x in (-10, 0, 10):
        pen.line(*frame.points((x, -8), (x, 8)), weight="thin")


def _hull(pen: Pen, frame: Frame) -> None:
    pen.shape(frame.points((-20, -7), (8, -8), (22, 0), (8, 8), (-20, 7)))
    _rect(pen, frame, -12, -4, 4, 4)


def _drone(pen: Pen, frame: Frame) -> None:
    _lines(pen, frame, ((-9, -9), (9, 9)), ((-9, 9), (9, -9)))
    for x, y in ((-9, -9), (9, 9), (-9, 9), (9, -9)):
        pen.disc(frame.at(x, y), 5.0 * frame.scale)
    _rect(pen, frame, -4, -4, 4, 4)


def _load(pen: Pen, frame: Frame) -> None:
    _rect(pen, frame, -11, -8, 11, 8)
    _lines(pen, frame, ((-11, -8), (11, 8)), ((-11, 8), (11, -8)))


def _clay(pen: Pen, frame: Frame) -> None:
    pen.shape(frame.points((-8, -5), (-9, 1), (-4, 6), (3, 6), (8, 2), (8, -4), (2, -7)))


def _boxes(pen: Pen, frame: Frame) -> None:
    """A stack of two boxes."""
    _rect(pen, frame, -9, -10, 9, 2)
    _rect(pen, frame, -6, 2, 6, 11)


def _mark(pen: Pen, frame: Frame) -> None:
    """A chalk mark across a tyre."""
    _rect(pen, frame, -2.6, -4.5, 2.6, 4.5, filled=True)


def _spot(pen: Pen, frame: Frame) -> None:
    """A spot of paint on a disc seen aslant."""
    points = [(-5, 0), (-3.5, 1.5), (0, 2), (3.5, 1.5), (5, 0), (3.5, -1.5), (0, -2), (-3.5, -1.5)]
    pen.shape(frame.points(*points), filled=True)


LOOKS: Mapping[str, BodyLook] = {
    "space-station": BodyLook(13.0, _station),
    "camera-satellite": BodyLook(8.0, _camera_satellite),
    "probe": BodyLook(8.0, _probe),
    "relay-satellite": BodyLook(12.0, _relay),
    "weather-satellite": BodyLook(11.0, _weather_satellite),
    "signal-station": BodyLook(12.0, _signal_station),
    "lander": BodyLook(11.0, _lander),
    "comet": BodyLook(5.0, _comet),
    "asteroid": BodyLook(7.0, _asteroid),
    "star": BodyLook(6.5, _star),
    "clump": BodyLook(7.0, _clump),
    "bead": BodyLook(6.0, _bead),
    "deuteron": BodyLook(5.6, _deuteron),
    "moon": BodyLook(6.5, _moon),
    "electron": BodyLook(6.0, _electron),
    "proton": BodyLook(7.0, _proton),
    "alpha-particle": BodyLook(10.0, _alpha),
    "fruit-crate": BodyLook(11.0, _crate),
    "instrument-box": BodyLook(10.0, _instruments),
    "chest": BodyLook(11.0, _chest),
    "barrel": BodyLook(14.0, _barrel),
    "lighthouse": BodyLook(14.0, _lighthouse),
    "rover": BodyLook(9.5, _rover),
    "lamp": BodyLook(9.0, _lamp),
    "bulb": BodyLook(7.0, _bulb),
    "chair": BodyLook(10.0, _chair),
    "person": BodyLook(15.0, _person),
    "sitting-child": BodyLook(8.0, _sitting),
    "skater": BodyLook(17.0, _skater),
    "cyclist": BodyLook(18.0, _cyclist),
    "horse": BodyLook(9.0, _horse),
    "runner": BodyLook(15.0, _runner),
    "boat": BodyLook(7.0, _boat),
    "robot": BodyLook(10.0, _robot),
    "person-from-above": BodyLook(10.0, _from_above),
    "bicycle-from-above": BodyLook(10.0, _bicycle_above),
    "coach-from-above": BodyLook(8.0, _coach),
    "ship-from-above": BodyLook(8.0, _hull),
    "drone-from-above": BodyLook(14.0, _drone),
    "load-from-above": BodyLook(8.0, _load),
    "clay": BodyLook(7.0, _clay),
    "boxes": BodyLook(10.0, _boxes),
    "chalk-mark": BodyLook(4.5, _mark),
    "paint-spot": BodyLook(2.0, _spot),
}
