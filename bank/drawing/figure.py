"""A force diagram as a drawing: forces as bold full arrows, the acceleration as an open one apart from them."""

from __future__ import annotations

from functools import lru_cache

from ..item.drawing import Disc, Drawing, Mark, Shape, Stroke
from ..writing.figure_words import alternative, description, title
from ..writing.view import DiagramView
from .labels import labels
from .layout import DASHES, lay_out
from .parts import HEAD_HALF, HEIGHT, OPEN_HALF, WIDTH, Arrow, FigureLayout, ThickLine, along

SHAFT_GAP = 3.5  # of the open arrow, from its middle line to each of its two shafts
BARB = 12.0  # of the open arrow, from its tip back along the shaft
AXIS_DASHES = (7.0, 3.0, 1.5, 3.0)
LEG_DASHES = (3.0, 3.0)


@lru_cache(maxsize=1024)  # all questions about one diagram show the same drawings, and laying one out takes long
def draw_diagram(view: DiagramView) -> Drawing:
    """The diagram with its title, text alternative and description."""
    layout = lay_out(view)
    marks = (*_background(layout), *_forces(layout), *_body(layout), *_acceleration(layout), *labels(view, layout))
    return Drawing(WIDTH, HEIGHT, marks, title(view), alternative(view), description(view), "forces")


def _background(layout: FigureLayout) -> list[Mark]:
    marks: list[Mark] = [curve for curve in (layout.path, layout.track, *layout.arcs) if curve]
    marks += [_stroke(line, DASHES) for line in (layout.upright,) if line]
    marks += [_stroke(line) for line in (layout.surface, *layout.hatches) if line]
    marks += [_stroke(axis, AXIS_DASHES) for axis in layout.axes] + [_stroke(leg, LEG_DASHES) for leg in layout.legs]
    if layout.centre:
        marks.append(Disc(*layout.centre, 3.0, tone="soft", filled=True))
    return marks


def _stroke(line: ThickLine, dashes: tuple[float, ...] = ()) -> Stroke:
    return Stroke(*line.start, *line.end, dashes=dashes)


def _forces(layout: FigureLayout) -> list[Mark]:
    marks: list[Mark] = []
    for force in layout.forces:
        neck = along(force.neck, force.direction, 1.0)  # no white hair between shaft and head
        marks.append(Stroke(*force.tail, *neck, weight="bold", tone="ink"))
        barbs = (along(force.neck, force.direction, 0.0, side) for side in (HEAD_HALF, -HEAD_HALF))
        marks.append(Shape((force.tip, *barbs)))
    return marks


def _body(layout: FigureLayout) -> list[Mark]:
    return [Disc(*layout.body, layout.radius)]


def _acceleration(layout: FigureLayout) -> list[Mark]:
    return _open_arrow(layout.acceleration) if layout.acceleration else []


def _open_arrow(arrow: Arrow) -> list[Mark]:
    """Two shafts side by side that run into an open head."""
    meet = arrow.length - BARB * SHAFT_GAP / OPEN_HALF
    marks: list[Mark] = []
    for way in (1, -1):
        start = along(arrow.tail, arrow.direction, 0.0, way * SHAFT_GAP)
        end = along(arrow.tail, arrow.direction, meet, way * SHAFT_GAP)
        barb = along(arrow.tail, arrow.direction, arrow.length - BARB, way * OPEN_HALF)
        marks.append(Stroke(*start, *end, weight="medium", tone="accent"))
        marks.append(Stroke(*barb, *arrow.tip, weight="medium", tone="accent"))
    return marks
