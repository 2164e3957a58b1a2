"""Labels put where they touch nothing: each has places that it would like, and the best free ones are taken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import fsum, hypot, inf
from typing import TypeAlias

from turnwright.bank import formula
from turnwright.bank.drawing import Label, Tone
from turnwright.bank.plane import Box, Line, Point

PAD = 2.5  # between a label and anything else
STEP = 5  # of the places that are tried when none of those liked is free
FAR, AMBIGUOUS, CROSSED = 7.0, 6.0, 6.0  # dislikes: away from the liked places; nearer to a rival; over a light line
Spot: TypeAlias = tuple[float, Point]
NARROW, WIDE = frozenset("fijlrtI1.,;:'()| "), frozenset("mwMWω%@")


@dataclass(frozen=True)
class Wish:
    """A label with the places for its centre, each with its dislike; ``near`` is what it belongs to.

    A place that is nearer to one of ``rivals`` than to ``near`` could be misread, and is disliked the more.
    """

    content: formula.Node | str
    size: float
    spots: tuple[Spot, ...]
    near: Line
    rivals: tuple[Line, ...] = ()
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
class _Search:
    """The places of one label, the most liked first; whether one is free is found only when it is asked for."""

    wish: Wish
    page: Box
    solid: Sequence[Line]
    light: Sequence[Line]
    known: dict[Point, float] = field(default_factory=dict)

    @cached_property
    def liked(self) -> list[Spot]:
        """The places wished for."""
        return self._ranked(self.wish.spots)

    @cached_property
    def elsewhere(self) -> list[Spot]:
        """Places all over the page, the less liked the further they are from what the label belongs to."""
        left, top = self.page.corners[0]
        across = [left + step for step in range(0, int(self.page.width), STEP)]
        up = [top + step for step in range(0, int(self.page.height), STEP)]
        spots = [(x, y) for x in across for y in up]
        return self._ranked([(FAR + self.wish.near.gap_to_point(spot) / 2, spot) for spot in spots])

    def _ranked(self, spots: Sequence[Spot]) -> list[Spot]:
        return sorted((dislike + self._mistakable(spot), spot) for dislike, spot in spots)

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

    def _best_of(self, ranked: Sequence[Spot], taken: Sequence[Box], found: Spot) -> Spot:
        for dislike, spot in ranked:
            if dislike >= found[0]:
                break
            box = self.wish.box(spot)
            if all(box.gap_to_box(other) >= PAD for other in taken):
                found = min(found, (dislike + self._extra(spot), spot))
        return found


def _touches(box: Box, line: Line) -> bool:
    """Whether a line comes nearer than the pad; most are known to be far from the box by its half-diagonal."""
    if line.gap_to_point((box.x, box.y)) >= PAD + hypot(box.width, box.height) / 2:
        return False
    return box.gap(line) < PAD


def place(wishes: Sequence[Wish], solid: Sequence[Line], light: Sequence[Line], page: Box) -> list[Label]:
    """One label for each wish, in their order; the first to choose is the one for which all come off best."""
    searches = [_Search(wish, page, solid, light) for wish in wishes]
    turns = [[*range(first, len(searches)), *range(first)] for first in range(len(searches))]
    chosen = min((_choose(searches, turn) for turn in turns), key=lambda choice: choice[0], default=(0.0, {}))[1]
    spots = [chosen[index] for index in range(len(wishes))]
    return [Label(*spot, wish.content, wish.size, wish.tone) for wish, spot in zip(wishes, spots, strict=True)]


def _choose(searches: Sequence[_Search], turn: Sequence[int]) -> tuple[float, dict[int, Point]]:
    """The places that labels take one after another, and the sum of their dislikes."""
    total, chosen, taken = 0.0, dict[int, Point](), list[Box]()
    for index in turn:
        dislike, spot = searches[index].best(taken)
        total += dislike
        chosen[index] = spot
        taken.append(searches[index].wish.box(spot))
    return total, chosen
