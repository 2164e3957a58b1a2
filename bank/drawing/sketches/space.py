"""Settings of orbits, habitats and magnetic fields."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from math import acos, asin, cos, degrees, hypot, pi, radians, sin

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .looks import LOOKS
from .pen import DASHES, MARGIN, WIDTH, Frame, Pen
from .pieces import CENTRE, oval, rays, smooth, towards

# --- planets ---

_LAND = (  # outlines in radii of the planet
    ((-0.7, 0.45), (-0.45, 0.72), (-0.12, 0.7), (-0.2, 0.48), (-0.34, 0.4), (-0.36, 0.2), (-0.52, 0.3)),
    ((0.12, 0.76), (0.42, 0.74), (0.68, 0.5), (0.5, 0.4), (0.42, 0.22), (0.28, 0.46)),
    ((-0.14, -0.44), (0.14, -0.46), (0.22, -0.62), (0.06, -0.86), (-0.06, -0.7)),
)
_NORTH = (  # as seen from above the pole
    ((0.2, 0.3), (0.46, 0.3), (0.62, 0.1), (0.78, -0.1), (0.6, -0.3), (0.4, -0.16), (0.24, 0.02)),
    ((-0.3, -0.3), (-0.1, -0.36), (0.02, -0.6), (-0.16, -0.84), (-0.34, -0.66), (-0.46, -0.46)),
    ((-0.36, 0.36), (-0.24, 0.52), (-0.36, 0.66), (-0.5, 0.5)),
)
_CRATERS = ((-0.4, 0.5, 0.16), (0.1, 0.66, 0.1), (0.45, 0.42, 0.14), (-0.08, 0.3, 0.08), (0.1, -0.62, 0.18))


def _planet(pen: Pen, centre: Point, radius: float, kind: str) -> None:
    """A planet from the side: land, craters, or a cap of ice and a rift."""
    pen.arc(centre, radius)
    spots = Frame(centre, scale=radius)
    if kind == "earth":
        for outline in _LAND:
            pen.soft(*smooth(spots.points(*outline)))
    elif kind == "moon":
        for x, y, size in _CRATERS:
            pen.arc(spots.at(x, y), size * radius, weight="thin", tone="soft")
    else:
        pen.soft(*spots.points((-0.42, 0.9), (-0.25, 0.78), (0, 0.84), (0.2, 0.76), (0.42, 0.9)))
        pen.soft(*spots.points((-0.6, 0.3), (-0.3, 0.42), (0.05, 0.36), (0.3, 0.5), (0.55, 0.42)))
        for x, y, size in ((0.1, -0.62, 0.16), (-0.2, -0.8, 0.08)):
            pen.arc(spots.at(x, y), size * radius, weight="thin", tone="soft")
    pen.dot(centre)


def _from_above(pen: Pen, centre: Point, radius: float) -> None:
    """A planet as seen from above its pole: land, meridians that meet at the pole, and a circle of latitude."""
    pen.arc(centre, radius)
    pen.arc(centre, radius * 0.5, weight="thin", tone="soft", dashes=(1.5, 3.0))
    for turn in range(0, 360, 30) if radius > 40 else ():
        pen.line(centre, along(centre, turn, radius), weight="thin", tone="soft", dashes=(1.5, 3.0))
    for outline in _NORTH:
        pen.soft(*smooth(Frame(centre, scale=radius).points(*outline)))
    pen.dot(centre)


def _bands(pen: Pen, centre: Point, size: float) -> None:
    """The bands of a planet of gas."""
    for share in (-0.6, -0.25, 0.25, 0.6):
        half, y = size * cos(asin(share)), centre[1] - share * size
        pen.soft((centre[0] - half, y), (centre[0] + half, y))


def _low_orbit(pen: Pen, view: SketchView, kind: str) -> None:
    centre, planet, orbit = (CENTRE[0], 104.0), 56.0, 78.0
    look, turn = LOOKS[view.look], towards(view)
    pen.path(centre, orbit)
    _planet(pen, centre, planet, kind)
    look.draw(pen, Frame(along(centre, turn, orbit), turn))
    pen.length("planet-radius", centre, along(centre, turn + 100, planet))
    pen.length("radius", centre, along(centre, turn - 110, orbit))
    pen.length("height", along(centre, turn + 60, planet), along(centre, turn + 60, orbit))


def _high_orbit(pen: Pen, view: SketchView) -> None:
    """A planet from above its pole and a body above a mast on its equator."""
    centre, planet, orbit = (CENTRE[0], 106.0), 24.0, 76.0
    look, turn = LOOKS[view.look], towards(view)
    pen.path(centre, orbit)
    _from_above(pen, centre, planet)
    mast = along(centre, turn, planet + 9)
    pen.soft(mast, along(centre, turn, orbit), dashed=True)
    pen.line(along(centre, turn, planet), mast)
    for side in (-4.0, 4.0):
        pen.line(along(centre, turn, planet, side), along(centre, turn, planet + 6))
    look.draw(pen, Frame(along(centre, turn, orbit), turn))
    pen.length("radius", centre, along(centre, turn + 120, orbit))
    pen.length("planet-radius", centre, along(centre, turn - 150, planet))
    pen.length("height", along(centre, turn - 80, planet), along(centre, turn - 80, orbit))


def _equator(pen: Pen, view: SketchView, stand: str) -> None:
    """A planet from above its pole with a body at its equator, on a balance, a deck or the ground."""
    centre, planet = (CENTRE[0], 117.0), 66.0
    look, turn = LOOKS[view.look], towards(view)
    ground = Frame(along(centre, turn, planet), turn)
    if stand == "ship":
        pen.shape(ground.points((-44, 15), (-36, -3), (36, -3), (50, 19), (36, 15)))
    _from_above(pen, centre, planet)
    floor = 0.0
    if stand == "ship":
        floor = 15.0
        pen.shape(ground.points((-40, 15), (-40, 27), (-24, 27), (-24, 15)))
        pen.line(*ground.points((-32, 27), (-32, 40)))
        for x in (-36, -29):
            pen.arc(ground.at(x + 0.5, 21.5), 1.8, weight="thin")
        pen.line(*ground.points((43, 14), (56, -9)), weight="thin")
        for x, y in ((-30, -20), (-6, -12), (22, -17)):
            pen.soft(*ground.points((x - 6, y), (x - 3, y + 2), (x, y), (x + 3, y + 2), (x + 6, y)))
    elif stand == "balance":
        floor = 14.0
        pen.shape(ground.points((-14, -1), (14, -1), (9, 10), (-9, 10)))
        pen.arc(ground.at(0, 4.5), 3.5, weight="thin")
        pen.line(*ground.points((0, 4.5), (2, 6.5)), weight="thin")
        pen.shape(ground.points((-18, 10.5), (18, 10.5), (18, 13.5), (-18, 13.5)))
    look.draw(pen, Frame(ground.at(0, floor + look.half), turn))
    pen.length("radius", centre, along(centre, turn + 90, planet))


def _moons(pen: Pen, view: SketchView, kind: str) -> None:
    """A planet and two moons whose orbits are seen aslant."""
    flat, orbits = 0.56, (66.0, 114.0)
    look, turn = LOOKS[view.look], towards(view)
    for orbit in orbits:
        pen.path(CENTRE, orbit, flat=flat)
    size = {"banded": 20.0, "ringed": 15.0, "plain": 18.0, "star": 14.0}[kind]
    rings = (22.0, 29.0, 34.0) if kind == "ringed" else ()
    for ring in rings:
        pen.arc(CENTRE, ring, 0, 180, flat=flat, weight="thin")
    if kind == "star":
        rays(pen, CENTRE, size)
    pen.disc(CENTRE, size)
    for ring in rings:
        pen.arc(CENTRE, ring, 180, 360, flat=flat, weight="thin")
    if kind in ("banded", "ringed"):
        _bands(pen, CENTRE, size)
    pen.dot(CENTRE)
    for orbit in orbits:
        look.draw(pen, Frame(oval(CENTRE, orbit, flat, turn, turn + 1)[0], turn))
    pen.length("radius", CENTRE, (CENTRE[0] - orbits[0], CENTRE[1]))
    pen.length("outer-radius", CENTRE, (CENTRE[0] + orbits[1], CENTRE[1]))


def _latitude(pen: Pen, view: SketchView, stand: bool) -> None:
    """A sphere with its axis and equator; the body stands on it at the left, on a circle about the axis."""
    tilt, lat = radians(15.0), radians(44.0)
    radius = 60.0 if stand else 72.0
    centre = (CENTRE[0] + 8, 86.0 if stand else 97.0)
    x, y = centre
    look = LOOKS[view.look]
    if stand:
        pen.line((x, y + radius), (x, y + radius + 16))
        pen.shape(
            [(x - 30, y + radius + 24), (x - 20, y + radius + 14), (x + 20, y + radius + 14), (x + 30, y + radius + 24)]
        )
        pen.solid([(x - 80, y + radius + 24), (x + 80, y + radius + 24)])
    pen.arc(centre, radius)
    over = radius + 12
    pen.line((x, y - over), (x, y - radius * cos(tilt)))
    pen.soft((x, y - radius * cos(tilt)), (x, y + radius), dashed=True)
    if not stand:
        pen.line((x, y + radius), (x, y + over))
    pen.arc(centre, radius, 180, 360, flat=sin(tilt), weight="thin")
    level = (x, y - radius * sin(lat) * cos(tilt))
    pen.path(level, radius * cos(lat), flat=sin(tilt))
    pen.dot(centre)
    foot = (level[0] - radius * cos(lat), level[1])
    turn = 180.0 - degrees(acos((x - foot[0]) / hypot(x - foot[0], y - foot[1])))
    pen.soft(centre, foot)
    pen.soft(centre, (x - radius, y))
    look.draw(pen, Frame(along(foot, turn, 1.3 * look.half), turn, 1.3))
    pen.length("sphere-radius", centre, along(centre, -40.0, radius))
    pen.length("radius", level, foot)
    pen.angle("latitude", centre, turn, 180.0, 24.0)


def _two_orbits(pen: Pen, view: SketchView) -> None:
    """A planet with two circular orbits and a body on each."""
    centre, orbits = (CENTRE[0], 102.0), (46.0, 81.0)
    look, turn = LOOKS[view.look], towards(view)
    for orbit in orbits:
        pen.path(centre, orbit)
    _planet(pen, centre, 24.0, "earth")
    for orbit in orbits:
        look.draw(pen, Frame(along(centre, turn, orbit), turn, 0.85))
    pen.length("radius", centre, along(centre, turn + 115, orbits[0]))
    pen.length("outer-radius", centre, along(centre, turn - 110, orbits[1]))


def _ellipse(pen: Pen, view: SketchView, star: bool) -> None:
    """An elliptical orbit, nearest at the left, round a star or a planet at a focus."""
    half, share = 112.0, 0.66
    flat = (1 - share * share) ** 0.5
    focus = (CENTRE[0] - share * half, CENTRE[1])
    pen.arc(CENTRE, half, flat=flat, weight="thin", tone="soft", dashes=DASHES)
    if star:
        rays(pen, focus, 9.0)
    pen.disc(focus, 9.0 if star else 13.0)
    pen.dot(focus)
    body = oval(CENTRE, half, flat, 62, 63)[0]
    LOOKS[view.look].draw(pen, Frame(body))
    pen.length("nearest-distance", focus, (CENTRE[0] - half, CENTRE[1]))
    pen.length("farthest-distance", focus, (CENTRE[0] + half, CENTRE[1]))


def _inside_a_ball(pen: Pen, view: SketchView) -> None:
    """A ball of scattered matter, and an orbit within it."""
    ball, orbit, turn = 84.0, 48.0, towards(view)
    pen.arc(CENTRE, ball, weight="thin")
    for step in range(3, 64):
        grain = along(CENTRE, 137.5 * step, ball * 0.97 * (step / 64) ** 0.5)
        pen.soft(grain, (grain[0] + 1.8, grain[1]))
    pen.path(CENTRE, orbit)
    LOOKS[view.look].draw(pen, Frame(along(CENTRE, turn, orbit), turn))
    pen.length("radius", CENTRE, along(CENTRE, turn + 100, orbit))
    pen.length("radius-of-the-ball", CENTRE, along(CENTRE, turn - 115, ball))


def _two_systems(pen: Pen, view: SketchView, star: bool) -> None:
    """Two centres side by side, each with a body on its orbit."""
    look, turn = LOOKS[view.look], towards(view)
    for role, x, orbit, size in (("radius", 68.0, 58.0, 20.0), ("second-radius", 202.0, 44.0, 16.0)):
        centre = (x, 106.0)
        pen.path(centre, orbit)
        if star:
            rays(pen, centre, size - 4)
        pen.disc(centre, size - 4 if star else size)
        pen.dot(centre)
        look.draw(pen, Frame(along(centre, turn, orbit), turn, 0.85))
        pen.length(role, centre, along(centre, turn + 120, orbit))


def _two_stars(pen: Pen, view: SketchView) -> None:
    """Two bodies on circles about their common centre, always opposite."""
    inner, outer, turn = 32.0, 70.0, towards(view)
    centre = (CENTRE[0], 92.0)
    look = LOOKS[view.look]
    for orbit in (inner, outer):
        pen.path(centre, orbit)
    first, second = along(centre, turn, inner), along(centre, turn + 180, outer)
    look.draw(pen, Frame(first, turn, 1.6))
    look.draw(pen, Frame(second, turn))
    pen.length("radius", centre, along(centre, turn + 120, inner))
    pen.length("second-radius", centre, along(centre, turn + 70, outer))
    pen.length("distance", first, second, 92.0)


def _spin(pen: Pen, view: SketchView, star: bool) -> None:
    """A sphere with its own axis on an orbit that is seen aslant."""
    orbit, flat, size = 96.0, 0.4, 24.0
    centre = (CENTRE[0] + 10, CENTRE[1])
    pen.path(centre, orbit, flat=flat)
    if star:
        rays(pen, centre, 12.0)
    pen.disc(centre, 12.0 if star else 18.0)
    if not star:
        _bands(pen, centre, 18.0)
    pen.dot(centre)
    body = (centre[0] - orbit, centre[1])
    pen.line((body[0], body[1] - size - 12), (body[0], body[1] + size + 12))
    pen.shape(oval(body, size, 1.0))
    pen.arc(body, size, 180, 360, flat=flat, weight="thin")
    pen.dot(body)
    pen.length("radius", body, centre)
    pen.length("radius-of-the-sphere", body, along(body, 130, size))


def _charges(pen: Pen, view: SketchView, nucleus: bool) -> None:
    """A small charged body round a nucleus or a ball of metal."""
    orbit, turn = 72.0, towards(view)
    pen.path(CENTRE, orbit)
    if nucleus:
        x, y = CENTRE
        pen.disc(CENTRE, 11.0)
        pen.line((x - 5, y), (x + 5, y), weight="thin")
        pen.line((x, y - 5), (x, y + 5), weight="thin")
    else:
        pen.disc(CENTRE, 20.0)
        pen.arc(CENTRE, 14.0, 110, 160, weight="thin", tone="soft")
        pen.dot(CENTRE)
    LOOKS[view.look].draw(pen, Frame(along(CENTRE, turn, orbit), turn))
    pen.length("radius", CENTRE, along(CENTRE, turn + 110, orbit))


# --- habitats: the floor is outside, heads are towards the axis ---

_FLOOR = 76.0


def _resident(pen: Pen, view: SketchView, centre: Point, floor: float, aside: float = 0.0, turned: float = 0.0) -> None:
    """The resident on the floor and the letters; those of the radii are ``turned`` clockwise from the level."""
    look, turn = LOOKS[view.look], towards(view)
    foot = along(centre, turn, floor)
    own = floor - look.half
    look.draw(pen, Frame(along(foot, turn + 180, look.half), turn + 180.0))
    pen.length("height", foot, along(foot, turn + 180, 2 * look.half), 15.0)
    pen.length("radius", centre, along(centre, turn + 90 - turned, own))
    pen.length("distance-of-the-feet", centre, along(centre, turn if aside else turn - 90 - turned, floor), aside)
    pen.length("diameter", along(centre, turn + 157.5, own), along(centre, turn - 22.5, own))


def _ring(pen: Pen, view: SketchView) -> None:
    hull = _FLOOR + 8
    pen.arc(CENTRE, hull)
    pen.arc(CENTRE, _FLOOR)
    turn = towards(view)
    for spoke in (45, 135, 225, 315):
        for side in (-3.0, 3.0):
            pen.line(along(CENTRE, turn + spoke, 10, side), along(CENTRE, turn + spoke, _FLOOR, side), weight="thin")
    pen.path(CENTRE, _FLOOR - LOOKS[view.look].half)
    pen.disc(CENTRE, 11.0)
    pen.dot(CENTRE)
    _resident(pen, view, CENTRE, _FLOOR)


def _cylinder(pen: Pen, view: SketchView) -> None:
    """A hollow cylinder aslant: its open end is towards the viewer, and one sees its outside and its far end."""
    near, far, wall, hull = (79.0, 88.0), (180.0, 102.0), 66.0, 71.0
    way = degrees(acos((far[0] - near[0]) / hypot(far[0] - near[0], far[1] - near[1])))
    pen.shape([*oval(near, hull, 1.0, 90 - way, 270 - way), *oval(far, hull, 1.0, -90 - way, 90 - way)])
    for turn in (62, 36, 10, -16, -42, -68):
        pen.soft(along(near, turn, hull), along(far, turn, hull))
    for rim in (hull, wall):
        pen.shape(oval(near, rim, 1.0))
    half = degrees(acos(hypot(far[0] - near[0], far[1] - near[1]) / 2 / wall))
    pen.line(*oval(far, wall, 1.0, 180 - way - half, 180 - way + half), weight="thin")
    pen.path(near, wall - LOOKS[view.look].half)
    _resident(pen, view, near, wall, turned=24.0)


def _cabins(pen: Pen, view: SketchView) -> None:
    """Two cabins at the ends of a cable."""
    turn, floor = towards(view), 80.0
    pen.path(CENTRE, floor - LOOKS[view.look].half)
    pen.line(along(CENTRE, turn, floor - 44), along(CENTRE, turn + 180, floor - 44))
    for end in (turn, turn + 180):
        cabin = Frame(along(CENTRE, end, floor), end + 180)
        pen.shape(cabin.points((-22, -5), (22, -5), (22, 32), (9, 44), (-9, 44), (-22, 32)))
        pen.line(*cabin.points((-22, 0), (22, 0)))
        for x in (-15, 15):
            pen.arc(cabin.at(x, 22), 3.5, weight="thin", tone="soft")
    pen.dot(CENTRE)
    _resident(pen, view, CENTRE, floor, -84.0)


# --- magnetic fields: seen along the field ---


def _particle(pen: Pen, view: SketchView, centre: Point, path: float) -> None:
    turn = towards(view)
    LOOKS[view.look].draw(pen, Frame(along(centre, turn, path), turn))
    pen.length("radius", centre, along(centre, turn + 110, path))


def _fine_beam(pen: Pen, view: SketchView) -> None:
    """A glass bulb with its neck and the gun in it, which fires along the circle, before a coil."""
    centre = (CENTRE[0], 92.0)
    x, y = centre
    for radius in (85.0, 74.0):
        pen.arc(centre, radius)
    for radius in (81.3, 77.6):
        pen.arc(centre, radius, weight="thin", tone="soft")
    pen.arc(centre, 62.0)
    pen.box(x - 13, y + 60, x + 13, y + 82)
    pen.line((x - 12, y + 60.5), (x + 12, y + 60.5), weight="medium", tone="ink")
    pen.box(x - 18, y + 82, x + 18, y + 92)
    pen.path(centre, 40.0)
    for across in (x - 11, x - 5):
        pen.line((across, y + 80), (across, y + 45), weight="thin")
    pen.box(x - 20, y + 34, x - 1, y + 46)
    pen.line((x - 1, y + 37), (x + 4, y + 37), (x + 4, y + 43), (x - 1, y + 43), weight="thin")
    _particle(pen, view, centre, 40.0)


def _round_chamber(pen: Pen, view: SketchView) -> None:
    """A flat, round vacuum chamber with a bolted flange and two ports."""
    for side in (-1, 1):
        x = CENTRE[0] + side * 83
        pen.box(min(x, x + side * 33), CENTRE[1] - 11, max(x, x + side * 33), CENTRE[1] + 11)
        pen.box(min(x + side * 33, x + side * 39), CENTRE[1] - 17, max(x + side * 33, x + side * 39), CENTRE[1] + 17)
    pen.arc(CENTRE, 84.0)
    pen.arc(CENTRE, 72.0)
    for turn in range(0, 360, 20):
        pen.arc(along(CENTRE, turn + 10, 78.0), 2.2, weight="thin", tone="soft")
    pen.path(CENTRE, 50.0)
    _particle(pen, view, CENTRE, 50.0)


def _sample_chamber(pen: Pen, view: SketchView) -> None:
    """A rectangular vacuum chamber with a sample of a mineral on a holder, on the path."""
    x, y = CENTRE
    pen.box(x + 92, y + 28, x + 112, y + 54)
    pen.box(x + 112, y + 22, x + 119, y + 60)
    pen.box(x - 98, y - 86, x + 98, y + 86)
    pen.box(x - 90, y - 78, x + 90, y + 78)
    pen.path(CENTRE, 56.0, -160.0, 166.0)  # from the mineral, and not through it
    pen.line((x - 90, y + 4), (x - 64, y + 4))
    pen.line((x - 90, y + 10), (x - 64, y + 10))
    pen.box(x - 70, y, x - 62, y + 14)
    pen.shape([(x - 62, y - 3), (x - 53, y - 6), (x - 47, y + 2), (x - 50, y + 13), (x - 62, y + 16)])
    _particle(pen, view, CENTRE, 56.0)


def _beam_turned(pen: Pen, view: SketchView) -> None:
    """A beam that a sector of a magnet turns; the body is in the middle of the arc."""
    centre, path, half = (CENTRE[0], 174.0), 100.0, 35.0
    rim = [along(centre, 90 + half - 2 * half * step / 12, path + 26) for step in range(13)]
    pen.shape([*rim, *(along(centre, 90 - half + 2 * half * step / 12, path - 26) for step in range(13))])
    for side in (-1, 1):
        edge = along(centre, 90 + side * half, path)
        pen.soft(centre, along(centre, 90 + side * half, path - 26))
        pen.soft(edge, along(edge, 90 + side * (90 + half), 58.0), dashed=True)
    pen.path(centre, path, 90 - half, 90 + half)
    LOOKS[view.look].draw(pen, Frame(along(centre, 90.0, path)))
    pen.length("radius", centre, along(centre, 90 + half, path))
    pen.angle("angle-of-deflection", centre, 90 - half, 90 + half, 26.0)


def _crossed(pen: Pen, view: SketchView) -> None:
    """A gun, two plates and a screen; an arc leaves the straight path."""
    centre, path = (66.0, 152.0), 58.0
    top = (centre[0], centre[1] - path)
    pen.box(MARGIN + 4, top[1] - 11, 34, top[1] + 11)
    pen.box(34, top[1] - 5, 42, top[1] + 5)
    for y in (30.0, 166.0):
        pen.box(62, y, 206, y + 6)
    pen.line((238, 30), (238, 166), weight="medium")
    pen.soft((42, top[1]), (238, top[1]), dashed=True)
    pen.path(centre, path, 0, 90)
    LOOKS[view.look].draw(pen, Frame(top))
    pen.length("radius", centre, along(centre, 40, path))


def _cyclotron(pen: Pen, view: SketchView) -> None:
    """Two hollow half discs with a gap, and a path of growing semicircles between them."""
    x, y, gap, metal = CENTRE[0], CENTRE[1], 5.0, 84.0
    for side in (-1, 1):
        start = 0 if side > 0 else 180
        level = (x, y - side * gap)
        pen.shape(oval(level, metal, 1.0, start, start + 180))
    place = 6.0
    for step in range(7):
        size, upper = 12.0 + 9.3 * step, step % 2 == 0
        middle = place - size if upper else place + size
        level = (x + middle, y - gap if upper else y + gap)
        start = 0 if upper else 180
        pen.arc(level, size, start, start + 180, weight="thin", tone="soft", dashes=DASHES)
        place = middle - size if upper else middle + size
        if step < 6:
            pen.soft((x + place, y - gap), (x + place, y + gap), dashed=True)
    pen.dot(level)
    LOOKS[view.look].draw(pen, Frame(along(level, 90.0, size)))
    pen.length("radius", level, along(level, 50.0, size))


def _helix(pen: Pen, view: SketchView) -> None:
    """A helix about a line along the field."""
    size, pitch, left, y = 46.0, 72.0, 44.0, 104.0
    turns = [step / 24 for step in range(-6, 62)]
    points = [(left + pitch * turn + 21 * sin(2 * pi * turn), y - size * cos(2 * pi * turn)) for turn in turns]
    pen.line(*points, weight="thin", tone="soft", dashes=DASHES)
    pen.soft((MARGIN + 4, y), (WIDTH - MARGIN - 4, y))
    LOOKS[view.look].draw(pen, Frame((left + pitch, y - size)))
    pen.length("radius", (left + 2 * pitch, y), (left + 2 * pitch, y - size))
    pen.length("pitch", (left + pitch, y - size), (left + 2 * pitch, y - size), 22.0)


def _isotopes(pen: Pen, view: SketchView) -> None:
    """Two semicircles from a slit to a plate."""
    slit, plate, radii = 212.0, 150.0, (64.0, 92.0)
    for ends in ((MARGIN + 4, slit - 4), (slit + 4, WIDTH - MARGIN - 4)):
        pen.box(ends[0], plate, ends[1], plate + 5)
    for side in (-1, 1):
        pen.box(slit + side * 10 - 2, plate + 10, slit + side * 10 + 2, plate + 34)
    pen.soft((slit, plate), (slit, plate + 34), dashed=True)
    look = LOOKS[view.look]
    for role, size, turn in (("radius", radii[0], 50.0), ("second-radius", radii[1], 135.0)):
        centre = (slit - size, plate)
        pen.path(centre, size, 0, 180)
        look.draw(pen, Frame(along(centre, 90.0, size)))
        pen.length(role, centre, along(centre, turn, size))
    marks = [(slit - 2 * size, plate + 5) for size in reversed(radii)]
    pen.length("distance", marks[0], marks[1], -15.0)


def _same_momentum(pen: Pen, view: SketchView) -> None:
    """Two particles that have entered a field and move on arcs of different radii."""
    centre, radii, edge = (72.0, 156.0), (52.0, 108.0), 72.0
    pen.line(
        (edge, MARGIN + 10),
        (WIDTH - 14, MARGIN + 10),
        (WIDTH - 14, 184),
        (edge, 184),
        (edge, MARGIN + 10),
        weight="thin",
    )
    look = LOOKS[view.look]
    for role, size, turn in (("radius", radii[0], 30.0), ("second-radius", radii[1], 50.0)):
        pen.path(centre, size, -12, 90)
        pen.soft((16, centre[1] - size), (centre[0], centre[1] - size), dashed=True)
        look.draw(pen, Frame(along(centre, 90 - 800 / size, size)))
        pen.length(role, centre, along(centre, turn, size))


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "orbit-earth": partial(_low_orbit, kind="earth"),
    "orbit-moon": partial(_low_orbit, kind="moon"),
    "orbit-mars": partial(_low_orbit, kind="mars"),
    "above-one-point": _high_orbit,
    "equator-ground": partial(_equator, stand="ground"),
    "equator-balance": partial(_equator, stand="balance"),
    "equator-ship": partial(_equator, stand="ship"),
    "moons-banded": partial(_moons, kind="banded"),
    "moons-ringed": partial(_moons, kind="ringed"),
    "moons-plain": partial(_moons, kind="plain"),
    "planets-of-a-star": partial(_moons, kind="star"),
    "two-orbits": _two_orbits,
    "two-satellites": _two_orbits,
    "ellipse-star": partial(_ellipse, star=True),
    "ellipse-planet": partial(_ellipse, star=False),
    "inside-a-ball": _inside_a_ball,
    "two-planets-apart": partial(_two_systems, star=False),
    "two-stars-apart": partial(_two_systems, star=True),
    "round-a-common-centre": _two_stars,
    "spin-round-a-star": partial(_spin, star=True),
    "spin-round-a-planet": partial(_spin, star=False),
    "round-a-nucleus": partial(_charges, nucleus=True),
    "round-a-metal-ball": partial(_charges, nucleus=False),
    "latitude-lighthouse": partial(_latitude, stand=False),
    "latitude-rover": partial(_latitude, stand=False),
    "latitude-globe": partial(_latitude, stand=True),
    "habitat-ring": _ring,
    "habitat-cylinder": _cylinder,
    "habitat-cabins": _cabins,
    "fine-beam-tube": _fine_beam,
    "round-chamber": _round_chamber,
    "sample-chamber": _sample_chamber,
    "beam-in-a-magnet": _beam_turned,
    "plates-and-screen": _crossed,
    "cyclotron": _cyclotron,
    "helix": _helix,
    "slit-and-plate": _isotopes,
    "two-arcs-in-a-field": _same_momentum,
}
