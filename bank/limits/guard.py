"""Work on a stranger's bank in this process, within a budget: reading, drawing variants, making items.

Their algebra is done elsewhere (see ``apart``); what is left here is long only where somebody means it to be. A timer
of the processor raises an error in the middle of it, again and again until it is heard: a command that goes on after
it (``check``) only tells faults, and every other ends.
"""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NoReturn

from ..documents.document import Document
from ..errors import Place
from ..model.problem import Problem, Question
from . import budget

AGAIN = 0.5  # seconds until an error that somebody has swallowed is raised again
OF_A_VARIANT = 0.01  # seconds that each variant that is asked for may take to be found
_running: list[str] = []


@contextmanager
def guarded(problem: Problem, question: Question, *, variants: int = 0) -> Iterator[None]:
    """Raises OverBudgetError where what is done to a stranger's question takes too much processor time."""
    name, place = f"{problem.id}.{question.name}", problem.place_of(question)
    with within(problem.document, name, place, budget.seconds() + OF_A_VARIANT * variants):
        yield


@contextmanager
def within(document: Document, name: str, place: Place, allowed: float) -> Iterator[None]:
    """The same for anything that is done to a stranger's document. Only the outermost of several counts."""
    is_free = threading.current_thread() is threading.main_thread() and hasattr(signal, "setitimer")
    if document.is_ours or _running or not is_free:
        yield
        return
    budget.refuse_if_spent(document, name, place)

    def ring(*_: Any) -> NoReturn:
        raise budget.over_time(name, place, allowed)

    before, begun = signal.signal(signal.SIGPROF, ring), time.process_time()
    _running.append(name)
    signal.setitimer(signal.ITIMER_PROF, allowed, AGAIN)
    try:
        try:
            yield
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)  # the first may have been overtaken by the bell
        signal.signal(signal.SIGPROF, before)
        _running.clear()
        budget.add(document, time.process_time() - begun)
