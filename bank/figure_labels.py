"""The labels of a force diagram, each with the places where a reader would look for it."""

from __future__ import annotations

from turnwright.bank import formula
from turnwright.bank.drawing import Curve, Label
from turnwright.bank.figure_parts import HEAD_HALF, HEIGHT, MARGIN, OPEN_HALF, WIDTH, Arrow, Layout
from turnwright.bank.label_placement import PAD, Spot, Wish, extent, place
from turnwright.bank.plane import Box, Line, Point, along
from turnwright.bank.view import DiagramView

SYMBOL, WORDS = 17.0, 14.0  # heights of type
GAP = 3.0 + PAD
CENTRE_WORDS = "to the centre"
TO_LEFT, TO_RIGHT = 90.0, -90.0


def labels(view: DiagramView, layout: Layout) -> list[Label]:
    """The labels of forces, acceleration, angles and axes, on places where they touch nothing."""
    wishes = [*_forces(view, layout), *_acceleration(layout), *_angles(view, layout), *_axes(view, layout)]
    solid = layout.solid
    if layout.acceleration:
        solid += (_open_line(layout.acceleration),)
    return place(wishes, solid, layout.light, Box(WIDTH / 2, HEIGHT / 2, WIDTH - 2 * MARGIN, HEIGHT - 2 * MARGIN))


class _Places:
    """Centres for one text, as near to a point or to a line as the text allows."""

    def __init__(self, content: formula.Node | str, size: float) -> None:
        width, height = extent(content, size)
        self.half = width / 2, height / 2

    def past(self, point: Point, direction: float, gap: float = GAP) -> Point:
        """The centre in this direction from a point that leaves ``gap`` across or up between point and text."""
        across, up = (max(abs(part), 1e-6) for part in along((0.0, 0.0), direction, 1.0))
        return along(point, direction, min((self.half[0] + gap) / across, (self.half[1] + gap) / up))

    def beside(self, point: Point, direction: float, gap: float = GAP) -> Point:
        """The centre in this direction from a line at right angles to it that leaves ``gap`` between line and text."""
        across, up = (abs(part) for part in along((0.0, 0.0), direction, 1.0))
        return along(point, direction, gap + across * self.half[0] + up * self.half[1])


def _forces(view: DiagramView, layout: Layout) -> list[Wish]:
    shafts = [Line(arrow.tail, arrow.tip) for arrow in layout.forces]
    open_arrow = [_open_line(layout.acceleration)] if layout.acceleration else []
    wishes = []
    for index, (force, arrow, side) in enumerate(zip(view.forces, layout.forces, layout.sides, strict=True)):
        rivals = (*shafts[:index], *shafts[index + 1 :], *open_arrow)
        wishes.append(Wish(force.label, SYMBOL, _arrow_spots(force.label, arrow, side), shafts[index], rivals))
    return wishes


def _arrow_spots(label: formula.Node, arrow: Arrow, side: float) -> tuple[Spot, ...]:
    """Beyond the tip, or beside the arrow near it; an arrow that stepped aside has its label on that side."""
    places = _Places(label, SYMBOL)
    spots = [(2.0 if side else 0.0, places.past(arrow.tip, arrow.direction))]
    for turn in (TO_LEFT, TO_RIGHT):
        away = 3.0 if turn * side < 0 else 0.0
        spots.append((away + 1.2, places.past(arrow.tip, arrow.direction + turn / 2)))
        for share in (0.85, 0.7, 0.55, 0.4):
            point = along(arrow.tail, arrow.direction, share * arrow.length)
            spots.append((away + 2.0 - share, places.beside(point, arrow.direction + turn, GAP + HEAD_HALF)))
    return tuple(spots)


def _acceleration(layout: Layout) -> list[Wish]:
    if not layout.acceleration:
        return []
    arrow, label = layout.acceleration, formula.Symbol("a")
    places = _Places(label, SYMBOL)
    spots = [(1.5, places.past(arrow.tip, arrow.direction))]
    for turn in (TO_LEFT, TO_RIGHT):
        for share in (0.4, 0.6, 0.2):
            point = along(arrow.tail, arrow.direction, share * arrow.length)
            spots.append((0.0, places.beside(point, arrow.direction + turn, GAP + OPEN_HALF)))
    rivals = tuple(Line(force.tail, force.tip) for force in layout.forces)
    return [Wish(label, SYMBOL, tuple(spots), _open_line(arrow), rivals, "accent")]


def _open_line(arrow: Arrow) -> Line:
    return Line(arrow.tail, arrow.tip, OPEN_HALF)


def _angles(view: DiagramView, layout: Layout) -> list[Wish]:
    """The label of an angle on its bisector, just past the arc, or beside one of its legs."""
    wishes = []
    for angle, arc in zip(view.angles, layout.arcs, strict=True):
        places, middle = _Places(angle.label, SYMBOL), (arc.start + arc.end) / 2
        at_arc = along(layout.body, middle, arc.rx)
        spots = [(past / 8, places.beside(at_arc, middle, GAP + past)) for past in (0.0, 4.0, 8.0, 14.0, 20.0, 28.0)]
        spots += [(4.0 + past / 8, spot) for past in (0.0, 6.0) for spot in _outside(places, layout.body, arc, past)]
        wishes.append(Wish(angle.label, SYMBOL, tuple(spots), Line(at_arc, at_arc)))
    return wishes


def _outside(places: _Places, vertex: Point, arc: Curve, past: float) -> tuple[Point, Point]:
    """Beside the two ends of an arc, outside of the angle."""
    first, last = along(vertex, arc.start, arc.rx), along(vertex, arc.end, arc.rx)
    return places.beside(first, arc.start + TO_RIGHT, GAP + past), places.beside(last, arc.end + TO_LEFT, GAP + past)


def _axes(view: DiagramView, layout: Layout) -> list[Wish]:
    named = []
    if layout.inward and view.inward is not None:
        named.append((CENTRE_WORDS, layout.inward.end, view.inward))
    if layout.second and view.second_axis is not None and view.second_axis_label:
        named.append((view.second_axis_label, layout.second.end, view.second_axis))
    return [Wish(words, WORDS, _end_spots(words, end, direction), Line(end, end)) for words, end, direction in named]


def _end_spots(words: str, end: Point, direction: float) -> tuple[Spot, ...]:
    """Past the end of an axis, else beside the end."""
    places = _Places(words, WORDS)
    turns = [(0.0, 0.0), *((1.0 + abs(turn) / 90, turn) for turn in (30, -30, 60, -60, 90, -90))]
    return tuple((dislike, places.past(end, direction + turn)) for dislike, turn in turns)
