"""Labels put where they touch nothing: each has places that it would like, and the best free ones are taken."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import fsum, hypot, inf

from ..item import formula
from ..item.drawing import Curve, Label, Tone
from ..writing.view import DiagramView
from .parts import HEAD_HALF, HEIGHT, MARGIN, OPEN_HALF, WIDTH, Arrow, Box, FigureLayout, Point, ThickLine, along
from .ranked import Ranked, Spot

PAD = 2.5  # between a label and anything else
STEP = 5  # of the places that are tried when none of those liked is free
FAR, AMBIGUOUS, CROSSED = 7.0, 6.0, 6.0  # dislikes: away from the liked places; nearer to a rival; over a light line
NARROW, WIDE = frozenset("fijlrtI1.,;:'()| "), frozenset("mwMWω%@")


@dataclass(frozen=True)
class Wish:
    """A label with the places for its centre, each with its dislike; ``near`` is what it belongs to.

    A place that is nearer to one of ``rivals`` than to ``near`` could be misread, and is disliked the more.
    """

    content: formula.Node | str
    size: float
    spots: tuple[Spot, ...]
    near: ThickLine
    rivals: tuple[ThickLine, ...] = ()
    tone: Tone = "ink"

    def box(self, centre: Point) -> Box:
        """The room for the text about a centre."""
        return Box(*centre, *extent(self.content, self.size))


def extent(content: formula.Node | str, size: float) -> tuple[float, float]:
    """Width and height of a label's text, rather more than most typefaces need."""
    if isinstance(content, formula.Symbol) and content.subscript:
        return _width(content.base, size) + _width(content.subscript, 0.75 * size), 1.55 * size
    if isinstance(content, formula.Row):
        parts = [extent(part, size) for part in content.parts]
        gaps = 0.3 * size * (len(parts) - 1)
        return fsum(width for width, _ in parts) + gaps, max((height for _, height in parts), default=size)
    if isinstance(content, formula.Power) and isinstance(content.base, formula.Symbol):
        return _width(formula.text(content), size), 1.7 * size
    if isinstance(content, formula.UnitNode):
        return _width(content.text, size), 1.4 * size
    if isinstance(content, str | formula.Symbol | formula.Number):
        return _width(content if isinstance(content, str) else formula.text(content), size), 1.2 * size
    return _width(formula.text(content), size), 2.4 * size


def _width(text: str, size: float) -> float:
    return size * fsum(map(_letter_width, text))


def _letter_width(letter: str) -> float:
    if letter in WIDE:
        return 0.9
    return 0.36 if letter in NARROW else 0.72 if letter.isupper() or not letter.isascii() else 0.58


@dataclass
class _PlaceSearch:
    """The places of one label, the most liked first; whether one is free is found only when it is asked for."""

    wish: Wish
    page: Box
    solid: Sequence[ThickLine]
    light: Sequence[ThickLine]
    known: dict[Point, float] = field(default_factory=dict)

    @cached_property
    def liked(self) -> Ranked:
        """The places wished for."""
        return self._ranked(self.wish.spots)

    @cached_property
    def elsewhere(self) -> Ranked:
        """Places all over the page, the less liked the further they are from what the label belongs to."""
        left, top = self.page.corners[0]
        across = [left + step for step in range(0, int(self.page.width), STEP)]
        up = [top + step for step in range(0, int(self.page.height), STEP)]
        spots = [(x, y) for x in across for y in up]
        return self._ranked([(FAR + self.wish.near.gap_to_point(spot) / 2, spot) for spot in spots])

    def _ranked(self, spots: Sequence[Spot]) -> Ranked:
        return Ranked(spots, self._mistakable)

    def _mistakable(self, spot: Point) -> float:
        own = self.wish.near.gap_to_point(spot)
        return AMBIGUOUS if any(rival.gap_to_point(spot) < own + 3.0 for rival in self.wish.rivals) else 0.0

    def _extra(self, spot: Point) -> float:
        """What the lines about a place add to its dislike; infinite where it is not free."""
        if spot not in self.known:
            box = self.wish.box(spot)
            on_page = all(self.page.contains(corner) for corner in box.corners)
            touched = CROSSED if any(_touches(box, line) for line in self.light) else 0.0
            free = on_page and not any(_touches(box, line) for line in self.solid)
            self.known[spot] = touched if free else inf
        return self.known[spot]

    def best(self, taken: Sequence[Box]) -> Spot:
        """The most liked place that is free of lines and of the labels that stand already."""
        found = self._best_of(self.liked, taken, (inf, (self.page.x, self.page.y)))
        return found if found[0] <= FAR else self._best_of(self.elsewhere, taken, found)

    def _best_of(self, ranked: Iterable[Spot], taken: Sequence[Box], found: Spot) -> Spot:
        for dislike, spot in ranked:
            if dislike >= found[0]:
                break
            box = self.wish.box(spot)
            if all(box.gap_to_box(other) >= PAD for other in taken):
                found = min(found, (dislike + self._extra(spot), spot))
        return found


