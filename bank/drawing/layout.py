"""Where everything but the labels stands in a force diagram: circle, axes, surface, angles, then the arrows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import accumulate, pairwise
from math import cos, degrees, fsum, inf, radians, sin

from ..item.drawing import Curve
from ..writing.view import DiagramView
from .parts import (
    BODY,
    HEIGHT,
    LONGEST,
    MARGIN,
    OPEN_ARROW,
    OPEN_HALF,
    SHORTEST,
    WIDTH,
    Arrow,
    FigureLayout,
    Point,
    ThickLine,
    along,
    turn,
)

REACH = 118.0  # from the body to the centre of its circle
BEYOND = 14.0  # of the inward axis past the centre
FLAT = 0.33  # height over width of a level circle seen from the side
UPRIGHT = 56.0  # of the axis of a level circle above its centre; three quarters of it below
PATH_HALF = 50.0  # in degrees of the circle each way from the body
HATCH, HATCH_STEP, HATCH_SLANT = 7.0, 10.0, 40.0  # length, distance and slant of the strokes behind a surface
ARC, ARC_STEP, LEG = 28.0, 10.0, 14.0  # angle mark: body's edge to arc, arc to the next, leg past its arc
LABEL_ROOM = 34.0  # beyond a tip that points outward from a level circle
DASHES = (5.0, 4.0)


def with_lines(view: DiagramView, layout: FigureLayout) -> FigureLayout:
    """The layout with all lines of the view, none of which depends on where the body stands on the page."""
    layout = _with_second_axis(view, _with_circle(view, layout))
    return _with_angles(view, _with_surface(view, layout))


# --- the circle -------------------------------------------------------------------------------


def _with_circle(view: DiagramView, layout: FigureLayout) -> FigureLayout:
    if view.inward is None:
        return layout
    reach = _flat_reach(view, layout) if view.side_view else max(REACH, layout.radius + LONGEST + 12.0)
    edge = along(layout.body, view.inward, layout.radius)
    layout = replace(layout, inward=ThickLine(edge, along(layout.body, view.inward, reach + BEYOND)))
    centre = along(layout.body, view.inward, reach)
    if view.side_view:
        return _with_flat_path(view, layout, centre, reach)
    back = view.inward + 180.0
    return replace(layout, path=Curve(*centre, reach, reach, back - PATH_HALF, back + PATH_HALF, dashes=DASHES))


def _with_flat_path(view: DiagramView, layout: FigureLayout, centre: Point, reach: float) -> FigureLayout:
    """The ellipse with its upright axis; only the half next to the body where the page is too narrow for the other."""
    half = 180.0 if 2 * reach <= _beside(view, layout) else 90.0
    back = (view.inward or 0.0) + 180.0
    path = Curve(*centre, reach, FLAT * reach, back - half, back + half, dashes=DASHES)
    top, foot = along(centre, 90.0, UPRIGHT), along(centre, 270.0, 0.75 * UPRIGHT)
    return replace(layout, path=path, upright=ThickLine(foot, top))


def _flat_reach(view: DiagramView, layout: FigureLayout) -> float:
    """The half-width of a level circle that fits beside the arrows and still goes past those towards its centre."""
    inside = max([layout.radius + SHORTEST, *(_onward(view, layout, force.tip) for force in layout.forces)])
    return max(inside + 12.0, min(REACH, _beside(view, layout) / 2))


def _beside(view: DiagramView, layout: FigureLayout) -> float:
    """How much of the page's width is left inward of the body, when all that points outward is on the page."""
    outward = [-_onward(view, layout, force.tip) for force in layout.forces]
    outside = [tip + LABEL_ROOM for tip in outward if tip > layout.radius]
    return WIDTH - 2 * MARGIN - max([layout.radius + MARGIN, *outside])


def _onward(view: DiagramView, layout: FigureLayout, point: Point) -> float:
    """How far a point lies inward of the body of a level circle seen from the side."""
    return (point[0] - layout.body[0]) * (1.0 if cos(radians(view.inward or 0.0)) > 0 else -1.0)


