"""Mistakes of the shipped bank, solved once a run by whichever test in whichever worker needs them first.

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
from turnwright.bank.model.problem import Problem
from turnwright.bank.questions import choice
from turnwright.bank.reading.files import read_bank
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solved import SolvedQuestion
from turnwright.bank.thinking.slips import mistaken_forms

FOLDER = "TURNWRIGHT_TESTS_SHARED"  # one for all workers of a run, named by conftest and gone with its other folders
_found: dict[str, Any] = {}


@contextmanager
def solved_mistakes() -> Iterator[None]:
    """Within it, a diagnosis of a shipped question takes its mistakes from those that were solved before."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choice, "mistaken_forms", _once)
        yield


def _once(solved: SolvedQuestion, catalogue: Sequence[Mistake]) -> Any:
    if not _is_shipped(solved, catalogue):
        return mistaken_forms(solved, catalogue)
    if solved.id not in _found:
        _found[solved.id] = _shared(solved, catalogue)
    return _found[solved.id]


def _is_shipped(solved: SolvedQuestion, catalogue: Sequence[Mistake]) -> bool:
    problem = _problems().get(solved.problem.id)
    return problem == solved.problem and solved.question in problem.questions and tuple(catalogue) == shipped_mistakes()


@cache
def _problems() -> Mapping[str, Problem]:
    return {each.id: each for each in read_bank()}


def _shared(solved: SolvedQuestion, catalogue: Sequence[Mistake]) -> Any:
    path = Path(os.environ[FOLDER]) / f"{hashlib.sha256(solved.id.encode()).hexdigest()}.pickle"
    with suppress(FileNotFoundError):
        return pickle.loads(path.read_bytes())
    found = mistaken_forms(solved, catalogue)
    part = path.with_suffix(f".{os.getpid()}")
    part.write_bytes(pickle.dumps(found))
    part.replace(path)  # in one piece, for another worker may be looking
    return found
