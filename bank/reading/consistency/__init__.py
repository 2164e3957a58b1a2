"""Checks that the schema cannot make: names, dimensions, draws and words fit together inside one problem.

Each part notes what it finds in the problem's document. What an earlier fault leaves open is passed over, so that one
mistake is told once.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ...documents.document import Path_
from ...language import listed
from ...model.edit import InsteadEdit
from ...model.mistake import Mistake
from ...model.note import RULES, is_note
from ...model.problem import Problem, Question
from ..mistakes import shipped_mistakes
from .asking import check_asking
from .dynamics import check_dynamics
from .mechanics import check_kinds, check_model
from .questions import check_numbers, check_questions
from .symbols import check_dimensions, check_symbols
from .words import check_words

# --- the alignments of a problem and its questions: each can be found again, and none is given twice ---


def check_alignments(problem: Problem) -> None:
    """Note an alignment that names no standard, and one that names the same standard as another."""
    data: Any = problem.document.data
    _check_list(problem, ("alignment",), data.get("alignment", ()))
    for name, question in data.get("questions", {}).items():
        _check_list(problem, ("questions", name, "alignment"), question.get("alignment", ()))


def _check_list(problem: Problem, path: Path_, entries: Any) -> None:
    seen: set[tuple[str, str]] = set()
    for place, each in enumerate(entries):
        if not each.get("code") and not each.get("case") and problem.document.is_sound(*path, place):
            right = "add its 'code' in the framework, or its 'case' identifier"
            problem.document.fault((*path, place), "this alignment names no standard", right)
        names = [(each.get("framework", ""), each[key]) for key in ("code", "case") if each.get(key)]
        for name in names:
            if name in seen:
                problem.document.fault((*path, place), f"'{name[1]}' is aligned twice", "name each standard once")
        seen.update(names)


# --- the mistakes that a problem adds and leaves out, held against the catalogue ---


def check_mistakes(problem: Problem) -> None:
    """Note a mistake that the catalogue has already, one left out that it lacks, one asked about that is not tried."""
    known = [each.id for each in shipped_mistakes()]
    for each in problem.mistakes:
        if each.id in known:
            wrong = f"the mistake '{each.id}' is in the catalogue already"
            problem.document.fault(("mistakes", each.id), wrong, "remove it, or give it another id", key=True)
        _check_instead(problem, each)
    for name in problem.without:
        if name not in known:
            wrong = f"the catalogue has no mistake '{name}'"
            problem.document.fault(("without", name), wrong, _meant(name, known), key=True)
    for question in problem.questions:
        _check_about(problem, question)


def _check_instead(problem: Problem, mistake: Mistake) -> None:
    """Note a mistake that puts a relation in place of one that the problem has not, or speaks of unknown symbols."""
    if not isinstance(mistake.edit, InsteadEdit):
        return
    path: Path_ = ("mistakes", mistake.id, "edit", "instead")
    if mistake.edit.right not in [each.relation for each in problem.relations]:
        wrong = f"'{mistake.edit.of_text}' is none of the file's relations"
        problem.document.fault((*path, "of"), wrong, "write it as it stands under 'relations'")
    if mistake.edit.wrong.sign != "=":
        problem.document.fault((*path, "is"), f"'{mistake.edit.is_text}' is no equation", "write an equation with '='")
    for name in sorted(mistake.edit.wrong.symbols - problem.quantities.keys() - {"g"}):
        problem.document.fault((*path, "is"), f"'{name}' is no quantity of the file", "use symbols of 'quantities'")


def _check_about(problem: Problem, question: Question) -> None:
    """Note each mistake that a question is about and that is not tried in it."""
    known = {each.id: each for each in (*problem.mistakes, *shipped_mistakes())}
    for at, name in enumerate(question.about):
        path: Path_ = ("questions", question.name, "about", at)
        if name not in known:
            wrong = f"neither this file nor the catalogue has a mistake '{name}'"
            problem.document.fault(path, wrong, _meant(name, list(known)))
        elif name in problem.without:
            problem.document.fault(path, f"'{name}' is left out under 'without'", "take it out of one of the two")
        elif not known[name].suits(problem.family):
            wrong = f"'{name}' is not tried in the family '{problem.family}'"
            problem.document.fault(path, wrong, f"one of {listed(known[name].families)}, or another mistake")


def _meant(name: str, known: Sequence[str]) -> str:
    near = difflib.get_close_matches(name, known, n=1)
    return f"did you mean '{near[0]}'?" if near else "'turnwright mistakes' lists the catalogue"


# --- the answers to notes: each is to a note that there can be ---


def check_answers(problem: Problem) -> None:
    """Note an answer to what no note is called; whether the note arises, only ``check`` can tell."""
    fields: list[tuple[Path_, Mapping[str, str]]] = [(("answered",), problem.answered)]
    fields += [(("questions", each.name, "answered"), each.answered) for each in problem.questions]
    for path, answers in fields:
        for name in answers:
            if not is_note(name) and problem.document.is_sound(*path, name):
                near = difflib.get_close_matches(name, RULES, n=1)
                right = f"did you mean '{near[0]}'?" if near else f"notes are {', '.join(RULES)} and word-..."
                problem.document.fault((*path, name), f"no note is called '{name}'", right, key=True)


# --- the walk ---

_PARTS: tuple[Callable[[Problem], None], ...] = (
    check_symbols,
    check_model,
    check_kinds,
    check_dynamics,
    check_dimensions,
    check_numbers,
    check_words,
    check_questions,
    check_asking,
    check_mistakes,
    check_alignments,
    check_answers,
)


def check_consistency(problem: Problem) -> None:
    """Note every inconsistency of the problem in its document."""
    for check in _PARTS:
        check(problem)