# --- second axis and surface ------------------------------------------------------------------


def _with_second_axis(view: DiagramView, layout: FigureLayout) -> FigureLayout:
    if view.second_axis is None:
        return layout
    beside = [force.length for force in layout.forces if abs(turn(force.direction, view.second_axis)) < 8.0]
    edge = along(layout.body, view.second_axis, layout.radius)
    return replace(layout, second=ThickLine(edge, along(edge, view.second_axis, max([SHORTEST, *beside]) + 18.0)))


def _with_surface(view: DiagramView, layout: FigureLayout) -> FigureLayout:
    if view.surface is None:
        return layout
    normal = side_of_surface(view, view.surface)
    path = layout.path
    if view.inward is not None and path and path.rx == path.ry and abs(sin(radians(normal - view.inward))) < 0.05:
        return _with_track(layout, path, inside=cos(radians(normal - view.inward)) > 0)
    foot = along(layout.body, normal, -layout.radius - 2.0)
    steps = [HATCH_STEP * step for step in range(-5, 6)]
    hatches = tuple(_hatch(along(foot, view.surface, step), normal + 180.0) for step in steps)
    half = steps[-1] + HATCH_STEP / 2
    surface = ThickLine(along(foot, view.surface, -half), along(foot, view.surface, half))
    return replace(layout, surface=surface, hatches=hatches)


def _with_track(layout: FigureLayout, path: Curve, inside: bool) -> FigureLayout:
    """A surface that follows the path, outside of it where the body rides on the inside."""
    radius = path.rx + (layout.radius + 2.0 if inside else -layout.radius - 2.0)
    middle, step = (path.start + path.end) / 2, degrees(HATCH_STEP / radius)
    turns = [middle + step * count for count in range(-6, 7)]
    away = 0.0 if inside else 180.0
    hatches = tuple(_hatch(along((path.cx, path.cy), turn, radius), turn + away) for turn in turns)
    track = Curve(path.cx, path.cy, radius, radius, turns[0] - step / 2, turns[-1] + step / 2)
    return replace(layout, track=track, hatches=hatches)


def _hatch(start: Point, away: float) -> ThickLine:
    return ThickLine(start, along(start, away + HATCH_SLANT, HATCH))


def side_of_surface(view: DiagramView, surface: float) -> float:
    """The direction from a surface to the body: that of a push at a right angle to it, else up, else inward."""
    if view.normal is not None:
        return view.normal

    def fitness(normal: float) -> tuple[bool, float, float]:
        pushed = any(force.verb == "pushes" and abs(turn(force.direction, normal)) < 3.0 for force in view.forces)
        inward = 0.0 if view.inward is None else cos(radians(normal - view.inward))
        return pushed, round(sin(radians(normal)), 3), inward

    return max((surface + 90.0, surface - 90.0), key=fitness)


# --- angles -----------------------------------------------------------------------------------


def _with_angles(view: DiagramView, layout: FigureLayout) -> FigureLayout:
    """Each angle as an arc about the body, with a dashed leg where no arrow or axis lies along it."""
    arcs, legs = [], []
    drawn = [axis for axis in (view.inward, view.second_axis) if axis is not None]
    drawn += [force.direction for force in view.forces]
    for index, angle in enumerate(view.angles):
        radius = layout.radius + ARC + ARC_STEP * index
        sweep = turn(angle.start, angle.end)
        first = (angle.start if sweep > 0 else angle.end) % 360.0
        arcs.append(Curve(*layout.body, radius, radius, first, first + abs(sweep)))
        bare = [leg for leg in (angle.start, angle.end) if all(abs(turn(leg, other)) > 2.0 for other in drawn)]
        drawn += bare
        legs += [
            ThickLine(along(layout.body, leg, layout.radius), along(layout.body, leg, radius + LEG)) for leg in bare
        ]
    return replace(layout, arcs=tuple(arcs), legs=tuple(legs))


