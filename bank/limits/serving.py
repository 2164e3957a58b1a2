"""What a worker does: it takes tasks, and each is ended when it has had its time, with the process around it.

Where the system has timers of processor time, the kernel ends the process, also inside SymPy. Else a thread looks at
the time now and then: it is not heard inside one long call into C, where the patience of who asks decides.
"""

from __future__ import annotations

import json
import os
import pickle
import signal
import threading
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Any, BinaryIO, Protocol

from ..errors import OverBudgetError, SolveError
from ..model.problem import Problem
from . import kernel
from .forking import messages, write

LONGEST_ANSWER = 200_000
OVER_TIME = 88  # exit status of a worker that a thread of its own has ended
LOOK = 0.05  # seconds from one look at the time to the next
_TOO_LONG = (
    "it comes out as a formula beyond all measure",
    "use fewer unknowns and shorter relations",
)


class Bell(Protocol):
    """What ends this process when a task has had its time."""

    def ring_after(self, seconds: float) -> None:
        """It rings after so much processor time."""

    def silence(self) -> None:
        """It does not ring."""


class TimerBell:
    """A timer of the kernel."""

    def ring_after(self, seconds: float) -> None:
        """The kernel ends this process after so much processor time."""
        signal.setitimer(signal.ITIMER_PROF, seconds, 0.1)

    def silence(self) -> None:
        """The task is done."""
        signal.setitimer(signal.ITIMER_PROF, 0)


class ThreadBell:
    """A thread that looks at the processor time of this process."""

    def __init__(self) -> None:
        self._until: float | None = None
        threading.Thread(target=self._look, daemon=True).start()

    def ring_after(self, seconds: float) -> None:
        """The thread ends this process after so much processor time."""
        self._until = time.process_time() + seconds

    def silence(self) -> None:
        """The task is done."""
        self._until = None

    def _look(self) -> None:
        while True:
            time.sleep(LOOK)
            until = self._until
            if until is not None and time.process_time() > until:
                os._exit(OVER_TIME)


def answer_all(stream: BinaryIO, answers: int) -> None:
    """Does one task after another until nobody asks any more, and writes what each comes to."""
    known: Problem | None = None
    bell: Bell = TimerBell() if hasattr(signal, "setitimer") else ThreadBell()
    is_bounded = False
    for asked in messages(stream):
        task, problem, more, (seconds, megabytes) = pickle.loads(asked)  # noqa: S301  (from our parent)
        if not is_bounded:  # what the first task needs is loaded by now
            with suppress(ImportError):
                kernel.bound_memory(megabytes)
            is_bounded = True
        known = problem or known
        begun = time.process_time()
        bell.ring_after(seconds)
        found = _answer(task, known, more)
        bell.silence()
        data = json.dumps({**found, "taken": time.process_time() - begun}).encode()
        write(answers, data)


def _answer(task: Callable[..., Any], problem: Problem | None, more: tuple[Any, ...]) -> Mapping[str, Any]:
    try:
        found = task(problem, *more)
        if len(json.dumps(found)) > LONGEST_ANSWER:
            return {"refused": _TOO_LONG}
    except OverBudgetError:
        raise
    except SolveError as error:
        return {"refused": [error.wrong, error.right]}
    except MemoryError:
        return {"memory": True}
    except RecursionError:
        return {"refused": _TOO_LONG}
    except Exception as error:  # SymPy has many; on a stranger's equations none of them is ours to mend
        wrong = f"the algebra stopped with {type(error).__name__}"
        return {"refused": [wrong, "use simpler relations, or take the question out"]}
    return {"found": found}
