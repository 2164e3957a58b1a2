"""A question solved for a user's own numbers, from whatever set of givens the user has."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import isfinite, log10

from ..errors import SolveError, UnitError, UsageError
from ..item.item import Step
from ..language import listed
from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import system_of
from ..model.bounds import is_allowed, may_be_zero
from ..model.evaluation import evaluate, holds
from ..model.expression import parse_relation
from ..model.problem import Problem, QuantitySpec, Question, Reason, gravity_spec
from ..model.wording import bare
from ..quantities import units
from ..quantities.quantity import Quantity, from_float, typed_number
from ..quantities.units import examples_of, unit
from ..solving.serial import measured, rebuilt
from ..solving.solution import Kept, SolvedQuestion, solve_question
from ..storage.entries import Tree
from ..variants.variant import Variant, default_tolerance, half_width
from ..writing.solution import Writer

_SETTING = re.compile(r"\s*([A-Za-z][A-Za-z0-9_]*)\s*=\s*(\S.*?)\s*")
_NUMBERLIKE = re.compile(r"[-+−0-9.,' ]+(?:[eE][-+−]?[0-9]+)?")
# powers of ten of the SI unit, up and down, that a value may have: the observable universe has 10^53 kg and 10^27 m
ORDINARY = 60
MOST_FIGURES = 9
_NO_SETTING = "this is no setting; write for example --set r=0.9 or --set m=250g"


@dataclass(frozen=True)
class OwnAnswer:
    """The asked symbol, its value in SI and as printed, the closed form and the seven steps.

    ``taken`` tells the values that were set without a unit, with the unit that they were taken in.
    """

    ask: str
    value_si: float
    text: str
    closed_form: str
    steps: tuple[Step, ...]
    taken: tuple[str, ...] = ()


def solve_for(
    problem: Problem, question: Question, settings: Sequence[str], ask: str | None, gravity: Decimal
) -> OwnAnswer:
    """The answer for ``settings`` such as ``m=250g`` or ``m=m_e``; a value without unit is in the problem's own unit.

    Raises UsageError for a setting that does not fit, SolveError where the settings are too few, too many, or break
    what holds.
    """
    given, taken = _given(problem, settings)
    constant = {
        name: _constant(spec) for name, spec in problem.quantities.items() if spec.constant and name not in given
    }
    asked = ask or question.ask
    if "/" in asked:
        problem, asked = _with_ratio(problem, asked)
    if asked not in problem.quantities:
        raise UsageError(f"{problem.id} has no quantity '{asked}'; it has {_those(problem)}")
    if asked in given:
        raise UsageError(f"'{asked}' is asked for and set; leave one of the two out")
    given = {**given, **constant}
    changed = replace(question, ask=asked, given=tuple(given), extra=())
    if asked != question.ask:  # what is said of the question's own answer is not of this one
        changed = replace(changed, unit=None, asked_name="", plausible=None, tolerance=None)
    spec = gravity_spec(gravity, unit("N/kg"))
    given["g"] = Quantity(gravity, spec.unit, spec.figures)
    return replace(_answer(problem, changed, given), taken=taken)


def _with_ratio(problem: Problem, ask: str) -> tuple[Problem, str]:
    """The problem with a ratio of two of its quantities, such as ``N_low/N``, as a quantity more; and its name."""
    above, _, below = (each.strip() for each in ask.partition("/"))
    for name in (above, below):
        if name not in problem.quantities:
            raise UsageError(f"--ask {ask}: {problem.id} has no quantity '{name}'; it has {_those(problem)}")
    first, second = problem.quantities[above].unit, problem.quantities[below].unit
    if not first.fits(second):
        wrong = f"{above} in {first.symbol} and {below} in {second.symbol} have no ratio that is a number"
        raise UsageError(f"--ask {ask}: {wrong}; ask for two quantities of one kind")
    name = next(
        each for each in ("ratio", *(f"ratio{number}" for number in range(99))) if each not in problem.quantities
    )
    specs = [problem.quantities[each] for each in (above, below)]
    means = f"ratio of {_meant(problem, above)} to {_meant(problem, below)}"
    spec = QuantitySpec(name, unit("1"), means, positive=all(each.positive for each in specs))
    reason = Reason(parse_relation(f"{name} = {ask}"), f"{name} = {ask}", "the ratio that is asked for is")
    more = {**problem.quantities, name: spec}
    return replace(problem, quantities=more, relations=(*problem.relations, reason)), name


def _meant(problem: Problem, name: str) -> str:
    """A quantity in words: what it means, or the force that it is the size of, by the slot that a scene fills."""
    roles = [
        force.role for diagram in problem.diagrams for force in diagram.forces if name in (force.symbol, force.size)
    ]
    return f"the {problem.quantities[name].means or name}" if not roles else f"{{the {roles[0]}}}"


def _those(problem: Problem) -> str:
    return ", ".join(problem.quantities)


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
    return solve_question(problem, question, values)


def solve_task(problem: Problem, question: Question, values: Mapping[str, float]) -> Tree:
    """The solved question as plain data."""
    return measured(_solved(problem, question, values))


def _given(problem: Problem, settings: Sequence[str]) -> tuple[dict[str, Quantity], tuple[str, ...]]:
    """The values that are set, and what is told of those without a unit."""
    given: dict[str, Quantity] = {}
    taken: list[str] = []
    for setting in settings:
        match = _SETTING.fullmatch(setting)
        if not match:
            raise UsageError(f"--set {setting}: {_NO_SETTING}")
        name, typed = match.groups()
        spec = problem.quantities.get(name)
        if spec is None:
            right = f"g is not set; write --g {typed}" if name == "g" else f"it has {_those(problem)}"
            raise UsageError(f"--set {setting}: {problem.id} has no quantity '{name}'; {right}")
        if name in given:
            raise UsageError(f"--set {setting}: '{name}' is set twice; leave one out")
        value, unit_symbol = _typed(setting, typed)
        given[name] = _quantity(setting, problem, spec, value, unit_symbol)
        if not unit_symbol and spec.unit.printed:
            taken.append(f"{name} = {given[name].text}")
    return given, tuple(taken)


def _typed(setting: str, typed: str) -> tuple[Decimal, str]:
    """The value that was typed, or that of the constant whose letter was, and the text of its unit."""
    constant = units.known(units.LETTERS.get(typed, ""))
    if constant:
        return constant.value, constant.unit.symbol
    found = typed_number(typed)
    if found is None:
        letters = listed(units.LETTERS, "or")
        raise UsageError(f"--set {setting}: {_NO_SETTING}, or a constant: {letters}")
    value, behind = found
    if behind[:1] and behind[0] in ".,'0123456789":
        number = _NUMBERLIKE.match(typed)
        shown = number[0].strip() if number else typed
        raise UsageError(f"--set {setting}: '{shown}' is no number; write for example 0.9 or 6.4e6")
    return value, behind.strip()


def _quantity(setting: str, problem: Problem, spec: QuantitySpec, value: Decimal, unit_symbol: str) -> Quantity:
    try:
        chosen = unit(unit_symbol) if unit_symbol else spec.unit
    except UnitError as error:
        raise UsageError(f"--set {setting}: {error}") from None
    if not chosen.fits(spec.unit):
        named = f"{spec.symbol}, the {bare(spec.means)}" if spec.means else spec.symbol
        right = f"expected a unit such as {examples_of(spec.unit)}"
        raise UsageError(f"--set {setting}: '{unit_symbol}' is no unit for {named}; {right}")
    if not is_allowed(problem, spec.symbol, value):
        wrong = f"{spec.symbol} is {'never negative' if may_be_zero(problem, spec.symbol) else 'positive'}"
        raise UsageError(f"--set {setting}: {wrong}; leave a direction to the force diagram")
    if value and abs(value.adjusted() + log10(chosen.factor)) > ORDINARY:
        wrong = f"the number is beyond all measure, more than 10^{ORDINARY} of the SI unit or less than 10^-{ORDINARY}"
        raise UsageError(f"--set {setting}: {wrong}; write for example 0.9 or 6.4e6")
    digits = max(len(value.normalize().as_tuple().digits), len(value.as_tuple().digits))
    return Quantity(value, chosen, min(digits, MOST_FIGURES))


def _constant(spec: QuantitySpec) -> Quantity:
    known = units.known(spec.constant or "")
    assert known is not None  # the reader has refused unknown names
    return Quantity(known.value, spec.unit, spec.figures)
