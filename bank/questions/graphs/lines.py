"""The line of a closed form over one quantity: how it goes in a few words, and its points as shares of the axes.

Two lines may stand side by side only where these words differ, and only lines are offered of which they can be seen at
a glance: a bend, a start beside the origin or an end on the axis is either clear or not there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import sympy
from numpy.typing import NDArray

from ...model.evaluation import evaluate
from ...writing.plots import graph_words
from ...writing.plots.graph_words import Bend, Start, Way
from ...writing.plots.view import Points

Array = NDArray[np.float64]

STEPS = 400  # of the quantity, along the axis
DRAWN = 24  # stretches of a bent line on the page
EXACT = 1e-9  # a difference that rounding explains, as a share of the greatest value
NEXT_TO_ZERO = 1e-7  # of the axis: where a line begins
BENT = 0.05  # of the height: the least distance from a straight line that is seen as a bend
BESIDE = 0.12  # of the axis: the least distance of a start or an end from the origin
MIDDLE = 0.75  # of the axis: the greatest one
RISEN = 0.25  # of the height: the least difference of start and end
SOARS = 6.0  # times its median: a line that comes from so high has no start that could be drawn
CUT = 0.15  # of the axis: where such a line comes into the drawing
HALF_WAY = 0.5


@dataclass(frozen=True)
class Look:
    """How a line goes: where it begins, which way, and whether it is straight or gets more or less steep."""

    start: Start
    way: Way
    bend: Bend

    @property
    def name(self) -> str:
        """The look in three words: ``origin rises more``."""
        return f"{self.start} {self.way} {self.bend}"

    @property
    def is_beside_origin(self) -> bool:
        """Whether it begins on an axis, but not at the origin, and is not level."""
        return self.start in ("above", "right") and self.way != "level"


@dataclass(frozen=True)
class Line:
    """A line with its look; ``ends_on_axis`` tells whether it falls to the horizontal axis and stops there."""

    look: Look
    points: Points
    ends_on_axis: bool = False

    @property
    def told(self) -> str:
        """How it goes, in words, after "the line"."""
        return graph_words.told(self.look.start, self.look.way, self.look.bend, to_the_axis=self.ends_on_axis)


@dataclass(frozen=True)
class Span:
    """What is plotted: a quantity from 0 up to ``end`` (SI), or its square, with the values of all that is held."""

    symbol: str
    end: float
    is_squared: bool
    held: Mapping[str, float]

    def line(self, form: sympy.Expr, *, positive: bool) -> Line | None:
        """The line of a form; only its part above the axis where the answer can only be ``positive``.

        None where it is not of one piece, turns round, or is not clear.
        """
        return line_of(lambda shares: self._values(form, shares), positive=positive)

    def _values(self, form: sympy.Expr, shares: Array) -> Array:
        along = self.end * (np.sqrt(shares) if self.is_squared else shares)
        values: Mapping[str, Any] = {**self.held, self.symbol: along}
        return np.array(np.broadcast_to(evaluate(form, values), along.shape), dtype=float)


def line_of(values: Callable[[Array], Array], *, positive: bool) -> Line | None:
    """The line of a function of shares of the axis; see ``Span.line``."""
    shares = np.arange(1, STEPS + 1) / STEPS
    heights = values(shares)
    there = np.isfinite(heights) & ((heights > 0) | (not positive))
    places = np.flatnonzero(there)
    if len(places) < 2 or not np.all(np.diff(places) == 1):
        return None
    first, last = int(places[0]), int(places[-1])
    x, y = shares[first : last + 1], heights[first : last + 1]
    if np.ptp(y) <= EXACT * np.abs(y).max():
        whole = first == 0 and last == STEPS - 1 and y[0] > 0
        return Line(Look("above", "level", "straight"), ((0.0, HALF_WAY), (1.0, HALF_WAY))) if whole else None
    way, bend = _way(y), _bend(y)
    if way is None or bend is None:
        return None
    soars = way == "falls" and bend == "less" and y[0] > SOARS * float(np.median(y)) and first == 0
    if not soars and first == 0:  # to its very start
        x, y = np.concatenate([[0.0], x]), np.concatenate([values(np.array([NEXT_TO_ZERO])), y])
    elif first:  # and to the axis
        x, y = np.concatenate([[_meets_axis(x[0], x[1], y[0], y[1])], x]), np.concatenate([[0.0], y])
    ends = last < STEPS - 1
    if ends:
        x, y = np.concatenate([x, [_meets_axis(x[-1], x[-2], y[-1], y[-2])]]), np.concatenate([y, [0.0]])
    top = float(np.interp(CUT, x, y)) if soars else float(np.abs(y).max())
    if not np.all(np.isfinite(y)) or not top > 0:
        return None
    kept = y <= top
    x, y = x[kept], y[kept] / top
    start: Start | None = "high" if soars else _start(x[0], y[0])
    looks_soaring = start == "above" and way == "falls" and bend == "less"
    seen = _is_seen(x, y, bend) and not looks_soaring and float(y.min()) >= -EXACT
    if not seen or (first and way == "falls") or (ends and not (way == "falls" and BESIDE <= x[-1] <= 1 - BESIDE)):
        return None
    return Line(Look(start, way, bend), _points(x, y, bend), ends) if start else None


def _meets_axis(x: float, inner_x: float, y: float, inner_y: float) -> float:
    """Where the first or last stretch of a line comes to the axis, when it is lengthened."""
    return x - y * (x - inner_x) / (y - inner_y)


def _way(y: Array) -> Way | None:
    steps = np.diff(y)
    return "rises" if np.all(steps > 0) else "falls" if np.all(steps < 0) else None


def _bend(y: Array) -> Bend | None:
    """Whether a line that only rises or only falls is straight, gets steeper or less steep; None for a mixture."""
    steps = np.abs(np.diff(y))
    change, little = np.diff(steps), 1e-6 * steps.max()
    if np.all(np.abs(change) < little):
        return "straight"
    return "more" if np.all(change > -EXACT * steps.max()) else "less" if np.all(change < EXACT * steps.max()) else None


def _start(x: float, y: float) -> Start | None:
    """Where a line begins; None where that is neither at the origin nor clearly beside it."""
    if x > 0:
        return "right" if BESIDE <= x <= MIDDLE else None
    if abs(y) < 1e-3:
        return "origin"
    return "above" if y > BESIDE else None


def _is_seen(x: Array, y: Array, bend: Bend) -> bool:
    """Whether the line rises or falls clearly, and is clearly bent unless it is straight."""
    chord = np.interp(x, [x[0], x[-1]], [y[0], y[-1]])
    off = float(np.abs(y - chord).max())
    return float(np.ptp(y)) >= RISEN and (bend == "straight" or off >= BENT)


def _points(x: Array, y: Array, bend: Bend) -> Points:
    """Its ends, or points evenly along the line."""
    if bend == "straight":
        return (float(x[0]), float(y[0])), (float(x[-1]), float(y[-1]))
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    at = np.linspace(0.0, along[-1], DRAWN + 1)
    return tuple(zip(np.interp(at, along, x).tolist(), np.interp(at, along, y).tolist(), strict=True))
