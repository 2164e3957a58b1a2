"""Whether lines follow from one another: they are tried away from the solution, where none is true by chance.

A line that is only true (m g = m g, or a line about something else) passes where the solution is put in. Away from it
the sides of a line differ, and what was done to the line before tells by how much.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

import numpy as np
import sympy

from ..mechanics.equations import Equation
from ..model.evaluation import evaluate
from ..model.expression import names_in
from .algebra import COSINE, SINE, common_factor, letters, terms_of
from .elimination import Stage
from .solution import Solved

Values = Mapping[str, float]
CLOSE = 1e-7


def value_at(expression: sympy.Expr, values: Values) -> float:
    """The value of an expression; sine and cosine of a known angle stand beside it under their letters."""
    angles = {
        letter + name: function(values[name])
        for letter, function in ((SINE, np.sin), (COSINE, np.cos))
        for name in values
        if letter + name not in values
    }
    return float(evaluate(letters(expression), {**angles, **values}))


def unknown_of(left: sympy.Expr) -> str | None:
    """The name of what is isolated: a symbol, or the sine or cosine of an angle under its letter."""
    base = letters(left.base if left.is_Pow else left)
    return base.name if base.is_Symbol else None


class Derivation:
    """Lines from equations to what is isolated, at random values near those of a solution."""

    def __init__(self, path: tuple[Solved, ...], equations: list[Equation], values: Values) -> None:
        chance = random.SystemRandom()
        self._path, self._equations = path, equations
        self._values = {name: (each or 1.0) * chance.uniform(0.97, 1.03) for name, each in values.items()}

    @property
    def is_sound(self) -> bool | None:
        """Whether each line follows from that before it, the first from the equation; None where one is not real."""
        found = [each for pair in zip(self._path, self._equations, strict=True) for each in self._judged(*pair)]
        return False if False in found else None if None in found else True

    def _judged(self, step: Solved, equation: Equation) -> list[bool | None]:
        """Of each line whether it follows, and at the end whether what is isolated does, with no line left out."""
        if [stage.did == "start" for stage in step.stages] != [place == 0 for place in range(max(len(step.stages), 1))]:
            return [False]
        if not self._is_whole(step):
            return [False]
        lines = [(equation.left, equation.right), *((each.left, each.right) for each in step.stages)]
        found = [self._follows(stage, *line) for stage, line in zip(step.stages, lines, strict=False)]
        return [*found, self._ends(step, *lines[-1])]

    def _is_whole(self, step: Solved) -> bool:
        """Whether all that was found before is put in, in its order and once, and what all terms share is cancelled."""
        before = [unknown_of(each.left) for each in self._path[: self._path.index(step)]]
        places = [before.index(unknown_of(each.what)) for each in step.stages if each.did == "put"]
        left, right = (letters(side) for side in (step.stages[-1].left, step.stages[-1].right))
        gone = {name for name, each in zip(before, self._path, strict=False) if each.left.is_Symbol}
        terms = terms_of(left, right)
        return (
            places == sorted(set(places))
            and not gone & names_in(left - right)
            and (len(terms) < 2 or step.origin < 0 or common_factor(terms) == 1)
        )

    def _ends(self, step: Solved, left: sympy.Expr, right: sympy.Expr) -> bool | None:
        """Whether the last line balances once what is isolated has its value, whatever the others have."""
        if unknown_of(step.left) is None:  # a tangent: the sine and cosine have no value of their own
            return True
        values = self._put(step.left)
        gap = value_at(left, values) - value_at(right, values)
        return bool(abs(gap) <= CLOSE * _size(left, right, values)) if np.isfinite(gap) else None

    def _follows(self, stage: Stage, left: sympy.Expr, right: sympy.Expr) -> bool | None:
        values: Values = self._values
        factor = 1.0
        if stage.did == "put":
            values = self._put(stage.what)
        elif stage.did == "cancel":
            factor = value_at(stage.what, values)
        elif stage.did != "start" or stage.what is not None:
            return False
        size = _size(left, right, values)
        before = value_at(left, values) - value_at(right, values)
        after = factor * (value_at(stage.left, values) - value_at(stage.right, values))
        if not np.isfinite(before) or not np.isfinite(after):
            return None
        return bool(abs(abs(before) - abs(after)) <= CLOSE * size)

    def _put(self, what: sympy.Expr | None) -> Values:
        """The values, with what is put in as its own step gives it. Raises KeyError where no step gives it."""
        steps = {unknown_of(each.left): each for each in self._path}
        name = None if what is None else unknown_of(what)
        if name is None:
            raise KeyError(what)
        step = steps[name]
        value = value_at(step.value, self._values)
        power = float(step.left.exp) if step.left.is_Pow else 1.0
        root = value if power == 1 else value ** (1 / power) if value > 0 else np.nan
        return {**self._values, name: root}


def _size(left: sympy.Expr, right: sympy.Expr, values: Values) -> float:
    """The largest term of a line."""
    return max(abs(value_at(term, values)) for side in (left, right) for term in sympy.Add.make_args(side))
