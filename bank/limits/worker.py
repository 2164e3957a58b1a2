"""Algebra on a stranger's equations, done in a forked worker that is ended where it takes too much.

A worker does one task after another and keeps what SymPy has learnt. The kernel ends it when a task has had its
processor time, also inside SymPy; the next task gets a new one. What comes back is JSON, of bounded length.
"""

from __future__ import annotations

import atexit
import gc
import json
import os
import pickle
import signal
import threading
import time
import warnings
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from select import select
from typing import Any, BinaryIO, NoReturn, TypeAlias

from ..errors import OverBudgetError, SolveError
from ..model.problem import Problem, Question
from . import budget

LONGEST_ANSWER = 200_000
Task: TypeAlias = Callable[..., Any]
_SIZE = 8
_PIECE = 1 << 16
_TOO_LONG = (
    "it comes out as a formula beyond all measure",
    "use fewer unknowns and shorter relations",
)


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
        except _EndedError as end:
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
        here.worker = AlgebraWorker()
    return here.worker


def _after_fork() -> None:
    """A fork of this process has locks of its own, which nobody holds."""
    budget.current().lock = threading.RLock()


atexit.register(end)
if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_after_fork)


class _EndedError(Exception):
    """A worker came to an end over a task; ``refusal`` makes what the user is told."""

    def __init__(self, refusal: budget.Refusal) -> None:
        self.refusal = refusal
        super().__init__(refusal)


class AlgebraWorker:
    """A forked process, seen from the one that asks."""

    def __init__(self) -> None:
        self.owner, self.is_over = os.getpid(), False
        self._known: Problem | None = None
        tasks, self._tasks = os.pipe()
        self._answers, answers = os.pipe()
        with warnings.catch_warnings():
            # Other threads, such as that of a progress bar, are not copied; a worker needs nothing that they hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._process = os.fork()
        if not self._process:
            os.close(self._tasks)
            os.close(self._answers)
            _serve(tasks, answers)
        os.close(tasks)
        os.close(answers)

    def ask(self, problem: Problem, task: Task, more: tuple[Any, ...]) -> dict[str, Any]:
        """What the worker answers. Raises _EndedError where it ends over it."""
        known = problem is self._known
        request = pickle.dumps((task, None if known else problem, more, budget.seconds()), pickle.HIGHEST_PROTOCOL)
        self._known = problem
        try:
            with suppress(BrokenPipeError):
                _write(self._tasks, request)
            answer = self._read(time.monotonic() + budget.PATIENCE * budget.seconds())
        except BaseException:
            self.end()  # a worker that was left in the middle has an answer too many
            raise
        if answer is None:
            raise _EndedError(self._cause())
        found: dict[str, Any] = json.loads(answer)
        if "memory" in found:
            self.end()
            raise _EndedError(budget.over_memory)
        return found

    def _read(self, until: float) -> bytes | None:
        data = bytearray()
        while len(data) < _SIZE or len(data) < _SIZE + int.from_bytes(data[:_SIZE], "big"):
            if not select([self._answers], [], [], max(until - time.monotonic(), 0))[0]:
                return None
            piece = os.read(self._answers, _PIECE)
            if not piece:
                return None
            data += piece
        return bytes(data[_SIZE:])

    def _cause(self) -> budget.Refusal:
        status = self.end()
        ended_by = os.WTERMSIG(status) if status is not None and os.WIFSIGNALED(status) else 0
        return budget.over_time if ended_by in (signal.SIGPROF, signal.SIGKILL) else budget.stopped

    def end(self) -> int | None:
        """Ends the worker, whether it is done or not; how it ended."""
        if self.is_over:
            return None
        self.is_over = True
        os.close(self._tasks)
        os.close(self._answers)
        with suppress(ChildProcessError):
            found, status = os.waitpid(self._process, os.WNOHANG)
            for _ in range(20):  # one that the kernel has just ended may not be gone yet
                if found:
                    return status
                time.sleep(0.005)
                found, status = os.waitpid(self._process, os.WNOHANG)
            with suppress(ProcessLookupError):  # it may end in this very moment
                os.kill(self._process, signal.SIGKILL)
            return os.waitpid(self._process, 0)[1]
        return None


# --- in the worker ----------------------------------------------------------------------------


def _bound_memory() -> None:
    """Leave the worker the room for addresses that it has now, and its share."""
    import resource

    begun = 0
    with suppress(OSError), Path("/proc/self/statm").open(encoding="ascii") as file:
        begun = int(file.read().split()[0]) * resource.getpagesize()
    limit = begun + budget.MEGABYTES * 1_000_000
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    if begun and (hard == resource.RLIM_INFINITY or limit < hard):
        resource.setrlimit(resource.RLIMIT_AS, (limit, hard))


def _serve(tasks: int, answers: int) -> NoReturn:
    """Does tasks until nobody asks any more, and never comes back: nothing of its parent may run on here."""
    import resource  # which is not everywhere, as forks are not

    budget.current().is_worker = True
    try:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears it, too, and ends its worker
        for each in (signal.SIGTERM, signal.SIGPROF):
            signal.signal(each, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CORE, (0, resource.getrlimit(resource.RLIMIT_CORE)[1]))
        gc.freeze()  # what the parent made is not looked through for garbage, so that its memory stays shared
        _bound_memory()
        with open(tasks, "rb") as stream:
            _answer_all(stream, answers)
    finally:
        os._exit(0)


def _answer_all(stream: BinaryIO, answers: int) -> None:
    known: Problem | None = None
    while size := stream.read(_SIZE):
        given = pickle.loads(stream.read(int.from_bytes(size, "big")))  # noqa: S301  (from our parent)
        task, problem, more, seconds = given
        known = problem or known
        begun = time.process_time()
        signal.setitimer(signal.ITIMER_PROF, seconds, 0.1)
        found = _answer(task, known, more)
        signal.setitimer(signal.ITIMER_PROF, 0)
        data = json.dumps({**found, "taken": time.process_time() - begun}).encode()
        _write(answers, data)


def _answer(task: Task, problem: Problem | None, more: tuple[Any, ...]) -> Mapping[str, Any]:
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


def _write(target: int, data: bytes) -> None:
    """The data, with their length before them."""
    rest = memoryview(len(data).to_bytes(_SIZE, "big") + data)
    while rest:
        rest = rest[os.write(target, rest) :]
