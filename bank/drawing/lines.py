"""The lines of a force diagram about its body: the circle with the axis to its centre, second axis, surface, angles."""

from __future__ import annotations

from dataclasses import replace
from math import cos, degrees, radians, sin

from ..item.drawing import Curve
from ..writing.view import DiagramView
from .parts import LONGEST, MARGIN, SHORTEST, WIDTH, FigureLayout
from .plane import Point, ThickLine, along, turn

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
    normal = _normal(view, view.surface)
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


def _normal(view: DiagramView, surface: float) -> float:
    """The direction from a surface to the body: that of a push at a right angle to it, else up, else inward."""

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
