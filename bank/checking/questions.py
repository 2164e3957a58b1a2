"""What only solving and drawing can tell: does every question have an answer, enough variants, and no idle draws?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from ..errors import Fault, SolveError, TurnwrightError, broken_off
from ..limits.budget import guarded
from ..model.problem import Problem, Question
from ..quantities.gravity import GRAVITY
from ..reading.mistakes import shipped_mistakes
from ..solving.cache import solved_question
from ..solving.solution import SolvedQuestion
from ..thinking.distractors import diagnosis, telling_pool
from ..variants.census import Census
from ..variants.variant import ScenePool, VariantPool
from .agreeing import tied_notes
from .limit_side import limit_faults
from .note import Note
from .open_circle import circle_notes
from .outermost import make_outermost
from .stem_quality import stem_notes

FEWEST = 20  # variants below which classmates would share numbers (common practice, no source)
MOST_BROKEN = 0.5  # share of combinations that may be dropped before the draws count as wrong


@dataclass(frozen=True)
class QuestionReport:
    """One question as it was found: its solution (None where it has none), variants, and what combinations break."""

    problem: Problem
    question: Question
    solved: SolvedQuestion | None
    variants: int
    breaking: dict[str, int]
    notes: tuple[Note, ...]
    faults: tuple[Fault, ...]

    @property
    def id(self) -> str:
        """The id of the question."""
        return f"{self.problem.id}.{self.question.name}"


def check_questions(problem: Problem, gravity: Decimal = GRAVITY) -> tuple[QuestionReport, ...]:
    """A report for every question of a problem."""
    return tuple(check_question(problem, question, gravity) for question in problem.questions)


def check_question(problem: Problem, question: Question, gravity: Decimal = GRAVITY) -> QuestionReport:
    """The report of one question; one that is over its budget, or with which the program fails, counts as unsolved."""
    try:
        return report_of(problem, question, gravity)
    except SolveError as error:
        fault = unsolved(problem, question, error)
    except TurnwrightError:
        raise
    except Exception as error:  # whatever it is, the other questions and files are still to be told of
        fault = failed(problem, question, error)
    return QuestionReport(problem, question, None, 0, {}, (), (fault,))


def unsolved(problem: Problem, question: Question, error: SolveError) -> Fault:
    """The fault of a question that could not be solved."""
    return Fault(problem.place_of(question), f"questions.{question.name}: {error.wrong}", error.right)


def failed(problem: Problem, question: Question, error: Exception) -> Fault:
    """The fault of a question with which the program itself fails."""
    wrong, right = broken_off(error)
    return Fault(problem.place_of(question), f"questions.{question.name}: {wrong}", right)


def report_of(problem: Problem, question: Question, gravity: Decimal = GRAVITY) -> QuestionReport:
    """The report of one question that has an answer. Raises SolveError for any other."""
    solved = solved_question(problem, question)
    with guarded(problem, question):
        return _report(solved, gravity)


def _report(solved: SolvedQuestion, gravity: Decimal) -> QuestionReport:
    problem, question = solved.problem, solved.question
    known = diagnosis(solved, shipped_mistakes())
    pool = telling_pool(known, gravity)
    make_outermost(known, pool)
    faults = tuple(_faults(solved, pool))
    told = (*stem_notes(solved), *_undecided(solved), *circle_notes(solved, pool), *tied_notes(solved))
    notes = tuple(dict.fromkeys(told))
    return QuestionReport(problem, question, solved, pool.count, pool.breaking(), notes, faults)


def _undecided(solved: SolvedQuestion) -> Iterator[Note]:
    """A note for each hold that no variant is held against, because what is given does not fix its sides."""
    document = solved.problem.document
    for at, each in enumerate(solved.kept):
        if each.expression is None:
            found = f"what is given does not tell whether {each.reason.text} holds"
            yield Note("undecided-hold", solved.id, found, place=document.place(("holds", at, "that")))


def _faults(solved: SolvedQuestion, pool: VariantPool) -> Iterator[Fault]:
    problem, question = solved.problem, solved.question
    idle = sorted(set(question.given) - solved.solution.symbols)
    if idle:
        wrong = f"questions.{question.name}: the given {', '.join(idle)} is not needed"
        yield Fault(problem.place_of(question, "given"), wrong, "take it out, or list it under 'extra' on purpose")
    needed = sorted(set(question.extra) & solved.solution.symbols)
    if needed:
        wrong = f"questions.{question.name}: {', '.join(needed)} is needed"
        yield Fault(problem.place_of(question, "extra"), wrong, "list it under 'given'")
    yield from limit_faults(solved)
    for each, census in zip(pool.pools, pool.censuses, strict=True):
        yield from _scene_faults(solved, each, census)
    if 0 < pool.count < FEWEST and solved.has_numbers:
        exist = "variant exists" if pool.count == 1 else "variants exist"
        wrong = f"questions.{question.name}: only {pool.count} {exist}"
        yield Fault(problem.place_of(question), wrong, f"widen the draws until there are {FEWEST} or more")


def _scene_faults(solved: SolvedQuestion, pool: ScenePool, census: Census) -> Iterator[Fault]:
    """Draws that break what holds too often, and values that no variant ever has."""
    problem, question, judged = solved.problem, solved.question, census.judged
    where = f"questions.{question.name} in the scene {pool.scene.name}"
    broken = sum(census.broken.values())
    if broken > MOST_BROKEN * judged:
        worst = max(census.broken, key=lambda what: census.broken[what])
        wrong = f"{where}: {broken} of {judged} combinations of draws are no variants, mostly because {worst}"
        yield Fault(problem.place_of(question), wrong, "narrow the draws, or the plausible range is wrong")
        return
    for name, places in census.unmet.items():
        if places:
            values = ", ".join(pool.grid.choices[name][place].number for place in places[:4])
            of = "" if judged == len(pool.grid) else f" of {judged:,} combinations"
            wrong = f"{where}: {name} = {values} is in no variant{of}"
            yield Fault(problem.place_of(question), wrong, f"take it out of the draw of {name}")
