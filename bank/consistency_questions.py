"""Each question is complete: what is asked and given fits together, in every scene that it is told in."""

from __future__ import annotations

import numpy as np
from turnwright.bank.document import Path_
from turnwright.bank.evaluation import evaluate
from turnwright.bank.expression import Relation
from turnwright.bank.problem import Problem, Question, Scene


def check_questions(problem: Problem) -> None:
    """Note what a question lacks, and what contradicts itself in it."""
    for question in problem.questions:
        _names_are_known(problem, question)
        _asked_is_not_given(problem, question)
        _answer_has_a_range(problem, question)
        _givens_have_values(problem, question)
        _limit_is_an_edge(problem, question)


def _names_are_known(problem: Problem, question: Question) -> None:
    path: Path_ = ("questions", question.name)
    for at, name in enumerate(question.scenes):
        if name not in problem.document.names("scenes"):
            right = "name a scene of this file"
            problem.document.fault((*path, "scenes", at), f"no scene is called '{name}'", right)
    if question.diagram and question.diagram not in problem.document.names("diagrams"):
        right = "name a diagram of this file"
        problem.document.fault((*path, "diagram"), f"no diagram is called '{question.diagram}'", right)


def _asked_is_not_given(problem: Problem, question: Question) -> None:
    path: Path_ = ("questions", question.name)
    document = problem.document
    if question.ask in (*question.given, *question.extra):
        document.fault((*path, "ask"), f"'{question.ask}' is asked and given", "take it out of one of the two")
    elif question.ask in problem.quantities and problem.quantities[question.ask].constant:
        document.fault((*path, "ask"), f"'{question.ask}' is a constant", "ask for something else")
    for at, name in enumerate(question.extra):
        if name in question.given:
            wrong = f"'{name}' is given as needed and as not needed"
            document.fault((*path, "extra", at), wrong, "keep it in one of the two lists")


def _answer_has_a_range(problem: Problem, question: Question) -> None:
    path, ask = ("questions", question.name, "ask"), question.ask
    if ask not in problem.quantities or not _is_open(problem, ("questions", question.name), "plausible"):
        return
    base = problem.quantities[ask].unit
    if question.unit and question.unit.symbol != base.symbol and question.plausible is None:
        wrong = f"no plausible range is stated in {question.unit.symbol}"
        problem.document.fault(path, wrong, "add 'plausible' to the question, in the unit of the answer")
        return
    for scene in problem.scenes_of(question):
        stated = question.plausible or problem.spec(ask, scene).plausible
        if stated is None and _is_open_in(problem, scene, ask, "plausible"):
            where = _where(problem, scene, ask)
            wrong = f"no plausible range is stated for '{ask}'{where}"
            right = f"add 'plausible' to quantities.{ask}{where and ' of the scene'}, or to the question"
            problem.document.fault(path, wrong, right)
            return


def _givens_have_values(problem: Problem, question: Question) -> None:
    for field in ("given", "extra"):
        for at, name in enumerate(getattr(question, field)):
            if name in problem.quantities:
                _has_values(problem, question, ("questions", question.name, field, at), name)


def _has_values(problem: Problem, question: Question, path: Path_, name: str) -> None:
    for scene in problem.scenes_of(question):
        spec = problem.spec(name, scene)
        if spec.draw is None and spec.constant is None and _is_open_in(problem, scene, name, "draw"):
            where = _where(problem, scene, name)
            right = f"add 'draw' to quantities.{name}{where and ' of the scene'}"
            problem.document.fault(path, f"'{name}' has no values to draw from{where}", right)
            return


def _where(problem: Problem, scene: Scene, symbol: str) -> str:
    """Where a scene with a unit of its own takes no values over."""
    changed = scene.quantities.get(symbol)
    own = changed is not None and changed.unit != problem.quantities[symbol].unit
    return f" in {changed.unit.symbol}, as the scene '{scene.name}' has it" if own and changed else ""


def _is_open_in(problem: Problem, scene: Scene, symbol: str, field: str) -> bool:
    paths: tuple[Path_, ...] = (("quantities", symbol), ("scenes", scene.name, "quantities", symbol))
    return all(_is_open(problem, path, field) for path in paths)


def _is_open(problem: Problem, path: Path_, field: str) -> bool:
    """Whether nothing was wrong with this field, so that its absence can be told."""
    return problem.document.is_sound(*path, field) and path not in problem.document.faulty


def _limit_is_an_edge(problem: Problem, question: Question) -> None:
    path = ("questions", question.name, "limiting")
    sound = problem.document.is_sound(*path) and problem.document.is_sound("holds")
    if question.limiting and sound and not any(_is_edge(question.limiting, each.relation) for each in problem.holds):
        right = "a limiting case is the edge of one of 'holds': for N >= 0 it is N = 0"
        problem.document.fault(path, "this is no edge of what holds", right)


def _is_edge(limiting: Relation, hold: Relation) -> bool:
    """Whether the limiting equation is the hold with an equals sign, either way round, for any values."""
    names = sorted(limiting.symbols | hold.symbols)
    random = np.random.default_rng(1)
    values = {name: random.uniform(0.2, 0.9, 8) for name in names}
    gap, edge = (evaluate(each.left - each.right, values) for each in (limiting, hold))
    return limiting.sign == "=" and bool(
        np.allclose(gap, edge, rtol=1e-9, atol=0) or np.allclose(gap, -edge, rtol=1e-9, atol=0)
    )