# --- how far the arrows of a force diagram step aside, so that those with (nearly) one direction can be told apart ---


SPACING = 17.0  # between two arrows of one direction
APART_AT = 36.0  # from the body's centre: where arrows that part by their directions alone must be SPACING apart


def side_offsets(directions: Sequence[float]) -> tuple[float, ...]:
    """How far each arrow moves to its left, with the least moves in all; zero for arrows that are apart anyway.

    Round the body, each must lie ``SPACING - APART_AT * sin(gap)`` further left than the one before it. Taking the
    sums of these needs away leaves a series that may not fall, and the nearest such series is found by pooling.
    """
    order = _from_widest_gap(directions)
    gaps = [(directions[after] - directions[before]) % 360.0 for before, after in pairwise(order)]
    needs = [SPACING - APART_AT * sin(radians(min(gap, 90.0))) for gap in gaps]
    totals = list(accumulate(needs, initial=0.0))[: len(order)]
    rise = _nearest_rise([-total for total in totals])
    offsets = {index: up + total for index, up, total in zip(order, rise, totals, strict=True)}
    return tuple(offsets[index] for index in range(len(directions)))


def _from_widest_gap(directions: Sequence[float]) -> list[int]:
    """The arrows in order round the body, anticlockwise, beginning after the widest empty angle."""
    order = sorted(range(len(directions)), key=lambda index: (directions[index] % 360.0, index))
    gaps = [(directions[index] - directions[order[place - 1]]) % 360.0 for place, index in enumerate(order)]
    first = gaps.index(max(gaps)) if gaps else 0
    return order[first:] + order[:first]


def _nearest_rise(values: Iterable[float]) -> list[float]:
    """The series that never falls and is nearest to ``values`` in squares: neighbours that fall share their mean."""
    pools: list[list[float]] = []
    for value in values:
        pools.append([value])
        while len(pools) > 1 and _mean(pools[-2]) > _mean(pools[-1]):
            pools[-2:] = [pools[-2] + pools[-1]]
    return [_mean(pool) for pool in pools for _ in pool]


def _mean(pool: Sequence[float]) -> float:
    return fsum(pool) / len(pool)


# --- where the open arrow of the acceleration stands: beside the body, apart from every force ---


ONWARD, ASIDE = 20.0, 54.0  # from the body to the middle of the arrow, where there is room
INWARDS, ONWARDS = 3.0, 0.6  # what a unit nearer to the body's line, or along it, counts; a unit outwards counts one
CLEAR = 9.0  # from anything that it may not touch
LABEL_ROOM, CROWDED = 34.0, 0.8  # wanted between it and a force; what each missing unit counts
CROSSED = 70.0  # what it counts to touch a light line
STEP = 4


def open_arrow(layout: FigureLayout, direction: float) -> Arrow:
    """The best of all places on the page: near the body, off the light lines, with room beside the forces' labels."""
    best, least = _arrow(layout.body, direction, (ONWARD, ASIDE)), inf
    for dislike, shift in _shifts():
        if dislike >= least:
            break
        arrow = _arrow(layout.body, direction, shift)
        in_all = dislike + _crowding(layout, arrow)
        if in_all < least:
            best, least = arrow, in_all
    return best


@cache
def _shifts() -> tuple[tuple[float, Point], ...]:
    """Shifts along and to the left of the acceleration, each with its dislike, the least disliked first."""
    steps = range(-int(WIDTH), int(WIDTH) + 1, STEP)
    shifts = [(ONWARD + onward, float(left)) for onward in steps for left in steps]
    return tuple(sorted((_dislike(onward, abs(left)), (onward, left)) for onward, left in shifts))


def _dislike(onward: float, aside: float) -> float:
    across = INWARDS * (ASIDE - aside) if aside < ASIDE else aside - ASIDE
    return across + ONWARDS * abs(onward - ONWARD)


