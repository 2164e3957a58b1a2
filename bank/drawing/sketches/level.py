"""Settings of horizontal circles: bends, banks, cones, tables, drums and discs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from math import cos, radians, sin

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .looks import LOOKS
from .pen import HEIGHT, MARGIN, WIDTH, Frame, Pen

FLOOR = HEIGHT - MARGIN - 8.0  # of a ground with its hatching
LEFT, RIGHT = MARGIN + 6.0, WIDTH - MARGIN - 6.0  # ends of a ground


@dataclass(frozen=True)
class Round:
    """Space about a vertical axis as one sees it from slightly above; ``foot``: where the axis meets the ground."""

    foot: Point
    flat: float = 0.3

    def at(self, radius: float, turn: float, height: float = 0.0) -> Point:
        """The point at a distance from the axis, a turn about it (180: to the left, 90: behind) and a height."""
        x, y = self.foot
        return x + radius * cos(radians(turn)), y - height - radius * self.flat * sin(radians(turn))

    def arc(self, radius: float, start: float, end: float, height: float = 0.0) -> list[Point]:
        """Points of a level circle, from one turn to another."""
        steps = max(6, round(abs(end - start) / 6))
        return [self.at(radius, start + (end - start) * step / steps, height) for step in range(steps + 1)]

    def side(self, radius: float, low: float, high: float) -> list[Point]:
        """The outline of an upright cylinder."""
        return [*self.arc(radius, 0, 180, high), *self.arc(radius, 180, 360, low)]


def _slab(pen: Pen, about: Round, radius: float, thick: float, height: float = 0.0) -> None:
    """A round table, disc or floor whose top is at ``height``."""
    pen.shape(about.side(radius, height - thick, height))
    pen.line(*about.arc(radius, 180, 360, height))


def _ground(pen: Pen, left: float = LEFT, right: float = RIGHT, y: float = FLOOR) -> None:
    pen.solid([(left, y), (right, y)])


def _circle(
    pen: Pen, about: Round, radius: float, height: float = 0.0, start: float = 0.0, end: float = 360.0
) -> Point:
    """The path of the body; returns its centre."""
    centre = (about.foot[0], about.foot[1] - height)
    pen.path(centre, radius, start, end, flat=about.flat)
    return centre


def _across(pen: Pen, centre: Point, radius: float, *, aside: float, above: float = 0.0) -> None:
    """The letters at the radius, to the right, and at the diameter, aside of it."""
    pen.length("radius", centre, (centre[0] + radius, centre[1]), above)
    pen.length("diameter", (centre[0] - radius, centre[1]), (centre[0] + radius, centre[1]), aside)


# --- banks: the section of a bend at the left, and the bend as it goes on behind it round its axis ---


def _bank(pen: Pen, view: SketchView, kind: str) -> None:
    look, lean = LOOKS[view.look], min(view.angle, 15.0) if kind == "rails" else view.angle
    slope, raised = radians(lean), 6.0 if kind == "rails" else 0.0
    outer, last, half = 196.0, 98.0, 1.2 * look.half + raised
    inner, high = outer - 122.0 * cos(slope), 122.0 * sin(slope)
    ground = Round((216.0, FLOOR - 4), min(0.36, (FLOOR - high - 32) / outer))
    about = Round((216.0, ground.foot[1] - {"rails": 28.0, "model": 20.0}.get(kind, 0.0)), ground.flat)
    radius = (outer + inner) / 2 - half * sin(slope)
    middle = high / 2 + half * cos(slope)
    pen.line(*about.arc(outer, 180, last, high))
    pen.line(*about.arc(inner, 180, last))
    pen.soft(about.at(outer, last, high), about.at(inner, last))
    _BANKS[kind](pen, about, outer, inner, high)
    pen.soft((about if kind == "model" else ground).foot, about.at(0, 0, middle + 14), dashed=True)
    centre = _circle(pen, about, radius, middle, last, 180)
    foot, top = about.at(inner, 180), about.at(outer, 180, high)
    _ground(pen, y=FLOOR if kind == "model" else ground.foot[1])
    if kind == "rails":
        toe = ground.at(inner - 30, 180)
        pen.line(*ground.arc(inner - 30, 180, last))
        pen.shape([top, foot, toe, (LEFT - 2, toe[1]), (LEFT - 2, top[1])])
    elif kind == "model":
        left, right = top[0] - 3, top[0] + 4
        pen.box(LEFT - 2, foot[1], RIGHT, foot[1] + 7)
        for leg in (LEFT + 6, RIGHT - 14):
            pen.box(leg, foot[1] + 7, leg + 8, FLOOR)
        pen.box(left, top[1] + 2, right, foot[1])
        pen.line(top, foot, weight="medium")
    else:
        pen.shape([top, foot, (LEFT - 2, foot[1]), (LEFT - 2, top[1])])
        if kind == "ice":
            pen.shape([(LEFT - 2, foot[1]), (LEFT - 2, top[1] - 16), (LEFT + 3, top[1] - 16), top, (top[0], foot[1])])
    body = (foot[0] + top[0]) / 2, (foot[1] + top[1]) / 2
    up = 90.0 - lean
    look.draw(pen, Frame(along(body, up, half), up, 1.2))
    if kind == "rails":
        _rail_ends(pen, Frame(body, up), ground.foot[1] - 9)
    else:
        pen.angle("angle", foot, 180.0 - lean, 180.0, 80.0 if lean < 26 else 40.0)
    pen.length("radius", centre, about.at(radius, 112, middle))


def _rail(pen: Pen, about: Round, outer: float, inner: float, high: float) -> None:
    """A guard rail along the outer edge."""
    for turn in range(170, 98, -12):
        pen.line(about.at(outer, turn, high), about.at(outer, turn, high + 9), weight="thin")
    pen.line(*about.arc(outer, 176, 98, high + 8), weight="thin")


def _kerb(pen: Pen, about: Round, outer: float, inner: float, high: float) -> None:
    """A striped kerb along the inner edge."""
    for step, turn in enumerate(range(174, 103, -9)):
        edge = [*about.arc(inner, turn, turn - 9), *about.arc(inner - 8, turn - 9, turn)]
        pen.shape(edge, filled=step % 2 == 0)


def _boards(pen: Pen, about: Round, outer: float, inner: float, high: float) -> None:
    """The boards of a wooden track, and a railing."""
    for share in (0.12, 0.24, 0.76, 0.88):
        pen.soft(*about.arc(inner + share * (outer - inner), 180, 98, share * high))
    _rail(pen, about, outer, inner, high)


def _lip(pen: Pen, about: Round, outer: float, inner: float, high: float) -> None:
    """The upright wall beyond an ice track, and glints on the ice."""
    pen.line(*about.arc(outer + 4, 178, 98, high + 14))
    for share, start in ((0.3, 140), (0.55, 120), (0.75, 132)):
        radius, height = inner + share * (outer - inner), share * high
        pen.soft(*about.arc(radius, start, start - 12, height))


def _strip(pen: Pen, about: Round, outer: float, inner: float, high: float) -> None:
    """The joints of the pieces of a model track; a groove would look as if it held the car."""
    for turn in (164, 146, 128, 112):
        pen.line(about.at(inner, turn), about.at(outer, turn, high), weight="thin")


def _sleepers(pen: Pen, about: Round, outer: float, inner: float, high: float) -> None:
    """Sleepers and rails that go on behind the section."""
    gauge = [(inner + share * (outer - inner), share * high) for share in (0.25, 0.75)]
    ends = [(inner + share * (outer - inner), share * high) for share in (0.08, 0.92)]
    for turn in range(172, 98, -8):
        pen.line(*(about.at(radius, turn, height + 2) for radius, height in ends), weight="thin")
    for radius, height in gauge:
        pen.line(*about.arc(radius, 180, 98, height + 6))


_BANKS: Mapping[str, Callable[[Pen, Round, float, float, float], None]] = {
    "road": _rail,
    "track": _kerb,
    "boards": _boards,
    "ice": _lip,
    "model": _strip,
    "rails": _sleepers,
}


def _rail_ends(pen: Pen, track: Frame, below: float) -> None:
    """A sleeper and two rails in section, and the letters at their distance and at the height of the outer one."""
    pen.shape(track.points((-50, 0), (50, 0), (50, 3), (-50, 3)))
    for x in (-30, 30):
        pen.shape(track.points((x - 3, 3), (x + 3, 3), (x + 3, 6), (x - 3, 6)), filled=True)
    (outer, high), (inner, low) = track.at(-30, 3), track.at(30, 3)
    pen.length("rail-height", (outer, low), (outer, high), 24.0)
    pen.length("rail-distance", (outer, below), (inner, below))


def _slope(pen: Pen, view: SketchView) -> None:
    """A wedge on a turntable whose slope rises away from the axis, with a body on it."""
    look, lean = LOOKS[view.look], view.angle
    x, y = WIDTH / 2 + 8, 142.0
    _ground(pen)
    pen.box(x - 30, y + 18, x + 30, FLOOR)
    pen.box(x - 6, y + 8, x + 6, y + 18)
    pen.box(x - 116, y, x + 116, y + 8)
    foot, far = (x - 10.0, y), 104.0
    top = (foot[0] - far, y - far * sin(radians(lean)) / cos(radians(lean)))
    middle = along(((foot[0] + top[0]) / 2, (foot[1] + top[1]) / 2), 90.0 - lean, 1.4 * look.half)
    pen.soft((x, y), (x, middle[1] - 34), dashed=True)
    centre = _circle(pen, Round((x, y), 0.5), x - middle[0], y - middle[1])
    pen.shape([foot, top, (top[0], y)])
    look.draw(pen, Frame(middle, 90.0 - lean, 1.4))
    pen.angle("angle", foot, 180.0 - lean, 180.0, 34.0)
    pen.length("radius", centre, (2 * x - middle[0], centre[1]))


# --- cones and bowls, cut open; the body slides on the wall at the left ---


def _hollow(pen: Pen, view: SketchView, kind: str) -> None:
    """A cone with its apex at the bottom: a funnel, a strainer or the exhibit of a museum."""
    look, lean = LOOKS[view.look], radians(view.angle)
    apex = (WIDTH / 2, FLOOR - (26.0 if kind == "funnel" else 12.0))
    far = min(104.0 / cos(lean), (apex[1] - 34.0) / sin(lean))
    rims = [along(apex, 180.0 - view.angle, far), along(apex, view.angle, far)]
    about = Round((apex[0], rims[0][1]), 0.16)
    _ground(pen)
    if kind == "funnel":
        pen.box(apex[0] - 5, apex[1], apex[0] + 5, FLOOR - 4)
        pen.box(30, FLOOR - 5, 70, FLOOR)
        pen.box(46, 20, 50, FLOOR - 5)
        grip = along(apex, 180.0 - view.angle, 0.3 * far)
        pen.line((48, grip[1]), grip, weight="medium")
    else:
        half = 40.0 if kind == "exhibit" else 20.0
        pen.shape([(apex[0] - half, FLOOR), apex, (apex[0] + half, FLOOR)])
    pen.arc(about.foot, far * cos(lean), 0, 360, flat=about.flat, weight="thin")
    pen.solid([apex, rims[0]], left=True)
    pen.solid([rims[1], apex], left=True)
    pen.soft(apex, (apex[0], rims[0][1] - 12), dashed=True)
    spot = along(apex, 180.0 - view.angle, 0.66 * far)
    body = along(spot, 90.0 - view.angle, look.half)
    centre = _circle(pen, Round((apex[0], body[1]), 0.46), apex[0] - body[0])
    look.draw(pen, Frame(body, 90.0 - view.angle))
    pen.soft(apex, (apex[0] + 62, apex[1]), dashed=True)
    pen.angle("angle", apex, 0.0, view.angle, 32.0)
    pen.length("radius", centre, (2 * apex[0] - body[0], centre[1]))
    pen.length("height", (apex[0], centre[1]), apex, -110.0)


def _bowl(pen: Pen, view: SketchView, stand: str) -> None:
    """A hemisphere, cut open, with the radius to the body."""
    look, centre, radius = LOOKS[view.look], (WIDTH / 2, 36.0), 112.0
    x, y = centre
    _ground(pen)
    if stand == "foot":
        pen.shape([(x - 34, FLOOR), (x - 26, FLOOR - 32), (x + 26, FLOOR - 32), (x + 34, FLOOR)])
    else:
        for side in (-1, 1):
            pen.line((x + side * 60, y + 96), (x + side * 84, FLOOR), weight="medium")
    pen.solid_arc(centre, radius, 180, 360)
    pen.arc(centre, radius, 0, 360, flat=0.14, weight="thin")
    body = along(centre, 270.0 - view.angle, radius - look.half)
    pen.soft(centre, (x, y + radius), dashed=True)
    pen.soft(centre, along(centre, 270.0 - view.angle, radius), dashed=True)
    level = _circle(pen, Round((x, body[1]), 0.44), x - body[0])
    pen.dot(centre)
    look.draw(pen, Frame(body, 90.0 - view.angle))
    pen.angle("angle", centre, 270.0 - view.angle, 270.0, 34.0)
    pen.length("bowl-radius", centre, along(centre, 340.0, radius))
    pen.length("radius", level, (2 * x - body[0], body[1]))
    pen.length("height", (x, level[1]), (x, y + radius))


# --- level bends ---


def _bend(pen: Pen, view: SketchView, kind: str) -> None:
    """A road that comes from the viewer, bends to the right and goes off; its circle is completed by the path."""
    about, radius, half = Round((148.0, 112.0), 0.42), 94.0, 23.0
    _SIDES[kind](pen, about)
    for edge in (radius + half, radius - half):
        enter, leave = about.at(edge, 205), about.at(edge, 78)
        turns = ((205.0, -0.42 * cos(radians(205))), (78.0, 0.42 * cos(radians(78))))
        back, onward = [(abs(sin(radians(turn))), fall) for turn, fall in turns]
        far = (HEIGHT - MARGIN - enter[1]) / back[1]
        start = (enter[0] + far * back[0], HEIGHT - MARGIN)
        ahead = (WIDTH - MARGIN - leave[0]) / onward[0]
        pen.line(start, *about.arc(edge, 205, 78), (WIDTH - MARGIN, leave[1] + ahead * onward[1]))
    centre = _circle(pen, about, radius)
    if kind == "track":
        _kerb(pen, about, radius + half, radius - half, 0.0)
    look = LOOKS[view.look]
    foot = about.at(radius, 180)
    look.draw(pen, Frame((foot[0], foot[1] - look.half)))
    _across(pen, centre, radius, aside=-34.0)


def _town(pen: Pen, about: Round) -> None:
    """Houses beyond the bend and a street lamp."""
    for left, wide, top, roof in ((70, 34, 34, 16), (108, 46, 26, 10), (160, 30, 34, 18), (196, 48, 24, 8)):
        base = 56.0 - (6.0 if 108 <= left < 190 else 0.0)
        pen.soft((left, base), (left, top), (left + wide / 2, roof), (left + wide, top), (left + wide, base))
        for x in (left + wide * 0.3, left + wide * 0.7):
            pen.soft((x - 3, top + 4), (x + 3, top + 4), (x + 3, top + 12), (x - 3, top + 12), (x - 3, top + 4))
    pen.line((22, 84), (22, 30), (34, 30))
    pen.shape([(30, 30), (40, 30), (38, 34), (32, 34)])


def _tyres(pen: Pen, about: Round) -> None:
    """Stacks of tyres beyond the bend, and a flag."""
    for turn in range(168, 84, -9):
        x, y = about.at(136, turn)
        for step in range(3):
            pen.shape(Round((x, y - 6 - 5 * step), 0.3).side(5.5, 0, 5))
    pen.line((226, 58), (226, 12))
    for row in range(3):
        for column in range(4):
            pen.box(226 + 6 * column, 12 + 6 * row, 232 + 6 * column, 18 + 6 * row, filled=(row + column) % 2 == 0)


def _river(pen: Pen, about: Round) -> None:
    """A river beyond the path, its bank, and a tree."""
    pen.soft(*about.arc(132, 186, 74))
    pen.soft(*about.arc(196, 135, 66))
    for radius, start in ((148, 150), (148, 112), (164, 134), (164, 90), (180, 124), (180, 102)):
        wave = [about.at(radius + 2.5 * sin(radians(60 * step)), start - step) for step in range(16)]
        pen.soft(*wave)
    x, y = 30.0, 164.0
    pen.line((x, y), (x, y - 14))
    pen.disc((x, y - 23), 11.0)


_SIDES: Mapping[str, Callable[[Pen, Round], None]] = {"town": _town, "track": _tyres, "river": _river}


def _lean(pen: Pen, view: SketchView, kind: str) -> None:
    """A rider from behind who leans towards the centre of a level bend."""
    look, lean, about = LOOKS[view.look], 20.0, Round((166.0, 138.0), 0.38)
    pen.soft((MARGIN, 84), (WIDTH - MARGIN, 84))
    if kind == "path":
        for x in (24.0, 130.0, 222.0):
            pen.line((x, 84), (x, 74), weight="thin")
            pen.arc((x, 65), 9.0, weight="thin", tone="soft")
        for radius in (106.0, 62.0):
            pen.line(*about.arc(radius, 44, 210))
    elif kind == "cones":
        for turn in (35, 80, 125, 235, 280, 325):
            x, y = about.at(62, turn)
            pen.shape([(x - 6, y), (x - 2, y - 14), (x + 2, y - 14), (x + 6, y)])
    else:
        for x in (20.0, 56.0, 92.0, 128.0, 164.0, 200.0, 236.0):
            pen.soft((x, 86), (x + (x - 130) * 0.1, 98))
    centre = _circle(pen, about, 84.0)
    foot = about.at(84.0, 180)
    pen.soft(foot, (foot[0], foot[1] - 96), dashed=True)
    size = 42.0 / look.half
    look.draw(pen, Frame(along(foot, 90.0 - lean, 42.0), 90.0 - lean, size))
    pen.angle("angle", foot, 90.0 - lean, 90.0, 90.0)
    pen.length("radius", centre, about.at(84.0, 0))


# --- aircraft ---


def _flight(pen: Pen, view: SketchView, below: str) -> None:
    """An aircraft from ahead, banked towards the centre of its circle high above the ground."""
    look, about, height, radius = LOOKS[view.look], Round((168.0, 166.0), 0.46), 92.0, 82.0
    _BELOW[below](pen)
    pen.soft(about.foot, about.at(0, 0, height), dashed=True)
    centre = _circle(pen, about, radius, height, -138, 138)
    body = about.at(radius, 180, height)
    pen.soft((MARGIN, body[1]), (body[0] - 12, body[1]), dashed=True)
    look.draw(pen, Frame(body, 90.0 - view.angle, 1.2))
    pen.angle("angle", body, 180.0 - view.angle, 180.0, 42.0)
    _across(pen, centre, radius, aside=44.0)


def _valley(pen: Pen) -> None:
    """A winding river between fields."""
    pen.soft((MARGIN, 146), (WIDTH - MARGIN, 146))
    for side in (-1, 1):
        bank = []
        for step in range(21):
            near = step / 20
            bank.append((80 + 26 * near * sin(radians(17 * step)) + side * (2 + 16 * near), 146 + 38 * near**1.5))
        pen.line(*bank, weight="thin")
    for x, y in ((24, 162), (40, 172), (206, 158), (222, 172), (192, 176)):
        pen.line((x, y), (x, y - 5), weight="thin")
        pen.arc((x, y - 9), 5.0, weight="thin")


def _ridge(pen: Pen) -> None:
    """A mountain ridge."""
    pen.line(
        (MARGIN, 176), (40, 150), (66, 164), (104, 132), (132, 156), (158, 146), (204, 164), (228, 142), (254, 166)
    )
    for top, low in (((104, 132), (112, 168)), ((40, 150), (46, 176)), ((228, 142), (222, 172))):
        middle = ((top[0] + low[0]) / 2 - 5, (top[1] + low[1]) / 2)
        pen.soft(top, middle, low)


def _club(pen: Pen) -> None:
    """A level field with a hut, a windsock and somebody with a transmitter."""
    _ground(pen)
    pen.box(196, 152, 236, FLOOR)
    pen.shape([(190, 152), (202, 138), (230, 138), (242, 152)])
    pen.box(210, 160, 220, FLOOR)
    pen.line((30, FLOOR), (30, 134))
    pen.shape([(30, 134), (50, 137), (50, 141), (30, 145)])
    LOOKS["person"].draw(pen, Frame((96, FLOOR - 15)))
    pen.box(99, FLOOR - 21, 107, FLOOR - 15)
    pen.line((106, FLOOR - 21), (114, FLOOR - 32), weight="thin")


_BELOW: Mapping[str, Callable[[Pen], None]] = {"river": _valley, "ridge": _ridge, "field": _club}


# --- centrifuges ---


def _rotor(pen: Pen, view: SketchView, about: Round, height: float) -> None:
    """Two level tubes on a hub, the sample at the bottom of each, and the circle."""
    look, radius = LOOKS[view.look], 76.0
    centre = _circle(pen, about, radius, height)
    x, y = centre
    for side in (-1, 1):
        bottom = [(x + side * (radius + 1 + 8 * cos(radians(t))), y - 9 * sin(radians(t))) for t in range(90, -91, -15)]
        pen.shape([(x + side * 26, y - 9), *bottom, (x + side * 26, y + 9)])
        pen.box(x + side * 26 - 3, y - 12, x + side * 26 + 3, y + 12)
        look.draw(pen, Frame((x + side * radius, y), 90.0 + 90.0 * side))
    pen.shape([(x - 23, y - 7), (x - 12, y - 12), (x + 12, y - 12), (x + 23, y - 7), (x + 23, y + 7), (x - 23, y + 7)])
    pen.dot(centre)
    pen.length("radius", centre, (x + radius, y), -24.0)
    pen.length("diameter", (x - radius, y), (x + radius, y), -47.0)


def _centrifuge(pen: Pen, view: SketchView) -> None:
    """A closed bench centrifuge, cut open: lid, chamber, rotor and motor."""
    about = Round((WIDTH / 2, FLOOR - 6), 0.2)
    x = about.foot[0]
    _ground(pen)
    for side in (-1, 1):
        pen.box(x + side * 84 - 8, FLOOR - 6, x + side * 84 + 8, FLOOR)
    pen.shape([(x - 112, 30), (x + 112, 30), (x + 106, FLOOR - 6), (x - 106, FLOOR - 6)])
    pen.shape([(x - 112, 30), (x - 100, 12), (x + 100, 12), (x + 112, 30)])
    pen.shape([(x - 98, 36), (x + 98, 36), (x + 98, 122), (x - 98, 122)])
    pen.box(x - 24, 128, x + 24, FLOOR - 10)
    for rib in (-14, 0, 14):
        pen.soft((x + rib, 134), (x + rib, FLOOR - 16))
    pen.box(x - 4, 74, x + 4, 128)
    pen.arc((x + 76, 146), 9.0)
    pen.line((x + 76, 146), (x + 81, 140), weight="thin")
    for step in range(3):
        pen.arc((x + 44 + 2, 136 + 10 * step), 2.5, weight="thin")
    _rotor(pen, view, about, about.foot[1] - 64)


def _hand_centrifuge(pen: Pen, view: SketchView) -> None:
    """An old centrifuge on a clamp: a gear case with a crank, and a rotor in its guard."""
    about = Round((WIDTH / 2, FLOOR), 0.2)
    x = about.foot[0]
    _ground(pen)
    pen.shape([(x - 34, FLOOR), (x - 20, FLOOR - 10), (x + 20, FLOOR - 10), (x + 34, FLOOR)])
    pen.disc((x, FLOOR - 32), 23.0)
    pen.arc((x, FLOOR - 32), 17.0, weight="thin", tone="soft")
    pen.line((x, FLOOR - 32), (x + 52, FLOOR - 24), weight="medium")
    pen.disc((x, FLOOR - 32), 5.0)
    pen.box(x + 48, FLOOR - 34, x + 57, FLOOR - 14)
    pen.box(x - 4, 60, x + 4, FLOOR - 54)
    pen.shape([(x - 98, 24), (x - 98, 108), (x - 88, 114), (x + 88, 114), (x + 98, 108), (x + 98, 24)])
    pen.line((x - 98, 24), (x + 98, 24), tone="soft", weight="thin")
    pen.box(x - 4, 60, x + 4, 114)
    _rotor(pen, view, about, FLOOR - 56)


# --- cones: a body on a cord ---


def _cone(pen: Pen, view: SketchView, top: Point) -> None:
    """A body on a cord from a point, its circle and the axis."""
    look, lean = LOOKS[view.look], radians(view.angle)
    far = min(84.0 / sin(lean), 108.0 / cos(lean))
    body = along(top, 270.0 - view.angle, far)
    about = Round((top[0], body[1]), 0.44)
    pen.soft(top, about.foot, dashed=True)
    centre = _circle(pen, about, far * sin(lean))
    pen.line(top, along(body, 90.0 - view.angle, look.half), weight="thin")
    look.draw(pen, Frame(body, 90.0 - view.angle))
    pen.angle("angle", top, 270.0 - view.angle, 270.0, 40.0)
    pen.length("length", top, body, -18.0)
    _across(pen, centre, far * sin(lean), aside=-40.0)


def _cone_stand(pen: Pen, view: SketchView) -> None:
    """A laboratory stand whose arm carries a hook."""
    x, y = 122.0, 14.0
    _ground(pen)
    pen.box(190, FLOOR - 6, 250, FLOOR)
    pen.box(232, 8, 237, FLOOR - 6)
    pen.box(x - 8, y - 3, 243, y + 2)
    pen.line((x, y + 2), (x, y + 6))
    pen.arc((x, y + 9), 3.5, 150, 450)
    _cone(pen, view, (x, y + 11))


def _cone_ceiling(pen: Pen, view: SketchView) -> None:
    x, y = WIDTH / 2, 15.0
    pen.solid([(x + 80, y), (x - 80, y)])
    pen.line((x, y), (x, y + 9))
    pen.arc((x, y + 12.5), 3.5, 150, 450)
    _cone(pen, view, (x, y + 15))


def _whirl(pen: Pen, view: SketchView, kind: str) -> None:
    """A body whirled on a cord by somebody on the axis, or by a motor in a pit."""
    look, lean = LOOKS[view.look], radians(view.angle)
    if kind == "pit":
        top = (WIDTH / 2, 58.0)
        pen.solid([(24, 24), (24, FLOOR), (WIDTH - 24, FLOOR), (WIDTH - 24, 24)], left=False)
        pen.box(14, 16, WIDTH - 14, 24)
        pen.box(top[0] - 18, 24, top[0] + 18, 44)
        pen.line((top[0], 44), top, weight="medium")
    else:
        top = (WIDTH / 2, 88.0)
        _ground(pen)
    far = min(78.0 / sin(lean), (64.0 if kind == "pit" else 50.0) / cos(lean))
    body = along(top, 270.0 - view.angle, far)
    centre = _circle(pen, Round((top[0], body[1]), 0.42), top[0] - body[0])
    if kind == "pit":
        pen.soft(top, (top[0], body[1]), dashed=True)
    else:
        person = Frame((top[0] + 12, FLOOR - 52), 84.0, 3.2)
        pen.line(*person.points((-4, -15), (0, -4), (4, -15)))
        pen.line(*person.points((0, -4), (0, 7)))
        pen.line(person.at(0, 6), top, person.at(0, 4))
        pen.disc(person.at(0.5, 11), 12.0)
        pen.soft(top, (top[0], FLOOR), dashed=True)
    pen.line(top, along(body, 90.0 - view.angle, look.half), weight="thin")
    look.draw(pen, Frame(body, 90.0 - view.angle))
    pen.angle("angle", top, 270.0 - view.angle, 270.0, 30.0)
    pen.length("radius", centre, (2 * top[0] - body[0], centre[1]))


def _governor(pen: Pen, view: SketchView) -> None:
    """A shaft with two upper arms, two balls, two lower arms and a collar that slides on the shaft."""
    top, angle = (WIDTH / 2, 22.0), 44.0  # the same for the balls and for the collar, whose diagram has no angle
    lean, far = radians(angle), 88.0
    x, y = top
    half, drop = far * sin(lean), far * cos(lean)
    _ground(pen)
    pen.box(x - 30, FLOOR - 5, x + 30, FLOOR)
    pen.box(x - 3, 10, x + 3, FLOOR - 5)
    centre = _circle(pen, Round((x, y + drop), 0.12), half)
    pen.box(x - 8, y - 6, x + 8, y + 6)
    pen.box(x - 13, y + 2 * drop - 8, x + 13, y + 2 * drop + 8)
    for side in (-1, 1):
        ball = (x + side * half, y + drop)
        pen.line((x, y), ball, (x, y + 2 * drop))
        pen.disc(ball, 11.0)
    pen.disc(top, 2.5)
    pen.angle("angle", top, 270.0 - angle, 270.0, 26.0)
    pen.length("arm-length", top, (x - half, y + drop), -18.0)
    pen.length("radius", centre, (x + half, centre[1]))


def _two_cords(pen: Pen, view: SketchView, kind: str) -> None:
    """A body on two equal cords from a vertical rod: on a motor, in a shop window or in a tent."""
    look, lean = LOOKS[view.look], radians(view.angle)
    x, y = 148.0, 92.0
    far = min(100.0 / sin(lean), 62.0 / cos(lean))
    half, rise = far * sin(lean), far * cos(lean)
    _ground(pen)
    if kind == "motor":
        pen.box(x - 22, FLOOR - 14, x + 22, FLOOR)
    elif kind == "window":
        for left, right in ((MARGIN + 6, 40.0), (WIDTH - 40.0, WIDTH - MARGIN - 6)):
            pen.soft((left, 10), (left, FLOOR))
            pen.soft((right, 10), (right, FLOOR))
        pen.box(x - 26, FLOOR - 12, x + 26, FLOOR)
        pen.line((MARGIN + 2, 10), (WIDTH - MARGIN - 2, 10))
    else:
        pen.line((MARGIN, 96), (x, 10), (WIDTH - MARGIN, 96), weight="thin", tone="soft")
        pen.box(x - 18, FLOOR - 6, x + 18, FLOOR)
    pen.line((x, 14), (x, FLOOR - 6), weight="medium")
    centre = _circle(pen, Round((x, y), 0.3), half)
    body = (x - half, y)
    for end in (y - rise, y + rise):
        pen.line((x, end), body, weight="thin")
        pen.disc((x, end), 3.0)
    look.draw(pen, Frame(body))
    pen.angle("angle", (x, y - rise), 270.0 - view.angle, 270.0, 28.0)
    pen.length("length", (x, y - rise), body, -14.0)
    pen.length("distance", (x, y - rise), (x, y + rise), 96.0)
    pen.length("radius", centre, (x + half, y))


# --- seats on an arm ---


def _arm(pen: Pen, view: SketchView, hub: Point, aside: float = -16.0) -> None:
    """A level arm from the axle with a body that hangs at its end; a weight at the other end balances it."""
    x, y = hub
    look, lean = LOOKS[view.look], radians(view.angle)
    end = (x - 42.0, y)
    far = min(60.0 / sin(lean), 84.0, 84.0 / cos(lean))
    body = along(end, 270.0 - view.angle, far)
    radius = x - body[0]
    pen.soft(end, (end[0], y + 66), dashed=True)
    centre = _circle(pen, Round((x, body[1]), 0.34), radius)
    pen.box(end[0] - 4, y - 3, x + 34, y + 3)
    pen.box(x + 26, y - 8, x + 42, y + 8)
    pen.box(x - 8, y - 8, x + 8, y + 8)
    pen.line(end, along(body, 90.0 - view.angle, look.half), weight="thin")
    pen.disc(end, 2.5)
    look.draw(pen, Frame(body, 90.0 - view.angle))
    pen.angle("angle", end, 270.0 - view.angle, 270.0, 40.0)
    pen.length("length", end, body, -20.0)
    pen.length("arm-length", (x, y), end, aside)
    pen.length("radius", centre, (x + radius, centre[1]))


def _arm_fair(pen: Pen, view: SketchView) -> None:
    """A mast with a pointed roof and a pennant, on a round base."""
    x, y = 134.0, 56.0
    _ground(pen)
    pen.box(x - 36, FLOOR - 10, x + 36, FLOOR)
    pen.box(x - 5, y, x + 5, FLOOR - 10)
    pen.shape([(x - 26, y - 26), (x, y - 40), (x + 26, y - 26)])
    pen.line((x, y - 40), (x, y - 48), (x + 10, y - 45), (x, y - 42), weight="thin")
    pen.box(x - 5, y - 26, x + 5, y)
    _arm(pen, view, (x, y))


def _arm_motor(pen: Pen, view: SketchView) -> None:
    """A rod on the shaft of a motor that stands on a table."""
    x, y = 134.0, 50.0
    _ground(pen)
    pen.box(x - 26, FLOOR - 24, x + 26, FLOOR - 6)
    for rib in (-14, 0, 14):
        pen.soft((x + rib, FLOOR - 20), (x + rib, FLOOR - 10))
    pen.box(x - 38, FLOOR - 6, x + 38, FLOOR)
    pen.line((x, y), (x, FLOOR - 24), weight="medium")
    _arm(pen, view, (x, y))


def _arm_stage(pen: Pen, view: SketchView) -> None:
    """A beam below the ceiling of a theatre, above the boards and between curtains."""
    x, y = 134.0, 44.0
    pen.solid([(x + 100, 15), (x - 100, 15)])
    pen.box(x - 14, 15, x + 14, 24)
    pen.box(x - 4, 24, x + 4, y)
    pen.line((MARGIN, FLOOR), (WIDTH - MARGIN, FLOOR))
    pen.line((MARGIN, FLOOR + 8), (WIDTH - MARGIN, FLOOR + 8))
    for step in range(20, 250, 30):
        pen.soft((step, FLOOR), (step, FLOOR + 8))
    pen.soft((x, y + 8), (x, y + 84), dashed=True)
    _arm(pen, view, (x, y), 16.0)


# --- tables with a pin or a hole; the body is at the left ---


def _round_table(pen: Pen, about: Round) -> None:
    """A round table, two of whose legs are to be seen."""
    x, y = about.foot
    for leg in (x - 70, x + 70):
        pen.box(leg - 4, y + 90 * about.flat, leg + 4, FLOOR)
    _slab(pen, about, 116.0, 9.0)


def _plate(pen: Pen, about: Round) -> tuple[float, float]:
    """A rectangular plate on legs; returns where its back and its front are."""
    x, y = about.foot
    front, back = y + 117 * about.flat, y - 108 * about.flat
    for side in (-1, 1):
        pen.box(x + side * 104 - 4, front, x + side * 104 + 4, FLOOR)
    pen.shape([(x - 96, back), (x + 96, back), (x + 120, front), (x - 120, front)])
    pen.box(x - 120, front, x + 120, front + 9)
    return back, front


def _air_table(pen: Pen, about: Round) -> None:
    """A rectangular table with rows of holes along its edges, and a hose to a blower below."""
    x = about.foot[0]
    back, front = _plate(pen, about)
    pen.box(x + 70, front + 9, x + 80, FLOOR - 20)
    for step in range(3, int(FLOOR - 20 - front - 9), 5):
        pen.line((x + 70, front + 9 + step), (x + 80, front + 9 + step), weight="thin")
    pen.box(x + 56, FLOOR - 20, x + 94, FLOOR)
    pen.arc((x + 75, FLOOR - 10), 7.0, weight="thin")
    for step in range(-3, 4):
        for share in (0.06, 0.94):
            hole = (x + step * (96 + 24 * share) / 3.5, back + share * (front - back))
            pen.arc(hole, 1.2, flat=0.5, weight="thin", tone="soft")


def _ice(pen: Pen, about: Round) -> None:
    """The ice of a rink with its boards, and marks of skates."""
    x, y = about.foot
    rink = Round((x, y), 0.48)
    pen.line(*rink.arc(122, 0, 360))
    pen.line(*rink.arc(122, 0, 180, 12))
    for turn in range(0, 181, 20):
        pen.line(rink.at(122, turn), rink.at(122, turn, 12), weight="thin")
    for left, right, down in ((20, 46, 40), (-44, -22, 44), (-16, 8, -36)):
        pen.soft((x + left, y + down), (x + right, y + down - 4))


def _pond(pen: Pen, about: Round) -> None:
    """The ice of a pond with reeds on its shore, and marks on the ice."""
    x, y = about.foot
    shore = [(122 + 2 * sin(radians(5 * turn)), turn) for turn in range(0, 361, 6)]
    pen.line(*(Round((x, y), 0.48).at(radius, turn) for radius, turn in shore))
    for left, up in ((-92, 44), (-72, 53), (64, 57), (84, 49)):
        for lean in (-8, -3, 2, 7):
            pen.line((x + left, y - up), (x + left + lean, y - up - 18 + abs(lean)), weight="thin")
    for left, right, down in ((-60, -36, 42), (-16, 8, -44)):
        pen.soft((x + left, y + down), (x + right, y + down - 3))


_TOPS: Mapping[str, Callable[[Pen, Round], object]] = {
    "air": _air_table,
    "plate": _plate,
    "round": _round_table,
    "ice": _ice,
    "pond": _pond,
}


def _table(pen: Pen, view: SketchView, top: str, hold: str) -> None:
    """A body on a table; a cord, a paper strip or a spring joins it to a pin at the centre."""
    about = Round((WIDTH / 2, 92.0 if top == "ice" else 68.0), 0.42)
    look, radius = LOOKS[view.look], 82.0
    if top != "ice":
        _ground(pen)
    _TOPS[top](pen, about)
    centre = _circle(pen, about, radius)
    foot = about.at(radius, 180)
    middle = (foot[0], foot[1] - look.half)
    tall = 34.0 if top == "ice" else 14.0
    pin = (centre[0], middle[1])
    near = (middle[0] + 12, middle[1])
    if hold == "spring":
        pen.spring(near, (pin[0] - 2, pin[1]), 5.0, 13)
    elif hold == "strip":
        _strip_round(pen, near, (pin[0], centre[1]))
    else:
        pen.line(near, pin, weight="thin")
    if hold != "strip":
        pen.box(pin[0] - 2.5, centre[1] - tall, pin[0] + 2.5, centre[1])
    look.draw(pen, Frame(middle))
    _across(pen, centre, radius, aside=-40.0)
    _unstretched(pen, (centre[0] - 56, 152.0), 46.0)


def _strip_round(pen: Pen, near: Point, pin: Point) -> None:
    """A wide strip of paper on its edge, with a tear; it goes round a peg, and its free end is wavy."""
    (left, y), (x, foot) = near, pin
    top, low, tear = y - 13, y + 3, (left + x) / 2 - 6
    behind = [(x + 6 * cos(radians(turn)), top - 2.6 * sin(radians(turn))) for turn in range(0, 181, 20)]
    wave = [(x + 4 + 3 * step, 3.0 * sin(radians(45 * step))) for step in range(10)]
    upper, lower = ([(across, edge - up) for across, up in wave] for edge in (top, low - 5))
    pen.shape([*upper, *reversed(lower)])
    pen.line(*behind, weight="thin")
    pen.box(x - 2.5, top - 11, x + 2.5, foot)
    torn = ((-5, 0), (0, 4), (-2, 7), (1, 11), (4, 4), (6, 0))
    edge = [(tear + across, top + down) for across, down in torn]
    pen.shape([(left, top), *edge, (x + 6, top), (x + 6, low), (left, low)])


def _unstretched(pen: Pen, start: Point, far: float) -> None:
    """The same spring without a load, where its length has a letter."""
    if "unstretched-length" in pen.letters:
        end = (start[0] + far, start[1])
        pen.spring(start, end, 5.0, 13)
        pen.length("unstretched-length", start, end, -14.0)


def _two_on_table(pen: Pen, view: SketchView, top: str) -> None:
    """Two bodies in line on one cord from a pin."""
    about, radii = Round((WIDTH / 2, 92.0), 0.42), (36.0, 82.0)
    look = LOOKS[view.look]
    _ground(pen)
    _TOPS[top](pen, about)
    for radius in radii:
        _circle(pen, about, radius)
    x, y = about.foot
    pen.box(x - 2.5, y - 14, x + 2.5, y)
    pen.line((x, y - look.half), (x - radii[1], y - look.half), weight="thin")
    for radius in radii:
        look.draw(pen, Frame((x - radius, y - look.half)))
    pen.length("radius", about.foot, about.at(radii[0], 0))
    pen.length("outer-radius", about.foot, about.at(radii[1], 180), -50.0)


def _hole(pen: Pen, view: SketchView, top: str, load: str) -> None:
    """A body on a table, and a cord from it through a hole at the centre to a bag that hangs below."""
    about, radius = Round((WIDTH / 2, 64.0), 0.42), 82.0
    look, bag = LOOKS[view.look], LOOKS[load]
    x, y = about.foot
    _ground(pen)
    _TOPS[top](pen, about)
    _circle(pen, about, radius)
    rim = y + 9 + (116 if top == "round" else 117) * about.flat
    hang = (x, 156.0)
    pen.line((x, rim), (x, hang[1] - bag.half), weight="thin")
    bag.draw(pen, Frame(hang))
    pen.soft((x, y), (x, rim), dashed=True)
    pen.shape(Round((x, y)).arc(5.0, 0, 360), filled=True)
    pen.line((x - radius, y - 3), (x - 1, y - 3), (x, y), weight="thin")
    look.draw(pen, Frame((x - radius, y - look.half)))
    pen.length("radius", (x, y), (x + radius, y))


def _pulled(pen: Pen, view: SketchView, kind: str) -> None:
    """A body on a large circle, with a smaller one inside it; a cord from it goes through the centre and is pulled."""
    on_ice = kind == "winch"
    about, radii = Round((WIDTH / 2, 84.0), 0.42), (84.0, 42.0) if kind == "hand" else (94.0, 46.0)
    look, (x, y) = LOOKS[view.look], about.foot
    if not on_ice:
        _ground(pen)
    _TOPS["pond" if on_ice else "round" if kind == "motor" else "air"](pen, about)
    for radius in radii:
        _circle(pen, about, radius)
    pen.line((x - radii[0], y - 3), (x, y - 3), weight="thin")
    if on_ice:
        pen.arc((x, y - 4), 4.0)
        pen.line((x, y - 3), (x + 22, y + 22), weight="thin")
        pen.box(x + 14, y + 20, x + 40, y + 36)
        pen.disc((x + 27, y + 28), 5.0)
    else:
        rim = y + 9 + (116 if kind == "motor" else 117) * about.flat
        pen.soft((x, y), (x, rim), dashed=True)
        pen.shape(Round((x, y)).arc(5.0, 0, 360), filled=True)
        pen.line((x, rim), (x, FLOOR - 20), weight="thin")
        if kind == "motor":
            pen.box(x - 24, FLOOR - 20, x + 24, FLOOR)
            pen.disc((x, FLOOR - 11), 6.0)
        else:
            _hand(pen, (x, FLOOR - 26))
    look.draw(pen, Frame((x - radii[0], y - look.half)))
    pen.length("small-radius", (x, y), about.at(radii[1], 0))
    pen.length("radius", (x, y), about.at(radii[0], 180), 70.0 if on_ice else -48.0)


def _hand(pen: Pen, hold: Point) -> None:
    """A fist round a cord, with its sleeve to the left."""
    x, y = hold
    pen.shape([(x - 40, y + 1), (x - 12, y), (x - 12, y + 14), (x - 40, y + 17)])
    pen.shape([(x - 13, y - 1), (x - 4, y - 4), (x + 7, y - 3), (x + 8, y + 15), (x - 3, y + 17), (x - 13, y + 15)])
    for step in (1, 6, 11):
        pen.line((x - 1, y + step), (x + 8, y + step), weight="thin")


# --- rods on an axle ---


def _rod(pen: Pen, about: Round, radius: float) -> Point:
    """A level rod through an axle that a motor turns; returns the point where they meet."""
    x, y = about.foot
    _ground(pen)
    pen.box(x - 26, FLOOR - 34, x + 26, FLOOR)
    for rib in (-14, 0, 14):
        pen.soft((x + rib, FLOOR - 29), (x + rib, FLOOR - 6))
    pen.box(x - 5, y - 28, x + 5, FLOOR - 34)
    pen.box(x - radius, y - 2, x + radius, y + 2)
    for side in (-1, 1):
        pen.box(x + side * radius - 3, y - 6, x + side * radius + 3, y + 6)
    pen.box(x - 8, y - 9, x + 8, y + 9)
    return x, y


def _rod_spring(pen: Pen, view: SketchView) -> None:
    about, radius = Round((WIDTH / 2, 72.0), 0.3), 80.0
    look = LOOKS[view.look]
    centre = _circle(pen, about, radius)
    x, y = _rod(pen, about, 116.0)
    pen.spring((x - radius + look.half, y), (x - 8, y), 6.0, 11)
    look.draw(pen, Frame((x - radius, y)))
    pen.dot(centre)
    pen.length("radius", (x, y), (x - radius, y), -36.0)
    _unstretched(pen, (26.0, 142.0), 44.0)


def _rod_two(pen: Pen, view: SketchView) -> None:
    about, radii = Round((WIDTH / 2, 72.0), 0.3), (42.0, 96.0)
    look = LOOKS[view.look]
    for radius in radii:
        _circle(pen, about, radius)
    x, y = _rod(pen, about, 118.0)
    cord = y - look.half - 6
    pen.box(x - 8, cord - 3, x + 8, cord + 3)
    pen.line((x - 8, cord), (x - radii[1], cord), weight="thin")
    for radius in radii:
        look.draw(pen, Frame((x - radius, y)))
        pen.line((x - radius, cord + 3), (x - radius, y - look.half))
        pen.disc((x - radius, cord), 3.0)
    pen.dot(about.foot)
    pen.length("radius", (x, y), (x - radii[0], y), 34.0)
    pen.length("outer-radius", (x, y), (x - radii[1], y), -42.0)


# --- turntables ---


def _on_disc(pen: Pen, view: SketchView, about: Round, radius: float) -> None:
    look = LOOKS[view.look]
    centre = _circle(pen, about, radius)
    foot = about.at(radius, 180)
    look.draw(pen, Frame((foot[0], foot[1] - 1.2 * look.half), scale=1.2))
    pen.length("radius", centre, foot)


def _potter(pen: Pen, view: SketchView) -> None:
    """A potter's wheel: its head, and on one shaft the flywheel that a foot kicks."""
    x = WIDTH / 2
    _ground(pen)
    _slab(pen, Round((x, FLOOR - 34)), 74.0, 10.0)
    pen.box(x - 5, 60, x + 5, FLOOR - 34)
    for side in (-1, 1):
        pen.box(x + side * 104 - 5, 108, x + side * 104 + 5, FLOOR)
    pen.box(x - 112, 106, x + 112, 115)
    pen.box(x - 12, 100, x + 12, 115)
    about = Round((x, 54.0), 0.45)
    _slab(pen, about, 96.0, 9.0)
    _on_disc(pen, view, about, 69.0)


