"""Settings of vertical circles: tracks, pipes, humps and dips, cords and rods, wheels, seen from the side."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from math import cos, radians, sin

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .looks import LOOKS
from .pen import DASHES, HEIGHT, MARGIN, WIDTH, Frame, Pen

MIDDLE = WIDTH / 2
FLOOR = HEIGHT - MARGIN - 8.0  # of a ground with its hatching
LEFT, RIGHT = MARGIN + 12.0, WIDTH - MARGIN - 12.0  # ends of a ground
UP, DOWN = 90.0, 270.0


def _towards(view: SketchView) -> float:
    """The page direction from the centre to the body."""
    return (DOWN if view.inward is None else view.inward) + 180.0


def _apart(turn: float) -> float:
    """A direction from the centre well apart from that to the body, for the letter of the radius."""
    return 200.0 if cos(radians(turn - 200.0)) < 0.5 else 340.0


def _angle_at(pen: Pen, centre: Point, view: SketchView, vertical: float, reach: float) -> None:
    """The angle at the centre between the vertical and the radius to the body."""
    turn = _towards(view) % 360.0
    first, second = sorted((vertical, turn))
    pen.angle("angle", centre, first, second, reach)


def _ground(pen: Pen, left: float = LEFT, right: float = RIGHT, y: float = FLOOR) -> None:
    pen.solid([(left, y), (right, y)])


def _inside(pen: Pen, view: SketchView, centre: Point, radius: float) -> None:
    """The body on the inside of a track about ``centre``."""
    look, turn = LOOKS[view.look], _towards(view)
    look.draw(pen, Frame(along(centre, turn, radius - look.half), turn + 180.0))


def _marked(pen: Pen, view: SketchView, centre: Point, radius: float) -> None:
    """The centre, and the letters at radius and angle."""
    turn = _towards(view)
    pen.dot(centre)
    pen.length("radius", centre, along(centre, _apart(turn), radius))
    if view.spot == "angle":
        vertical = DOWN if sin(radians(turn)) < 0 else UP
        pen.soft(centre, along(centre, vertical, 0.6 * radius), dashed=True)
        pen.soft(centre, along(centre, turn, radius - 2 * LOOKS[view.look].half), dashed=True)
        _angle_at(pen, centre, view, vertical, 24.0)


# --- tracks and pipes ---


def _loop(pen: Pen, view: SketchView) -> None:
    """A loop of track with its run-in; the body rides inside."""
    radius = 74.0
    centre = (MIDDLE, FLOOR - radius)
    _ground(pen)
    pen.arc(centre, radius)
    pen.arc(centre, radius + 4.0, weight="thin")
    _inside(pen, view, centre, radius)
    _marked(pen, view, centre, radius)


def _ramp(pen: Pen, view: SketchView, kind: str) -> None:
    """A ramp with a loop at its lower end."""
    radius, start = 54.0, (58.0, 26.0)
    centre = (178.0, FLOOR - radius)
    slope = [(58.0 + 62 * share, 26.0 + (FLOOR - 26.0) * (3 * share**2 - 2 * share**3)) for share in _shares(12)]
    pen.line((38.0, start[1]), start, *slope)
    pen.line(slope[-1], (RIGHT, FLOOR))
    pen.arc(centre, radius)
    if kind == "scaffold":
        pen.arc(centre, radius + 4.0, weight="thin")
        for place in (2, 5, 8):
            pen.soft(slope[place], (slope[place][0], FLOOR))
        pen.soft((42.0, start[1]), (42.0, FLOOR))
    for step in range(28):
        pen.hatch((LEFT + 8 * step + 4, FLOOR), DOWN)
    pen.line((LEFT, FLOOR), slope[-1])
    _inside(pen, view, centre, radius)
    pen.dot(centre)
    pen.length("radius", centre, along(centre, 200.0, radius))
    pen.length("height", (22.0, FLOOR), (22.0, start[1]))
    if "height" in pen.letters:
        pen.soft((18.0, start[1]), (38.0, start[1]))


def _shares(steps: int) -> list[float]:
    return [step / steps for step in range(steps + 1)]


def _full_pipe(pen: Pen, view: SketchView) -> None:
    """A pipe that is a whole circle, cut across."""
    centre, radius = (MIDDLE, HEIGHT / 2), 78.0
    pen.solid_arc(centre, radius, 0.0, 360.0)
    _inside(pen, view, centre, radius)
    _marked(pen, view, centre, radius)


def _half_pipe(pen: Pen, view: SketchView) -> None:
    """A half-pipe with a deck and a railing on both sides."""
    centre, radius = (MIDDLE, 66.0), 100.0
    pen.solid_arc(centre, radius, 190.0, 350.0)
    for side in (-1.0, 1.0):
        edge = along(centre, 270.0 + side * 80.0, radius)
        pen.line(edge, (edge[0] + side * 20.0, edge[1]))
        pen.soft((edge[0] + side * 16.0, edge[1]), (edge[0] + side * 16.0, edge[1] - 22.0))
    _inside(pen, view, centre, radius)
    _marked(pen, view, centre, radius)


def _channel(pen: Pen, view: SketchView) -> None:
    """A curved channel on two feet."""
    centre, radius = (MIDDLE, 34.0), 116.0
    pen.arc(centre, radius, 215.0, 325.0)
    pen.arc(centre, radius + 5.0, 215.0, 325.0, weight="thin")
    for turn in (238.0, 302.0):
        foot = along(centre, turn, radius + 5.0)
        pen.line(foot, (foot[0], FLOOR))
    _ground(pen)
    _inside(pen, view, centre, radius)
    _marked(pen, view, centre, radius)


def _hump(pen: Pen, view: SketchView, kind: str) -> None:
    """A road or track over an arc, with what lies under it."""
    look, centre, radius = LOOKS[view.look], (MIDDLE, 168.0), 104.0
    ends = [along(centre, turn, radius) for turn in (145.0, 35.0)]
    pen.arc(centre, radius, 35.0, 145.0)
    for (x, y), side in zip(ends, (-1.0, 1.0), strict=True):
        bend = [(x + side * 8.0, y + 10.0), (x + side * 20.0, y + 18.0), (x + side * 34.0, y + 22.0)]
        pen.line((x, y), *bend)
    if kind == "bridge":
        pen.arc(centre, 72.0, 20.0, 160.0)
        for y in (156.0, 164.0):
            pen.soft((MIDDLE - 56.0, y), (MIDDLE + 56.0, y), dashed=True)
        for step in range(7):
            post = along(centre, 60.0 + 10.0 * step, radius)
            pen.soft(post, (post[0], post[1] - 7.0))
    elif kind == "track":
        pen.arc(centre, radius - 5.0, 35.0, 145.0, weight="thin")
        for x in (MIDDLE - 62.0, MIDDLE, MIDDLE + 62.0):
            pen.soft((x, 168.0 - 96.0 * sin(radians(90.0 - abs(x - MIDDLE) * 0.6))), (x, FLOOR))
        _ground(pen)
    else:
        for step in range(13):
            turn = 40.0 + 8.3 * step
            pen.hatch(along(centre, turn, radius), turn + 180.0)
        flag = along(centre, 52.0, radius)
        pen.line(flag, (flag[0], flag[1] - 40.0), weight="thin")
        pen.shape([(flag[0], flag[1] - 40.0), (flag[0] + 15.0, flag[1] - 35.0), (flag[0], flag[1] - 30.0)])
    look.draw(pen, Frame(along(centre, UP, radius + look.half)))
    pen.dot(centre)
    pen.length("radius", centre, along(centre, 118.0, radius))


def _dip(pen: Pen, view: SketchView, kind: str) -> None:
    """A road or track through a dip."""
    look, centre, radius = LOOKS[view.look], (MIDDLE, 34.0), 112.0
    pen.arc(centre, radius, 230.0, 310.0)
    ends = [along(centre, turn, radius) for turn in (230.0, 310.0)]
    for (x, y), side in zip(ends, (-1.0, 1.0), strict=True):
        bend = [(x + side * 9.0, y - 9.0), (x + side * 20.0, y - 15.0), (x + side * 34.0, y - 18.0)]
        pen.line((x, y), *bend)
    if kind == "road":
        for step in range(14):
            turn = 230.0 + 80.0 * (step + 0.5) / 14
            pen.hatch(along(centre, turn, radius), turn)
        for (x, y), side in zip(ends, (-1.0, 1.0), strict=True):
            tree = x + side * 24.0
            pen.line((tree, y - 16.0), (tree, y - 28.0), weight="thin")
            pen.disc((tree, y - 36.0), 9.0)
    else:
        pen.arc(centre, radius + 5.0, 230.0, 310.0, weight="thin")
        for turn in (232.0, 251.0, 270.0, 289.0, 308.0):
            post = along(centre, turn, radius + 5.0)
            pen.soft(post, (post[0], FLOOR))
            if kind == "coaster" and turn < 300.0:
                other = along(centre, turn + 19.0, radius + 5.0)
                pen.soft((post[0], FLOOR), other)
        _ground(pen)
    look.draw(pen, Frame(along(centre, DOWN, radius - look.half)))
    pen.dot(centre)
    pen.length("radius", centre, along(centre, 244.0, radius))


def _dome(pen: Pen, view: SketchView, kind: str) -> None:
    """A smooth hemisphere; the body slides down its outside."""
    look, turn, radius = LOOKS[view.look], _towards(view), 96.0
    centre = (MIDDLE, FLOOR)
    pen.arc(centre, radius, 0.0, 180.0)
    _ground(pen)
    if kind == "observatory":
        for side in (-6.0, 6.0):
            pen.soft((MIDDLE + side - 40.0, FLOOR), (MIDDLE + side - 40.0, FLOOR - 86.0))
    elif kind == "bowl":
        pen.box(MIDDLE - 20.0, FLOOR - radius - 5.0, MIDDLE + 20.0, FLOOR - radius)
    else:
        pen.arc(centre, radius - 4.0, 0.0, 180.0, weight="thin")
    body = along(centre, turn, radius + look.half)
    look.draw(pen, Frame(body, turn))
    pen.dot(centre)
    pen.soft(centre, (MIDDLE, FLOOR - 0.62 * radius), dashed=True)
    pen.soft(centre, along(centre, turn, radius), dashed=True)
    pen.length("radius", centre, along(centre, 150.0 if cos(radians(turn)) > 0 else 30.0, radius))
    _angle_at(pen, centre, view, UP, 34.0)
    contact = along(centre, turn, radius)
    side = 1.0 if cos(radians(turn)) > 0 else -1.0
    edge = MIDDLE + side * 108.0
    pen.length("height", (edge, FLOOR), (edge, contact[1]))
    if "height" in pen.letters:
        pen.soft(contact, (edge + side * 4.0, contact[1]))


# --- cords and rods ---


def _person(pen: Pen, hand: Point) -> None:
    """Somebody who stands on the ground and holds up a hand."""
    x, y = hand[0] - 12.0, FLOOR
    pen.line((x - 7, y), (x - 4, y - 34), (x + 3, y - 34), (x + 7, y), weight="thin")
    pen.line((x, y - 34), (x, y - 64), weight="thin")
    pen.line((x - 10, y - 40), (x, y - 60), hand, weight="thin")
    pen.arc((x, y - 71), 7.0, weight="thin")
    pen.solid([(LEFT, y), (RIGHT, y)])


def _swung(pen: Pen, view: SketchView, by: str) -> None:
    """A body on a cord all round a circle, from a pin or from a hand."""
    look, turn, radius = LOOKS[view.look], _towards(view), 62.0
    centre = (MIDDLE, HEIGHT / 2 - 10.0)
    pen.path(centre, radius)
    if by == "hand":
        _person(pen, centre)
    else:
        pen.disc(centre, 4.0, filled=True)
    pen.line(centre, along(centre, turn, radius - look.half), weight="thin")
    look.draw(pen, Frame(along(centre, turn, radius), turn + 180.0))
    _marked(pen, view, centre, radius)


def _rod(pen: Pen, view: SketchView, stand: bool) -> None:
    """A body at the end of a rigid rod that turns about a pin."""
    look, turn, radius = LOOKS[view.look], _towards(view), 64.0
    centre = (MIDDLE, HEIGHT / 2 - 10.0)
    pen.path(centre, radius)
    _ground(pen)
    feet = ((MIDDLE - 30.0, FLOOR), (MIDDLE + 30.0, FLOOR)) if stand else ((MIDDLE - 5, FLOOR), (MIDDLE + 5, FLOOR))
    pen.line(feet[0], centre, feet[1], weight="thin")
    near, far = along(centre, turn, 5.0), along(centre, turn, radius - look.half)
    sides = [
        along(each, turn, 0.0, 2.5 * side) for side in (1, -1) for each in ((near, far) if side > 0 else (far, near))
    ]
    pen.shape(sides)
    pen.disc(centre, 5.0)
    look.draw(pen, Frame(along(centre, turn, radius), UP if stand else turn + 180.0))
    _marked(pen, view, centre, radius)


def _swing(pen: Pen, view: SketchView, above: str, released: bool = False) -> None:
    """A body on a cord from something above, with the arc along which it swings."""
    look, turn = LOOKS[view.look], _towards(view)
    pivot = (MIDDLE, 20.0)
    radius = 140.0 - look.half
    _hung_from(pen, pivot, above)
    pen.path(pivot, radius, 228.0, 312.0)
    pen.line(pivot, along(pivot, turn, radius - look.half), weight="thin")
    look.draw(pen, Frame(along(pivot, turn, radius), turn + 180.0))
    if released:
        start = 312.0
        pen.line(pivot, along(pivot, start, radius - look.half), weight="thin", tone="soft", dashes=DASHES)
        look.draw(pen, Frame(along(pivot, start, radius), start + 180.0))
        pen.angle("release-angle", pivot, DOWN, start, 40.0)
    elif view.spot == "angle":
        pen.soft(pivot, along(pivot, DOWN, 0.6 * radius), dashed=True)
        _angle_at(pen, pivot, view, DOWN, 40.0)
    pen.length("radius", pivot, along(pivot, 236.0, radius))


def _hung_from(pen: Pen, pivot: Point, above: str) -> None:
    """What a cord hangs from: a ceiling, a branch, a beam or a scaffold."""
    x, y = pivot
    match above:
        case "branch":
            upper = [(26.0, 18.0), (60.0, 8.0), (120.0, 9.0), (190.0, 12.0), (240.0, 6.0)]
            lower = [(240.0, 10.0), (190.0, 19.0), (120.0, 19.0), (60.0, 19.0), (26.0, 34.0)]
            pen.shape([*upper, *lower])
            for left, top in ((60.0, 24.0), (206.0, 20.0), (226.0, 14.0)):
                pen.arc((left, top + 5.0), 5.0, flat=0.6, weight="thin")
        case "beam":
            pen.box(LEFT, y - 12.0, RIGHT, y)
            pen.soft((LEFT, y - 6.0), (RIGHT, y - 6.0))
        case "scaffold":
            pen.line((LEFT, y), (RIGHT, y))
            pen.line((LEFT, y - 5.0), (RIGHT, y - 5.0), weight="thin")
            for side in (LEFT + 8.0, RIGHT - 8.0):
                pen.line((side, y - 12.0), (side, FLOOR))
            _ground(pen)
        case _:
            pen.solid([(x + 70.0, y), (x - 70.0, y)])


# --- wheels and flight ---


def _wheel(pen: Pen, view: SketchView, kind: str) -> None:
    """A wheel on a stand whose seats stay level; the body is in the one where the diagram has it."""
    look, turn, radius = LOOKS[view.look], _towards(view) % 360.0, 62.0
    centre = (MIDDLE, 82.0)
    for side in (-1.0, 1.0):
        pen.line(centre, (MIDDLE + side * 42.0, FLOOR), weight="thin")
    _ground(pen)
    pen.arc(centre, radius)
    pen.arc(centre, radius - 5.0, weight="thin")
    for spoke in range(8):
        hang = along(centre, 45.0 * spoke, radius)
        pen.soft(along(centre, 45.0 * spoke, 6.0), along(centre, 45.0 * spoke, radius - 5.0))
        _seat(pen, hang, kind)
        if abs(45.0 * spoke - turn) < 1.0:
            look.draw(pen, Frame((hang[0], hang[1] + 9.0 - 0.7 * look.half), scale=0.7))
    pen.disc(centre, 6.0)
    pen.dot(centre)
    pen.length("radius", centre, along(centre, 202.5, radius))
    pen.length("diameter", along(centre, 157.5, radius), along(centre, 337.5, radius))


def _seat(pen: Pen, hang: Point, kind: str) -> None:
    x, y = hang
    if kind == "shelf":
        pen.line((x - 11.0, y + 5.0), (x - 11.0, y + 9.0), (x + 11.0, y + 9.0), (x + 11.0, y + 5.0))
        pen.soft(hang, (x - 11.0, y + 9.0))
        pen.soft(hang, (x + 11.0, y + 9.0))
    else:
        pen.line((x - 10.0, y - 4.0), (x - 8.0, y + 9.0), (x + 8.0, y + 9.0), (x + 10.0, y - 4.0))
    pen.disc(hang, 1.8, filled=True)


def _flown(pen: Pen, view: SketchView) -> None:
    """A loop in the air, high above the ground; the aircraft flies with its top towards the centre."""
    look, turn, radius = LOOKS[view.look], _towards(view), 58.0
    centre = (MIDDLE, 84.0)
    pen.path(centre, radius)
    look.draw(pen, Frame(along(centre, turn, radius), turn + 180.0, scale=0.9))
    pen.line((LEFT, FLOOR), (RIGHT, FLOOR), weight="thin")
    for x in (40.0, 52.0, 206.0):
        pen.soft((x, FLOOR), (x, FLOOR - 5.0))
        pen.arc((x, FLOOR - 9.0), 4.5, weight="thin", tone="soft")
    pen.box(70.0, FLOOR - 8.0, 88.0, FLOOR)
    _marked(pen, view, centre, radius)


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "loop": _loop,
    "flown-loop": _flown,
    "ramp-and-loop": partial(_ramp, kind="table"),
    "ride-ramp-and-loop": partial(_ramp, kind="scaffold"),
    "full-pipe": _full_pipe,
    "half-pipe": _half_pipe,
    "channel": _channel,
    "hump-bridge": partial(_hump, kind="bridge"),
    "hump-grass": partial(_hump, kind="grass"),
    "hump-track": partial(_hump, kind="track"),
    "dip-road": partial(_dip, kind="road"),
    "dip-coaster": partial(_dip, kind="coaster"),
    "dip-track": partial(_dip, kind="track"),
    "dome-bowl": partial(_dome, kind="bowl"),
    "dome-museum": partial(_dome, kind="museum"),
    "dome-observatory": partial(_dome, kind="observatory"),
    "swung-by-hand": partial(_swung, by="hand"),
    "cord-from-a-pin": partial(_swung, by="pin"),
    "rod-on-a-pin": partial(_rod, stand=False),
    "arm-on-an-axle": partial(_rod, stand=True),
    "swing-ceiling": partial(_swing, above="ceiling"),
    "swing-beam": partial(_swing, above="beam"),
    "swing-scaffold": partial(_swing, above="scaffold"),
    "released-branch": partial(_swing, above="branch", released=True),
    "released-ceiling": partial(_swing, above="ceiling", released=True),
    "released-beam": partial(_swing, above="beam", released=True),
    "big-wheel": partial(_wheel, kind="cabin"),
    "wheel-of-shelves": partial(_wheel, kind="shelf"),
}
