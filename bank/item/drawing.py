"""A drawing as shapes on a page of ``width`` by ``height`` units, x to the right and y down; no file format."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from . import formula

Weight: TypeAlias = Literal["thin", "medium", "bold"]
Tone: TypeAlias = Literal["ink", "soft", "accent"]


@dataclass(frozen=True)
class Stroke:
    """A straight line; ``dashes`` are lengths of dash and gap, none for a full line."""

    x1: float
    y1: float
    x2: float
    y2: float
    weight: Weight = "thin"
    tone: Tone = "soft"
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True)
class Curve:
    """A circle or ellipse, or the part of it from ``start`` to ``end`` (degrees, anticlockwise from the right)."""

    cx: float
    cy: float
    rx: float
    ry: float
    start: float = 0.0
    end: float = 360.0
    weight: Weight = "thin"
    tone: Tone = "soft"
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True)
class Trace:
    """A line through at least two points, one after the other, as that of a graph; it is not closed."""

    points: tuple[tuple[float, float], ...]
    weight: Weight = "medium"
    tone: Tone = "ink"
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True)
class Shape:
    """A closed polygon, filled with its tone or left white."""

    points: tuple[tuple[float, float], ...]
    weight: Weight = "thin"
    tone: Tone = "ink"
    filled: bool = True


@dataclass(frozen=True)
class Disc:
    """A filled or white circle with an outline."""

    cx: float
    cy: float
    radius: float
    weight: Weight = "medium"
    tone: Tone = "ink"
    filled: bool = False


@dataclass(frozen=True)
class Label:
    """Words or a formula, centred on (x, y); ``size`` is the height of the type in page units."""

    x: float
    y: float
    content: formula.Node | str
    size: float = 15.0
    tone: Tone = "ink"


Subject: TypeAlias = Literal["", "situation", "forces"]
Mark: TypeAlias = Stroke | Curve | Trace | Shape | Disc | Label


@dataclass(frozen=True)
class Drawing:
    """Marks in painting order, with a short title and a text alternative, which says what a reader needs.

    ``more`` is what else is to be seen: a description that goes on where the alternative ends. ``subject`` is what it
    is of, where that says what it could tell a candidate: a sketch of the situation, or forces.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str
    alternative: str
    more: str = ""
    subject: Subject = ""

    @property
    def description(self) -> str:
        """All that is to be seen."""
        return f"{self.alternative} {self.more}" if self.more else self.alternative