def _platform(pen: Pen, view: SketchView) -> None:
    """A low, round platform at a fair, with bunting above."""
    x, about = WIDTH / 2, Round((WIDTH / 2, 120.0), 0.4)
    for side in (-1, 1):
        pen.line((x + side * 112, 108), (x + side * 112, 20))
    cord = [(x - 112 + 16 * step, 22 + 20 * sin(radians(180 * step / 14))) for step in range(15)]
    pen.line(*cord, weight="thin")
    for step in range(1, 14, 2):
        left, right = cord[step], cord[step + 1]
        pen.shape([left, right, ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2 + 14)], filled=step % 4 == 1)
    _slab(pen, about, 112.0, 13.0)
    _on_disc(pen, view, about, 80.0)


def _stage(pen: Pen, view: SketchView) -> None:
    """A revolving stage in front of a painted wall, between two curtains."""
    x, about = WIDTH / 2, Round((WIDTH / 2, 132.0), 0.41)
    pen.soft((MARGIN, 96), (WIDTH - MARGIN, 96))
    for side in (-1, 1):
        edge = x + side * 122
        pen.shape([(edge, 20), (edge - side * 40, 20), (edge - side * 26, 62), (edge - side * 20, 120), (edge, 120)])
        for fold in (8, 16, 26):
            pen.soft((edge - side * fold, 20), (edge - side * fold * 0.6, 120))
    pen.box(x - 124, 8, x + 124, 20)
    for step in range(-5, 6, 2):
        pen.shape([(x + 20 * step - 16, 20), (x + 20 * step + 16, 20), (x + 20 * step, 29)])
    _slab(pen, about, 102.0, 9.0)
    _on_disc(pen, view, about, 76.0)