def _touches(box: Box, line: ThickLine) -> bool:
    """Whether a line comes nearer than the pad; most are known to be far from the box by its half-diagonal."""
    if line.gap_to_point((box.x, box.y)) >= PAD + hypot(box.width, box.height) / 2:
        return False
    return box.gap(line) < PAD


def place(wishes: Sequence[Wish], solid: Sequence[ThickLine], light: Sequence[ThickLine], page: Box) -> list[Label]:
    """One label for each wish, in their order; the first to choose is the one for which all come off best."""
    searches = [_PlaceSearch(wish, page, solid, light) for wish in wishes]
    turns = [[*range(first, len(searches)), *range(first)] for first in range(len(searches))]
    chosen = min((_choose(searches, turn) for turn in turns), key=lambda choice: choice[0], default=(0.0, {}))[1]
    spots = [chosen[index] for index in range(len(wishes))]
    return [Label(*spot, wish.content, wish.size, wish.tone) for wish, spot in zip(wishes, spots, strict=True)]


def _choose(searches: Sequence[_PlaceSearch], turn: Sequence[int]) -> tuple[float, dict[int, Point]]:
    """The places that labels take one after another, and the sum of their dislikes."""
    total, chosen, taken = 0.0, dict[int, Point](), list[Box]()
    for index in turn:
        dislike, spot = searches[index].best(taken)
        total += dislike
        chosen[index] = spot
        taken.append(searches[index].wish.box(spot))
    return total, chosen


# --- the labels of a force diagram, each with the places where a reader would look for it ---


SYMBOL, WORDS = 17.0, 14.0  # heights of type
GAP = 3.0 + PAD
CENTRE_WORDS = "to the centre"
TO_LEFT, TO_RIGHT = 90.0, -90.0


def labels(view: DiagramView, layout: FigureLayout) -> list[Label]:
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


def _forces(view: DiagramView, layout: FigureLayout) -> list[Wish]:
    shafts = [ThickLine(arrow.tail, arrow.tip) for arrow in layout.forces]
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


def _acceleration(layout: FigureLayout) -> list[Wish]:
    if not layout.acceleration:
        return []
    arrow, label = layout.acceleration, formula.Symbol("a")
    places = _Places(label, SYMBOL)
    spots = [(1.5, places.past(arrow.tip, arrow.direction))]
    for turn in (TO_LEFT, TO_RIGHT):
        for share in (0.4, 0.6, 0.2):
            point = along(arrow.tail, arrow.direction, share * arrow.length)
            spots.append((0.0, places.beside(point, arrow.direction + turn, GAP + OPEN_HALF)))
    rivals = tuple(ThickLine(force.tail, force.tip) for force in layout.forces)
    return [Wish(label, SYMBOL, tuple(spots), _open_line(arrow), rivals, "accent")]


def _open_line(arrow: Arrow) -> ThickLine:
    return ThickLine(arrow.tail, arrow.tip, OPEN_HALF)


def _angles(view: DiagramView, layout: FigureLayout) -> list[Wish]:
    """The label of an angle on its bisector, just past the arc, or beside one of its legs."""
    wishes = []
    for angle, arc in zip(view.angles, layout.arcs, strict=True):
        places, middle = _Places(angle.label, SYMBOL), (arc.start + arc.end) / 2
        at_arc = along(layout.body, middle, arc.rx)
        spots = [(past / 8, places.beside(at_arc, middle, GAP + past)) for past in (0.0, 4.0, 8.0, 14.0, 20.0, 28.0)]
        spots += [(4.0 + past / 8, spot) for past in (0.0, 6.0) for spot in _outside(places, layout.body, arc, past)]
        wishes.append(Wish(angle.label, SYMBOL, tuple(spots), ThickLine(at_arc, at_arc)))
    return wishes


def _outside(places: _Places, vertex: Point, arc: Curve, past: float) -> tuple[Point, Point]:
    """Beside the two ends of an arc, outside of the angle."""
    first, last = along(vertex, arc.start, arc.rx), along(vertex, arc.end, arc.rx)
    return places.beside(first, arc.start + TO_RIGHT, GAP + past), places.beside(last, arc.end + TO_LEFT, GAP + past)


def _axes(view: DiagramView, layout: FigureLayout) -> list[Wish]:
    named = []
    if layout.inward and view.inward is not None:
        named.append((CENTRE_WORDS, layout.inward.end, view.inward))
    if layout.second and view.second_axis is not None and view.second_axis_label:
        named.append((view.second_axis_label, layout.second.end, view.second_axis))
    return [
        Wish(words, WORDS, _end_spots(words, end, direction), ThickLine(end, end)) for words, end, direction in named
    ]


def _end_spots(words: str, end: Point, direction: float) -> tuple[Spot, ...]:
    """Past the end of an axis, else beside the end."""
    places = _Places(words, WORDS)
    turns = [(0.0, 0.0), *((1.0 + abs(turn) / 90, turn) for turn in (30, -30, 60, -60, 90, -90))]
    return tuple((dislike, places.past(end, direction + turn)) for dislike, turn in turns)
