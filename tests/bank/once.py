"""The shipped bank solved once a worker, and its mistakes once a run, by whichever test needs them first.

Many tests need all of them, and solving takes longer than all that is then made of them. Only what is exactly shipped
is shared: a changed problem, another catalogue or a single mistake is solved anew, and so is everything in a test that
does not ask for this.
"""

from __future__ import annotations

import hashlib
import os
import pickle
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.model.problem import Problem, Question
from turnwright.bank.questions import choice
from turnwright.bank.reading.files import read_bank
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_question
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.thinking.slips import mistaken_forms
from turnwright.exporters.running import making

FOLDER = "TURNWRIGHT_TESTS_SHARED"  # one for all workers of a run, named by conftest and gone with its other folders
_solved: dict[str, SolvedQuestion] = {}
_mistaken: dict[str, Any] = {}


@contextmanager
def solved_once() -> Iterator[None]:
    """Within it, a pack or a diagnosis of shipped questions takes what was solved before."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choice, "mistaken_forms", _mistakes)
        patch.setattr(making, "solved_question", solved)
        yield


def solved(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question; a shipped one is looked up or solved once."""
    if not _is_shipped(problem, question):
        return solved_question(problem, question)
    name = f"{problem.id}.{question.name}"
    if name not in _solved:
        _solved[name] = solved_question(problem, question)
    return _solved[name]


def _mistakes(known: SolvedQuestion, catalogue: Sequence[Mistake]) -> Any:
    if not _is_shipped(known.problem, known.question) or tuple(catalogue) != shipped_mistakes():
        return mistaken_forms(known, catalogue)
    if known.id not in _mistaken:
        _mistaken[known.id] = _shared(known, catalogue)
    return _mistaken[known.id]


def _is_shipped(problem: Problem, question: Question) -> bool:
    """Whether it is read from the shipped bank as it is; a copy elsewhere is a stranger's, and solved apart."""
    shipped = _problems().get(problem.id)
    return problem.document.is_ours and shipped == problem and question in shipped.questions


@cache
def _problems() -> Mapping[str, Problem]:
    return {each.id: each for each in read_bank()}


def _shared(known: SolvedQuestion, catalogue: Sequence[Mistake]) -> Any:
    path = Path(os.environ[FOLDER]) / f"{hashlib.sha256(known.id.encode()).hexdigest()}.pickle"
    with suppress(FileNotFoundError):
        return pickle.loads(path.read_bytes())
    found = mistaken_forms(known, catalogue)
    part = path.with_suffix(f".{os.getpid()}")
    part.write_bytes(pickle.dumps(found))
    part.replace(path)  # in one piece, for another worker may be looking
    return found
