"""Work on a stranger's bank in this process, within a budget: reading, drawing variants, making items.

Their algebra is done elsewhere (see ``apart``); what is left here is long only where somebody means it to be. A timer
of the processor raises an error in the middle of it, again and again until it is heard: a command that goes on after
it (``check``) only tells faults, and every other ends.
"""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from decimal import Decimal
from typing import Any, NoReturn

from turnwright.bank import budget
from turnwright.bank.asked import Asked, Maker, Makers
from turnwright.bank.document import Document
from turnwright.bank.errors import Place
from turnwright.bank.item import Item
from turnwright.bank.problem import Problem, Question

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


def guarded_asked(problem: Problem, question: Question, asked: Asked) -> Asked:
    """The question with the drawing and making of its items within a budget; a shipped one as it is."""
    if problem.document.is_ours:
        return asked

    def making(make: Callable[[], Item]) -> Callable[[], Item]:
        def made() -> Item:
            with guarded(problem, question):
                return make()

        return made

    def draw(wanted: int, gravity: Decimal, seed: int) -> Makers:
        with guarded(problem, question, variants=wanted):
            return [Maker(each.scene, making(each.make)) for each in asked.draw(wanted, gravity, seed)]

    def tally(wanted: int, gravity: Decimal, seed: int) -> int:
        with guarded(problem, question, variants=wanted):
            return asked.count(wanted, gravity, seed)

    return replace(asked, draw=draw, tally=tally)
