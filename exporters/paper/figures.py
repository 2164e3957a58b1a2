"""The drawings of a paper: trimmed to what is drawn, and all at one scale, so that their type can be read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import cos, radians, sin

from ...bank.drawing.labels import extent
from ...bank.errors import FigureError
from ...bank.item.drawing import Curve, Disc, Drawing, Label, Mark, Shape, Stroke, Trace
from ..markup.elements import clean
from ..markup.svg import svg
from .content import Data

MILLIMETRES = 0.2016  # a unit of a drawing on paper: the smallest type, 14 units, is 8 points high (a house rule)
EDGE = 4.0  # units of white around what is drawn
ARC_STEPS = 48


@dataclass
class PaperFigures:
    """The drawings of one document, each kept once; ``place`` gives the name under which the data refers to it."""

    _placed: dict[Drawing, tuple[str, str]] = field(default_factory=dict)

    def place(self, drawing: Drawing, owner: str) -> str:
        """The name of a drawing; ``owner`` is the question that shows it."""
        return self._placed.setdefault(drawing, (f"figure-{len(self._placed) + 1}", owner))[0]

    def data(self) -> Data:
        """All drawings by name. Raises FigureError for one that can't be drawn."""
        return {name: _figure(drawing, owner) for drawing, (name, owner) in self._placed.items()}

    def owners(self) -> dict[str, str]:
        """The question that shows each drawing, by its name."""
        return dict(self._placed.values())


def _figure(drawing: Drawing, owner: str) -> Data:
    """A drawing as the text of its file, with its text alternative and its width on paper in millimetres."""
    try:
        shown = trimmed(drawing)
        content = svg(shown).decode()
    except FigureError as error:
        raise FigureError(owner, error.wrong) from error
    alternative = clean(drawing.alternative or drawing.title)
    return {"svg": content, "alt": alternative, "width": round(shown.width * MILLIMETRES, 2)}


def trimmed(drawing: Drawing) -> Drawing:
    """The drawing without the white around what is drawn."""
    corners = [corner for mark in drawing.marks for corner in _corners(mark)]
    if not corners:
        return drawing
    left, top = (max(0.0, min(each[axis] for each in corners) - EDGE) for axis in (0, 1))
    right = min(drawing.width, max(x for x, _ in corners) + EDGE)
    foot = min(drawing.height, max(y for _, y in corners) + EDGE)
    marks = tuple(_moved(mark, -left, -top) for mark in drawing.marks)
    return replace(drawing, width=right - left, height=foot - top, marks=marks)


def _corners(mark: Mark) -> Iterator[tuple[float, float]]:
    """Points that span the room of a mark."""
    match mark:
        case Stroke():
            yield from ((mark.x1, mark.y1), (mark.x2, mark.y2))
        case Shape() | Trace():
            yield from mark.points
        case Curve():
            for step in range(ARC_STEPS + 1):
                angle = radians(mark.start + (mark.end - mark.start) * step / ARC_STEPS)
                yield mark.cx + mark.rx * cos(angle), mark.cy - mark.ry * sin(angle)
        case Disc():
            yield from _around(mark.cx, mark.cy, mark.radius, mark.radius)
        case Label():
            width, height = extent(mark.content, mark.size)
            yield from _around(mark.x, mark.y, width / 2, height / 2)


def _around(x: float, y: float, across: float, up: float) -> Iterator[tuple[float, float]]:
    yield from ((x - across, y - up), (x + across, y + up))


def _moved(mark: Mark, right: float, down: float) -> Mark:
    match mark:
        case Stroke():
            return replace(mark, x1=mark.x1 + right, y1=mark.y1 + down, x2=mark.x2 + right, y2=mark.y2 + down)
        case Shape() | Trace():
            return replace(mark, points=tuple((x + right, y + down) for x, y in mark.points))
        case Curve() | Disc():
            return replace(mark, cx=mark.cx + right, cy=mark.cy + down)
        case Label():
            return replace(mark, x=mark.x + right, y=mark.y + down)