# --- drums: cut open, so that one looks at the far half of the wall ---


def _far_wall(pen: Pen, about: Round, radius: float, low: float, high: float) -> None:
    """The inside of an upright cylinder, with its wall cut to the left and to the right."""
    x, y = about.foot
    pen.line(*about.arc(radius, 0, 180, high))
    pen.line(*about.arc(radius, 0, 180, low), weight="thin")
    for turn in (15, 30, 45, 135, 150, 165):
        pen.soft(about.at(radius, turn, low), about.at(radius, turn, high))
    pen.solid([(x - radius, y - low), (x - radius, y - high)], left=True)
    pen.solid([(x + radius, y - high), (x + radius, y - low)], left=True)


def _at_wall(pen: Pen, view: SketchView, about: Round, wall: float, height: float) -> None:
    look = LOOKS[view.look]
    radius = wall - 1.25 * look.half
    pen.soft(about.at(0, 0, height - 34), about.at(0, 0, height + 34), dashed=True)
    centre = _circle(pen, about, radius, height)
    look.draw(pen, Frame(about.at(radius, 180, height), scale=1.25))
    _across(pen, centre, radius, aside=48.0, above=26.0)


def _fair_drum(pen: Pen, view: SketchView) -> None:
    """The drum of a ride with its floor let down."""
    about = Round((WIDTH / 2, FLOOR), 0.2)
    x = about.foot[0]
    _ground(pen)
    _far_wall(pen, about, 100.0, 44.0, 138.0)
    pen.box(x - 12, FLOOR - 24, x + 12, FLOOR)
    _slab(pen, about, 92.0, 6.0, 26.0)
    _at_wall(pen, view, about, 100.0, 92.0)


