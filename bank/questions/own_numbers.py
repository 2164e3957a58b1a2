"""A question solved for a user's own numbers, from whatever set of givens the user has."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from math import isfinite

from ..errors import SolveError, UnitError, UsageError
from ..item.item import Step
from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import system_of
from ..model.evaluation import evaluate, holds
from ..model.problem import Problem, QuantitySpec, Question, gravity_spec
from ..model.wording import bare
from ..quantities import units
from ..quantities.quantity import Quantity, from_float
from ..quantities.units import examples_of, unit
from ..solving.serial import measured, rebuilt
from ..solving.solution import Kept, SolvedQuestion, kept, solve
from ..storage.entries import Tree
from ..variants.variant import Variant, default_tolerance, half_width
from ..writing.solution import Writer

_SETTING = re.compile(r"([A-Za-z][A-Za-z0-9_]*)=([-+]?[0-9.]+(?:[eE][-+]?[0-9]+)?)\s*(°|[A-Za-z1/*^0-9-]*)")
ORDINARY = 40  # powers of ten, up and down, that a number may have
MOST_FIGURES = 9


@dataclass(frozen=True)
class OwnAnswer:
    """The asked symbol, its value in SI and as printed, the closed form and the seven steps."""

    ask: str
    value_si: float
    text: str
    closed_form: str
    steps: tuple[Step, ...]


def solve_for(
    problem: Problem, question: Question, settings: Sequence[str], ask: str | None, gravity: Decimal
) -> OwnAnswer:
    """The answer for ``settings`` such as ``m=250g``; a value without unit is in the problem's own unit.

    Raises UsageError for a setting that does not fit, SolveError where the settings are too few, too many, or break
    what holds.
    """
    given = _given(problem, settings)
    constant = {
        name: _constant(spec) for name, spec in problem.quantities.items() if spec.constant and name not in given
    }
    asked = ask or question.ask
    if asked not in problem.quantities:
        raise UsageError(f"{problem.id} has no quantity '{asked}'; it has {', '.join(problem.quantities)}")
    if asked in given:
        raise UsageError(f"'{asked}' is asked for and set; leave one of the two out")
    given = {**given, **constant}
    changed = replace(
        question, ask=asked, given=tuple(given), extra=(), unit=question.unit if asked == question.ask else None
    )
    spec = gravity_spec(gravity, unit("N/kg"))
    given["g"] = Quantity(gravity, spec.unit, spec.figures)
    return _answer(problem, changed, given)


def _answer(problem: Problem, question: Question, given: Mapping[str, Quantity]) -> OwnAnswer:
    values = {name: quantity.si for name, quantity in given.items()}
    solved = _solved(problem, question, values)
    scene = problem.scenes_of(question)[0]
    spec = problem.answer_spec(question)
    for each in solved.kept:
        if each.expression is not None and _is_broken(each, values):
            wrong = f"with these numbers {each.reason.text} is broken"
            raise SolveError(solved.id, wrong, "check the numbers: this situation can't be")
    exact = float(evaluate(solved.solution.closed_form, values))
    if not isfinite(exact):
        right = "check the numbers: this situation can't be"
        raise SolveError(solved.id, f"with these numbers '{question.ask}' has no real value", right)
    shown = Quantity(from_float(exact / spec.unit.factor), spec.unit, question.figures)
    variant = Variant(scene, given, exact, shown, half_width(shown, question.tolerance or default_tolerance(spec)))
    return OwnAnswer(
        question.ask, exact, shown.text, str(solved.solution.closed_form), Writer(solved, scene).steps(variant)
    )


def _is_broken(each: Kept, values: Mapping[str, float]) -> bool:
    """Whether something does not hold; what is not real is told with the answer."""
    margin = float(evaluate(each.expression, values))
    return isfinite(margin) and not holds(each.expression, values, strict=each.strict)


def _solved(problem: Problem, question: Question, values: Mapping[str, float]) -> SolvedQuestion:
    if goes_to_worker(problem):
        data = in_worker(problem, question, solve_task, question, values)
        return rebuilt(problem, question, system_of(problem, question), data)
    system = system_of(problem, question)
    solution = solve(system, values)
    return SolvedQuestion(problem, question, system, solution, tuple(kept(system, each) for each in problem.holds))


def solve_task(problem: Problem, question: Question, values: Mapping[str, float]) -> Tree:
    """The solved question as plain data."""
    return measured(_solved(problem, question, values))


def _given(problem: Problem, settings: Sequence[str]) -> dict[str, Quantity]:
    given: dict[str, Quantity] = {}
    for setting in settings:
        match = _SETTING.fullmatch(setting.strip())
        if not match:
            raise UsageError(f"--set {setting}: this is no setting; write for example --set r=0.9 or --set m=250g")
        name, number, unit_symbol = match.groups()
        spec = problem.quantities.get(name)
        if spec is None:
            raise UsageError(
                f"--set {setting}: {problem.id} has no quantity '{name}'; it has {', '.join(problem.quantities)}"
            )
        if name in given:
            raise UsageError(f"--set {setting}: '{name}' is set twice; leave one out")
        given[name] = _quantity(setting, spec, number, unit_symbol)
    return given


def _quantity(setting: str, spec: QuantitySpec, number: str, unit_symbol: str) -> Quantity:
    try:
        chosen = unit(unit_symbol.replace("°", "deg")) if unit_symbol else spec.unit
        value = Decimal(number)
    except UnitError as error:
        raise UsageError(f"--set {setting}: {error}") from None
    except InvalidOperation:
        raise UsageError(f"--set {setting}: '{number}' is no number; write for example 0.9 or 6.4e6") from None
    if not chosen.fits(spec.unit):
        named = f"{spec.symbol}, the {bare(spec.means)}" if spec.means else spec.symbol
        right = f"expected a unit such as {examples_of(spec.unit)}"
        raise UsageError(f"--set {setting}: '{unit_symbol}' is no unit for {named}; {right}")
    if value <= 0 and spec.positive:
        raise UsageError(f"--set {setting}: {spec.symbol} is positive; leave a direction to the force diagram")
    if value and abs(value.adjusted()) > ORDINARY:
        raise UsageError(f"--set {setting}: the number is beyond all measure; write for example 0.9 or 6.4e6")
    digits = max(len(value.normalize().as_tuple().digits), len(value.as_tuple().digits))
    return Quantity(value, chosen, min(digits, MOST_FIGURES))


def _constant(spec: QuantitySpec) -> Quantity:
    known = units.known(spec.constant or "")
    assert known is not None  # the reader has refused unknown names
    return Quantity(known.value, spec.unit, spec.figures)
