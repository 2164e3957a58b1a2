"""The title and the text alternative of a force diagram: what a teacher would say who describes it to a listener.

Directions and names only. No magnitude and no comparison of lengths is told, since a length can give away an answer.
"""

from __future__ import annotations

from functools import lru_cache

from ..item import formula
from ..item.drawing import Disc, Drawing, Mark, Shape, Stroke
from ..writing.view import DiagramView, ForceView
from .labels import labels
from .layout import lay_out
from .lines import DASHES
from .parts import HEAD_HALF, HEIGHT, OPEN_HALF, WIDTH, Arrow, FigureLayout
from .plane import ThickLine, along

COUNTS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine")


def title(view: DiagramView) -> str:
    """``Force diagram of the paper lantern``."""
    return f"Force diagram of {view.body}"


def alternative(view: DiagramView) -> str:
    """All that the diagram shows, in full sentences, in the order forces, lines, angles, acceleration."""
    sentences = (
        f"{title(view)} {view.place}.".replace(" .", "."),
        _forces_told(view),
        _path(view),
        _axes(view),
        _surface(view),
        _angles(view),
        _acceleration_told(view),
    )
    return " ".join(sentence for sentence in sentences if sentence)


def _count(number: int, noun: str) -> str:
    counted = COUNTS[number] if number < len(COUNTS) else "Several"
    return f"{counted} {noun} is" if number == 1 else f"{counted} {noun}s are"


def _forces_told(view: DiagramView) -> str:
    opening = f"{_count(len(view.forces), 'force')} drawn from {view.body}"
    return f"{opening}: {'; '.join(map(_force, view.forces))}." if view.forces else "No force is drawn."


def _force(force: ForceView) -> str:
    parts = (f"the {force.name}", f"marked {formula.spoken(force.label)}", f"by {force.agent}", force.direction_words)
    return ", ".join(part for part in parts if part)


def _path(view: DiagramView) -> str:
    if view.inward is None:
        return ""
    if view.side_view:
        return "A flat dashed ellipse shows the level circle of its path, with a dot at the centre on the upright axis."
    return "A dashed arc shows part of the circle of its path, with a dot at the centre."


def _axes(view: DiagramView) -> str:
    inward, second = view.inward is not None, view.second_axis is not None
    sentences = []
    if inward:
        sentences.append(f"A dashed line shows the inward axis, which points {view.inward_words}.")
    if second:
        name = f", marked {view.second_axis_label}" if view.second_axis_label else ""
        points = f", which points {view.second_axis_words}" if view.second_axis_words else ""
        sentences.append(f"{'Another' if inward else 'A'} dashed line shows the second axis{name}{points}.")
    return " ".join(sentences)


def _surface(view: DiagramView) -> str:
    if view.surface is None:
        return ""
    return f"A light hatched line shows {view.surface_words or 'the surface that the body touches'}."


def _angles(view: DiagramView) -> str:
    if not view.angles:
        return ""
    return f"{_count(len(view.angles), 'angle')} marked: {'; '.join(angle.words for angle in view.angles)}."


def _acceleration_told(view: DiagramView) -> str:
    if view.acceleration is None:
        return ""
    return f"Apart from the forces, an open arrow shows the acceleration, {view.acceleration_words}."


# --- a force diagram as a drawing: forces as bold full arrows, the acceleration as an open one apart from them ---


SHAFT_GAP = 3.5  # of the open arrow, from its middle line to each of its two shafts
BARB = 12.0  # of the open arrow, from its tip back along the shaft
AXIS_DASHES = (7.0, 3.0, 1.5, 3.0)
LEG_DASHES = (3.0, 3.0)


@lru_cache(maxsize=256)  # all questions about one diagram show the same drawings, and laying one out takes long
def draw_diagram(view: DiagramView) -> Drawing:
    """The diagram with its title and text alternative."""
    layout = lay_out(view)
    marks = (*_background(layout), *_forces(layout), *_body(layout), *_acceleration(layout), *labels(view, layout))
    return Drawing(WIDTH, HEIGHT, marks, title(view), alternative(view))


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
