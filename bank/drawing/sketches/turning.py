"""Settings of what turns about an axis: wheels, carousels, discs, vehicles and arcs from above."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from math import cos, radians, sin

from ...writing.sketched.view import SketchView
from ..parts import Point, along
from .looks import LOOKS
from .pen import MARGIN, WIDTH, Frame, Pen
from .pieces import CENTRE, FLAT, disc_aslant, oval, smooth, spoked


def _carousel(pen: Pen, view: SketchView, horses: Sequence[float]) -> None:
    """A carousel with a cone for a roof; horses on poles in front of the axis, so that they go across the page."""
    x, floor, roof, flat = CENTRE[0], 130.0, 40.0, 0.3
    disc_aslant(pen, (x, floor), 104.0, 8.0, flat)
    for place in horses:
        pen.path((x, floor), abs(place), flat=flat)
    pen.box(x - 7, roof + 6, x + 7, floor - 3)
    pen.dot((x, floor))
    look, scale = LOOKS[view.look], 1.5
    below = 46.0 if len(horses) > 1 else 0.0  # so that two lines do not look like one
    pen.length("radius", (x, floor), (x - abs(horses[0]), floor), below)
    pen.length("diameter", (x - abs(horses[0]), floor), (x + abs(horses[0]), floor), -46.0)
    if len(horses) > 1:
        pen.length("inner-distance", (x, floor), (x + abs(horses[1]), floor), -below)
    for order, distance in enumerate(map(abs, horses)):
        turn = radians(218.0 + 90.0 * order)
        across, foot = x + distance * cos(turn), floor - distance * flat * sin(turn)
        pen.line((across, roof + 6), (across, foot))
        look.draw(pen, Frame((across, foot - 14 - scale * look.half), scale=scale))
    rim = oval((x, roof), 108.0, 0.15, 180, 360)
    pen.shape([(x, 11.0), *rim])
    for step in range(3, len(rim) - 1, 4):
        pen.soft((x, 11.0), rim[step])
    pen.line((x, 11.0), (x, MARGIN))


def _observation_wheel(pen: Pen, view: SketchView) -> None:
    """A wheel with spokes and cabins on a stand; one cabin is dark."""
    centre, rim = (CENTRE[0], 80.0), 66.0
    x = centre[0]
    pen.line((x - 46, 178), centre, (x + 46, 178))
    pen.solid([(x - 100, 178), (x + 100, 178)])
    for radius in (rim, rim - 6):
        pen.arc(centre, radius)
    for turn in range(0, 360, 45):
        hang = along(centre, turn, rim)
        pen.line(along(centre, turn, 6), hang, weight="thin")
        cabin = Frame((hang[0], hang[1] + 10))
        pen.shape(cabin.points((-9, 4), (0, 9), (9, 4), (9, -3), (6, -8), (-6, -8), (-9, -3)), filled=turn == 135)
        if turn != 135:
            pen.line(*cabin.points((-9, -2), (9, -2)), weight="thin")
        pen.disc(hang, 2.0)
    pen.disc(centre, 6.0)
    pen.dot(centre)
    pen.length("radius", centre, along(centre, 135, rim))
    pen.length("diameter", along(centre, 202.5, rim), along(centre, 22.5, rim))


def _on_wheel(pen: Pen, view: SketchView, hub: Point, radius: float, turn: float) -> Point:
    """The body on a tyre; returns its middle."""
    look = LOOKS[view.look]
    middle = along(hub, turn, radius - 2)
    look.draw(pen, Frame(middle, turn))
    return middle


def _wheel_in_stand(pen: Pen, view: SketchView) -> None:
    hub, radius = (CENTRE[0], 84.0), 74.0
    x, y = hub
    pen.solid([(x - 100, 176), (x + 100, 176)])
    for side in (-1, 1):
        pen.line((x + side * 40, 176), (x + side * 5, y + 14), hub)
    spoked(pen, hub, radius, 8, 22.5)
    body = _on_wheel(pen, view, hub, radius, 135.0)
    pen.length("radius", hub, body)
    pen.length("diameter", along(hub, 180, radius), along(hub, 0, radius))


def _upside_down(pen: Pen, view: SketchView, wheel: str) -> None:
    """A bicycle on its saddle and handlebar, its front wheel to the left; the body is on a tyre, at the top."""
    radius, ground, bicycle = 46.0, 172.0, Frame((72.0 if wheel == "front" else 53.0, 62.0))
    front, rear, crank, seat, head = bicycle.points((0, 0), (130, 0), (74, -4), (90, -70), (26, -64))
    turning, other = (front, rear) if wheel == "front" else (rear, front)
    pen.solid([(20, ground), (WIDTH - 20, ground)])
    spoked(pen, turning, radius, 6, 30.0)
    pen.arc(other, radius)
    pen.arc(other, radius - 5)
    pen.dot(other)
    for line in (((74, 5), (130, 3)), ((74, -13), (130, -3))):
        pen.line(*bicycle.points(*line), weight="thin")
    pen.line(front, *bicycle.points((19, -46)), head, weight="medium")
    pen.line(head, *bicycle.points((33, -88), (14, -106), (4, -106)))
    for tube in ((crank, bicycle.at(22, -54)), (crank, seat), (seat, head), (crank, rear), (rear, bicycle.at(87, -58))):
        pen.line(*tube, weight="medium")
    pen.line(seat, bicycle.at(95, -96), weight="medium")
    pen.shape(bicycle.points((76, -101), (82, -96), (116, -94), (117, -108), (98, -107)))
    pen.disc(crank, 9.0)
    pen.dot(crank)
    for side in (-1, 1):
        pedal = Frame(along(crank, 60.0, side * 22.0))
        pen.line(crank, pedal.origin)
        pen.line(*pedal.points((-6, 0), (6, 0)))
    body = _on_wheel(pen, view, turning, radius, 90.0)
    pen.length("radius", turning, body, -(radius + 5))
    if wheel == "front":
        inner = along(turning, 270.0, 26.0)
        pen.shape(Frame(inner).points((-3.5, -5), (3.5, -5), (3.5, 5), (-3.5, 5)))
        pen.length("inner-distance", turning, inner, -(radius + 6))


def _stage(pen: Pen, view: SketchView, places: Sequence[tuple[str, float]]) -> None:
    """A revolving stage between curtains; things stand at distances left (negative) and right of the axis."""
    x, floor = CENTRE[0], 132.0
    pen.line((MARGIN, 96), (WIDTH - MARGIN, 96), weight="thin", tone="soft")
    for side in (-1, 1):
        edge = x + side * 122
        pen.shape([(edge, 14), (edge - side * 34, 14), (edge - side * 27, 50), (edge - side * 20, 118), (edge, 118)])
        for fold in (8, 16, 24):
            pen.soft((edge - side * fold, 14), (edge - side * fold * 0.62, 118))
    pen.box(x - 124, MARGIN + 2, x + 124, 18)
    disc_aslant(pen, (x, floor), 100.0, 9.0)
    for _, place in places:
        pen.path((x, floor), abs(place), flat=FLAT)
    pen.dot((x, floor))
    for name, place in places:
        look = LOOKS[name]
        look.draw(pen, Frame((x + place, floor - 1.6 * look.half), scale=1.6, mirrored=place > 0))
    pen.length("radius", (x, floor), (x + places[0][1], floor))
    if len(places) > 1:
        pen.length("inner-distance", (x, floor), (x + places[1][1], floor))


def _two_on_stage(pen: Pen, view: SketchView) -> None:
    _stage(pen, view, ((view.look, -84.0), ("chair", 46.0)))


def _motor_disc(pen: Pen, view: SketchView) -> None:
    """A disc on the shaft of a motor."""
    x, top = CENTRE[0], 60.0
    pen.box(x - 40, 112, x + 40, 164)
    for rib in range(-28, 36, 14):
        pen.soft((x + rib, 120), (x + rib, 156))
    pen.box(x - 52, 164, x + 52, 174)
    pen.solid([(x - 100, 174), (x + 100, 174)])
    pen.box(x - 5, 70, x + 5, 112)
    disc_aslant(pen, (x, top), 104.0, 8.0, 0.28)
    pen.path((x, top), 82.0, flat=0.28)
    LOOKS[view.look].draw(pen, Frame((x - 82.0, top)))
    pen.length("radius", (x, top), (x - 82.0, top))
    pen.length("diameter", (x - 82.0, top), (x + 82.0, top), 42.0)


def _rink(pen: Pen, view: SketchView) -> None:
    """A skater on a circle on the ice, within the boards of a rink."""
    x, y = CENTRE[0], 116.0
    pen.arc((x, y), 122.0, flat=0.5)
    pen.arc((x, y - 10), 122.0, 0, 180, flat=0.5)
    for post in range(0, 190, 15):
        foot = oval((x, y), 122.0, 0.5, post, post + 1)[0]
        pen.line(foot, (foot[0], foot[1] - 10), weight="thin")
    pen.path((x, y), 84.0, flat=FLAT)
    for left, right, down in ((10, 34, 30), (-30, -12, 38), (30, 48, -24)):
        pen.soft((x + left, y + down), (x + right, y + down - 3))
    look = LOOKS[view.look]
    look.draw(pen, Frame((x - 84, y - 1.5 * look.half), scale=1.5))
    pen.length("radius", (x, y), (x - 84, y))


def _ring_track(pen: Pen, view: SketchView) -> None:
    """A level, circular track and a cyclist on it, from ahead."""
    x, y = CENTRE[0], 118.0
    for radius in (118.0, 78.0):
        pen.arc((x, y), radius, flat=0.42)
    pen.path((x, y), 98.0, flat=0.42)
    look = LOOKS[view.look]
    look.draw(pen, Frame((x - 98, y - 1.7 * look.half + 3), scale=1.7))
    pen.length("radius", (x, y), (x - 98, y))


# --- what turns by itself ---


def _blade(pen: Pen, hub: Point, turn: float, reach: float, half: float) -> None:
    blade = Frame(hub, turn)
    pen.shape(
        blade.points((-2, 4), (-half, reach * 0.28), (-1, reach), (1.5, reach), (half * 0.5, reach * 0.28), (2, 4))
    )


def _wind_turbine(pen: Pen, view: SketchView) -> None:
    hub, reach, ground = (CENTRE[0], 76.0), 64.0, 178.0
    x, y = hub
    pen.solid([(x - 90, ground), (x + 90, ground)])
    pen.shape([(x - 3, y), (x + 3, y), (x + 7, ground), (x - 7, ground)])
    pen.path(hub, reach)
    for turn in (75, 195, 315):
        _blade(pen, hub, turn, reach, 6.0)
    pen.disc(hub, 5.0)
    pen.length("radius", hub, along(hub, 195, reach), 14.0)


def _propeller(pen: Pen, view: SketchView) -> None:
    """A light aircraft from ahead."""
    hub, reach, ground = (CENTRE[0], 84.0), 62.0, 176.0
    x, y = hub
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    for side in (-1, 1):
        pen.shape([(x + side * 22, y + 8), (x + side * 118, y - 4), (x + side * 118, y - 8), (x + side * 22, y - 4)])
        pen.line((x + side * 14, y + 22), (x + side * 44, ground - 14))
        pen.box(x + side * 46 - 5, ground - 24, x + side * 46 + 5, ground)
    pen.disc(hub, 28.0)
    pen.shape([(x - 20, y - 20), (x - 15, y - 38), (x + 15, y - 38), (x + 20, y - 20)])
    pen.path(hub, reach)
    for turn in (60, 240):
        _blade(pen, hub, turn, reach, 7.0)
    pen.disc(hub, 7.0)
    pen.length("radius", hub, along(hub, 60, reach), -14.0)


def _ceiling_fan(pen: Pen, view: SketchView) -> None:
    x, y = CENTRE[0], 104.0
    pen.solid([(x - 100, 24), (x + 100, 24)], left=True)
    pen.shape([(x - 12, 24), (x + 12, 24), (x + 6, 34), (x - 6, 34)])
    pen.line((x, 34), (x, y - 8))
    for turn in (20, 110, 200, 290):
        near, far = oval((x, y), 24.0, 0.3, turn - 14, turn + 14), oval((x, y), 108.0, 0.3, turn - 8, turn + 8)
        pen.shape([near[0], *far, near[-1]])
    pen.box(x - 22, y - 10, x + 22, y + 8)
    pen.shape(oval((x, y + 8), 22.0, 0.4, 180, 360))


def _potters_wheel(pen: Pen, view: SketchView) -> None:
    x, top, ground = CENTRE[0], 86.0, 174.0
    pen.solid([(x - 100, ground), (x + 100, ground)])
    pen.box(x - 5, top + 10, x + 5, ground)
    disc_aslant(pen, (x, 146.0), 74.0, 9.0, 0.18)
    pen.box(x - 5, top + 10, x + 5, 146)
    disc_aslant(pen, (x, top), 56.0, 7.0, 0.22)
    bowl = [(-14, 2), (-24, 20), (-26, 44), (26, 44), (24, 20), (14, 2)]
    pen.shape(Frame((x, top)).points(*bowl))
    pen.shape(oval((x, top - 44), 26.0, 0.25))


def _bench_centrifuge(pen: Pen, view: SketchView) -> None:
    """An open bench centrifuge with the holes of its rotor."""
    x, y, ground = CENTRE[0], 104.0, 176.0
    pen.solid([(x - 110, ground), (x + 110, ground)])
    pen.shape([(x - 84, y - 20), (x + 84, y - 20), (x + 78, 20), (x - 78, 20)])
    pen.box(x - 92, y - 20, x + 92, ground)
    pen.shape(oval((x, y + 14), 80.0, 0.36))
    pen.arc((x, y + 14), 66.0, flat=0.36)
    for hole in oval((x, y + 14), 48.0, 0.36, 22.5, 337.5)[::5]:
        pen.arc(hole, 6.0, flat=0.5, weight="thin")
    pen.disc((x, y + 14), 5.0)
    pen.box(x + 50, 152, x + 80, 166)


def _bench_grinder(pen: Pen, view: SketchView) -> None:
    hub, ground = (CENTRE[0], 84.0), 174.0
    x, y = hub
    pen.solid([(x - 100, ground), (x + 100, ground)])
    pen.shape([(x - 18, y), (x + 18, y), (x + 40, ground), (x - 40, ground)])
    pen.shape(oval(hub, 60.0, 1.0))
    for turn in range(0, 360, 15):
        grain = along(hub, turn, 54.0)
        pen.soft(grain, (grain[0] + 1.6, grain[1]))
    pen.arc(hub, 68.0, 20, 200)
    for turn in (20, 200):
        pen.line(along(hub, turn, 60), along(hub, turn, 68))
    pen.box(x + 63, y + 6, x + 92, y + 12)
    pen.disc(hub, 14.0)
    pen.disc(hub, 4.0)


def _washing_drum(pen: Pen, view: SketchView) -> None:
    x, y = CENTRE[0], 104.0
    pen.box(x - 76, 10, x + 76, 184)
    pen.line((x - 76, 32), (x + 76, 32))
    pen.box(x - 66, 16, x - 26, 26)
    pen.arc((x + 56, 21), 6.0, weight="thin")
    pen.arc((x, y), 68.0)
    pen.arc((x, y), 61.0)
    for ring in (24.0, 40.0):
        for turn in range(0, 360, 30):
            pen.arc(along((x, y), turn + ring, ring), 1.5, weight="thin", tone="soft")
    pen.dot((x, y))
    sock = Frame(along((x, y), 225.0, 52.0), 45.0)
    pen.shape(sock.points((-9, -6), (-2, -9), (9, -6), (8, 0), (2, -1), (0, 10), (-7, 9)))
    pen.length("radius", (x, y), along((x, y), 225.0, 52.0))


def _exercise_bicycle(pen: Pen, view: SketchView) -> None:
    hub, crank, ground, wheel = (84.0, 116.0), (166.0, 122.0), 174.0, 50.0
    pen.solid([(20, ground), (WIDTH - 20, ground)])
    for tube in (
        (hub, (96, 30)),
        (crank, (194, 44)),
        (hub, crank),
        ((88, 88), crank),
        ((60, ground), hub),
        (crank, (206, ground)),
    ):
        pen.line(*tube, weight="medium")
    pen.line((96, 30), (74, 22), (66, 30))
    pen.shape([(178, 40), (184, 34), (214, 34), (216, 42), (200, 44)])
    pen.shape(oval(hub, wheel, 1.0))
    pen.arc(hub, wheel - 9)
    pen.disc(hub, 5.0)
    pen.disc(crank, 15.0)
    for side in (-1, 1):
        pedal = Frame(along(crank, 60.0, side * 26.0))
        pen.line(crank, pedal.origin)
        pen.line(*pedal.points((-7, 0), (7, 0)), weight="medium")
    sticker = along(hub, 150.0, wheel - 4.5)
    pen.shape(Frame(sticker, 150.0).points((-4, -3), (4, -3), (4, 3), (-4, 3)), filled=True)
    pen.length("radius", hub, sticker)


def _roundabout(pen: Pen, view: SketchView) -> None:
    """A roundabout of a playground, with rails; a rucksack lies on it."""
    x, y, flat = CENTRE[0], 118.0, 0.34
    pen.solid([(MARGIN + 6, 174), (WIDTH - MARGIN - 6, 174)])
    pen.box(x - 10, 150, x + 10, 174)
    disc_aslant(pen, (x, y), 108.0, 9.0, flat)
    pen.path((x, y), 80.0, flat=flat)
    for turn in (40, 140, 320):
        foot, inner = oval((x, y), 98.0, flat, turn, turn + 1)[0], oval((x, y), 34.0, flat, turn, turn + 1)[0]
        pen.line(foot, (foot[0], foot[1] - 34), (inner[0], inner[1] - 34), inner)
    pack = Frame((x - 80, y - 12))
    pen.shape(pack.points((-12, -12), (-13, 6), (-8, 14), (8, 14), (13, 6), (12, -12)))
    pen.line(*pack.points((-8, -8), (-8, 0), (8, 0), (8, -8)), weight="thin")
    pen.length("radius", (x, y), (x - 80, y))


def _record_turntable(pen: Pen, view: SketchView) -> None:
    x, y, flat = CENTRE[0] - 14, 92.0, 0.42
    pen.shape([(24, 130), (46, 44), (WIDTH - 46, 44), (WIDTH - 24, 130)])
    pen.box(24, 130, WIDTH - 24, 154)
    for foot in (50, WIDTH - 50):
        pen.box(foot - 10, 154, foot + 10, 162)
    pen.shape(oval((x, y), 80.0, flat))
    pen.arc((x, y), 28.0, flat=flat, weight="thin", tone="soft")
    pen.path((x, y), 62.0, flat=flat)
    pen.line((206, 58), (200, 96), (172, 106))
    pen.disc((206, 58), 6.0)
    LOOKS["paint-spot"].draw(pen, Frame((x - 62, y)))
    pen.length("radius", (x, y), (x - 62, y))


def _rolling(pen: Pen, view: SketchView, kind: str) -> None:
    """A wheel on the ground or on a rail."""
    hub, radius = (CENTRE[0], 90.0), 74.0
    x, y = hub
    pen.solid([(MARGIN + 10, y + radius), (WIDTH - MARGIN - 10, y + radius)])
    if kind == "bicycle":
        for side in (-1, 1):
            pen.line((x + side * 4, y), (x + 24 + side * 4, 10))
        spoked(pen, hub, radius, 8, 22.5)
    elif kind == "handle":
        spoked(pen, hub, radius, 8, 22.5)
        pen.line(hub, (x + 92, 14), weight="medium")
        pen.line((x + 84, 8), (x + 102, 20), weight="medium")
        pen.box(x + 40, y - 52, x + 58, y - 36)
    elif kind == "lorry":
        pen.arc(hub, radius)
        pen.arc(hub, 44.0)
        for turn in range(0, 360, 12):
            pen.soft(along(hub, turn, radius - 6), along(hub, turn, radius))
        for turn in range(0, 360, 60):
            pen.arc(along(hub, turn + 30, 27.0), 3.5, weight="thin")
        pen.arc(hub, 14.0)
        pen.line((x - 92, y - 30), (x - 82, y - 60), (x - 50, 10))
        pen.line((x + 92, y - 30), (x + 82, y - 60), (x + 50, 10))
        pen.dot(hub)
    else:
        pen.arc(hub, radius)
        pen.arc(hub, radius - 12)
        pen.arc(hub, 12.0)
        pen.line((MARGIN + 10, y + radius + 6), (WIDTH - MARGIN - 10, y + radius + 6), weight="thin")
        pen.box(x - 92, 8, x + 92, 22)
        for side in (-1, 1):
            pen.line((x + side * 26, 22), (x + side * 26, y - 16))
        pen.box(x - 40, y - 16, x + 40, y - 9)
        pen.dot(hub)
    pen.length("radius", hub, along(hub, 205, radius))
    pen.length("diameter", along(hub, 180, radius), along(hub, 0, radius))


def _vehicle(pen: Pen, view: SketchView, kind: str) -> None:
    """A vehicle from the side, with its wheels."""
    ground = 158.0
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    if kind == "car":
        wheels, size = ((76.0, 186.0)), 24.0
        body = [(20, 138), (22, 104), (66, 92), (96, 58), (168, 58), (196, 94), (236, 102), (240, 138)]
        pen.shape(body)
        pen.shape([(78, 92), (100, 66), (128, 66), (128, 92)])
        pen.shape([(136, 92), (136, 66), (164, 66), (184, 92)])
        pen.line((132, 98), (132, 138), weight="thin")
    elif kind == "tram":
        wheels, size = ((66.0, 194.0)), 17.0
        pen.shape([(14, 144), (14, 58), (24, 46), (236, 46), (246, 58), (246, 144)])
        for left in (24, 66, 148, 190):
            pen.box(left, 60, left + 34, 92)
        pen.box(108, 60, 140, 138)
        pen.line((124, 60), (124, 138), weight="thin")
        pen.line((110, 46), (140, 28), (116, 16), (150, 16))
        pen.line((MARGIN, 14), (WIDTH - MARGIN, 14), weight="thin", tone="soft")
    elif kind == "aircraft":
        wheels, size = ((92.0, 136.0)), 14.0
        hull = [
            (52, 92),
            (60, 82),
            (94, 78),
            (108, 58),
            (152, 58),
            (172, 80),
            (228, 86),
            (238, 52),
            (252, 52),
            (252, 94),
            (176, 112),
        ]
        pen.shape([*hull, (70, 114), (54, 106)])
        pen.shape([(106, 76), (114, 64), (128, 64), (128, 76)])
        pen.shape([(134, 76), (134, 64), (150, 64), (160, 76)])
        pen.shape([(100, 98), (172, 98), (166, 104), (104, 104)])
        pen.line((48, 70), (48, 122), weight="medium")
        pen.line((52, 98), (46, 98))
        for x, foot in ((80, 92), (134, 136)):
            pen.line((x, 113), (foot, ground - 14))
    else:
        wheels, size = ((72.0, 190.0)), 42.0
        hub = ground - size
        rear, front, crank, seat, head = (72, hub), (190, hub), (122, hub + 4), (108, 66), (172, 66)
        for tube in ((rear, crank), (rear, seat), (crank, seat), (seat, head), (crank, (174, 74)), (front, head)):
            pen.line(*tube, weight="medium")
        pen.line(seat, (105, 54), weight="medium")
        pen.shape([(90, 50), (120, 48), (120, 54), (94, 56)])
        pen.line(head, (169, 50), (188, 44), (194, 54))
        pen.disc(crank, 9.0)
        for side in (-1, 1):
            pedal = Frame(along(crank, 115.0, side * 20.0))
            pen.line(crank, pedal.origin)
            pen.line(*pedal.points((-6, 0), (6, 0)))
    for wheel in wheels:
        hub_point = (wheel, ground - size)
        if kind == "bicycle":
            spoked(pen, hub_point, size, 6, 30.0)
        else:
            pen.shape(oval(hub_point, size, 1.0))
            pen.arc(hub_point, size * 0.55, weight="thin")
            pen.dot(hub_point)
    first = (wheels[0], ground - size)
    pen.length("radius", first, (first[0], ground), -(size + 10))
    pen.length("diameter", (wheels[1], ground), (wheels[1], ground - 2 * size), -(WIDTH - 12 - wheels[1]))


def _two_on_a_circle(pen: Pen, view: SketchView, place: str) -> None:
    """Two bodies side by side at the left of a level circle, at what they start from."""
    x, y, flat, size = CENTRE[0] + 10, 112.0, 0.42, 92.0
    wide = 14.0 if place in ("path", "lake") else 0.0
    if place == "path":
        for edge in (size - wide, size + wide):
            pen.arc((x, y), edge, flat=flat)
    elif place == "ice":
        pen.arc((x, y), 114.0, flat=0.5)
        pen.arc((x, y - 10), 114.0, 0, 180, flat=0.5)
        for post in range(0, 190, 15):
            foot = oval((x, y), 114.0, 0.5, post, post + 1)[0]
            pen.line(foot, (foot[0], foot[1] - 10), weight="thin")
    elif place == "ring":
        for post in range(0, 360, 20):
            foot = oval((x, y), 114.0, 0.5, post, post + 1)[0]
            pen.line(foot, (foot[0], foot[1] - 12), weight="thin")
        pen.arc((x, y - 12), 114.0, flat=0.5)
    elif place in ("lake", "island"):
        for left, down in ((-58, 46), (20, 52), (64, -42), (-30, -46), (36, 24)):
            wave = Frame((x + left, y + down))
            pen.soft(*wave.points((-9, 0), (-5, 2), (0, 0), (5, 2), (9, 0)))
        if place == "island":
            pen.shape(smooth([(x - 40, y + 4), (x - 20, y - 12), (x + 14, y - 14), (x + 42, y - 2), (x + 20, y + 14)]))
    pen.path((x, y), size, flat=flat)
    if place == "lake":
        pen.shape([(x - 5, y), (x + 5, y), (x + 2, y - 16), (x - 2, y - 16)])
    look = LOOKS[view.look]
    scale = 1.2
    for turn, out in ((157, 7.0), (203, -7.0)):
        foot = oval((x, y), size + out, flat, turn, turn + 1)[0]
        look.draw(pen, Frame((foot[0], foot[1] - scale * look.half), scale=scale, mirrored=turn > 180))
    pen.length("radius", (x, y), (x + size, y))
    pen.length("diameter", (x - size, y), (x + size, y), -64.0)


def _arc_from_above(pen: Pen, view: SketchView, way: str) -> None:
    """A part of a circle from above, its centre below and the body in the middle of the arc."""
    centre, size, half = (CENTRE[0], 176.0), 132.0, 38.0
    start, end = 90 - half, 90 + half
    if way == "rails":
        for sleeper in range(53, 130, 4):
            pen.soft(along(centre, sleeper, size - 9), along(centre, sleeper, size + 9))
    for edge in {"rails": (-5.0, 5.0), "lanes": (-18.0, -6.0, 6.0, 18.0), "road": (-14.0, 14.0)}.get(way, ()):
        pen.arc(centre, size + edge, start, end)
    for turn in (start, end):
        pen.soft(centre, along(centre, turn, size))
    pen.path(centre, size, start, end)
    body = along(centre, 90.0, size)
    if way == "crane":
        for side in (-5.0, 5.0):
            pen.line(along(centre, 90, 0, side), along(body, 90, 8, side))
        rungs = [along(centre, 90, 6 + 12 * step, 5.0 if step % 2 else -5.0) for step in range(12)]
        pen.line(*rungs, weight="thin", tone="soft")
        pen.box(centre[0] - 9, centre[1] - 9, centre[0] + 9, centre[1] + 7)
    elif way == "line":
        pen.line(centre, along(body, 270, 8), weight="thin")
    elif way == "tower":
        pen.box(centre[0] - 10, centre[1] - 10, centre[0] + 10, centre[1] + 8)
        pen.line((centre[0] - 10, centre[1] - 10), (centre[0] + 10, centre[1] + 8), weight="thin")
        pen.line((centre[0] - 10, centre[1] + 8), (centre[0] + 10, centre[1] - 10), weight="thin")
    LOOKS[view.look].draw(pen, Frame(body))
    pen.length("radius", centre, along(centre, end, size))
    pen.length("displacement", along(centre, end, size), along(centre, start, size))
    pen.angle("angle-turned", centre, start, 90.0 + half, 34.0)


def _hammer(pen: Pen, view: SketchView) -> None:
    """A thrower in a ring with a hammer on its wire, seen aslant."""
    x, y, flat, reach = CENTRE[0], 112.0, FLAT, 100.0
    pen.arc((x, y + 34), 52.0, flat=FLAT)
    pen.path((x, y), reach, flat=flat)
    LOOKS["person"].draw(pen, Frame((x, y + 8), scale=1.8))
    pen.line((x - 5, y), (x - reach + 8, y), weight="thin")
    pen.disc((x - reach, y), 8.0)
    pen.length("radius", (x, y), (x + reach, y))


def _gondola(pen: Pen, view: SketchView) -> None:
    """A gondola at the end of a long arm that turns on a column, seen aslant."""
    x, y, ground, reach = CENTRE[0] + 20, 84.0, 174.0, 100.0
    pen.solid([(MARGIN + 6, ground), (WIDTH - MARGIN - 6, ground)])
    pen.shape([(x - 9, y), (x + 9, y), (x + 20, ground), (x - 20, ground)])
    pen.path((x, y), reach, flat=FLAT)
    pen.shape([(x - reach, y - 4), (x + 34, y - 7), (x + 34, y + 7), (x - reach, y + 4)])
    pen.box(x + 30, y - 12, x + 48, y + 12)
    pen.dot((x, y))
    pen.shape([(x - reach - 24, y + 2), (x - reach + 24, y + 2), (x - reach + 18, y + 22), (x - reach - 18, y + 22)])
    for seat in (-8, 8):
        pen.disc((x - reach + seat, y - 4), 4.0)
    pen.length("radius", (x, y), (x - reach, y), 34.0)


SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    "wind-turbine": _wind_turbine,
    "aircraft-propeller": _propeller,
    "ceiling-fan": _ceiling_fan,
    "potters-wheel": _potters_wheel,
    "bench-centrifuge": _bench_centrifuge,
    "bench-grinder": _bench_grinder,
    "washing-drum": _washing_drum,
    "exercise-bicycle": _exercise_bicycle,
    "roundabout-rucksack": _roundabout,
    "record-turntable": _record_turntable,
    "rolling-bicycle-wheel": partial(_rolling, kind="bicycle"),
    "rolling-measuring-wheel": partial(_rolling, kind="handle"),
    "rolling-lorry-wheel": partial(_rolling, kind="lorry"),
    "rolling-rail-wheel": partial(_rolling, kind="rail"),
    "car-on-the-level": partial(_vehicle, kind="car"),
    "tram-on-the-level": partial(_vehicle, kind="tram"),
    "aircraft-on-the-level": partial(_vehicle, kind="aircraft"),
    "bicycle-on-the-level": partial(_vehicle, kind="bicycle"),
    "two-on-a-circle-path": partial(_two_on_a_circle, place="path"),
    "two-on-a-circle-ice": partial(_two_on_a_circle, place="ice"),
    "two-on-a-circle-ring": partial(_two_on_a_circle, place="ring"),
    "two-on-a-circle-lake": partial(_two_on_a_circle, place="lake"),
    "two-on-a-circle-island": partial(_two_on_a_circle, place="island"),
    "two-on-a-circle-floor": partial(_two_on_a_circle, place="floor"),
    "stage-lamp": partial(_stage, places=(("lamp", -84.0),)),
    "arc-rails": partial(_arc_from_above, way="rails"),
    "arc-lanes": partial(_arc_from_above, way="lanes"),
    "arc-road": partial(_arc_from_above, way="road"),
    "arc-crane": partial(_arc_from_above, way="crane"),
    "arc-line": partial(_arc_from_above, way="line"),
    "arc-tower": partial(_arc_from_above, way="tower"),
    "arc-ice": partial(_arc_from_above, way="ice"),
    "arc-water": partial(_arc_from_above, way="water"),
    "hammer-on-a-wire": _hammer,
    "gondola-on-an-arm": _gondola,
    "carousel-horse": partial(_carousel, horses=(-84.0,)),
    "carousel-horses": partial(_carousel, horses=(-84.0, 48.0)),
    "observation-wheel": _observation_wheel,
    "wheel-in-stand": _wheel_in_stand,
    "motor-disc": _motor_disc,
    "front-wheel-up": partial(_upside_down, wheel="front"),
    "rear-wheel-up": partial(_upside_down, wheel="rear"),
    "stage-lamp-chair": _two_on_stage,
    "ice-circle": _rink,
    "cycle-ring": _ring_track,
}
