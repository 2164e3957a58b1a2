"""What only making choice questions can tell: do their options keep the rules, and which mistakes come to nothing?"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from ..errors import Fault, SolveError
from ..item.item import Item
from ..limits.budget import guarded
from ..model.problem import Problem
from ..questions.kinds import Kind, kinds_where
from ..questions.of_question import QuestionModels
from ..questions.selection import of_diagrams
from ..reading.mistakes import shipped_mistakes
from ..solving.solution import SolvedQuestion
from .limit_quality import limit_findings
from .option_quality import KeyPlaces, findings, shared_texts
from .quality import Finding
from .questions import unsolved
from .unused import unused_equations
from .wrong_numbers import about_faults, few_findings, known_numbers

WITH_OPTIONS = kinds_where(lambda each: each.has_options)
LOOKED_AT = 5  # variants of each choice question


@dataclass(frozen=True)
class ChoicesReport:
    """What was found over all choices: against rules, questions with no choice form, mistakes that give nothing.

    ``idle`` holds for each question the ids of the mistakes that come to nothing in it, with the reason; ``notes`` are
    mistakes of problem files that do so in every question of theirs, at their places; ``faults`` tells of questions of
    which no choices could be made.
    """

    findings: tuple[Finding, ...] = ()
    without: tuple[str, ...] = ()
    idle: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    notes: tuple[Fault, ...] = ()
    faults: tuple[Fault, ...] = ()


def check_choices(
    solved: Sequence[SolvedQuestion], gravity: Decimal, done: Callable[[str], None] = lambda _: None
) -> ChoicesReport:
    """The report on all choices of some questions; ``done`` is called with the id of each question."""
    found: dict[str, Finding] = {}
    places = KeyPlaces()
    without: list[str] = []
    idle: dict[str, Mapping[str, str]] = {}
    seen: set[tuple[str, str]] = set()
    faults: list[Fault] = []
    for each in solved:
        try:
            base = QuestionModels(each, shipped_mistakes())
            idle[each.id] = {nothing.mistake.id: nothing.why for nothing in base.diagnosis.idle}
            with guarded(each.problem, each.question):
                items = list(_all_items(base, seen, gravity))
                numbers = known_numbers(base.diagnosis, gravity)
        except SolveError as error:
            faults.append(unsolved(each.problem, each.question, error))
            continue
        if not any(kind == "choice" for kind, _ in items):
            without.append(each.id)
        faults.extend(_alike(each, [item for _, item in items]))
        faults.extend(about_faults(base.diagnosis, numbers))
        found |= {str(finding): finding for finding in few_findings(base.diagnosis, numbers)}
        for _, item in items:
            places.add(item)
            found |= {str(finding): finding for finding in (*findings(item), *limit_findings(item))}
        done(each.id)
    problems = {each.problem.id: each.problem for each in solved}
    notes = tuple(note for problem in problems.values() for note in _of_no_use(problem, idle))
    for problem in problems.values():
        of_it = [each for each in solved if each.problem.id == problem.id]
        if len(of_it) == len(problem.questions):
            found |= {str(finding): finding for finding in unused_equations(of_it)}
    return ChoicesReport((*found.values(), *places.findings()), tuple(without), idle, notes, tuple(faults))


def _all_items(base: QuestionModels, seen: set[tuple[str, str]], gravity: Decimal) -> Iterator[tuple[Kind, Item]]:
    for asked in (*of_diagrams(base, seen, WITH_OPTIONS), *base.asked(WITH_OPTIONS)):
        yield from ((asked.kind, item) for item in asked.draw(LOOKED_AT, gravity, 1))


def _alike(solved: SolvedQuestion, items: Sequence[Item]) -> Iterator[Fault]:
    """A fault for each text that two options of one choice share: nobody can tell which of them is meant."""
    for text in dict.fromkeys(text for item in items for text in shared_texts(item)):
        wrong = f"questions.{solved.question.name}: two options of one choice both say '{text}'"
        right = "look for a name, symbol or mistake that stands in the file twice, and keep one of them"
        yield Fault(solved.problem.place_of(solved.question), wrong, right)


def _of_no_use(problem: Problem, idle: Mapping[str, Mapping[str, str]]) -> Iterator[Fault]:
    """The problem's own mistakes that give nothing in any of its questions."""
    mine = [why for question, why in idle.items() if question.partition(".")[0] == problem.id]
    for each in problem.mistakes:
        reasons = [why.get(each.id) for why in mine]
        if reasons and all(reasons):
            wrong = f"the mistake '{each.id}' gives a wrong answer in no question: {reasons[0]}"
            yield Fault(each.place, wrong, "mend its edit, or take it out")
