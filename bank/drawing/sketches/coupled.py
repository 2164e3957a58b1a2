"""Settings of turning bodies that are coupled by belts and chains, or that change what they consist of."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from math import acos, atan2, degrees, hypot

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .looks import LOOKS
from .pen import DASHES, MARGIN, WIDTH, Frame, Pen
from .pieces import CENTRE, disc_aslant, oval, rays, spoked

# --- bodies that are coupled, or change their shape ---


def _ring_on_disc(pen: Pen, view: SketchView) -> None:
    """A level disc on an axle and a ring above it."""
    x, y, ground = CENTRE[0], 122.0, 174.0
    pen.solid([(x - 100, ground), (x + 100, ground)])
    pen.box(x - 6, y + 20, x + 6, ground)
    disc_aslant(pen, (x, y), 96.0, 9.0, 0.28)
    pen.dot((x, y))
    for rope in (-58, 58):
        pen.line((x + rope, 52), (x, MARGIN + 2), weight="thin")
    disc_aslant(pen, (x, 54.0), 60.0, 9.0, 0.28)
    pen.arc((x, 54), 38.0, flat=0.28)
    pen.soft((x, 76), (x, y), dashed=True)


def _clutch(pen: Pen, view: SketchView) -> None:
    """Two wheels on one axle from the side, with a clutch between them."""
    y, ground = 84.0, 172.0
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    pen.line((20, y - 4), (WIDTH - 20, y - 4))
    pen.line((20, y + 4), (WIDTH - 20, y + 4))
    for x in (34, WIDTH - 34):
        pen.shape([(x - 8, y - 12), (x + 8, y - 12), (x + 16, ground), (x - 16, ground)])
    for left, right, half in ((70, 98, 70), (168, 190, 56), (112, 122, 26), (138, 148, 26)):
        pen.box(left, y - half, right, y + half)


def _shrinking(pen: Pen, view: SketchView, kind: str) -> None:
    """What becomes smaller as it turns: the circle at first and that in the end."""
    large, small = 82.0, 56.0
    if kind == "skaters":
        pen.path(CENTRE, large)
        pen.path(CENTRE, small)
        for turn in range(15, 375, 30):
            LOOKS["person-from-above"].draw(pen, Frame(along(CENTRE, turn, large), turn, 0.8))
    else:
        pen.arc(CENTRE, large)
        pen.arc(CENTRE, small, weight="thin", tone="soft", dashes=DASHES)
        if kind == "rods":
            for flat in (0.35, 0.75):
                pen.arc(CENTRE, large, flat=flat, weight="thin")
            pen.line((CENTRE[0], CENTRE[1] - large), (CENTRE[0], MARGIN))
        else:
            rays(pen, CENTRE, large - 2)
        pen.dot(CENTRE)
    pen.length("initial-radius", CENTRE, along(CENTRE, 30, large))
    pen.length("final-radius", CENTRE, along(CENTRE, 180, small))


def _onto_platform(pen: Pen, view: SketchView) -> None:
    """A level disc on its axle; a body comes along a tangent to its rim, in front."""
    x, y, flat, ground = CENTRE[0] + 16, 92.0, 0.36, 174.0
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    pen.box(x - 10, y + 40, x + 10, ground)
    disc_aslant(pen, (x, y), 96.0, 9.0, flat)
    pen.dot((x, y))
    rim = y + 96 * flat
    pen.soft((MARGIN + 8, rim), (x, rim), dashed=True)
    look = LOOKS[view.look]
    look.draw(pen, Frame((34, rim - 1.3 * look.half), scale=1.3))
    pen.length("radius", (x, y), (x + 96, y))


def _rod(pen: Pen, view: SketchView, hold: str) -> None:
    """A rod that hangs by its upper end and is held to one side."""
    hinge, reach, turn = (CENTRE[0] - 30, 30.0), 128.0, 320.0
    if hold == "post":
        pen.solid([(30, 178), (WIDTH - 30, 178)])
        pen.box(hinge[0] - 26, 14, hinge[0] - 14, 178)
        pen.line((hinge[0] - 14, hinge[1]), hinge, weight="medium")
    else:
        pen.solid([(hinge[0] - 60, 14), (hinge[0] + 60, 14)], left=True)
        if hold == "hook":
            pen.line((hinge[0], 14), (hinge[0], 22))
            pen.arc(hinge, 8.0, 90, 360)
        else:
            pen.shape([(hinge[0] - 9, 14), (hinge[0] + 9, 14), hinge])
    end = along(hinge, turn, reach)
    pen.soft(hinge, (hinge[0], hinge[1] + reach + 14), dashed=True)
    pen.arc(hinge, reach, 255, turn, weight="thin", tone="soft", dashes=DASHES)
    half = 5.0
    rod = [along(point, turn, 0, side * half) for point, side in ((hinge, -1), (end, -1), (end, 1), (hinge, 1))]
    pen.shape(rod)
    pen.disc(hinge, 4.0)
    pen.length("length", hinge, end, 20.0)
    pen.angle("angle", hinge, 270.0, turn, 44.0)


def _to_the_middle(pen: Pen, view: SketchView) -> None:
    """A level disc on its axle, with a group and one more body on its rim."""
    x, y, flat, ground = CENTRE[0], 116.0, 0.36, 176.0
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    pen.box(x - 10, 150, x + 10, ground)
    disc_aslant(pen, (x, y), 108.0, 9.0, flat)
    pen.dot((x, y))
    look = LOOKS[view.look]
    single = LOOKS["person"] if view.look == "boxes" else look  # a statue is brought in, not the boxes
    for turn in (78, 60, 42, 180):
        foot = oval((x, y), 98.0, flat, turn, turn + 1)[0]
        look = single if turn == 180 else look
        look.draw(pen, Frame((foot[0], foot[1] - 1.1 * look.half), scale=1.1))
    pen.soft((x - 86, y), (x, y), dashed=True)
    pen.length("radius-of-the-disc", (x, y), (x + 108, y))


# --- belts and chains ---


def _belt(
    pen: Pen, first: Point, one: float, second: Point, two: float, *, flat: float = 1.0, chain: bool = False
) -> None:
    """A belt or chain round two wheels with radii ``one`` and ``two``, the first to the left."""
    far, drop = second[0] - first[0], (second[1] - first[1]) / flat
    way = degrees(atan2(-drop, far))
    turn = degrees(acos((one - two) / hypot(far, drop)))
    loop = [
        *oval(first, one, flat, way + turn, way + 360 - turn),
        *oval(second, two, flat, way - turn, way + turn),
    ]
    pen.line(*loop, loop[0], weight="medium", dashes=(3.0, 2.0) if chain else ())


def _pulley(pen: Pen, centre: Point, radius: float) -> None:
    pen.shape(oval(centre, radius, 1.0))
    pen.disc(centre, 3.5)


def _sanding(pen: Pen, hub: Point, wide: float, bench: float) -> None:
    """A thin disc, and behind it a rest with a piece of wood on it."""
    x, y = hub
    pen.shape([(x - 8, y), (x + 8, y), (x + 26, bench), (x - 26, bench)])
    pen.box(x + 40, y + 14, x + wide + 26, y + 20)
    pen.box(x + wide + 14, y + 20, x + wide + 20, bench)
    pen.box(x + 40, y - 8, x + wide + 24, y + 14)
    for grain in (y - 3, y + 2, y + 7, y + 11):
        pen.soft((x + wide + 2, grain), (x + wide + 24, grain))
    for across, down in ((4, 28), (8, 36), (0, 42), (6, 48), (2, 56), (7, 64), (-2, 70), (4, 78)):
        pen.soft((x + wide + across, y + down), (x + wide + across + 1.8, y + down))
    pen.shape(oval(hub, wide, 1.0))
    pen.arc(hub, wide - 3, weight="thin", tone="soft")


def _grinding(pen: Pen, hub: Point, wide: float, bench: float) -> None:
    """A stone whose foot is in a trough of water, and a tool on a rest at its rim."""
    x, y = hub
    for side in (-1, 1):
        pen.shape([(x + side * 40, y + 44), (x + side * 48, y + 36), (x + side * 74, bench), (x + side * 64, bench)])
    pen.shape(oval(hub, wide, 1.0))
    for row, radius in enumerate((wide - 5, wide - 11, wide - 17)):
        for turn in range(0, 360, 12):
            if row == 0 or 8 < turn < 312:
                grain = along(hub, turn + 4 * row, radius)
                pen.soft(grain, (grain[0] + 1.8, grain[1]))
    trough = [(x - 56, bench - 34), (x + 56, bench - 34), (x + 50, bench), (x - 50, bench)]
    pen.shape(trough)
    for down in (8, 16):
        pen.soft(*((x - 48 + 4 * step, bench - 34 + down + 1.8 * (-1) ** step) for step in range(25)))
    pen.box(x + wide + 1, y - 2, x + wide + 16, y + 3)
    pen.box(x + wide + 11, y + 3, x + wide + 15, bench)
    pen.shape([(x + wide, y - 3), (x + wide + 6, y - 8), (x + wide + 18, y - 8), (x + wide + 18, y - 3)], filled=True)


def _workshop(pen: Pen, view: SketchView, tool: str) -> None:
    """A motor pulley and a belt; the second pulley is on the axle of a sanding disc or a grindstone."""
    first, second, small, large, wide = (52.0, 112.0), (164.0, 82.0), 18.0, 38.0, 66.0
    bench = 172.0
    pen.solid([(MARGIN + 6, bench), (WIDTH - MARGIN - 6, bench)])
    pen.box(first[0] - 30, first[1] - 26, first[0] + 30, first[1] + 30)
    for foot in (first[0] - 20, first[0] + 20):
        pen.shape([(foot - 6, first[1] + 30), (foot + 6, first[1] + 30), (foot + 9, bench), (foot - 9, bench)])
    (_sanding if tool == "sanding-disc" else _grinding)(pen, second, wide, bench)
    for centre, radius in ((first, small), (second, large)):
        _pulley(pen, centre, radius)
    _belt(pen, first, small, second, large)
    pen.length("radius", first, along(first, 180, small), -44.0)
    pen.length("second-radius", second, along(second, 90, large))
    pen.length("outer-radius", second, along(second, 340, wide))


def _wheel_and_pulley(pen: Pen, view: SketchView, tool: str) -> None:
    """A large wheel on a stand, and a belt to the pulley of a fan, a lathe or a spindle."""
    first, second, large, small, ground = (72.0, 90.0), (192.0, 98.0), 54.0, 17.0, 172.0
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    x, y = second
    for side in (-1, 1):
        pen.line(first, (first[0] + side * 34, ground))
        pen.line((x + side * 20, y + 18), (x + side * 30, ground))
    if tool in ("forge", "mill"):
        pen.shape([(x, y - 40), (254, y - 40), (254, y - 16), (x + 36, y - 16)])
        pen.shape(oval(second, 40.0, 1.0))
        for turn in range(0, 360, 45):
            blade = [along(second, turn, small + 2), along(second, turn + 12, 28.0), along(second, turn + 14, 36.0)]
            pen.line(*blade, weight="thin")
    elif tool == "lathe":
        pen.box(x - 36, y + 18, x + 58, y + 26)
        pen.box(x - 26, y - 24, x + 26, y + 18)
    else:
        pen.box(x - 30, y + 18, x + 30, y + 25)
        for side in (-1, 1):
            pen.line((x + side * 24, y + 18), (x + side * 24, y - 24))
    pen.shape(oval(first, large, 1.0))
    pen.arc(first, large - 7)
    for turn in range(0, 360, 45 if tool == "spindle" else 90):
        pen.line(
            along(first, turn + 25, 7),
            along(first, turn + 25, large - 7),
            weight="thin" if tool == "spindle" else "medium",
        )
    pen.disc(first, 7.0)
    if tool == "forge":
        pen.disc(along(first, 205.0, large - 14), 4.5, filled=True)
    elif tool in ("lathe", "spindle"):
        pen.line(along(first, 290.0, 20), (first[0] + 26, ground - 10), (first[0] - 30, ground - 4))
    _pulley(pen, second, small)
    _belt(pen, first, large, second, small)
    pen.length("radius", first, along(first, 70, large))
    pen.length("second-radius", second, along(second, 0, small), -52.0)
    pen.length("first-diameter", along(first, 180, large), along(first, 0, large), 72.0)
    pen.length("second-diameter", along(second, 180, small), along(second, 0, small), 54.0)


def _chain_drive(pen: Pen, view: SketchView) -> None:
    """A bicycle in a stand, its pedals to the left, with chain, two sprockets and rear wheel."""
    first, second, large, small, wide, ground = (70.0, 96.0), (180.0, 84.0), 27.0, 15.0, 74.0, 178.0
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    pen.line((24, ground), (24, 34))
    spoked(pen, second, wide, 6, 0.0)
    saddle = (88.0, 20.0)
    for tube in (
        (first, saddle),
        ((84.0, 36.0), (8.0, 40.0)),
        (first, (8.0, 58.0)),
        (second, (86.0, 30.0)),
        (first, second),
    ):
        pen.line(*tube, weight="medium")
    pen.box(17, 33, 31, 46)
    pen.shape([(66, 18), (74, 13), (100, 10), (106, 14), (106, 19), (86, 22)])
    pen.disc(second, small)
    pen.disc(first, large)
    for centre, radius in ((first, large), (second, small)):
        pen.arc(centre, radius - 4, weight="thin", tone="soft")
        pen.disc(centre, 3.5)
    _belt(pen, first, large, second, small, chain=True)
    for side in (-1, 1):
        pedal = Frame(along(first, 105.0, side * 40.0))
        pen.line(first, pedal.origin)
        pen.line(*pedal.points((-8, 0), (8, 0)), weight="medium")
    pen.length("radius", first, along(first, 180, large), 56.0)
    pen.length("second-radius", second, along(second, 0, small), -44.0)
    pen.length("outer-radius", second, along(second, 90, wide))


def _under_the_stage(pen: Pen, view: SketchView) -> None:
    """A stage on an axle; under it a pulley on the axle, a belt and the pulley of a motor."""
    x, top, level, ground, flat = 152.0, 36.0, 116.0, 176.0, 0.24
    small, large, wide = 17.0, 60.0, 96.0
    first, second = (34.0, level), (x, level)
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    pen.solid([(MARGIN, top + 8), (x - wide - 4, top + 8)])
    pen.box(x - 5, level + 10, x + 5, ground)
    disc_aslant(pen, second, large, 7.0, flat)
    pen.box(first[0] - 18, level + 22, first[0] + 18, ground)
    for rib in (-10, 0, 10):
        pen.soft((first[0] + rib, level + 28), (first[0] + rib, ground - 6))
    pen.box(first[0] - 4, level + 6, first[0] + 4, level + 22)
    disc_aslant(pen, first, small, 7.0, flat)
    _belt(pen, (first[0], level + 3.5), small, (x, level + 3.5), large, flat=flat)
    pen.box(x - 5, top, x + 5, level)
    pen.dot(first)
    disc_aslant(pen, (x, top), wide, 9.0, flat)
    pen.dot((x, top))
    pen.length("radius", first, (first[0] - small, level), -30.0)
    pen.length("second-radius", second, (x + large, level), -40.0)
    pen.length("outer-radius", (x, top), (x - wide, top))


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "ring-above-a-disc": _ring_on_disc,
    "two-wheels-and-a-clutch": _clutch,
    "smaller-ring-of-skaters": partial(_shrinking, kind="skaters"),
    "smaller-sphere-of-rods": partial(_shrinking, kind="rods"),
    "smaller-star": partial(_shrinking, kind="star"),
    "onto-a-disc": _onto_platform,
    "to-the-middle-of-a-disc": _to_the_middle,
    "rod-on-a-hinge": partial(_rod, hold="hinge"),
    "rod-on-a-hook": partial(_rod, hold="hook"),
    "rod-on-a-post": partial(_rod, hold="post"),
    "belt-sanding-disc": partial(_workshop, tool="sanding-disc"),
    "belt-grindstone": partial(_workshop, tool="grindstone"),
    "belt-forge-fan": partial(_wheel_and_pulley, tool="forge"),
    "belt-mill-fan": partial(_wheel_and_pulley, tool="mill"),
    "belt-lathe": partial(_wheel_and_pulley, tool="lathe"),
    "belt-spindle": partial(_wheel_and_pulley, tool="spindle"),
    "chain-drive": _chain_drive,
    "belt-under-stage": _under_the_stage,
}
