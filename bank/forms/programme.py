"""All forms at once as a 0-1 programme: x = 1 where an item is in a form, and the largest difference is least.

The formulation is that of van der Linden, Linear Models for Optimal Test Design (2005): a minimax objective, linear
rows, enemy sets, overlap between forms. A measure with a target counts the distance of each form from it; a measure
without one counts the distance between the forms that are furthest apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import fsum

import numpy as np

from ..errors import Place
from .linear import INFINITY, Model, Optimum

TINY = 1e-7  # what breaks ties may never outweigh a difference


@dataclass(frozen=True)
class Bound:
    """The sum of ``terms`` over the items of each form (of all forms together if ``across``) is ``low`` to ``high``."""

    terms: Mapping[int, float]
    low: float = -INFINITY
    high: float = INFINITY
    across: bool = False


@dataclass(frozen=True)
class Rule:
    """Something that has to hold, in the words of a blueprint, with where it stands there."""

    words: str
    bounds: tuple[Bound, ...]
    place: Place | None = None


@dataclass(frozen=True)
class Measure:
    """What forms should be alike in: a value for each item; a difference of ``unit`` in the sum counts as 1."""

    name: str
    values: tuple[float, ...]
    unit: float = 1.0
    target: float | None = None

    def total(self, form: Sequence[int]) -> float:
        """The sum over a form."""
        return fsum(self.values[item] for item in form)


@dataclass(frozen=True)
class Programme:
    """Items in numbers, forms, what has to hold, and what forms should be alike in.

    ``uses`` is how often an item may stand in a form. Differences up to ``enough`` count as none: the search may end
    there. ``order`` ranks the items; the first ones are taken where all else is equal.
    """

    items: int
    forms: int
    rules: tuple[Rule, ...]
    measures: tuple[Measure, ...] = ()
    enough: float = 0.0
    uses: int = 1
    order: tuple[int, ...] = field(default=(), repr=False)

    def keeping(self, rules: Sequence[Rule]) -> Programme:
        """The same programme with these rules and nothing to minimise."""
        return replace(self, rules=tuple(rules), measures=())

    def difference(self, forms: Sequence[Sequence[int]]) -> float:
        """The largest difference of some forms: what is minimised."""
        return max([self.enough, *(gap for measure in self.measures for gap in _gaps(measure, forms))])

    def holds(self, forms: Sequence[Sequence[int]]) -> bool:
        """Whether all rules hold for some forms, worked out from the items and not by the solver."""
        return not list(self.broken(forms))

    def broken(self, forms: Sequence[Sequence[int]]) -> Iterator[Rule]:
        """The rules that do not hold for some forms."""
        together = [item for form in forms for item in form]
        for rule in self.rules:
            sums = (
                fsum(bound.terms.get(item, 0.0) for item in form)
                for bound in rule.bounds
                for form in ([together] if bound.across else forms)
            )
            limits = [(b.low, b.high) for b in rule.bounds for _ in ([together] if b.across else forms)]
            if any(not low - 1e-9 <= found <= high + 1e-9 for found, (low, high) in zip(sums, limits, strict=True)):
                yield rule


@dataclass(frozen=True)
class Assembled:
    """Forms as numbers of items, their largest difference, and a bound below which no forms have it."""

    forms: tuple[tuple[int, ...], ...]
    difference: float
    bound: float

    @property
    def gap(self) -> float:
        """How far the difference may be from the least possible one."""
        return max(self.difference - self.bound, 0.0)


def _gaps(measure: Measure, forms: Sequence[Sequence[int]]) -> Iterator[float]:
    totals = [measure.total(form) for form in forms]
    if measure.target is None:
        yield (max(totals) - min(totals)) / measure.unit
    else:
        yield from (abs(total - measure.target) / measure.unit for total in totals)


# --- building -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class VariableGrid:
    """The variables of a programme in a model: one for each form and item."""

    model: Model
    x: tuple[tuple[int, ...], ...]

    def terms(self, terms: Mapping[int, float], form: int) -> dict[int, float]:
        """The terms of a sum over the items of one form."""
        return {self.x[form][item]: value for item, value in terms.items() if value}

    def sums(self, bound: Bound) -> Iterator[dict[int, float]]:
        """The sums that a bound is about."""
        each = [self.terms(bound.terms, form) for form in range(len(self.x))]
        if bound.across:
            yield {variable: value for terms in each for variable, value in terms.items()}
        else:
            yield from each


def grid_of(programme: Programme, *, whole: bool = True) -> VariableGrid:
    """A model with the variables of a programme, whose costs only break ties; fractions are let in if not ``whole``."""
    model = Model()
    rank = {item: place for place, item in enumerate(programme.order or range(programme.items))}
    step = TINY / max(programme.items * programme.forms, 1) ** 2
    return VariableGrid(
        model,
        tuple(
            tuple(
                model.variable(step * (rank[item] * programme.forms + form), programme.uses, whole=whole)
                for item in range(programme.items)
            )
            for form in range(programme.forms)
        ),
    )


def add_rules(grid: VariableGrid, rules: Sequence[Rule]) -> None:
    """Adds the rows of rules that have to hold."""
    for rule in rules:
        for bound in rule.bounds:
            for terms in grid.sums(bound):
                grid.model.row(terms, bound.low, bound.high)


def _add_measure(grid: VariableGrid, measure: Measure, y: int) -> None:
    model = grid.model
    values = {item: value / measure.unit for item, value in enumerate(measure.values)}
    totals = [grid.terms(values, form) for form in range(len(grid.x))]
    if measure.target is not None:
        for terms in totals:
            model.row({**terms, y: -1.0}, high=measure.target / measure.unit)
            model.row({**terms, y: 1.0}, low=measure.target / measure.unit)
        return
    least, most = (model.variable(most=INFINITY, whole=False) for _ in range(2))
    for terms in totals:
        model.row({**terms, least: -1.0}, low=0.0)
        model.row({**terms, most: -1.0}, high=0.0)
    model.row({most: 1.0, least: -1.0, y: -1.0}, high=0.0)


def assemble(programme: Programme, nodes: int | None = None, kept: Sequence[Sequence[int]] = ()) -> Assembled | None:
    """The forms whose largest difference is least; None where the rules can't hold together. Raises UnsolvedError.

    ``kept`` are items that each form has to have. What the bound says is true for forms with them.
    """
    grid = grid_of(programme)
    add_rules(grid, programme.rules)
    for form, items in enumerate(kept):
        for item in items:
            grid.model.row({grid.x[form][item]: 1.0}, low=1.0)
    if programme.measures:
        y = grid.model.variable(1.0, INFINITY, whole=False)
        grid.model.row({y: 1.0}, low=programme.enough)
        for measure in programme.measures:
            _add_measure(grid, measure, y)
    answer = grid.model.solve(nodes)
    return _read(programme, grid, answer) if answer else None


def _read(programme: Programme, grid: VariableGrid, answer: Optimum) -> Assembled:
    chosen = [tuple(int(item) for item in np.flatnonzero(answer.values[list(form)] > 0.5)) for form in grid.x]
    found = programme.difference(chosen)
    return Assembled(tuple(chosen), found, min(max(answer.bound - TINY, programme.enough), found))
