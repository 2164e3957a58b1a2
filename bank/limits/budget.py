"""How much of the machine a stranger's question may have: processor time, so that a busy machine changes no result.

Algebra is done apart (see ``worker``). What is done in this process (reading, drawing variants, making items) is long
only where somebody means it to be: there a timer of the processor raises an error in the middle of it, again and again
until it is heard. A command that goes on after it (``check``) only tells faults, and every other ends.
"""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NoReturn, Protocol, TypeAlias
from weakref import WeakKeyDictionary

from ..errors import OverBudgetError, Place
from .kernel import bounded

if TYPE_CHECKING:
    from ..documents.document import Document
    from ..model.problem import Problem, Question

SECONDS_VARIABLE = "TURNWRIGHT_SECONDS"
SECONDS = 10.0  # the slowest step of a shipped question takes less than one
READING = 10.0  # for a file, what is loaded for the first one included
MEGABYTES = 1024  # beyond what the program has without it
OF_A_FILE, OF_A_BANK = 12, 360  # times that of a question
PATIENCE = 60  # seconds of the clock for one of the processor, before a worker counts as asleep
AGAIN = 0.5  # seconds until an error that somebody has swallowed is raised again
OF_A_VARIANT = 0.01  # seconds that each variant that is asked for may take to be found
_LEAST, _MOST = 0.1, 3600.0
Refusal: TypeAlias = Callable[[str, Place], OverBudgetError]


def seconds() -> float:
    """Processor time for one step (solving, or all its mistakes) of a question: the usual, or what the user allows."""
    with suppress(ValueError):
        return min(max(float(os.environ.get(SECONDS_VARIABLE, SECONDS)), _LEAST), _MOST)
    return SECONDS


class InterruptedStep(BaseException):
    """A step that was ended in a process that is there for one task: nothing there catches it on the way out."""

    def __init__(self, name: str, allowed: float, *, is_memory: bool = False) -> None:
        self.name, self.allowed, self.is_memory = name, allowed, is_memory
        super().__init__(name)


class Worker(Protocol):
    """A process that does algebra, as its budget knows it."""

    owner: int
    is_over: bool

    def ask(self, problem: Problem, task: Callable[..., Any], more: tuple[Any, ...]) -> dict[str, Any]:
        """What it answers."""

    def end(self) -> int | None:
        """Ends it; how it ended."""


@dataclass(eq=False)
class Budget:
    """What strangers' questions have taken in one run, file by file, and the worker that does their algebra.

    ``has_bank_share``: all files together have a limit as well. ``is_guarding``: a timer runs in this process.
    ``is_worker``: this process is such a worker. ``lock`` is held by the thread that asks one. ``refused`` are the
    steps of a file, by name, that had to be ended in another process and are not begun here. In a process that is there
    for one task (see ``apart``), ``tell`` tells which step begins, and for how long it may take; with no name, that it
    is over.
    """

    has_bank_share: bool = False
    taken: float = 0.0
    is_guarding: bool = False
    is_worker: bool = False
    worker: Worker | None = None
    lock: threading.RLock = field(default_factory=threading.RLock)
    refused: WeakKeyDictionary[Document, dict[str, Refusal]] = field(default_factory=WeakKeyDictionary)
    tell: Callable[[str, float], None] | None = None
    _of_files: WeakKeyDictionary[Document, float] = field(default_factory=WeakKeyDictionary)

    def taken_by(self, document: Document) -> float:
        """Seconds that the questions of a file have taken."""
        return self._of_files.get(document, 0.0)

    def add(self, document: Document, taken: float) -> None:
        """Note what a step of a question in this file has taken."""
        self._of_files[document] = self.taken_by(document) + taken
        self.taken += taken

    def refuse_if_spent(self, document: Document, question: str, place: Place) -> None:
        """Raise OverBudgetError where a file, or the bank in one run, has had its share."""
        file_share, bank_share = OF_A_FILE * seconds(), OF_A_BANK * seconds()
        if self.taken_by(document) >= file_share:
            raise _spent(question, place, f"the questions of this file have taken {file_share:g} s", "split the file")
        if self.has_bank_share and self.taken >= bank_share:
            raise _spent(question, place, f"the questions of this bank have taken {bank_share:g} s", "split the bank")

    def end_worker(self) -> None:
        """End the worker, so that nothing is left behind; that of a parent is left to the parent."""
        if self.worker and self.worker.owner == os.getpid():
            self.worker.end()
        self.worker = None


_OF_A_PROGRAM = Budget()
_budget: ContextVar[Budget] = ContextVar("budget")


def current() -> Budget:
    """The budget of this run; outside of one, that of the program, in which only files have a limit."""
    return _budget.get(_OF_A_PROGRAM)


@contextmanager
def one_run() -> Iterator[None]:
    """One run of the command: all that is done in it shares the budget of a bank, and its worker ends with it."""
    budget = Budget(has_bank_share=True)
    token = _budget.set(budget)
    try:
        yield
    finally:
        _budget.reset(token)
        budget.end_worker()


# --- a limit on what is done in this process --------------------------------------------------


@contextmanager
def guarded(problem: Problem, question: Question, *, variants: int = 0) -> Iterator[None]:
    """Raises OverBudgetError where what is done to a stranger's question takes too much processor time."""
    name, place = f"{problem.id}.{question.name}", problem.place_of(question)
    with within(problem.document, name, place, seconds() + OF_A_VARIANT * variants):
        yield


@contextmanager
def within(document: Document, name: str, place: Place, allowed: float) -> Iterator[None]:
    """The same for anything that is done to a stranger's document. Only the outermost of several counts.

    Inside a call into C that hears no timer, the kernel ends the process (``kernel.bounded``).
    """
    budget = current()
    is_free = threading.current_thread() is threading.main_thread() and hasattr(signal, "setitimer")
    if document.is_ours or budget.is_guarding or not is_free:
        yield
        return
    if refusal := budget.refused.get(document, {}).get(name):
        raise refusal(name, place)
    budget.refuse_if_spent(document, name, place)
    if budget.tell:
        budget.tell(name, allowed)

    def ring(*_: Any) -> NoReturn:
        raise InterruptedStep(name, allowed) if budget.tell else over_time(name, place, allowed)

    before, begun = signal.signal(signal.SIGPROF, ring), time.process_time()
    budget.is_guarding = True
    try:
        with bounded(allowed, MEGABYTES):
            signal.setitimer(signal.ITIMER_PROF, allowed, AGAIN)
            try:
                yield
            finally:
                signal.setitimer(signal.ITIMER_PROF, 0)
    except MemoryError:
        raise InterruptedStep(name, allowed, is_memory=True) if budget.tell else over_memory(name, place) from None
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)  # the first may have been overtaken by the bell
        signal.signal(signal.SIGPROF, before)
        budget.is_guarding = False
        budget.add(document, time.process_time() - begun)
        if budget.tell:
            budget.tell("", 0.0)


# --- what is told -----------------------------------------------------------------------------


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


def goes_to_worker(problem: Problem) -> bool:
    """Whether the algebra of a problem is done apart: that of all but the shipped ones."""
    return not problem.document.is_ours and not current().is_worker
