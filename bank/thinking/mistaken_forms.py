"""Mistakes as they fall out in one question: their closed forms, solved once, and their values over arrays."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import sympy
from numpy.typing import NDArray

from ..errors import SolveError
from ..limits.worker import apart, is_apart
from ..mechanics.equations import System, system_of
from ..model.draws import Numbers
from ..model.edit import NumericEdit, UnitEdit
from ..model.evaluation import SAME, agree, evaluate
from ..model.expression import names_in
from ..model.mistake import Mistake
from ..model.problem import Problem, Question
from ..solving.algebra import rerooted
from ..solving.cache import data_of, rebuilt
from ..solving.serial import NoExpressionError, Tree, dump, load
from ..solving.solution import solve
from ..solving.solved import SolvedQuestion, samples_of
from ..variants.variant import ScenePool
from .edits import edited

RIGHT = "it gives the right answer"


@dataclass(frozen=True)
class MistakenForm:
    """A mistake solved for a question: the closed form that it leads to."""

    mistake: Mistake
    closed_form: sympy.Expr

    @property
    def raw(self) -> UnitEdit | None:
        """The unit whose numbers it puts in as they are, if it does; the form is the right one then."""
        return self.mistake.edit if isinstance(self.mistake.edit, UnitEdit) else None


@dataclass(frozen=True)
class Unsolved:
    """A mistake that gives nothing in a question, and why."""

    mistake: Mistake
    why: str


def mistaken_forms(
    solved: SolvedQuestion, catalogue: Sequence[Mistake]
) -> tuple[tuple[MistakenForm, ...], tuple[Unsolved, ...]]:
    """The mistakes to try in the question that give another answer, and those that do not, in their order."""
    if is_apart(solved.problem):
        return _rebuilt(solved, catalogue)
    return forms_here(solved, catalogue)


def forms_here(
    solved: SolvedQuestion, catalogue: Sequence[Mistake]
) -> tuple[tuple[MistakenForm, ...], tuple[Unsolved, ...]]:
    """The same, worked out in this process."""
    samples = samples_of(solved.problem, solved.question)
    live: list[MistakenForm] = []
    idle: list[Unsolved] = []
    for mistake in solved.problem.mistakes_from(catalogue):
        if not isinstance(mistake.edit, NumericEdit):
            continue
        found = _tried(solved, mistake, samples)
        (live if isinstance(found, MistakenForm) else idle).append(found)  # type: ignore[arg-type]
    return tuple(live), tuple(idle)


def _rebuilt(
    solved: SolvedQuestion, catalogue: Sequence[Mistake]
) -> tuple[tuple[MistakenForm, ...], tuple[Unsolved, ...]]:
    """The same, worked out in a worker."""
    tried = solved.problem.mistakes_from(catalogue)
    live, idle = apart(solved.problem, solved.question, forms_task, solved.question, data_of(solved), tuple(catalogue))
    return (
        tuple(MistakenForm(tried[place], load(form)) for place, form in live),
        tuple(Unsolved(tried[place], why) for place, why in idle),
    )


def forms_task(problem: Problem, question: Question, data: Any, catalogue: Sequence[Mistake]) -> Tree:
    """What ``mistaken_forms`` finds, as plain data, each mistake by its place among those tried."""
    solved = rebuilt(problem, question, system_of(problem, question), data)
    places = {each.id: place for place, each in reversed(list(enumerate(problem.mistakes_from(catalogue))))}
    live, idle = forms_here(solved, catalogue)
    return (
        [[places[each.mistake.id], _measured(solved, each)] for each in live],
        [[places[each.mistake.id], each.why] for each in idle],
    )


def _measured(solved: SolvedQuestion, form: MistakenForm) -> Tree:
    """The closed form as plain data that ``load`` can read."""
    tree = dump(form.closed_form)
    try:
        load(tree)
    except NoExpressionError:
        wrong = f"the mistake '{form.mistake.id}' comes out as a formula beyond all measure"
        raise SolveError(solved.id, wrong, "name it under 'without', or use shorter relations") from None
    return tree


def _tried(solved: SolvedQuestion, mistake: Mistake, samples: Mapping[str, Any]) -> MistakenForm | Unsolved:
    if isinstance(mistake.edit, UnitEdit):  # it changes no form, only what is put in
        return _in_raw_units(solved, mistake, mistake.edit)
    found = edited(mistake.edit, solved)
    if found is None:
        return Unsolved(mistake, "there is nothing for it to change")
    if isinstance(found, System):
        if _way_is_untouched(solved, found):
            return Unsolved(mistake, RIGHT)
        try:
            found = solve(found, samples, careful=False).closed_form
        except SolveError as error:
            return Unsolved(mistake, error.wrong)
    if not names_in(found) <= solved.system.known:
        return Unsolved(mistake, "it leaves a quantity that is not given")
    if agree(solved.solution.closed_form, found, samples):
        return Unsolved(mistake, RIGHT)
    return MistakenForm(mistake, rerooted(found))


def _way_is_untouched(solved: SolvedQuestion, changed: System) -> bool:
    """Whether every equation that the right answer rests on is as it was."""
    before, after = solved.system.equations, changed.equations
    used = {each.origin for each in solved.solution.path if each.origin >= 0}
    return len(before) == len(after) and all(before[number] == after[number] for number in used)


def _in_raw_units(solved: SolvedQuestion, mistake: Mistake, raw: UnitEdit) -> MistakenForm | Unsolved:
    names = solved.solution.symbols & set(solved.question.given)
    scenes = solved.problem.scenes_of(solved.question)
    if not any(solved.problem.spec(name, scene).unit.symbol == raw.symbol for scene in scenes for name in names):
        return Unsolved(mistake, f"no given is printed in {raw.symbol}")
    return MistakenForm(mistake, solved.solution.closed_form)


def wrong_values(form: MistakenForm, pool: ScenePool, numbers: Numbers) -> NDArray[np.float64]:
    """The wrong answers for combinations of a scene, in the printed unit; nan where the mistake makes no difference."""
    raw, values = form.raw, pool.grid.values(numbers)
    if raw:
        values = dict(_raw_values(raw, pool, values))
        if not values:
            return np.full(numbers.shape, np.nan)
    found = np.broadcast_to(evaluate(form.closed_form, values), numbers.shape)
    printed = np.asarray(found / pool.answer.unit.factor)
    if raw is None or pool.answer.unit.symbol != raw.symbol:
        return printed
    # who does not convert on the way in does not convert on the way out: cm in, cm out may be right after all
    key = pool.exact(numbers) / pool.answer.unit.factor
    return np.where(np.isclose(printed * raw.factor, key, rtol=SAME, atol=0), np.nan, printed)


def _raw_values(raw: UnitEdit, pool: ScenePool, values: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """The values as a student puts them in who does not convert a unit; nothing where no given is in it."""
    names = [name for name, choices in pool.grid.choices.items() if choices[0].unit.symbol == raw.symbol]
    if not names:
        return
    for name, value in values.items():
        yield name, value / raw.factor if name in names else value
