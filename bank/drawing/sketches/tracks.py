"""Settings of vertical circles on something solid: loops, ramps, crests, dips, pipes, domes; and in the air."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from itertools import pairwise
from math import cos, pi, radians, sin

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .bodies import BodyLook
from .looks import LOOKS
from .pen import HEIGHT, MARGIN, Frame, Pen
from .pieces import oval, towards
from .upright_pieces import (
    FLOOR,
    LEFT,
    MIDDLE,
    RIGHT,
    draw_at_angle,
    draw_awning,
    draw_body_inside,
    draw_body_outside,
    draw_chequered,
    draw_cloud,
    draw_dashed,
    draw_ghost,
    draw_ground,
    draw_strip,
    draw_tree,
    draw_waves,
)

# --- loops of track ---


def _ring(pen: Pen, centre: Point, radius: float, thick: float, ties: float) -> None:
    """A closed loop of track; the body is on its inside."""
    pen.arc(centre, radius)
    pen.arc(centre, radius + thick)
    count = round(2 * pi * radius / ties) if ties else 0
    for step in range(count):
        turn = 270.0 + (step + 0.5) * 360.0 / count
        pen.line(along(centre, turn, radius), along(centre, turn, radius + thick), weight="thin")


def _loop(pen: Pen, view: SketchView, kind: str) -> None:
    """A loop of track with the level pieces that lead into it and out of it."""
    look, radius, thick, base = LOOKS[view.look], 62.0, 4.0, 154.0
    if kind == "toy":
        radius, base = 68.0, 166.0
        draw_ground(pen, base + thick)
        draw_chequered(pen, 28, base - 44, base)
    else:
        pen.soft((24, base), (24, 12), (236, 12), (236, base))
        pen.box(16, base + thick, 244, base + thick + 5)
        pen.box(30, base + thick + 5, 230, HEIGHT - MARGIN - 1)
    centre = (MIDDLE, base - radius)
    draw_strip(pen, [(LEFT + 12, base), (RIGHT - 12, base)], thick, 26.0)
    _ring(pen, centre, radius, thick, 26.0)
    pen.dot(centre)
    draw_at_angle(pen, view, centre, radius)
    draw_body_inside(pen, view, centre, radius - look.half)
    pen.length("radius", centre, along(centre, 205.0, radius))


def _ramp(pen: Pen, view: SketchView, kind: str) -> None:
    """A ramp on which the body starts, and the loop of track at its foot."""
    look, radius, base, scale = LOOKS[view.look], 41.0, 162.0, 0.8
    thick, ties = (5.0, 8.0) if kind == "coaster" else (4.0, 0.0 if kind == "smooth" else 26.0)
    centre, bend = (184.0, base - radius), (122.0, base - 60.0)
    curve = [along(bend, 205.0 + step * 6.5, 60.0) for step in range(11)]
    top, start = along(curve[0], 115.0, 112.0), along(curve[0], 115.0, 90.0)
    ground = FLOOR if kind == "coaster" else base + thick
    draw_ground(pen, ground)
    if kind == "coaster":
        for x, y in ((32.0, 40.0), (50.0, 92.0), (72.0, 132.0), (98.0, 157.0)):
            pen.line((x, ground), (x, y + thick), weight="thin")
        for x in (128.0, 184.0, 238.0):
            pen.line((x, ground), (x, base + thick), weight="thin")
    else:
        pen.line((38, ground), (38, 58))
        pen.line((28, ground), (52, ground), weight="medium")
    draw_strip(pen, [top, *curve, (RIGHT - 2, base)], thick, ties)
    _ring(pen, centre, radius, thick, ties)
    pen.dot(centre)
    draw_ghost(pen, look, Frame(along(start, 25.0, look.half * scale), 25.0, scale))
    draw_body_inside(pen, view, centre, radius - look.half * scale, scale)
    pen.length("radius", centre, along(centre, 0.0, radius))
    if "height" in pen.letters:
        pen.soft((10, start[1]), start)
    pen.length("height", (14, base), (14, start[1]))


# --- crests and dips ---


def _road(centre: Point, radius: float, sign: float) -> list[Point]:
    """The surface of a crest (``sign`` 1) or of a dip (-1): an arc, straight slopes, and bends to the level."""
    lean, straight, bend = radians(38.0), 34.0, 40.0
    side = [(radius * sin(turn), radius * (1 - cos(turn))) for turn in (lean * step / 8 for step in range(9))]
    out, fall = side[-1][0] + straight * cos(lean), side[-1][1] + straight * sin(lean)
    side += [
        (out + bend * (sin(lean) - sin(turn)), fall + bend * (cos(turn) - cos(lean)))
        for turn in (lean * (1 - step / 4) for step in range(5))
    ]
    side.append((RIGHT - centre[0], side[-1][1]))
    right = [(centre[0] + out, centre[1] - sign * (radius - fall)) for out, fall in side]
    return [*((2 * centre[0] - x, y) for x, y in reversed(right[1:])), *right]


def _height(road: Sequence[Point], x: float) -> float:
    """The height of the surface at a place across the page, downwards."""
    return next(y + (x - a) * (d - y) / (b - a) for (a, y), (b, d) in pairwise(road) if a <= x <= b)


def _crest(pen: Pen, view: SketchView, kind: str) -> None:
    """A body at the top of a hump, with the centre of its arc below."""
    centre, radius = (MIDDLE, 156.0), 106.0
    road = _road(centre, radius, 1.0)
    level = road[-1][1]
    low = -5 if kind == "model" else -14
    for start, end in ((low, 50), (130, 180 - low)):
        draw_dashed(pen, centre, radius, start, end)
    if kind == "bridge":
        _arch(pen, centre, level)
        pen.line(*road)
    elif kind == "golf":
        pen.solid(road)
        pen.line((224, _height(road, 224)), (224, level - 56), weight="thin")
        pen.shape([(224, level - 56), (242, level - 49), (224, level - 42)], filled=True)
        draw_tree(pen, 28, _height(road, 28))
    else:
        draw_ground(pen)
        for x in (LEFT + 2, RIGHT - 2):
            pen.line((x, FLOOR), (x, level + 4))
        for x in (66, 194):
            pen.line((x, FLOOR), (x, _height(road, x) + 5))
        draw_strip(pen, road, 4.0, 24.0)
    pen.dot(centre)
    draw_body_outside(pen, view, centre, radius)
    pen.length("radius", centre, along(centre, 112.0, radius))


def _arch(pen: Pen, centre: Point, level: float) -> None:
    """The two low arches of a bridge, some of its stones, and the river below."""
    x, foot = centre[0], HEIGHT - MARGIN - 1
    for sign in (-1, 1):
        arch = (x + sign * 44, foot)
        pen.arc(arch, 34.0, 0, 180)
        pen.arc(arch, 40.0, 0, 180, weight="thin")
        for step in range(10):
            pen.line(along(arch, 9 + 18 * step, 34), along(arch, 9 + 18 * step, 40), weight="thin")
        for row in (0, 1):
            draw_waves(pen, arch[0] - 28 + 6 * row, arch[0] + 28 - 6 * row, foot - 4 - 9 * row)
        for across, height in ((70, level + 26), (58, level + 14), (44, level + 2), (18, level - 8), (92, level + 38)):
            pen.soft((x + sign * across, height), (x + sign * (across + 12), height))


def _dip(pen: Pen, view: SketchView, kind: str) -> None:
    """A body at the lowest point of a dip, with the centre of its arc above."""
    look, centre, radius = LOOKS[view.look], (MIDDLE, 24.0), 106.0
    road = _road(centre, radius, -1.0)
    level = road[-1][1]
    for start, end in ((214, 230), (310, 326)) if kind == "road" else ((180, 230), (310, 360)):
        draw_dashed(pen, centre, radius, start, end)
    if kind == "road":
        pen.solid(road)
        draw_tree(pen, 28, level)
        pen.line((234, level), (234, level - 24), weight="thin")
        pen.shape([(226, level - 24), (242, level - 24), (234, level - 38)])
    elif kind == "coaster":
        draw_ground(pen)
        for x in (20, 52, 91, 130, 169, 208, 240):
            pen.line((x, FLOOR), (x, _height(road, x) + 6), weight="thin")
        draw_strip(pen, road, 5.0, 8.0)
    else:
        draw_ground(pen, 160.0)
        for x in (24, 236):
            pen.line((x, 160), (x, level + 4))
        pen.box(MIDDLE - 26, 135, MIDDLE + 26, 160)
        draw_strip(pen, road, 4.0, 24.0)
    pen.dot(centre)
    draw_body_inside(pen, view, centre, radius - look.half)
    pen.length("radius", centre, along(centre, 246.0, radius))


def _dip_and_hump(pen: Pen, view: SketchView, kind: str) -> None:
    """A track through a dip and over a hump, each an arc with its centre."""
    look, wide, rise, lean, hump = LOOKS[view.look], 112.0, 40.0, 39.3, 60.0
    dip = wide / sin(radians(lean)) - hump
    low, high = (76.0, 152.0), (76.0 + wide, 152.0 - rise)
    centres = (low[0], low[1] - dip), (high[0], high[1] + hump)
    arcs = [along(centres[0], 236.0 + step * (34.0 + lean) / 12, dip) for step in range(13)]
    arcs += [along(centres[1], 90.0 + lean - step * lean / 6, hump) for step in range(1, 13)]
    slope = (RIGHT - arcs[-1][0]) * sin(radians(lean)) / cos(radians(lean))
    track = [*arcs, (RIGHT, arcs[-1][1] + slope)]
    if kind == "rails":
        draw_strip(pen, track, 5.0, 8.0)
        draw_ground(pen)
        for x in (20, 48, 76, 104, 132, 160, 216, 244):
            pen.line((x, FLOOR), (x, _height(track, x) + 6), weight="thin")
    else:
        pen.solid(track)
        if kind == "snow":
            pen.soft((150, 60), (172, 26), (186, 44), (204, 20), (240, 66))
            pen.soft((164, 38), (172, 44), (180, 36))
        else:
            draw_tree(pen, 230, 84)
            draw_tree(pen, 152, 84)
            pen.soft((128, 84), (RIGHT, 84))
    for centre in centres:
        pen.dot(centre)
    at_dip = view.spot == "bottom"
    centre, reach = (centres[0], dip - look.half) if at_dip else (centres[1], hump + look.half)
    look.draw(pen, Frame(along(centre, towards(view), reach)))
    pen.length("dip-radius", centres[0], along(centres[0], 245.0, dip))
    pen.length("hump-radius", centres[1], along(centres[1], 60.0, hump))
    if "height" in pen.letters:
        pen.soft(low, (132, low[1]), dashed=True)
        pen.soft((124, high[1]), high, dashed=True)
    pen.length("height", (128, low[1]), (128, high[1]))


# --- pipes ---


def _full_pipe(pen: Pen, view: SketchView) -> None:
    """A pipe in section, on its cradle."""
    look, centre, radius = LOOKS[view.look], (MIDDLE, 90.0), 74.0
    draw_ground(pen)
    for sign in (-1, 1):
        foot = along(centre, 270.0 + sign * 24.0, radius + 6)
        rise = along(centre, 270.0 + sign * 52.0, radius + 6)
        pen.shape([(foot[0], FLOOR), foot, rise, (rise[0], FLOOR)])
    pen.arc(centre, radius + 6)
    pen.solid_arc(centre, radius, 0, 360)
    pen.dot(centre)
    draw_body_inside(pen, view, centre, radius - look.half)
    pen.length("radius", centre, along(centre, 205.0, radius))


def _half_pipe(pen: Pen, view: SketchView, *, started: bool = False) -> None:
    """Half a pipe between two platforms; where the body ``started`` at the edge, also its place there."""
    look, centre, radius = LOOKS[view.look], (MIDDLE, 46.0), 98.0
    draw_ground(pen)
    for sign in (-1, 1):
        inner, outer = MIDDLE + sign * radius, MIDDLE + sign * 120
        pen.line((outer, centre[1]), (inner, centre[1]))
        pen.line((outer, FLOOR), (outer, 24), weight="thin")
        pen.line((outer, 24), (outer - sign * 14, 24), (outer - sign * 14, centre[1]), weight="thin")
        pen.soft((outer, 35), (outer - sign * 14, 35))
        pen.line((outer, FLOOR), along(centre, 270 + sign * 55, radius + 2), weight="thin")
        pen.line((MIDDLE + sign * 62, FLOOR), along(centre, 270 + sign * 38, radius + 2), weight="thin")
    pen.solid_arc(centre, radius, 180, 360)
    _in_hollow(pen, view, look, centre, radius, started=started)


def _in_hollow(pen: Pen, view: SketchView, look: BodyLook, centre: Point, radius: float, *, started: bool) -> None:
    """The body in half a circle, where it started, and the letters."""
    pen.dot(centre)
    draw_at_angle(pen, view, centre, radius)
    if started:
        draw_ghost(pen, look, Frame(along(centre, 180.0, radius - look.half), 0.0))
    draw_body_inside(pen, view, centre, radius - look.half)
    pen.length("radius", centre, along(centre, 212.0, radius))
    if "height" in pen.letters:
        lowest, touch, x = centre[1] + radius, along(centre, towards(view), radius), RIGHT - 18
        pen.soft((centre[0], lowest), (x + 4, lowest))
        pen.soft(touch, (x + 4, touch[1]))
        pen.length("height", (x, lowest), (x, touch[1]))


def _hollow_bowl(pen: Pen, view: SketchView, kind: str) -> None:
    """A bowl on a table, or a basin in a unit at a wall; the body started at the rim."""
    look, centre, radius = LOOKS[view.look], (MIDDLE - 6, 48.0), 98.0
    x, y = centre
    if kind == "table":
        pen.box(LEFT, FLOOR - 8, RIGHT, FLOOR)
        pen.shape([(x - 34, FLOOR - 8), (x - 28, y + radius), (x + 28, y + radius), (x + 34, FLOOR - 8)])
        pen.shape([*oval(centre, radius + 5, 1.0, 180, 360)])
    else:
        draw_ground(pen)
        pen.line((x - radius, y), (LEFT, y), (LEFT, FLOOR))
        pen.line((x + radius, y), (RIGHT, y), (RIGHT, FLOOR))
        pen.line((x + 112, y), (x + 112, 20), (x + 86, 20), (x + 86, 27), weight="medium")
        pen.line((x + 104, 13), (x + 120, 13), weight="medium")
    pen.shape([*oval(centre, radius, 1.0, 180, 360)])
    pen.line((x - radius + 2, y), (x + radius - 2, y), weight="thin", tone="soft")
    _in_hollow(pen, view, look, centre, radius, started=True)


def _channel(pen: Pen, view: SketchView) -> None:
    """A bent channel on a stand in a shop window."""
    look, centre, radius = LOOKS[view.look], (MIDDLE, 36.0), 102.0
    draw_awning(pen)
    draw_ground(pen)
    pen.box(60, 152, 200, FLOOR)
    for sign in (-1, 1):
        pen.line((MIDDLE + sign * 46, 152), along(centre, 270 + sign * 27, radius + 4))
        stop = along(centre, 270 + sign * 58, radius)
        pen.line(along(stop, 270 + sign * 58, 4), along(stop, 270 + sign * 58, -14), weight="medium")
    pen.arc(centre, radius, 212, 328)
    pen.arc(centre, radius + 5, 212, 328)
    pen.dot(centre)
    draw_at_angle(pen, view, centre, radius)
    draw_body_inside(pen, view, centre, radius - look.half)
    pen.length("radius", centre, along(centre, 235.0, radius))


# --- domes ---


def _dome(pen: Pen, view: SketchView, kind: str) -> None:
    """A smooth hemisphere from whose top a body slides down."""
    look, radius, base = LOOKS[view.look], 98.0, 150.0
    centre = (MIDDLE, base)
    if kind == "bowl":
        pen.box(LEFT, base, RIGHT, base + 7)
        for x in (LEFT + 20, RIGHT - 26):
            pen.box(x, base + 7, x + 6, HEIGHT - MARGIN - 1)
        pen.arc(centre, radius - 5, 0, 180, weight="thin")
        for sign in (-1, 1):
            pen.line((MIDDLE + sign * (radius - 5), base), (MIDDLE + sign * (radius + 6), base), weight="medium")
    elif kind == "museum":
        pen.box(LEFT, base, RIGHT, base + 7)
        pen.box(LEFT + 12, base + 7, RIGHT - 12, HEIGHT - MARGIN - 1)
        pen.soft((112, 164), (148, 164), (148, 176), (112, 176), (112, 164))
    else:
        centre = (MIDDLE, 166.0)
        base = 166.0
        draw_ground(pen, base)
        _open_slit(pen, centre, radius)
    pen.arc(centre, radius, 0, 180)
    pen.dot(centre)
    draw_at_angle(pen, view, centre, radius)
    turn = towards(view)
    draw_ghost(pen, look, Frame((centre[0], centre[1] - radius - look.half)))
    draw_body_outside(pen, view, centre, radius)
    pen.length("radius", centre, along(centre, 168.0 if kind == "observatory" else 150.0, radius))
    touch = along(centre, turn, radius)
    pen.length("height", (touch[0], base), touch)


def _open_slit(pen: Pen, centre: Point, radius: float) -> None:
    """The open slit of a dome with a telescope that looks out of it, and a door."""
    x, base = centre
    pen.box(x + 62, base - 34, x + 78, base)
    pen.disc((x + 66, base - 16), 1.2, filled=True)
    sides = [
        [(x - wide * cos(radians(turn)), base - radius * sin(radians(turn))) for turn in range(24, 73, 6)]
        for wide in (34.0, 66.0)
    ]
    pen.shape([*sides[0], *reversed(sides[1])], filled=True)
    tube = Frame((x - 46, base - 66), 140.0)
    pen.shape(tube.points((-7, -12), (-7, 42), (7, 42), (7, -12)))
    pen.shape(tube.points((-9, 42), (-9, 50), (9, 50), (9, 42)))


# --- flight ---


def _flight(pen: Pen, view: SketchView) -> None:
    """An aircraft in a loop high above the ground."""
    centre, radius = (MIDDLE, 86.0), 60.0
    pen.solid([(LEFT, FLOOR), (RIGHT, FLOOR)])
    pen.soft((LEFT, FLOOR - 8), (40, FLOOR - 18), (66, FLOOR - 4), (92, FLOOR - 12), (118, FLOOR))
    pen.soft((190, FLOOR), (190, FLOOR - 12), (204, FLOOR - 18), (218, FLOOR - 12), (218, FLOOR))
    pen.soft((232, FLOOR), (232, FLOOR - 22))
    pen.soft((232, FLOOR - 22), (246, FLOOR - 19), (246, FLOOR - 16), (232, FLOOR - 14))
    draw_cloud(pen, 34, 40)
    draw_cloud(pen, 226, 110)
    pen.path(centre, radius)
    draw_at_angle(pen, view, centre, radius)
    turn = towards(view)  # it flies clockwise, as the forward axis of a force diagram points
    LOOKS[view.look].draw(pen, Frame(along(centre, turn, radius), turn + 180.0, mirrored=True))
    pen.length("radius", centre, along(centre, 205.0, radius))


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "loop-toy": partial(_loop, kind="toy"),
    "loop-museum": partial(_loop, kind="museum"),
    "ramp-loop-toy": partial(_ramp, kind="toy"),
    "ramp-loop-smooth": partial(_ramp, kind="smooth"),
    "ramp-loop-chute": partial(_ramp, kind="smooth"),
    "ramp-loop-coaster": partial(_ramp, kind="coaster"),
    "crest-bridge": partial(_crest, kind="bridge"),
    "crest-golf": partial(_crest, kind="golf"),
    "crest-model": partial(_crest, kind="model"),
    "dip-road": partial(_dip, kind="road"),
    "dip-coaster": partial(_dip, kind="coaster"),
    "dip-model": partial(_dip, kind="model"),
    "full-pipe": _full_pipe,
    "half-pipe": _half_pipe,
    "channel-window": _channel,
    "dome-bowl": partial(_dome, kind="bowl"),
    "dome-museum": partial(_dome, kind="museum"),
    "dome-observatory": partial(_dome, kind="observatory"),
    "loop-in-flight": _flight,
    "dip-and-hump-track": partial(_dip_and_hump, kind="track"),
    "dip-and-hump-snow": partial(_dip_and_hump, kind="snow"),
    "dip-and-hump-rails": partial(_dip_and_hump, kind="rails"),
    "bowl-on-a-table": partial(_hollow_bowl, kind="table"),
    "basin": partial(_hollow_bowl, kind="unit"),
    "half-pipe-from-the-edge": partial(_half_pipe, started=True),
}
