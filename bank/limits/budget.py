"""How much of the machine a stranger's question may have: processor time, so that a busy machine changes no result."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..errors import OverBudgetError, Place

if TYPE_CHECKING:
    from ..documents.document import Document


SECONDS_VARIABLE = "TURNWRIGHT_SECONDS"
SECONDS = 10.0  # the slowest step of a shipped question takes less than one
READING = 10.0  # for a file, what is loaded for the first one included
MEGABYTES = 1024  # beyond what the program has without it
OF_A_FILE, OF_A_BANK = 12, 360  # times that of a question
PATIENCE = 60  # seconds of the clock for one of the processor, before a worker counts as asleep
_LEAST, _MOST = 0.1, 3600.0


def seconds() -> float:
    """Processor time for one step (solving, or all its mistakes) of a question: the usual, or what the user allows."""
    with suppress(ValueError):
        return min(max(float(os.environ.get(SECONDS_VARIABLE, SECONDS)), _LEAST), _MOST)
    return SECONDS


@dataclass
class BudgetRun:
    """What the questions of strangers have taken in one run of the command."""

    taken: float = 0.0


_runs: list[BudgetRun] = []


@contextmanager
def one_run() -> Iterator[None]:
    """One run of the command: all that is done in it shares the budget of a bank. A program of your own has no such."""
    _runs.append(BudgetRun())
    try:
        yield
    finally:
        _runs.pop()


def add(document: Document, taken: float) -> None:
    """Note what a step of a question in this file has taken."""
    document.taken += taken
    if _runs:
        _runs[-1].taken += taken


def refuse_if_spent(document: Document, question: str, place: Place) -> None:
    """Raise OverBudgetError where a file, or the bank in one run, has had its share."""
    file_share, bank_share = OF_A_FILE * seconds(), OF_A_BANK * seconds()
    if document.taken >= file_share:
        raise _spent(question, place, f"the questions of this file have taken {file_share:g} s", "split the file")
    if _runs and _runs[-1].taken >= bank_share:
        raise _spent(question, place, f"the questions of this bank have taken {bank_share:g} s", "split the bank")


def _spent(question: str, place: Place, taken: str, right: str) -> OverBudgetError:
    return OverBudgetError(
        question, place, f"{taken} of processor time, all that they may", f"{right}, or simplify what takes longest"
    )


def over_time(question: str, place: Place, allowed: float | None = None) -> OverBudgetError:
    """The error of a step that took too much time."""
    wrong = f"working it out took more than {allowed or seconds():g} s of processor time"
    right = (
        f"use fewer unknowns, shorter relations and smaller draws, or set {SECONDS_VARIABLE} for a bank that you trust"
    )
    return OverBudgetError(question, place, wrong, right)


def over_memory(question: str, place: Place) -> OverBudgetError:
    """The error of a step that took too much memory."""
    wrong = f"working it out took more than {MEGABYTES} MB"
    return OverBudgetError(question, place, wrong, "use fewer unknowns and shorter relations")


def stopped(question: str, place: Place) -> OverBudgetError:
    """The error of a step whose worker came to an end by itself."""
    wrong = "the worker that worked it out came to an end"
    return OverBudgetError(
        question, place, wrong, "use fewer unknowns and shorter relations, and see that memory is free"
    )


Refusal = Callable[[str, Place], OverBudgetError]
