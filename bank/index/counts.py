"""How many variants each question of a file has under the usual g, kept beside what the file declares."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any

from ..errors import SolveError
from ..storage.entries import Tree, kept
from .file import COUNTS, BankFile


def counts(file: BankFile) -> Mapping[str, int]:
    """The number of variants by the names of questions; those that can't be solved are left out."""
    return kept(COUNTS, file.key, lambda: dict(_counted(file)), lambda data: _loaded(file, data))


class _NotKnownError(Exception):
    """Nothing was counted before."""


def known_counts(file: BankFile) -> Mapping[str, int] | None:
    """The same where they were counted before; None where they were not."""
    try:
        return kept(COUNTS, file.key, _not_known, lambda data: _loaded(file, data))
    except _NotKnownError:
        return None


def _not_known() -> Tree:
    raise _NotKnownError


def count(file: BankFile, name: str) -> int:
    """The number of variants of one question that can be drawn. Raises SolveError."""
    from ..limits.budget import guarded
    from ..quantities.gravity import GRAVITY
    from ..reading.mistakes import shipped_mistakes
    from ..solving.cache import solved_question
    from ..thinking.distractors import diagnosis, telling_pool

    problem = file.problem()
    assert problem is not None, "a file with faults has no questions to count"
    question = problem.question(name)
    solved = solved_question(problem, question)
    with guarded(problem, question):
        return telling_pool(diagnosis(solved, shipped_mistakes()), GRAVITY).count


def _counted(file: BankFile) -> Iterator[tuple[str, int]]:
    for question in file.declared.questions if file.declared else ():
        with suppress(SolveError):  # told where the question is asked for
            yield question.name, count(file, question.name)


def _loaded(file: BankFile, data: Any) -> Mapping[str, int]:
    """The counts, where they are numbers and those of this file's questions."""
    names = {each.name for each in file.declared.questions} if file.declared else set()
    if not all(name in names and type(each) is int and each >= 0 for name, each in data.items()):
        raise ValueError("no counts")
    return dict(data)
