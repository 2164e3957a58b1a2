"""Each question is complete: what is asked and given fits together, in every scene that it is told in."""

from __future__ import annotations

from math import prod

import numpy as np

from ...documents.document import Path_
from ...language import count
from ...model.bounds import is_allowed, least_words
from ...model.evaluation import evaluate
from ...model.expression import Relation
from ...model.problem import Problem, QuantitySpec, Question, Scene
from ...quantities import units
from ...quantities.quantity import round_figures


def check_questions(problem: Problem) -> None:
    """Note what a question lacks, and what contradicts itself in it."""
    for question in problem.questions:
        _names_are_known(problem, question)
        _asked_is_not_given(problem, question)
        _answer_has_a_range(problem, question)
        _givens_have_values(problem, question)
        _givens_are_as_exact_as_the_answer(problem, question)
        _constants_are_needed(problem, question)
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


def _givens_are_as_exact_as_the_answer(problem: Problem, question: Question) -> None:
    """Note a given with fewer figures than are asked for; what is counted, such as revolutions, is exact."""
    for at, name in enumerate(question.given):
        for scene in problem.scenes_of(question) if name in problem.quantities else ():
            spec = problem.spec(name, scene)
            if spec.figures < question.figures and not _is_counted(spec):
                wrong = (
                    f"'{name}' has {count(spec.figures, 'significant figure')} in the scene '{scene.name}', "
                    f"and the answer is asked to {question.figures}"
                )
                right = f"raise 'figures' of quantities.{name}, or lower those of the question"
                problem.document.fault(("questions", question.name, "given", at), wrong, right)
                break


def _is_counted(spec: QuantitySpec) -> bool:
    values = spec.draw.values if spec.draw else ()
    return spec.means.startswith("number of") and all(value == value.to_integral_value() for value in values)


def _constants_are_needed(problem: Problem, question: Question) -> None:
    """Note a constant of nature that is given on top: a candidate learns nothing from leaving it out."""
    for at, name in enumerate(question.extra):
        if name in problem.quantities and problem.quantities[name].constant:
            wrong = f"'{name}' is a constant that the answer does not need"
            problem.document.fault(("questions", question.name, "extra", at), wrong, "take it out, and out of the stem")


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
    if question.limiting and sound and not any(is_edge(question.limiting, each.relation) for each in problem.holds):
        right = "a limiting case is the edge of one of 'holds': for N >= 0 it is N = 0"
        problem.document.fault(path, "this is no edge of what holds", right)


def is_edge(limiting: Relation, hold: Relation) -> bool:
    """Whether the limiting equation is the hold with an equals sign, either way round, for any values."""
    names = sorted(limiting.symbols | hold.symbols)
    random = np.random.default_rng(1)
    values = {name: random.uniform(0.2, 0.9, 8) for name in names}
    gap, edge = (evaluate(each.left - each.right, values) for each in (limiting, hold))
    return limiting.sign == "=" and bool(
        np.allclose(gap, edge, rtol=1e-9, atol=0) or np.allclose(gap, -edge, rtol=1e-9, atol=0)
    )


# --- values can be drawn and printed ---


MOST_FIGURES = 6
MOST_COMBINATIONS = 10**12


def check_numbers(problem: Problem) -> None:
    """Note draws, ranges and constants that can't be used."""
    for name, spec in problem.quantities.items():
        path: Path_ = ("quantities", name)
        if spec.constant is not None:
            _check_constant(problem, path, spec)
        _check_draw(problem, path, spec)
        _check_range(problem, path, spec)
    for scene in problem.scenes:
        for name, spec in scene.quantities.items():
            path = ("scenes", scene.name, "quantities", name)
            _check_own_unit(problem, path, spec)
            if {"draw", "figures"} & problem.document.names(*path):
                _check_draw(problem, path, spec)
            _check_range(problem, path, spec)
    for question in problem.questions:
        path = ("questions", question.name)
        if question.plausible and question.plausible[0] >= question.plausible[1]:
            _refuse_range(problem, path)
        for scene in problem.scenes_of(question):
            _check_size(problem, question, scene)


def _check_constant(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    known = units.known(spec.constant or "")
    if known is None:
        right = f"use a CODATA name such as '{units.EXAMPLE}'"
        problem.document.fault((*path, "constant"), f"no CODATA constant is called '{spec.constant}'", right)
    elif spec.unit.dimension and known.unit.dimension != spec.unit.dimension:
        right = "expected the SI unit of the constant"
        problem.document.fault((*path, "unit"), f"found '{spec.unit.symbol}' for the {spec.constant}", right)
    if spec.draw:
        problem.document.fault((*path, "draw"), "a constant has its own value", "leave the draw out", key=True)


def _check_draw(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    where = (*path, "draw" if "draw" in problem.document.names(*path) else "figures")
    for value in spec.draw.values if spec.draw else ():
        if not is_allowed(problem, spec.symbol, value):
            right = f"expected {least_words(problem, spec.symbol)}, or 'sign: any'"
            problem.document.fault(where, f"found {value:f}", right)
            return
        if round_figures(value, spec.figures) != value:
            needed = len(value.normalize().as_tuple().digits)
            wrong = f"{value:f} can't be printed with {count(spec.figures, 'significant figure')}"
            right = f"raise 'figures' to {needed}" if needed <= MOST_FIGURES else "use rounder values"
            problem.document.fault(where, wrong, right)
            return


def _check_own_unit(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    """A scene with a unit of its own has to draw in it: the values of the problem are in another one."""
    base = problem.quantities[spec.symbol]
    if base.draw and spec.draw is None and problem.document.is_sound(*path):
        wrong = f"values in {base.unit.symbol} are no values in {spec.unit.symbol}"
        problem.document.fault(path, wrong, "add a 'draw' in the unit of this scene", key=True)


def _check_range(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    if "plausible" in problem.document.names(*path) and spec.plausible and spec.plausible[0] >= spec.plausible[1]:
        _refuse_range(problem, path)


def _refuse_range(problem: Problem, path: Path_) -> None:
    problem.document.fault((*path, "plausible"), "the range is empty", "'from' is less than 'to'")


def _check_size(problem: Problem, question: Question, scene: Scene) -> None:
    """A grid of combinations is numbered, so it has to end somewhere."""
    names = [name for name in (*question.given, *question.extra) if name in problem.quantities]
    specs = [problem.spec(name, scene) for name in names]
    size = prod(len(spec.draw.values) for spec in specs if spec.draw)
    if size > MOST_COMBINATIONS:
        wrong = f"the draws make more than {MOST_COMBINATIONS:,} combinations in the scene '{scene.name}'"
        problem.document.fault(("questions", question.name, "given"), wrong, "draw from fewer values")
