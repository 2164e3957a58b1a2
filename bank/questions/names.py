"""What a user may name, a question, problem or family, and what is near when the name is wrong.

It works on problems as on what an index says of them, and loads nothing.
"""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from typing import Protocol, TypeVar

from ..errors import UnknownNameError, UsageError
from ..language import count


class NamedProblem(Protocol):
    """What a name needs of a problem."""

    @property
    def id(self) -> str:
        """Its id."""

    @property
    def family(self) -> str:
        """The family it belongs to."""


class NamedQuestion(Protocol):
    """What a name needs of a question."""

    @property
    def name(self) -> str:
        """Its name in its problem."""


_Problem = TypeVar("_Problem", bound=NamedProblem)
_Question = TypeVar("_Question", bound=NamedQuestion)


def question_id(problem: NamedProblem, question: NamedQuestion) -> str:
    """The id of a question: ``problem.question``."""
    return f"{problem.id}.{question.name}"


def named(everything: Sequence[tuple[_Problem, _Question]], names: Sequence[str]) -> list[tuple[_Problem, _Question]]:
    """The questions meant by ids of questions, problems or families, each once, in the order of the names.

    All, in bank order, for no name. Raises UnknownNameError, with near names.
    """
    found = [each for name in names for each in meant(everything, name)] if names else everything
    return list({question_id(*each): each for each in found}.values())


def named_one(everything: Sequence[tuple[_Problem, _Question]], name: str) -> tuple[_Problem, _Question]:
    """The question with that id. Raises UnknownNameError with near ids, UsageError for a name that means several."""
    found = named(everything, [name])
    if len(found) > 1:
        ids = [question_id(*each) for each in found]
        raise UsageError(f"'{name}' means {count(len(found), 'question')}; name one, such as {' or '.join(ids[:2])}")
    return found[0]


def meant(everything: Sequence[tuple[_Problem, _Question]], name: str) -> list[tuple[_Problem, _Question]]:
    """The questions of one name, in bank order. Raises UnknownNameError, with near names."""
    found = [(p, q) for p, q in everything if name in (question_id(p, q), p.id, p.family)]
    if not found:
        raise UnknownNameError("question, problem or family", name, near(everything, name))
    return found


def near(everything: Sequence[tuple[_Problem, _Question]], name: str) -> list[str]:
    """Names that look like this one."""
    known = sorted({word for p, q in everything for word in (question_id(p, q), p.id, p.family)})
    return difflib.get_close_matches(name, known, n=2, cutoff=0.5)
