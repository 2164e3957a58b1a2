"""Mistakes as they fall out in one question: their closed forms, solved once, and their values over arrays."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, TypeAlias

import numpy as np
import sympy
from numpy.typing import NDArray

from ..errors import SolveError
from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import System, system_of
from ..model.draws import Numbers
from ..model.edit import AnswerEdit, AnswerUnitEdit, GivenEdit, NumericEdit, ReportEdit, UnitEdit
from ..model.evaluation import SAME, agree, evaluate
from ..model.expression import names_in
from ..model.mistake import Mistake
from ..model.once import once
from ..model.problem import Problem, Question
from ..quantities.units import Unit
from ..solving.algebra import rerooted
from ..solving.cache import cached
from ..solving.serial import NoExpressionError, data_of, dump, load, plain, rebuilt
from ..solving.solution import SolvedQuestion, samples_of, solve
from ..storage.entries import Tree
from ..variants.variant import ScenePool
from .edits import edited
from .given_edits import given_symbols
from .triggers import why_not

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

    @property
    def answer_unit(self) -> AnswerUnitEdit | None:
        """The unit in which it gives the right answer, if it does that."""
        return self.mistake.edit if isinstance(self.mistake.edit, AnswerUnitEdit) else None

    @property
    def is_another_quantity(self) -> bool:
        """Whether its thought says that something of another unit than the asked one is given as the answer."""
        edit = self.mistake.edit
        is_square = isinstance(edit, AnswerEdit) and edit.formula.written == "x**2"
        return is_square or (isinstance(edit, ReportEdit) and edit.what != "diameter")

    @property
    def needs_seconds(self) -> bool:
        """Whether it takes a period for a number of revolutions per second, as nobody does with hours."""
        return isinstance(self.mistake.edit, GivenEdit) and self.mistake.edit.role == "period"


@dataclass(frozen=True)
class Unsolved:
    """A mistake that gives nothing in a question, and why."""

    mistake: Mistake
    why: str


# those that give another answer, and those that do not
Forms: TypeAlias = tuple[tuple[MistakenForm, ...], tuple[Unsolved, ...]]


def mistaken_forms(solved: SolvedQuestion, catalogue: Sequence[Mistake]) -> Forms:
    """The mistakes to try in the question that give another answer, and those that do not, in their order."""
    if not goes_to_worker(solved.problem):
        return forms_here(solved, catalogue)
    data = in_worker(solved.problem, solved.question, forms_task, solved.question, data_of(solved), tuple(catalogue))
    return _rebuilt(solved.problem.mistakes_from(catalogue), data)


def forms_here(solved: SolvedQuestion, catalogue: Sequence[Mistake]) -> Forms:
    """The same, from the cache where question and mistakes are unchanged, worked out in this process."""
    tried = solved.problem.mistakes_from(catalogue)
    return cached(forms_key(solved, tried), partial(_measured, solved, tried), partial(_rebuilt, tried))


def forms_task(problem: Problem, question: Question, data: Any, catalogue: Sequence[Mistake]) -> Tree:
    """What ``mistaken_forms`` finds, as plain data."""
    solved = rebuilt(problem, question, system_of(problem, question), data)
    return _data_of(problem.mistakes_from(catalogue), forms_here(solved, catalogue))


def forms_key(solved: SolvedQuestion, tried: Sequence[Mistake]) -> Tree:
    """All that the forms depend on: the model of the question, how it was solved, and the mistakes."""
    problem, question = solved.problem, solved.question
    scenes = once(problem, "scenes", lambda: {each.name: plain(each.quantities) for each in problem.scenes})
    asked = (question.name, question.ask, question.given, question.extra, question.limiting, question.diagram)
    return [
        once(problem, "model", lambda: _model(problem)),
        [[each.name, scenes[each.name]] for each in problem.scenes_of(question)],
        plain(asked),
        data_of(solved),
        [once(each, "edit", partial(plain, (each.id, each.edit, each.needs))) for each in tried],
    ]


def _model(problem: Problem) -> Tree:
    """The parts of a problem that all its questions share."""
    return plain(
        (problem.motion, problem.diagrams, problem.relations, problem.energies, problem.holds, problem.quantities)
    )


def _measured(solved: SolvedQuestion, tried: Sequence[Mistake]) -> Tree:
    """The forms, solved, as plain data that ``load`` can read."""
    forms = _solved_forms(solved, tried)
    for form in forms[0]:
        try:
            load(dump(form.closed_form))
        except NoExpressionError:
            wrong = f"the mistake '{form.mistake.id}' comes out as a formula beyond all measure"
            raise SolveError(solved.id, wrong, "name it under 'without', or use shorter relations") from None
    return _data_of(tried, forms)


def _solved_forms(solved: SolvedQuestion, tried: Sequence[Mistake]) -> Forms:
    samples = samples_of(solved.problem, solved.question)
    numeric = [each for each in tried if isinstance(each.edit, NumericEdit)]
    found = [
        Unsolved(each, reason) if (reason := why_not(each, solved)) else _tried(solved, each, samples)
        for each in numeric
    ]
    live = tuple(each for each in found if isinstance(each, MistakenForm))
    return live, tuple(each for each in found if isinstance(each, Unsolved))


def _data_of(tried: Sequence[Mistake], forms: Forms) -> Tree:
    """The forms as plain data, each mistake by its place among those tried."""
    live, idle = forms
    places = {id(each): place for place, each in enumerate(tried)}
    return (
        [[places[id(each.mistake)], dump(each.closed_form)] for each in live],
        [[places[id(each.mistake)], each.why] for each in idle],
    )


def _rebuilt(tried: Sequence[Mistake], data: Any) -> Forms:
    """The forms of which these are the data."""
    live, idle = data
    return (
        tuple(MistakenForm(tried[place], load(form)) for place, form in live),
        tuple(Unsolved(tried[place], why) for place, why in idle),
    )


def _tried(solved: SolvedQuestion, mistake: Mistake, samples: Mapping[str, Any]) -> MistakenForm | Unsolved:
    match mistake.edit:  # these change no form, only what is put in or given as the answer
        case UnitEdit() as raw:
            return _in_raw_units(solved, mistake, raw)
        case AnswerUnitEdit() as other:
            return _in_another_unit(solved, mistake, other)
    return _edited(solved, mistake, samples)


def _edited(solved: SolvedQuestion, mistake: Mistake, samples: Mapping[str, Any]) -> MistakenForm | Unsolved:
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


def _in_another_unit(solved: SolvedQuestion, mistake: Mistake, edit: AnswerUnitEdit) -> MistakenForm | Unsolved:
    problem, question = solved.problem, solved.question
    units = [problem.answer_spec(question, scene).unit for scene in problem.scenes_of(question)]
    if not any(_is_converted(each, edit, solved.solution.closed_form) for each in units):
        return Unsolved(mistake, "the answer is asked in this unit")
    return MistakenForm(mistake, solved.solution.closed_form)


def _is_converted(asked: Unit, edit: AnswerUnitEdit, form: sympy.Expr) -> bool:
    if asked.symbol == "deg" and form.has(sympy.asin, sympy.acos, sympy.atan):
        return False  # a matter of the calculator
    return (asked.seconds_per_revolution or 1) != 1 if edit.what == "r/s" else asked.factor != 1


def wrong_values(form: MistakenForm, pool: ScenePool, numbers: Numbers) -> NDArray[np.float64]:
    """The wrong answers for combinations of a scene, in the printed unit; nan where the mistake makes no difference."""
    raw = form.raw
    values: Mapping[str, Any] = pool.grid.values(numbers)
    if form.needs_seconds and not _gives_in_seconds(form, pool):
        return np.full(numbers.shape, np.nan)
    if raw:
        values = dict(_raw_values(raw, pool, values))
        if not values:
            return np.full(numbers.shape, np.nan)
    found = np.broadcast_to(evaluate(form.closed_form, values), numbers.shape)
    if form.answer_unit:
        given = 2 * np.pi if form.answer_unit.what == "r/s" else 1.0
        is_converted = _is_converted(pool.answer.unit, form.answer_unit, form.closed_form)
        return np.asarray(found / given) if is_converted else found * np.nan
    if form.is_another_quantity and pool.answer.unit.factor != 1:
        # a period is not converted as a frequency would be; who stops at a square may convert it in either way
        return np.asarray(found) if isinstance(form.mistake.edit, ReportEdit) else found * np.nan
    printed = np.asarray(found / pool.answer.unit.factor)
    if raw is None or pool.answer.unit.symbol != raw.symbol:
        return printed
    # who does not convert on the way in does not convert on the way out: cm in, cm out may be right after all
    key = pool.exact(numbers) / pool.answer.unit.factor
    return np.where(np.isclose(printed * raw.factor, key, rtol=SAME, atol=0), np.nan, printed)


def _gives_in_seconds(form: MistakenForm, pool: ScenePool) -> bool:
    """Whether every period that the form speaks of is printed in seconds."""
    periods = given_symbols(pool.solved.problem, "period") & names_in(form.closed_form) & pool.grid.choices.keys()
    return all(pool.grid.choices[name][0].unit.symbol == "s" for name in periods)


def _raw_values(raw: UnitEdit, pool: ScenePool, values: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """The values as a student puts them in who does not convert a unit; nothing where no given is in it."""
    names = [name for name, choices in pool.grid.choices.items() if choices[0].unit.symbol == raw.symbol]
    if not names:
        return
    for name, value in values.items():
        yield name, value / raw.factor if name in names else value
