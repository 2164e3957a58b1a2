"""Algebra on a stranger's equations, done in a worker that is ended where it takes too much.

A worker does one task after another and keeps what SymPy has learnt. It is forked where processes can fork, else
spawned. The kernel ends it when a task has had its processor time, also inside SymPy; the next task gets a new one.
What comes back is JSON, of bounded length.
"""

from __future__ import annotations

import atexit
import os
import threading
from typing import Any

from ..errors import SolveError
from ..model.problem import Problem, Question
from . import budget
from .asking import EndedError, Task
from .forked import ForkedWorker
from .forking import FORKS
from .spawned import SpawnedWorker


def in_worker(problem: Problem, question: Question, task: Task, *more: Any) -> Any:
    """What ``task(problem, *more)`` gives in the worker: plain data, since it comes back as JSON.

    ``task`` is a function of a module, which the worker finds by its name. Raises SolveError as it does, and
    OverBudgetError.
    """
    name, place = f"{problem.id}.{question.name}", problem.place_of(question)
    here = budget.current()
    with here.lock:
        here.refuse_if_spent(problem.document, name, place)
        try:
            answer = _of_this_process(here).ask(problem, task, more)
        except EndedError as end:
            here.add(problem.document, budget.seconds())
            raise end.refusal(name, place) from None
    here.add(problem.document, answer["taken"])
    if "refused" in answer:
        raise SolveError(name, *answer["refused"])
    return answer["found"]


def end() -> None:
    """End the worker of this process, if it has one."""
    budget.current().end_worker()


def _of_this_process(here: budget.Budget) -> budget.Worker:
    """The worker of this process; that of a parent is left to the parent."""
    if here.worker is None or here.worker.is_over or here.worker.owner != os.getpid():
        here.worker = ForkedWorker() if FORKS else SpawnedWorker()
    return here.worker


def _after_fork() -> None:
    """A fork of this process has locks of its own, which nobody holds."""
    budget.current().lock = threading.RLock()


atexit.register(end)
if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_after_fork)
