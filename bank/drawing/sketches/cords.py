"""Settings of vertical circles on a cord or a rod: from a hook, from a hand, about a pin."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from math import cos, radians, sin

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .looks import LOOKS
from .pen import HEIGHT, MARGIN, WIDTH, Frame, Pen
from .pieces import towards
from .upright_pieces import (
    CEILING,
    FLOOR,
    LEFT,
    MIDDLE,
    RIGHT,
    draw_body_inside,
    draw_ceiling,
    draw_dashed,
    draw_ghost,
    draw_ground,
    draw_tree,
    draw_tuft,
    draw_waves,
)

# --- cords that swing below a hook ---


def _hook(pen: Pen, point: Point) -> None:
    """A hook whose lower end is at the point."""
    x, y = point
    pen.line((x, y - 11), (x, y - 6))
    pen.arc((x, y - 2.5), 3.5, 150, 450)


def _stand(pen: Pen, hook: Point) -> None:
    """A laboratory stand whose arm carries the hook."""
    x, y = hook
    draw_ground(pen)
    pen.box(188, FLOOR - 6, RIGHT, FLOOR)
    pen.box(232, MARGIN + 2, 237, FLOOR - 6)
    pen.box(x - 8, y - 16, 243, y - 11)
    _hook(pen, hook)


def _rig(pen: Pen, hook: Point) -> None:
    """A bar with lamps below a ceiling."""
    x, y = hook
    draw_ceiling(pen)
    draw_ground(pen)
    for far in (-86, 86):
        pen.line((x + far, CEILING), (x + far, y - 16), weight="thin")
    pen.box(LEFT + 4, y - 16, RIGHT - 4, y - 11)
    for sign in (-1, 1):
        lamp = Frame((x + sign * 100, y - 2), 90.0 + sign * 20.0)
        pen.line((x + sign * 100, y - 11), lamp.origin)
        pen.shape(lamp.points((-6, 6), (6, 6), (9, -10), (-9, -10)))
    _hook(pen, hook)


def _tent(pen: Pen, hook: Point) -> None:
    """The roof and the masts of a circus tent, and the edge of its ring."""
    y = hook[1]
    draw_ground(pen)
    masts = (36.0, WIDTH - 36.0)
    pen.line((LEFT - 4, 46), (masts[0], MARGIN + 2), (MIDDLE, 15), (masts[1], MARGIN + 2), (RIGHT + 4, 46))
    for left in (LEFT - 4, masts[1] + 6):
        for step in range(3):
            pen.arc((left + 3 + 6 * step, 46), 3.0, 180, 360, weight="thin", tone="soft")
    for mast, sign in zip(masts, (1, -1), strict=True):
        pen.line((mast, FLOOR), (mast, MARGIN + 2))
        pen.box(mast + sign * 22 - 14, FLOOR - 9, mast + sign * 22 + 14, FLOOR)
    pen.box(masts[0], y - 16, masts[1], y - 11)
    for step in range(12):
        left = masts[0] + step * (masts[1] - masts[0]) / 12
        pen.soft((left, y - 11), (left + 8, y - 16), (left + 15.6, y - 11))
    _hook(pen, hook)


def _scaffold(pen: Pen, hook: Point) -> None:
    """A scaffold with its boards, before a wall of bricks."""
    x, y = hook
    draw_ground(pen)
    for row in range(6):
        high = FLOOR - 9 * row
        pen.soft((LEFT + 18, high - 9), (LEFT + 62 - 4 * row, high - 9))
        for step in range(4 - row // 2):
            left = LEFT + 24 + 14 * step - 7 * (row % 2)
            pen.soft((left, high), (left, high - 9))
    for sign in (-1, 1):
        pen.box(x + sign * 104 - 2, MARGIN + 2, x + sign * 104 + 2, FLOOR)
    pen.line((x + 40, y - 11), (x + 104, 104), weight="thin")
    pen.box(LEFT + 2, y - 16, RIGHT - 2, y - 11)
    pen.box(LEFT + 8, y - 21, RIGHT - 8, y - 16)
    _hook(pen, hook)


def _gym(pen: Pen, hook: Point) -> None:
    """A beam below the ceiling of a gymnasium, wall bars and a mat."""
    x, y = hook
    draw_ceiling(pen)
    draw_ground(pen)
    for left in (RIGHT - 24, RIGHT):
        pen.soft((left, 56), (left, FLOOR))
    for step in range(11):
        pen.soft((RIGHT - 24, 62 + 10 * step), (RIGHT, 62 + 10 * step))
    pen.box(x - 62, FLOOR - 7, x + 62, FLOOR)
    pen.box(x - 84, CEILING, x + 84, y - 11)
    pen.soft((x - 84, CEILING + 4), (x + 84, CEILING + 4))
    _hook(pen, hook)


def _branch(pen: Pen, hook: Point) -> None:
    """A branch of a tree in a garden."""
    x, y = hook
    draw_ground(pen)
    pen.line(
        (x - 78, y - 14), (x - 20, y - 6), (x, y), (x + 50, y), (x + 76, y + 10), (x + 84, y + 40), (x + 82, FLOOR)
    )
    pen.line((x + 108, FLOOR), (x + 106, y + 40), (x + 108, y - 22))
    pen.line((x - 78, y - 14), (x - 10, y - 16), (x + 50, y - 13), (x + 86, y - 22))
    for step in range(9):
        pen.arc((LEFT + 14 + 26 * step, MARGIN + 2), 13.0, 180, 360, flat=0.7, weight="thin", tone="soft")
    for tuft in (30, 90, 160, 240):
        draw_tuft(pen, tuft, FLOOR)


def _climbing(pen: Pen, hook: Point) -> None:
    """A beam between the ceiling and a climbing wall with its holds."""
    y = hook[1]
    draw_ceiling(pen)
    draw_ground(pen)
    pen.box(LEFT + 6, y - 20, 214, y - 11)
    wall = [(214, CEILING), (214, 70), (236, 120), (236, FLOOR)]
    pen.solid(wall, left=True)
    for place, high in ((210, 34), (210, 56), (217, 84), (227, 106), (232, 130), (232, 150)):
        pen.disc((place, high), 3.0, filled=True)
    pen.box(60, FLOOR - 7, 226, FLOOR)
    _hook(pen, hook)


def _boom(pen: Pen, hook: Point) -> None:
    """A boom on a tripod, with a lamp."""
    x, y = hook
    draw_ground(pen)
    for foot in (206, 226, 246):
        pen.line((226, 118), (foot, FLOOR))
    pen.box(224, MARGIN + 2, 228, 118)
    pen.box(x - 10, y - 16, 246, y - 11)
    lamp = Frame((238, 62), 60.0)
    pen.line((228, 56), lamp.origin)
    pen.shape(lamp.points((-6, 6), (6, 6), (9, -10), (-9, -10)))
    _hook(pen, hook)


def _rail(pen: Pen, hook: Point) -> None:
    """A rail with hooks below a ceiling, as in a paint shop, and a trough."""
    x, y = hook
    draw_ceiling(pen)
    draw_ground(pen)
    for far in (-90, 90):
        pen.line((x + far, CEILING), (x + far, y - 17), weight="thin")
    pen.line((LEFT, y - 17), (RIGHT, y - 17))
    pen.line((LEFT, y - 11), (RIGHT, y - 11))
    for far in (-76, 0, 76):
        pen.disc((x + far, y - 14), 3.0)
    for far in (-76, 76):
        _hook(pen, (x + far, y))
    pen.shape([(x - 70, FLOOR - 12), (x + 70, FLOOR - 12), (x + 62, FLOOR), (x - 62, FLOOR)])
    _hook(pen, hook)


def _shop(pen: Pen, hook: Point) -> None:
    """A rail in a shop, a shelf with toy blocks and a ball."""
    x, y = hook
    draw_ceiling(pen)
    draw_ground(pen)
    for far in (-60, 60):
        pen.line((x + far, CEILING), (x + far, y - 16), weight="thin")
    pen.box(x - 72, y - 16, x + 72, y - 11)
    pen.soft((206, 60), (RIGHT, 60), (RIGHT, FLOOR), (206, FLOOR), (206, 60))
    for shelf in (98, 136):
        pen.soft((206, shelf), (RIGHT, shelf))
    pen.soft((212, 98), (212, 86), (224, 86), (224, 98))
    pen.soft((226, 98), (226, 88), (236, 88), (236, 98))
    pen.soft((218, 86), (218, 76), (229, 76), (229, 86))
    pen.arc((222, 127), 9.0, weight="thin", tone="soft")
    pen.soft((212, FLOOR), (216, FLOOR - 24), (240, FLOOR - 24), (244, FLOOR))
    _hook(pen, hook)


def _arcade(pen: Pen, hook: Point) -> None:
    """A ceiling with a row of points below it, and a pointed arch at one side."""
    x, y = hook
    draw_ceiling(pen)
    draw_ground(pen)
    for step in range(16):
        left = LEFT + step * 14.75
        pen.soft((left, CEILING), (left + 7.4, CEILING + 9), (left + 14.75, CEILING))
    pen.line((x, CEILING), (x, y - 10))
    for half in (21.0, 15.0):
        top = 94.0 - 2.2 * half
        left, right = 226 - half, 226 + half
        side = [(0.0, 94.0), (0.05, 84.0), (0.2, 74.0), (0.45, (74 + top) / 2 - 2)]
        points = [(left + share * half, y) for share, y in side]
        back = [(right - share * half, y) for share, y in reversed(side)]
        pen.soft((left, FLOOR), *points, (226, top), *back, (right, FLOOR))
    _hook(pen, hook)


def _tower(pen: Pen, hook: Point) -> None:
    """The arm of a lattice tower."""
    x, y = hook
    draw_ground(pen)
    pen.box(x - 10, y - 17, 242, y - 11)
    for side in (220, 242):
        pen.line((side, MARGIN + 2), (side, FLOOR))
    for step in range(7):
        low, high = FLOOR - 24 * step, FLOOR - 24 * (step + 1)
        pen.line((220, low), (242, high), weight="thin")
        pen.line((242, low), (220, high), weight="thin")
    _hook(pen, hook)


def _case(pen: Pen, hook: Point) -> None:
    """A bracket in a glass case on a plinth."""
    x, y = hook
    pen.soft((LEFT, FLOOR), (LEFT, MARGIN + 2), (RIGHT, MARGIN + 2), (RIGHT, FLOOR))
    pen.box(LEFT - 4, FLOOR, RIGHT + 4, FLOOR + 7)
    pen.box(228, y - 16, 234, FLOOR)
    pen.box(x - 8, y - 16, 234, y - 11)
    pen.line((228, y + 12), (206, y - 11), weight="thin")
    _hook(pen, hook)


_HOLDERS: Mapping[str, Callable[[Pen, Point], None]] = {
    "stand": _stand,
    "rig": _rig,
    "tent": _tent,
    "scaffold": _scaffold,
    "gym": _gym,
    "branch": _branch,
    "climbing": _climbing,
    "boom": _boom,
    "rail": _rail,
    "shop": _shop,
    "arcade": _arcade,
    "tower": _tower,
    "case": _case,
}


def _swing(pen: Pen, view: SketchView, holder: str, *, aside: bool = False, field: bool = False) -> None:
    """A body on a cord below a hook; ``aside``: also where it starts or ends; ``field``: the region of a field."""
    look, hook, radius, turn = LOOKS[view.look], (MIDDLE - 6, 38.0), 96.0, towards(view) % 360.0
    lowest, start = along(hook, 270.0, radius), along(hook, 226.0, radius)
    _HOLDERS[holder](pen, hook)
    pen.path(hook, radius, 218, 322)
    if field:
        left, right, top, bottom = lowest[0] - 38, lowest[0] + 38, lowest[1] - 26, lowest[1] + 22
        pen.soft((left, top), (right, top), (right, bottom), (left, bottom), (left, top), dashed=True)
    if view.spot == "angle":
        pen.soft(hook, lowest, dashed=True)
        pen.angle("angle", hook, 270.0, turn, 52.0 if aside else 38.0)
    if aside:
        pen.line(hook, along(hook, 226.0, radius - look.half), weight="thin", tone="soft")
        draw_ghost(pen, look, Frame(start, 46.0))
        pen.angle("release-angle", hook, 226.0, 270.0, 38.0)
    pen.line(hook, along(hook, turn, radius - look.half), weight="thin")
    for role in ("radius", "length"):
        pen.length(role, hook, along(hook, turn, radius), 16.0)
    if "height" in pen.letters:
        pen.soft(start, (22, start[1]))
        pen.soft(lowest, (22, lowest[1]))
    draw_body_inside(pen, view, hook, radius)
    pen.length("height", (26, lowest[1]), (26, start[1]))


def _taut(pen: Pen, view: SketchView, holder: str) -> None:
    """A body that fell beside a hook until its cord was taut, and then swung to the lowest point."""
    look, hook, radius = LOOKS[view.look], (MIDDLE + 10, 40.0), 96.0
    caught = along(hook, 226.0, radius)
    start = (caught[0], hook[1])
    _HOLDERS[holder](pen, hook)
    pen.path(hook, radius, 226, 270)
    pen.soft(hook, along(hook, 270.0, radius), dashed=True)
    pen.soft(start, caught, dashed=True)
    slack = [(start[0], start[1] - look.half), (start[0] + 18, start[1] + 16), (hook[0] - 20, hook[1] + 18), hook]
    pen.soft(*slack)
    pen.line(hook, along(hook, 226.0, radius - look.half), weight="thin", tone="soft")
    draw_ghost(pen, look, Frame(start))
    draw_ghost(pen, look, Frame(caught, 46.0))
    pen.angle("taut-angle", hook, 226.0, 270.0, 38.0)
    pen.line(hook, along(hook, 270.0, radius - look.half), weight="thin")
    for role in ("radius", "length"):
        pen.length(role, hook, along(hook, 270.0, radius), 16.0)
    if "height" in pen.letters:
        for x, y in (start, caught):
            pen.soft((x, y), (start[0] - 30, y))
    pen.length("height", (start[0] - 26, caught[1]), (start[0] - 26, start[1]))
    draw_body_inside(pen, view, hook, radius)


def _peg(pen: Pen, view: SketchView, holder: str) -> None:
    """A cord that has caught on a peg below its hook; the body moves in a circle about the peg."""
    look, hook, far, radius, turn = LOOKS[view.look], (156.0, 36.0), 118.0, 40.0, towards(view) % 360.0
    peg, start = (hook[0], hook[1] + far - radius), (hook[0] - far, hook[1])
    _HOLDERS[holder](pen, hook)
    draw_dashed(pen, hook, far, 184, 268)
    pen.path(peg, radius)
    pen.line(hook, (start[0] + look.half, start[1]), weight="thin", tone="soft")
    draw_ghost(pen, look, Frame(start, 0.0))
    pen.line(hook, (peg[0] - 3, peg[1]), weight="thin")
    pen.line(along(peg, turn, 3), along(peg, turn, radius - look.half), weight="thin")
    pen.disc(peg, 3.5, filled=True)
    pen.length("length", start, hook, -22.0)
    pen.length("peg-distance", peg, hook, -34.0)
    draw_body_inside(pen, view, peg, radius)
    pen.length("radius", peg, along(peg, 345.0, radius))


# --- cords that somebody swings ---


def _dancer(pen: Pen, about: Frame) -> None:
    """A dress and a lantern festival."""
    pen.shape(about.points((-9, 28), (9, 28), (7, 12), (20, -28), (-20, -28), (-7, 12)))
    for x in (-5, 5):
        pen.line(*about.points((x, -28), (x * 1.2, -48), (x * 2.2, -48)))
    pen.soft(*((172 + 8 * step, 11 + 0.06 * (step - 5) * (10 - step)) for step in range(10)))
    for x, drop in ((178, 16), (212, 18), (244, 14)):
        pen.soft((x, 10), (x, drop))
        pen.arc((x, drop + 6), 6.0, weight="thin", tone="soft")
        pen.soft((x - 5, drop + 6), (x + 5, drop + 6))


def _juggler(pen: Pen, about: Frame) -> None:
    """A juggler in a cap of a jester with two clubs, three balls on the ground, and trees of a park."""
    draw_tree(pen, 190, FLOOR)
    draw_tree(pen, 234, FLOOR)
    for x in (96, 110, 124):
        pen.disc((x, FLOOR - 6), 6.0)
        pen.soft((x - 5, FLOOR - 8), (x + 5, FLOOR - 4))
    for lean in (18.0, -8.0):
        club = Frame(about.at(-24, 4), 90.0 + lean, about.scale)
        pen.shape(club.points((-1, -6), (-1, 4), (-3, 14), (-2, 20), (2, 20), (3, 14), (1, 4), (1, -6)))
    for sign in (-1, 1):
        pen.shape(about.points((0, 46), (sign * 9, 43), (sign * 17, 42), (sign * 12, 52), (sign * 4, 54)))
        pen.disc(about.at(sign * 17, 41), 2.4, filled=True)
    for x in (-4, 4):
        pen.line(*about.points((x, -10), (x * 2, -48), (x * 2 + x, -48)))
    pen.shape(about.points((-10, 28), (10, 28), (7, -12), (-7, -12)))
    pen.soft(*about.points((-9, 16), (9, 16)))
    pen.soft(*about.points((-8, 2), (8, 2)))


def _sailor(pen: Pen, about: Frame) -> None:
    """A sailor at the edge of a quay, with a bollard."""
    for sign in (-1, 1):
        pen.shape(about.points((0, -10), (sign * 7, -10), (sign * 11, -48), (sign * 2, -48)))
    pen.shape(about.points((-10, 28), (10, 28), (8, -10), (-8, -10)))
    pen.line(*about.points((-6, 28), (0, 18), (6, 28)), weight="thin")
    pen.shape([(102, FLOOR), (105, FLOOR - 14), (100, FLOOR - 20), (120, FLOOR - 20), (115, FLOOR - 14), (118, FLOOR)])
    pen.soft((186, 142), (RIGHT, 142))
    pen.soft((186, 142), (200, FLOOR - 8))
    pen.soft((226, 142), (226, 118), (RIGHT, 118))


_SWINGERS: Mapping[str, Callable[[Pen, Frame], None]] = {"dancer": _dancer, "juggler": _juggler, "sailor": _sailor}


def _whirl(pen: Pen, view: SketchView, who: str) -> None:
    """A body on a cord from the hand of somebody who swings it."""
    look, hand, radius, turn = LOOKS[view.look], (118.0, 72.0), 41.0, towards(view) % 360.0
    about = Frame((50.0, FLOOR - 65), scale=1.35)
    if who == "sailor":
        pen.solid([(LEFT, FLOOR), (154, FLOOR), (154, HEIGHT - MARGIN)])
        for row in (0, 1):
            draw_waves(pen, 160, RIGHT, FLOOR - 3 + 8 * row)
    else:
        draw_ground(pen)
    pen.path(hand, radius)
    pen.line(*about.points((-8, 26), (-19, 12), (-24, 4) if who == "juggler" else (-9, 0)))
    _SWINGERS[who](pen, about)
    pen.line(about.at(8, 26), hand)
    pen.disc(about.at(0, 39), 12.0)
    if who == "sailor":
        pen.shape(about.points((-9, 42), (-9, 46), (-6, 50), (6, 50), (9, 46), (9, 42)), filled=True)
    elif who == "dancer":
        pen.disc(about.at(0, 50), 5.0, filled=True)
    if view.spot == "angle":
        pen.soft(hand, along(hand, 90.0, radius), dashed=True)
        pen.angle("angle", hand, turn, 90.0, 18.0)
    pen.line(hand, along(hand, turn, radius - look.half), weight="thin")
    pen.disc(hand, 3.0)
    draw_body_inside(pen, view, hand, radius)
    pen.length("radius", hand, along(hand, 310.0, radius))


# --- cords and rods that turn about a pin ---


def _pin_stand(pen: Pen, pin: Point) -> None:
    """A laboratory stand with a clamp."""
    x, y = pin
    draw_ground(pen)
    pen.box(186, FLOOR - 6, RIGHT, FLOOR)
    pen.box(222, 12, 227, FLOOR - 6)
    pen.box(x, y - 2.5, 234, y + 2.5)
    pen.box(218, y - 6, 231, y + 6)


def _pin_garden(pen: Pen, pin: Point) -> None:
    """A peg on the cross-piece of a post, and a garden."""
    x, y = pin
    draw_ground(pen)
    pen.box(x - 6, y - 4, 230, y + 4)
    pen.shape([(216, FLOOR), (216, 46), (223, 36), (230, 46), (230, FLOOR)])
    for tuft in (26, 60, 150, 204, 242):
        draw_tuft(pen, tuft, FLOOR)
    for flower in (36, 188):
        pen.soft((flower, FLOOR), (flower, FLOOR - 18))
        for turn in range(0, 360, 60):
            pen.arc(along((flower, FLOOR - 21), turn, 4), 2.4, weight="thin", tone="soft")


def _pin_hall(pen: Pen, pin: Point) -> None:
    """A bracket on the wall of a sports hall, with a basket for balls."""
    x, y = pin
    draw_ground(pen, right=238)
    pen.solid([(238, MARGIN + 4), (238, FLOOR)], left=True)
    pen.line((238, y + 34), (198, y + 3), weight="thin")
    pen.box(x - 5, y - 3, 238, y + 3)
    pen.soft((238, 22), (238, 58), (232, 58), (232, 22), (238, 22))
    pen.line((232, 50), (206, 50))
    for across in (0, 8, 16):
        pen.soft((207 + across, 50), (211 + across * 0.8, 66))
        pen.soft((215 + across, 50), (209 + across * 0.8, 66))


def _pin_sculpture(pen: Pen, pin: Point) -> None:
    """A curved arm on a pedestal, and the wall of a gallery with two pictures."""
    x, y = pin
    draw_ground(pen)
    for left, top, right, low in ((186, 18, 244, 64), (192, 74, 224, 98)):
        for rim in (0, 4):
            corners = [
                (left + rim, top + rim),
                (right - rim, top + rim),
                (right - rim, low - rim),
                (left + rim, low - rim),
            ]
            pen.soft(*corners, corners[0])
    pen.soft((194, 56), (208, 34), (216, 46), (224, 38), (236, 56))
    pen.disc((228, 30), 3.0, tone="soft")
    pen.soft((LEFT, FLOOR - 9), (RIGHT, FLOOR - 9))
    pen.box(190, 138, 234, FLOOR - 6)
    pen.box(184, FLOOR - 6, 240, FLOOR)
    pen.box(178, 132, 246, 138)
    pen.box(204, 148, 220, 156)
    outer = [(x + 108 * sin(t), y + 44 - 44 * cos(t)) for t in (radians(step * 7.5) for step in range(13))]
    inner = [(x + 96 * sin(t), y + 44 - 38 * cos(t)) for t in (radians(step * 7.5) for step in range(13))]
    pen.shape([(x - 4, y), *outer, *reversed(inner), (x - 4, y + 6)])


def _pin_ride(pen: Pen, pin: Point) -> None:
    """The tower of a ride at a fair, a fence and a tent."""
    x, y = pin
    draw_ground(pen)
    for sign in (-1, 1):
        pen.line((x, y), (x + sign * 50, FLOOR))
        pen.line((x, y + 10), (x + sign * 42, FLOOR))
    for step in range(6):
        left = 184 + 12 * step
        pen.soft((left, FLOOR), (left, FLOOR - 16))
    pen.soft((180, FLOOR - 13), (RIGHT, FLOOR - 13))
    pen.soft((196, FLOOR - 16), (196, 130), (220, 112), (244, 130), (244, FLOOR - 16))
    pen.soft((196, 130), (244, 130))
    pen.soft((220, 112), (220, 102), (228, 105), (220, 108))


_PINS: Mapping[str, Callable[[Pen, Point], None]] = {
    "stand": _pin_stand,
    "garden": _pin_garden,
    "hall": _pin_hall,
    "sculpture": _pin_sculpture,
    "ride": _pin_ride,
}


def _pin(pen: Pen, view: SketchView, holder: str, *, rod: bool) -> None:
    """A body on a cord or a rod about a pin."""
    look, pin, radius, turn = LOOKS[view.look], (106.0, 90.0), 66.0, towards(view)
    _PINS[holder](pen, pin)
    pen.path(pin, radius)
    end = along(pin, turn, radius - look.half + 2)
    if rod:
        half = 3.5 if holder == "ride" else 2.2
        edges = [along(point, turn, 0.0, side) for side in (half, -half) for point in (pin, end)]
        pen.shape([edges[0], edges[1], edges[3], edges[2]])
    else:
        pen.line(pin, end, weight="thin")
    pen.disc(pin, 5.0 if rod else 3.5)
    pen.dot(pin)
    draw_body_inside(pen, view, pin, radius)
    pen.length("radius", pin, along(pin, 205.0, radius))


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "swing-stand": partial(_swing, holder="stand"),
    "swing-rig": partial(_swing, holder="rig"),
    "swing-tent": partial(_swing, holder="tent"),
    "swing-scaffold": partial(_swing, holder="scaffold"),
    "swing-gym": partial(_swing, holder="gym"),
    "released-stand": partial(_swing, holder="stand", aside=True),
    "released-branch": partial(_swing, holder="branch", aside=True),
    "released-climbing": partial(_swing, holder="climbing", aside=True),
    "swung-by-dancer": partial(_whirl, who="dancer"),
    "swung-by-juggler": partial(_whirl, who="juggler"),
    "swung-by-sailor": partial(_whirl, who="sailor"),
    "cord-stand": partial(_pin, holder="stand", rod=False),
    "cord-garden": partial(_pin, holder="garden", rod=False),
    "cord-hall": partial(_pin, holder="hall", rod=False),
    "rod-sculpture": partial(_pin, holder="sculpture", rod=True),
    "rod-stand": partial(_pin, holder="stand", rod=True),
    "rod-ride": partial(_pin, holder="ride", rod=True),
    "way-up-stand": partial(_swing, holder="stand", aside=True),
    "way-up-branch": partial(_swing, holder="branch", aside=True),
    "way-up-rig": partial(_swing, holder="rig", aside=True),
    "up-shop": partial(_swing, holder="shop", aside=True),
    "up-arcade": partial(_swing, holder="arcade", aside=True),
    "up-gym": partial(_swing, holder="gym", aside=True),
    "field-stand": partial(_swing, holder="stand", aside=True, field=True),
    "field-stage": partial(_swing, holder="rig", aside=True, field=True),
    "field-rail": partial(_swing, holder="rail", aside=True, field=True),
    "taut-stand": partial(_taut, holder="stand"),
    "taut-boom": partial(_taut, holder="boom"),
    "taut-tower": partial(_taut, holder="tower"),
    "peg-stand": partial(_peg, holder="stand"),
    "peg-gym": partial(_peg, holder="gym"),
    "peg-case": partial(_peg, holder="case"),
}
