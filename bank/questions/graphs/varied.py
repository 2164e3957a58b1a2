"""Which given a graph is plotted against, and how the answer depends on it: by a power, or in one of two terms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import sympy

from ...model.bounds import is_ratio
from ...model.draws import grid_of
from ...model.evaluation import evaluate
from ...model.problem import Scene
from ...quantities.unit_kinds import kind_of
from ...solving.solution import SAMPLE_GRAVITY, SolvedQuestion
from ...writing.numeric_steps import power_law
from ..change_keys import idle_mass, is_bound, is_unasked
from ..fixed import is_fixed
from .lines import Line, Span

MULTIPLES = (1.25, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0)  # of the greatest value drawn: how far the axis may reach
REACH = Decimal("1.75")  # how far where nothing says what is plausible
STEEPEST = 85.0  # in degrees: no axis of an angle goes nearer to a right angle, where tangents end


@dataclass(frozen=True)
class Dependence:
    """How a closed form depends on one quantity: with its ``power``, or in the one term ``moving`` that has it.

    ``power`` is None where that term is no power of it, as with a cosine; ``fixed`` is the other term, if there is one.
    """

    power: sympy.Rational | None
    moving: sympy.Expr
    fixed: sympy.Expr | None = None

    @property
    def is_turned(self) -> bool:
        """Whether the quantity stands in a sine, a cosine or a tangent alone."""
        return self.power is None and self.fixed is None

    @property
    def is_proportion(self) -> bool:
        """Whether one is proportional to the other."""
        return self.fixed is None and self.power == 1

    @property
    def is_trivial(self) -> bool:
        """Whether it says no more than that one is proportional to the other, or inversely so."""
        return self.fixed is None and self.power is not None and abs(self.power) == 1


@dataclass(frozen=True)
class Varied:
    """A quantity, or its square, on the horizontal axis, all else held; ``law`` is how the answer depends on it."""

    symbol: str
    is_squared: bool
    law: Dependence

    @property
    def name(self) -> str:
        """What tells it from others of a question."""
        return f"{self.symbol}{' squared' if self.is_squared else ''}"

    def span(self, solved: SolvedQuestion, scene: Scene) -> tuple[Span, Line] | None:
        """What is plotted in a scene, with the right line; None where no range of it shows the line clearly."""
        problem, question = solved.problem, solved.question
        choices = grid_of(problem, question, scene, SAMPLE_GRAVITY).choices
        held = {name: each[len(each) // 2].si for name, each in choices.items()}
        positive = problem.answer_spec(question, scene).positive
        for end in self._ends(solved, scene):
            span = Span(self.symbol, end, self.is_squared, held)
            line = span.line(solved.solution.closed_form, positive=positive)
            if line and self._is_whole(line, held, end):
                return span, line
        return None

    def _ends(self, solved: SolvedQuestion, scene: Scene) -> Iterator[float]:
        """How far the quantity may go, in SI."""
        spec = solved.problem.spec(self.symbol, scene)
        if spec.draw is None:
            yield 1.0  # of what has no effect
            return
        greatest = max(spec.draw.values)
        most = spec.plausible[1] if spec.plausible else greatest * REACH
        if spec.unit.symbol == "deg":
            most = min(most, Decimal(STEEPEST))
        for multiple in MULTIPLES:
            end = float(greatest) * multiple
            if end <= max(most, greatest):
                yield end * spec.unit.factor

    def _is_whole(self, line: Line, held: Mapping[str, float], end: float) -> bool:
        """Whether a line that falls through the axis is drawn so far that this is seen."""
        law = self.law
        if law.fixed is None or line.look.way != "falls" or line.ends_on_axis:
            return True
        moving, fixed = (float(evaluate(each, {**held, self.symbol: end})) for each in (law.moving, law.fixed))
        return bool(np.sign(moving) == np.sign(fixed))


def varied(solved: SolvedQuestion) -> Iterator[Varied]:
    """What a graph may be plotted against: no mere proportionality, and no square unless that makes the line straight.

    A mass that has cancelled is asked about once a problem, as with changes.
    """
    if is_unasked(solved) or is_bound(solved):
        return
    form = solved.solution.closed_form
    for name in solved.question.given:
        law = dependence(form, name) if _varies(solved, name) else None
        if law and not law.is_trivial:
            yield Varied(name, False, law)
        if law and (law.power or power_law(law.moving, name)) == 2:
            yield Varied(name, True, law)
    mass = idle_mass(solved)
    if mass:
        yield Varied(mass, False, Dependence(sympy.Integer(0), sympy.Integer(1)))


def _varies(solved: SolvedQuestion, name: str) -> bool:
    """Whether a given stands in the answer, is drawn, and is nothing that a body or the world has once and for all."""
    spec = solved.problem.quantities[name]
    drawn = name in solved.solution.symbols and spec.draw is not None and len(spec.draw.values) > 1
    if not drawn or kind_of(spec.unit) == "mass" or is_ratio(solved.problem, name):
        return False
    return not all(is_fixed(solved, scene, name) for scene in solved.problem.scenes_of(solved.question))


def dependence(form: sympy.Expr, name: str) -> Dependence | None:
    """How the form depends on the quantity; None where it does so in a way that has more to it."""
    letter = sympy.Symbol(name)
    power = power_law(form, name)
    if power is not None:
        return Dependence(power, letter**power)
    terms = sympy.Add.make_args(sympy.expand(form))
    moving = [each for each in terms if each.has(letter)]
    if len(moving) != 1 or len(terms) > 2:
        return None
    own, _ = moving[0].as_independent(letter)[::-1]
    if own.free_symbols != {letter}:
        return None
    (fixed,) = [each for each in terms if each is not moving[0]] or [None]
    return Dependence(None, own if fixed is None else moving[0], fixed)
