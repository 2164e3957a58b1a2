"""What only making choice questions can tell: do their options keep the rules, and which mistakes come to nothing?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from ..errors import Fault, SolveError, TurnwrightError
from ..item.item import Item
from ..limits.budget import guarded
from ..model.problem import Problem
from ..questions.kinds import KIND, Kind, kinds_where
from ..questions.of_question import QuestionModels
from ..questions.selection import of_diagrams
from ..reading.mistakes import shipped_mistakes
from ..solving.solution import SolvedQuestion
from .key_places import KeyPlaces
from .note import Note
from .option_quality import option_notes, reading, shared_texts
from .questions import failed, unsolved
from .telling_pictures import told_by_picture
from .unused import unused_equations
from .wrong_numbers import about_faults, blind_notes, few_notes, known_numbers, telling_faults

WITH_OPTIONS = kinds_where(lambda each: each.has_options)
LOOKED_AT = 5  # variants of each choice question


@dataclass(frozen=True)
class ChoicesReport:
    """What was found over all choices: notes, questions with no choice form, mistakes that give nothing.

    ``idle`` holds for each question the ids of the mistakes that come to nothing in it, with the reason; ``judged`` are
    the ids of the questions whose choices were made, and of the problems of which all were; ``faults`` tells of those
    of which none could be made, ``places`` where the keys stand.
    """

    notes: tuple[Note, ...] = ()
    without: tuple[str, ...] = ()
    idle: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    judged: frozenset[str] = frozenset()
    places: KeyPlaces = field(default_factory=KeyPlaces)
    faults: tuple[Fault, ...] = ()


def check_choices(solved: Sequence[SolvedQuestion], gravity: Decimal) -> ChoicesReport:
    """The report on all choices of some questions."""
    notes: dict[Note, None] = {}
    places = KeyPlaces()
    without: list[str] = []
    idle: dict[str, Mapping[str, str]] = {}
    seen: set[tuple[str, str]] = set()
    faults: list[Fault] = []
    read: dict[tuple[str, ...], str] = {}
    for each in solved:
        try:
            base = QuestionModels(each, shipped_mistakes())
            with guarded(each.problem, each.question):
                items = list(_all_items(base, seen, gravity))
                numbers = known_numbers(base.diagnosis, gravity)
        except SolveError as error:
            faults.append(unsolved(each.problem, each.question, error))
            continue
        except TurnwrightError:
            raise
        except Exception as error:  # as in check_question
            faults.append(failed(each.problem, each.question, error))
            continue
        idle[each.id] = {nothing.mistake.id: nothing.why for nothing in base.diagnosis.idle}
        if not any(kind == "choice" for kind, _ in items):
            without.append(each.id)
        faults.extend((*_alike(each, [item for _, item in items]), *_repeats(each, items, read)))
        faults.extend(_pictured(each, [item for _, item in items]))
        faults.extend((*about_faults(base.diagnosis, numbers), *telling_faults(base.diagnosis, gravity)))
        notes |= dict.fromkeys((*few_notes(base.diagnosis, numbers), *blind_notes(base.diagnosis, gravity)))
        for _, item in items:
            places.add(item)
            notes |= dict.fromkeys(option_notes(item))
    problems = {each.problem.id: each.problem for each in solved}
    judged = {each.id for each in solved if each.id in idle}
    for problem in problems.values():
        notes |= dict.fromkeys(_of_no_use(problem, idle))
        of_it = [each for each in solved if each.problem.id == problem.id]
        if len(of_it) == len(problem.questions):
            notes |= dict.fromkeys(unused_equations(of_it))
            judged |= {problem.id} if all(each.id in judged for each in of_it) else set()
    return ChoicesReport(tuple(notes), tuple(without), idle, frozenset(judged), places, tuple(faults))


def _all_items(base: QuestionModels, seen: set[tuple[str, str]], gravity: Decimal) -> Iterator[tuple[Kind, Item]]:
    for asked in (*of_diagrams(base, seen, WITH_OPTIONS), *base.asked(WITH_OPTIONS)):
        yield from ((asked.kind, item) for item in asked.draw(LOOKED_AT, gravity, 1))


def _alike(solved: SolvedQuestion, items: Sequence[Item]) -> Iterator[Fault]:
    """A fault for each text that two options of one choice share: nobody can tell which of them is meant."""
    for text in dict.fromkeys(text for item in items for text in shared_texts(item)):
        wrong = f"questions.{solved.question.name}: two options of one choice both say '{text}'"
        right = "look for a name, symbol or mistake that stands in the file twice, and keep one of them"
        yield Fault(solved.problem.place_of(solved.question), wrong, right)


def _pictured(solved: SolvedQuestion, items: Sequence[Item]) -> Iterator[Fault]:
    """A fault for each thing that a picture above a question gives away."""
    for told in dict.fromkeys(f"{item.question_id}: {each}" for item in items for each in told_by_picture(item)):
        wrong = f"questions.{solved.question.name}: {told}"
        right = "let the sketch of the scene show the situation alone, with another 'of' or 'body'"
        yield Fault(solved.problem.place_of(solved.question), wrong, right)


def _repeats(
    solved: SolvedQuestion, items: Sequence[tuple[Kind, Item]], read: dict[tuple[str, ...], str]
) -> Iterator[Fault]:
    """A fault for an item without numbers that reads as one of another question does; ``read`` holds those before."""
    for kind, item in items:
        if KIND[kind].per == "variant":
            continue
        first = read.setdefault((item.metadata.problem, *reading(item)), item.question_id)
        if first != item.question_id:
            wrong = f"questions.{solved.question.name}: {item.question_id} reads as {first} does"
            right = "let the stems differ in what is known, or take one of the questions out"
            yield Fault(solved.problem.place_of(solved.question), wrong, right)


def _of_no_use(problem: Problem, idle: Mapping[str, Mapping[str, str]]) -> Iterator[Note]:
    """The problem's own mistakes that give nothing in any of its questions."""
    mine = [why for question, why in idle.items() if question.partition(".")[0] == problem.id]
    for each in problem.mistakes:
        reasons = [why.get(each.id) for why in mine]
        if reasons and all(reasons):
            found = f"the mistake '{each.id}' gives a wrong answer in no question: {reasons[0]}"
            yield Note("idle-mistake", problem.id, found, place=each.place)
