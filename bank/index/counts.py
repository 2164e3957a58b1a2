"""How many variants each question of a file has under the usual g, kept beside what the file declares."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from typing import Any

from ..errors import SolveError
from ..storage.entries import Tree, kept
from .file import COUNTS, BankFile


def counts(file: BankFile, done: Callable[[int], None] = lambda _: None) -> Mapping[str, int]:
    """The number of variants by the names of questions; those that can't be solved are left out.

    ``done`` hears of each question that is counted now.
    """
    return kept(COUNTS, file.key, lambda: dict(_counted(file, done)), lambda data: _loaded(file, data))


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
    """The number of variants of one question. Raises SolveError."""
    from ..limits.budget import guarded
    from ..quantities.gravity import GRAVITY
    from ..solving.cache import solved_question
    from ..variants.variant import VariantPool

    problem = file.problem()
    assert problem is not None, "a file with faults has no questions to count"
    question = problem.question(name)
    pool = VariantPool(solved_question(problem, question), GRAVITY)
    with guarded(problem, question):
        return pool.count


def _counted(file: BankFile, done: Callable[[int], None]) -> Iterator[tuple[str, int]]:
    for question in file.declared.questions if file.declared else ():
        with suppress(SolveError):  # told where the question is asked for
            yield question.name, count(file, question.name)
        done(1)


def _loaded(file: BankFile, data: Any) -> Mapping[str, int]:
    """The counts, where they are numbers and those of this file's questions."""
    names = {each.name for each in file.declared.questions} if file.declared else set()
    if not all(name in names and type(each) is int and each >= 0 for name, each in data.items()):
        raise ValueError("no counts")
    return dict(data)
