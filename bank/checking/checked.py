"""All that a check tells of one problem, as plain data: it may have been found in another process."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from ..errors import Fault
from ..limits.apart import apart
from ..model.problem import Problem
from ..quantities.gravity import GRAVITY
from ..questions.items import difficulties
from .choices import ChoicesReport, check_choices
from .key_places import KeyPlaces
from .note import Note
from .questions import QuestionReport, check_questions
from .terms import term_notes


@dataclass(frozen=True)
class CheckedQuestion:
    """What is told of one question; ``closed_form`` is None where it has no answer.

    ``dropped`` counts the combinations of draws that are no variants, by the reason, ``difficulty`` is that in each
    scene, and ``idle`` holds the mistakes that come to nothing, with the reason.
    """

    id: str
    asked: str
    closed_form: str | None
    variants: int
    dropped: Mapping[str, int]
    difficulty: Mapping[str, int]
    idle: Mapping[str, str]


@dataclass(frozen=True)
class CheckedProblem:
    """What was found in a problem; see ``ChoicesReport`` for ``judged`` and ``places``.

    ``without`` are the ids of the questions that have no choice form.
    """

    questions: tuple[CheckedQuestion, ...]
    faults: tuple[Fault, ...]
    notes: tuple[Note, ...]
    judged: frozenset[str]
    without: tuple[str, ...]
    places: KeyPlaces


def check_apart(problem: Problem) -> CheckedProblem:
    """The same as ``check_problem``; for a stranger it is found in processes of its own (see ``limits.apart``)."""
    return apart(problem.document, partial(check_problem, problem))


def check_problem(problem: Problem, gravity: Decimal = GRAVITY) -> CheckedProblem:
    """Every question of a problem solved, all its choices made, each held against the rules."""
    reports = check_questions(problem, gravity)
    choices = check_choices([each.solved for each in reports if each.solved], gravity)
    return CheckedProblem(
        questions=tuple(_told(each, choices) for each in reports),
        faults=(*(fault for each in reports for fault in each.faults), *choices.faults),
        notes=(*(note for each in reports for note in each.notes), *choices.notes, *term_notes(problem.document)),
        judged=choices.judged,
        without=choices.without,
        places=choices.places,
    )


def uneven(checked: Iterable[CheckedProblem]) -> tuple[str, ...]:
    """What is uneven over all choices of some problems; no one file can mend it."""
    places = KeyPlaces()
    for each in checked:
        places.add_all(each.places)
    return tuple(places.told())


def _told(report: QuestionReport, choices: ChoicesReport) -> CheckedQuestion:
    solved = report.solved
    return CheckedQuestion(
        id=report.id,
        asked=report.question.ask,
        closed_form=str(solved.solution.closed_form) if solved else None,
        variants=report.variants,
        dropped=report.breaking,
        difficulty=difficulties(solved) if solved else {},
        idle=choices.idle.get(report.id, {}),
    )
