"""Whether a key changed: by the values of the closed forms, and by the conditions under which answers are marked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import sympy

from ..errors import SolveError
from ..item import formula
from ..mechanics.equations import System, system_of
from ..model.expression import Relation
from ..model.problem import Problem, QuantitySpec, Question, Scene
from ..quantities.quantity import print_exact
from ..solving.cache import solved_question
from ..solving.solution import SolvedQuestion, samples_of
from ..variants.variant import default_tolerance
from ..writing.notation import Notation
from .changes import Change, Pair
from .letters import agree_somewhere, is_same_edge, is_same_zero, relettered
from .showing import shown


def is_same_model(pair: Pair) -> bool:
    """Whether both sides are solved from the same equations and numbers, so that nothing needs to be solved."""
    before, after = (_model(*each) for each in ((pair.old_problem, pair.old), (pair.new_problem, pair.new)))
    if before != after:
        return False
    first, second = samples_of(pair.old_problem, pair.old), samples_of(pair.new_problem, pair.new)
    return first.keys() == second.keys() and all(np.array_equal(first[name], second[name]) for name in first)


def _model(problem: Problem, question: Question) -> tuple[System, tuple[str, ...]]:
    system = system_of(problem, question)
    plain = tuple(replace(each, because="") for each in system.equations)
    return replace(system, equations=plain), tuple(each.text for each in problem.holds)


def solved_or_why(problem: Problem, question: Question) -> SolvedQuestion | str:
    """The solved question, or why it has no closed form."""
    try:
        return solved_question(problem, question)
    except SolveError as error:
        return error.wrong


def unsolved(old: SolvedQuestion | str, new: SolvedQuestion | str) -> Iterator[Change]:
    """The change of a question that can be solved on one side only, or on none for other reasons."""
    before, after = (each if isinstance(each, str) else closed_form(each) for each in (old, new))
    if before != after:
        yield Change("key", "closed form", before, after, needs_version=True)


def about_marking(pair: Pair) -> Iterator[Change]:
    """The conditions of marking that changed: unit, figures and tolerance of the answer; each one is told once."""
    found = dict.fromkeys(change for scenes in _scenes(pair) for change in _marking(pair, *scenes))
    for what, before, after in found:
        yield Change("key", what, before, after, needs_version=True)


def _scenes(pair: Pair) -> Iterator[tuple[Scene, Scene]]:
    """The scenes that a question has on both sides, or else the first of each."""
    before, after = pair.old_problem.scenes_of(pair.old), pair.new_problem.scenes_of(pair.new)
    pairs = [(old, new) for old in before for new in after if old.name == new.name]
    yield from pairs or [(before[0], after[0])]


def _marking(pair: Pair, before: Scene, after: Scene) -> Iterator[tuple[str, str, str]]:
    old, new = pair.old_problem.answer_spec(pair.old, before), pair.new_problem.answer_spec(pair.new, after)
    for what, was, now in (
        ("unit of the answer", old.unit.symbol, new.unit.symbol),
        ("figures of the answer", str(old.figures), str(new.figures)),
        ("tolerance", _tolerance(pair.old, old), _tolerance(pair.new, new)),
    ):
        if was != now:
            yield what, was, now


def _tolerance(question: Question, answer: QuantitySpec) -> str:
    stated = question.tolerance or default_tolerance(answer)
    if stated.absolute is not None:
        return f"{print_exact(stated.absolute)} {answer.unit.symbol}"
    return f"{(stated.percent or 0):f} %"


def about_forms(pair: Pair, old: SolvedQuestion, new: SolvedQuestion) -> Iterator[Change]:
    """The closed form and the limits that changed."""
    if not is_same_form(pair, old, new):
        yield Change("key", "closed form", closed_form(old), closed_form(new), needs_version=True)
    elif not _is_same_limit(pair):
        before, after = (_equation(each.limiting) for each in (pair.old, pair.new))
        yield Change("key", "limiting case", before, after, needs_version=True)
    gone, come = _unmatched(old, new, pair.letters), _unmatched(new, old, {}, pair.letters)
    if gone or come:
        yield Change("key", "what holds", "; ".join(gone), "; ".join(come), needs_version=True)


def is_same_form(pair: Pair, old: SolvedQuestion, new: SolvedQuestion) -> bool:
    """Whether the closed forms give the same values for the givens of either side."""
    first = relettered(old.solution.closed_form, pair.letters)
    samples = samples_of(pair.old_problem, pair.old)
    before = {pair.named(name): values for name, values in samples.items()}
    return agree_somewhere(first, new.solution.closed_form, before, samples_of(pair.new_problem, pair.new))


def closed_form(solved: SolvedQuestion) -> str:
    """The closed form on one line, in the problem's own symbols."""
    notation = Notation()
    return f"{solved.solution.ask} = {formula.text(notation.node(solved.solution.closed_form))}"


def _is_same_limit(pair: Pair) -> bool:
    old, new = pair.old.limiting, pair.new.limiting
    if old is None or new is None:
        return old is new
    return is_same_zero(relettered(old.left - old.right, pair.letters), new.left - new.right)


def _equation(relation: Relation | None) -> str:
    if relation is None:
        return "none"
    notation = Notation()
    return " ".join(
        (formula.text(notation.node(relation.left)), relation.sign, formula.text(notation.node(relation.right)))
    )


def _unmatched(
    first: SolvedQuestion,
    second: SolvedQuestion,
    names: Mapping[str, str],
    other_names: Mapping[str, str] | None = None,
) -> list[str]:
    """What is kept in the first and has no match in the second, as far as the question decides it."""
    others = [(each.strict, relettered(each.expression, other_names or {})) for each in _decided(second)]
    return [
        each.reason.text
        for each in _decided(first)
        if not any(
            each.strict == strict and is_same_edge(relettered(each.expression, names), other)
            for strict, other in others
        )
    ]


def _decided(solved: SolvedQuestion) -> list[Any]:
    """What is kept that a draw could break; what is always true of positive numbers is no limit."""
    found = [each for each in solved.kept if each.expression is not None]
    return [each for each in found if not (isinstance(each.expression, sympy.Expr) and each.expression.is_number)]


def with_variant(changes: list[Change], old: SolvedQuestion, new: SolvedQuestion, pair: Pair) -> list[Change]:
    """The changes of a key, the first one with a variant that shows it."""
    if not changes:
        return []
    return [replace(changes[0], shown=shown(pair, old, new)), *changes[1:]]