def _arrow(body: Point, direction: float, shift: Point) -> Arrow:
    return Arrow(along(body, direction, shift[0] - OPEN_ARROW / 2, shift[1]), direction, OPEN_ARROW)


def _crowding(layout: FigureLayout, arrow: Arrow) -> float:
    """What the neighbours of a place add to its dislike; infinite where it touches something or leaves the page."""
    edge = MARGIN + OPEN_HALF
    if not all(edge <= x <= WIDTH - edge and edge <= y <= HEIGHT - edge for x, y in (arrow.tail, arrow.tip)):
        return inf
    own = ThickLine(arrow.tail, arrow.tip, OPEN_HALF)
    middle = along(arrow.tail, arrow.direction, arrow.length / 2)

    def near(lines: Iterable[ThickLine], reach: float) -> Iterator[float]:
        """The gaps to lines that may be nearer than this; the rest is known to be far from the middle of the arrow."""
        most = reach + OPEN_HALF + arrow.length / 2 + 1e-6
        return (own.gap(line) for line in lines if line.gap_to_point(middle) < most)

    if any(gap < CLEAR for gap in near(layout.solid, CLEAR)):
        return inf
    to_force = min(near((line for force in layout.forces for line in force.room), LABEL_ROOM), default=inf)
    crossed = any(gap < CLEAR / 2 for gap in near(layout.light, CLEAR / 2))
    return CROWDED * max(0.0, LABEL_ROOM - to_force) + (CROSSED if crossed else 0.0)


ROOM = (34.0, 24.0)  # for a label beyond a tip, across and up
CENTRE_ROOM = 92.0  # for the words at the centre, where the axis runs level


def lay_out(view: DiagramView) -> FigureLayout:
    """All parts about one body, moved to the middle of the page; the acceleration goes where there is room."""
    sides = side_offsets([force.direction for force in view.forces])
    trial = with_lines(view, _bare(view, sides, (0.0, 0.0)))
    across, up = zip(*_needed(view, trial), strict=True)
    body = WIDTH / 2 - (min(across) + max(across)) / 2, HEIGHT / 2 - (min(up) + max(up)) / 2
    return _with_acceleration(view, with_lines(view, _bare(view, sides, body)))


def _bare(view: DiagramView, sides: tuple[float, ...], body: Point) -> FigureLayout:
    """Body and forces: each tail on the body's edge, stepped aside."""
    radius = max([BODY, *(abs(side) + 4.0 for side in sides)])
    arrows = []
    for force, side in zip(view.forces, sides, strict=True):
        tail = along(body, force.direction, (radius**2 - side**2) ** 0.5, side)
        arrows.append(Arrow(tail, force.direction, max(SHORTEST, LONGEST * min(force.length, 1.0))))
    return FigureLayout(body, radius, tuple(arrows), sides)


def _needed(view: DiagramView, trial: FigureLayout) -> Iterator[Point]:
    """Points that must fit on the page, about a body at the origin."""
    corner = trial.radius + 10.0
    yield from ((-corner, -corner), (corner, corner))
    for x, y in [force.tip for force in trial.forces] + [axis.end for axis in trial.axes]:
        yield x + _sign(x) * ROOM[0], y
        yield x, y + _sign(y) * ROOM[1]
    if view.inward is not None and trial.inward and not view.side_view:
        yield along(trial.inward.end, view.inward, CENTRE_ROOM * cos(radians(view.inward)) ** 2)
    for line in (*trial.light, *trial.solid):
        yield from (line.start, line.end)


def _sign(number: float) -> float:
    """-1, 0 or 1; what is next to nothing counts as zero."""
    return 0.0 if abs(number) < 1.0 else number / abs(number)


def _with_acceleration(view: DiagramView, layout: FigureLayout) -> FigureLayout:
    if view.drawn_acceleration is None:
        return layout
    return replace(layout, acceleration=open_arrow(layout, view.drawn_acceleration))
