"""Values as a class would measure them: a given set to several values, the answer with an honest scatter, printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ...item.draw import drawn_number
from ...model.draws import grid_of
from ...model.evaluation import evaluate, holds
from ...model.problem import Scene
from ...quantities.quantity import Quantity, from_float, needs_power, round_figures
from ...quantities.unit_kinds import working_unit
from ...quantities.units import Unit, product
from ...solving.solution import SolvedQuestion
from ...writing.numeric_steps import working
from .straight import Straight

ROWS = 6
SCATTER = 0.02  # the greatest share by which a measured value is off
TRIED = 60  # settings of what is told, and scatters, until one serves
LEAST_RANGE = 1.6  # of what is plotted across, greatest over least
SPARE = 0.04  # the key is no further from the value behind it, or from that of a line drawn past the origin, than this
CLEAR = 0.02  # the greatest standard error of the slope: two of them are within what drawing by hand may be off
FIGURES = 3

Array = NDArray[np.float64]


@dataclass(frozen=True)
class MeasuredTable:
    """A table: quantities as printed, in two columns; ``told`` are the other givens that a candidate knows."""

    line: Straight
    across: tuple[Quantity, ...]
    up: tuple[Quantity, ...]
    told: Mapping[str, Quantity]

    @cached_property
    def points(self) -> tuple[Array, Array]:
        """What is plotted, from the numbers as printed, in SI units."""
        return plotted(self.across, int(self.line.across)), plotted(self.up, self.line.up)

    @property
    def powers(self) -> tuple[tuple[Unit, int], tuple[Unit, int]]:
        """The units that are worked with, each with the power to which its quantity is plotted: across and up."""
        across, up = (working_unit(column[0].unit) for column in (self.across, self.up))
        return (across, int(self.line.across)), (up, self.line.up)

    @property
    def slope_unit(self) -> Unit:
        """The unit of the slope."""
        (across, power), up = self.powers
        return product(up, (across, -power))

    @cached_property
    def fit(self) -> tuple[float, float]:
        """Slope and intercept of the least-squares line through the points, and through the origin where the law is."""
        x, y = self.points
        slope, intercept = (x @ y / (x @ x), 0.0) if self.line.is_through_origin else np.polyfit(x, y, 1)
        return float(slope), float(intercept)

    @cached_property
    def spread(self) -> float:
        """The standard error of the slope, as a share of it."""
        x, y = self.points
        slope, intercept = self.fit
        off = y - slope * x - intercept
        apart = x if self.line.is_through_origin else x - x.mean()
        fitted = 1 if self.line.is_through_origin else 2
        return float(np.sqrt(off @ off / (len(x) - fitted) / (apart @ apart)) / abs(slope))

    @cached_property
    def wanted(self) -> float:
        """What follows from the slope, in SI units."""
        return self._follows(self.fit[0])

    @cached_property
    def off_the_origin(self) -> float:
        """By what share what follows is another where the line of best fit is not held to the origin."""
        return abs(self._follows(float(np.polyfit(*self.points, 1)[0])) / self.wanted - 1)

    def _follows(self, slope: float) -> float:
        values = {name: each.si for name, each in self.told.items()}
        return float(evaluate(self.line.inverse, {**values, "slope": slope}))


def plotted(column: Sequence[Quantity], power: int) -> Array:
    """Printed quantities to a power, in the units in which they are worked with."""
    return np.array([float(working(each).value) for each in column]) ** float(power)


def measured(solved: SolvedQuestion, line: Straight, scene: Scene, gravity: Decimal, draw: str) -> MeasuredTable | None:
    """A table for a scene; None where the scene's values give no clear line. The name of the draw decides."""
    choices = grid_of(solved.problem, solved.question, scene, gravity).choices
    across = _settings(choices[line.symbol])
    plain = plotted(across, int(line.across))
    if len(across) < ROWS - 1 or plain.max() < LEAST_RANGE * plain.min():
        return None
    for trial in range(TRIED):
        others = {
            name: each[drawn_number(draw, name, trial) % len(each)]
            for name, each in choices.items()
            if name != line.symbol
        }
        up = _answers(solved, line, scene, across, others, f"{draw} {trial}")
        if up is None:
            continue
        hidden = others.pop(line.wanted)
        found = MeasuredTable(line, across, up, others)
        if max(abs(found.wanted / hidden.si - 1), found.off_the_origin) < SPARE and found.spread < CLEAR:
            return found
    return None


def _settings(values: Sequence[Quantity]) -> tuple[Quantity, ...]:
    """Values of the draw, evenly over its whole range."""
    places = np.unique(np.linspace(0, len(values) - 1, ROWS).round().astype(int))
    return tuple(values[int(place)] for place in places)


def _answers(
    solved: SolvedQuestion,
    line: Straight,
    scene: Scene,
    across: Sequence[Quantity],
    others: Mapping[str, Quantity],
    draw: str,
) -> tuple[Quantity, ...] | None:
    """The answers, each off by up to the scatter; None where one of them could not be."""
    spec = solved.problem.answer_spec(solved.question, scene)
    values = {name: np.full(len(across), each.si) for name, each in others.items()}
    values |= {line.symbol: np.array([each.si for each in across])}
    exact = np.broadcast_to(np.asarray(evaluate(solved.solution.closed_form, values)), (len(across),))
    possible = np.isfinite(exact) & (exact > 0)
    if spec.plausible:
        low, high = (float(each) * spec.unit.factor for each in spec.plausible)
        possible &= (exact >= low) & (exact <= high)
    for kept in solved.kept:
        if kept.expression is not None:
            possible &= holds(kept.expression, values, strict=kept.strict)
    if not possible.all() or exact.min() < 0.1 * exact.max():
        return None
    shares = np.array([drawn_number(draw, place) / 2**64 for place in range(len(across))])
    scattered = exact * (1 + SCATTER * (2 * shares - 1)) / spec.unit.factor
    return tuple(_read_off(float(each), spec.unit) for each in scattered)


def _read_off(value: float, unit: Unit) -> Quantity:
    """A value with three figures, as an instrument shows it: 1010 N, and no power of ten unless it needs one."""
    rounded = round_figures(from_float(value), FIGURES)
    return Quantity(rounded, unit, max(FIGURES, 0 if needs_power(rounded) else rounded.adjusted() + 1))
