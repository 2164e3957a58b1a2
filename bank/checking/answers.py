"""Notes held against the answers of their files: which are answered, and which answers nothing asks for."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from ..documents.document import Path_
from ..errors import Fault, Place
from ..model.problem import Problem
from .note import Note


@dataclass(frozen=True)
class AnsweredNotes:
    """Notes at their places: ``open`` ones wait for their author; ``faults`` are answers to notes that don't arise."""

    open: tuple[Note, ...]
    answered: tuple[Note, ...]
    faults: tuple[Fault, ...]


def answered_notes(problems: Sequence[Problem], notes: Sequence[Note], judged: Collection[str]) -> AnsweredNotes:
    """The notes with the answers of their problems; ``judged`` are ids of questions and problems looked at in full."""
    known = {problem.id: problem for problem in problems}
    placed = [settled(known[owner], each) if (owner := _owner(each)) in known else each for each in notes]
    asked = {(_owner(each), each.field, each.name) for each in placed}
    faults = tuple(
        Fault(problem.document.place(path, key=True), f"{'.'.join(map(str, path))}: this note does not arise", _UNASKED)
        for problem in problems
        for field, id_, path in _answers(problem)
        if id_ in judged and (problem.id, field, path[-1]) not in asked
    )
    return AnsweredNotes(
        tuple(each for each in placed if not each.answer), tuple(each for each in placed if each.answer), faults
    )


_UNASKED = "take the answer out, or put it where the note is"
_OF_PROBLEM = "'answered' of the problem"


def settled(problem: Problem, note: Note) -> Note:
    """The note with its place in the file of its problem, the field for its answer, and the answer that stands there.

    A question that doesn't answer leaves it to its problem, which answers for all of them.
    """
    name = note.about.partition("/")[0].partition(".")[2]
    question = next((each for each in problem.questions if each.name == name), None)
    own = question.answered if question else {}
    in_question = question is not None and (note.name in own or note.name not in problem.answered)
    answer = own.get(note.name) or problem.answered.get(note.name, "")
    field = _of_question(name) if in_question else _OF_PROBLEM
    return replace(note, place=note.place or _place(problem, name), field=field, answer=answer)


def _place(problem: Problem, name: str) -> Place:
    """Where a question stands, or a diagram that a question is about, or the problem."""
    for part in ("questions", "diagrams"):
        if name in problem.document.names(part):
            return problem.document.place((part, name), key=True)
    return problem.document.place(("id",), key=True)


def _of_question(name: str) -> str:
    return f"'answered' of questions.{name}"


def _owner(note: Note) -> str:
    return note.about.partition(".")[0]


def _answers(problem: Problem) -> Iterator[tuple[str, str, Path_]]:
    """Each answer of a problem file: the field that it stands in, the id that it is about, its path."""
    yield from ((_OF_PROBLEM, problem.id, ("answered", name)) for name in problem.answered)
    for question in problem.questions:
        for name in question.answered:
            yield (
                _of_question(question.name),
                f"{problem.id}.{question.name}",
                ("questions", question.name, "answered", name),
            )