def _motor_drum(pen: Pen, view: SketchView) -> None:
    """A plastic cylinder with a bottom, on the shaft of a motor."""
    about = Round((WIDTH / 2, FLOOR), 0.2)
    x = about.foot[0]
    _ground(pen)
    pen.box(x - 24, FLOOR - 28, x + 24, FLOOR)
    for rib in (-12, 0, 12):
        pen.soft((x + rib, FLOOR - 23), (x + rib, FLOOR - 6))
    pen.box(x - 4, FLOOR - 48, x + 4, FLOOR - 28)
    _slab(pen, about, 90.0, 5.0, 50.0)
    _far_wall(pen, about, 90.0, 50.0, 142.0)
    _at_wall(pen, view, about, 90.0, 92.0)


def _spinner(pen: Pen, view: SketchView) -> None:
    """A salad spinner: a basket with slots in a bowl, below a lid with a knob."""
    about = Round((WIDTH / 2, FLOOR), 0.2)
    x, y = about.foot
    _ground(pen)
    pen.shape([(x - 112, 44), (x - 104, y - 12), (x - 92, y), (x + 92, y), (x + 104, y - 12), (x + 112, 44)])
    pen.shape([(x - 116, 44), (x - 108, 30), (x - 60, 24), (x + 60, 24), (x + 108, 30), (x + 116, 44)])
    pen.box(x - 10, 12, x + 10, 24)
    low, high, wall = 18.0, 122.0, 90.0
    pen.line(*about.arc(wall, 0, 180, high), weight="thin")
    pen.line(*about.arc(wall, 0, 360, low), weight="thin")
    for side in (0.0, 180.0):
        for step in range(8):
            foot = low + 13 * step
            pen.line(about.at(wall, side, foot), about.at(wall, side, foot + 8), weight="medium")
    for turn in (20, 35, 50, 130, 145, 160):
        for share in (0.16, 0.42, 0.68):
            foot = low + share * (high - low)
            pen.soft(about.at(wall, turn, foot), about.at(wall, turn, foot + 16))
    _at_wall(pen, view, about, wall, 76.0)


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "bank-road": partial(_bank, kind="road"),
    "bank-track": partial(_bank, kind="track"),
    "bank-boards": partial(_bank, kind="boards"),
    "bank-ice": partial(_bank, kind="ice"),
    "bank-model": partial(_bank, kind="model"),
    "bank-rails": partial(_bank, kind="rails"),
    "slope-turntable": _slope,
    "cone-funnel": partial(_hollow, kind="funnel"),
    "cone-strainer": partial(_hollow, kind="strainer"),
    "cone-exhibit": partial(_hollow, kind="exhibit"),
    "bowl": partial(_bowl, stand="foot"),
    "bowl-exhibit": partial(_bowl, stand="legs"),
    "whirl-athlete": partial(_whirl, kind="athlete"),
    "whirl-pit": partial(_whirl, kind="pit"),
    "governor": _governor,
    "two-cords-motor": partial(_two_cords, kind="motor"),
    "two-cords-window": partial(_two_cords, kind="window"),
    "two-cords-tent": partial(_two_cords, kind="tent"),
    "pulled-by-hand": partial(_pulled, kind="hand"),
    "pulled-by-motor": partial(_pulled, kind="motor"),
    "pulled-by-winch": partial(_pulled, kind="winch"),
    "lean-path": partial(_lean, kind="path"),
    "lean-cones": partial(_lean, kind="cones"),
    "lean-car-park": partial(_lean, kind="park"),
    "bend-town": partial(_bend, kind="town"),
    "bend-track": partial(_bend, kind="track"),
    "bend-river": partial(_bend, kind="river"),
    "flight-river": partial(_flight, below="river"),
    "flight-ridge": partial(_flight, below="ridge"),
    "flight-field": partial(_flight, below="field"),
    "centrifuge": _centrifuge,
    "centrifuge-crank": _hand_centrifuge,
    "cone-stand": _cone_stand,
    "cone-ceiling": _cone_ceiling,
    "arm-fair": _arm_fair,
    "arm-motor": _arm_motor,
    "arm-stage": _arm_stage,
    "air-table-pin": partial(_table, top="air", hold="cord"),
    "table-paper-strip": partial(_table, top="round", hold="strip"),
    "rink-post": partial(_table, top="ice", hold="cord"),
    "air-table-spring": partial(_table, top="air", hold="spring"),
    "table-spring": partial(_table, top="round", hold="spring"),
    "rod-spring": _rod_spring,
    "air-table-two": partial(_two_on_table, top="air"),
    "table-two": partial(_two_on_table, top="round"),
    "rod-two": _rod_two,
    "air-table-hole": partial(_hole, top="air", load="sandbag"),
    "table-hole": partial(_hole, top="round", load="marble-bag"),
    "plate-hole": partial(_hole, top="plate", load="bolt-bag"),
    "potters-wheel-head": _potter,
    "fair-platform": _platform,
    "revolving-stage": _stage,
    "drum-ride": _fair_drum,
    "drum-motor": _motor_drum,
    "salad-spinner": _spinner,
}
