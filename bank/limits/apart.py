"""Work on a stranger's file in a forked process, and in a fresh one after each step that had to be ended.

Who is interrupted in the middle of a thought may remember half of it: SymPy keeps what it has found. So the process in
which a step was ended gives no result. Another one does all of the work again, but for that step, which is refused
there before it begins, as if it had been ended. It also stays bounded where the kernel ends the process itself, in a
call into C. Where processes can't fork the work is done here.
"""

from __future__ import annotations

import os
import pickle
import signal
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

from ..errors import Place
from . import budget

if TYPE_CHECKING:
    from ..documents.document import Document

_Found = TypeVar("_Found")
_SIZE = 8
_BY_KERNEL = [getattr(signal, each) for each in ("SIGPROF", "SIGVTALRM", "SIGKILL") if hasattr(signal, each)]


def apart(document: Document, task: Callable[[], _Found]) -> _Found:
    """What a task on a document gives, as a copy. Raises what the task raises."""
    if document.is_ours or not hasattr(os, "fork"):
        return task()
    here = budget.current()
    while True:
        told = _Fork(document, task).told()
        here.add(document, told.taken)
        if told.ended is None:
            if isinstance(told.found, BaseException):
                raise told.found
            found: _Found = told.found
            return found
        name, refusal = told.ended
        if not name or name in here.refused:  # it came to an end outside of every step
            raise budget.stopped(name or document.file, Place(document.file))
        here.refused[name] = refusal


class _Told:
    """What a process told before it came to an end, how long its steps took, and at which of them it was ended."""

    def __init__(self) -> None:
        self.found: Any = None
        self.taken = 0.0
        self.ended: tuple[str, budget.Refusal] | None = None


class _Fork:
    """A forked process that does one task, seen from the one that waits for it."""

    def __init__(self, document: Document, task: Callable[[], object]) -> None:
        self._answers, answers = os.pipe()
        self._process = os.fork()
        if not self._process:
            os.close(self._answers)
            _do(document, task, answers)
        os.close(answers)

    def told(self) -> _Told:
        """What it told, once it is gone."""
        made, at, is_done = _Told(), ("", 0.0), False
        try:
            with os.fdopen(self._answers, "rb") as stream:
                while size := stream.read(_SIZE):
                    what, *more = pickle.loads(stream.read(int.from_bytes(size, "big")))  # noqa: S301  (our own fork)
                    match what, more:
                        case "at", [name, allowed]:
                            at = name, allowed
                        case "found", [found, taken]:
                            made.found, made.taken, is_done = found, taken, True
                        case "ended", [name, is_memory, allowed, taken]:
                            made.taken, is_done = taken, True
                            made.ended = name, _refusal(allowed, is_memory)
        except BaseException:
            with suppress(ProcessLookupError):
                os.kill(self._process, signal.SIGKILL)
            raise
        finally:
            status = os.waitpid(self._process, 0)[1]
        if not is_done:
            name, allowed = at
            by_kernel = os.WIFSIGNALED(status) and os.WTERMSIG(status) in _BY_KERNEL
            made.ended, made.taken = (name, _refusal(allowed) if by_kernel else budget.stopped), allowed
        return made


def _refusal(allowed: float, is_memory: bool = False) -> budget.Refusal:
    return budget.over_memory if is_memory else partial(budget.over_time, allowed=allowed)


# --- in the fork ------------------------------------------------------------------------------


def _do(document: Document, task: Callable[[], object], answers: int) -> NoReturn:
    """Does the task, tells what came of it, and never comes back: nothing of its parent may run on here."""
    try:
        here = budget.current()
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears it, too, and ends this one
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        before = here.taken_by(document)
        here.tell = lambda name, allowed: _write(answers, "at", name, allowed)
        try:
            found: object = task()
        except budget.InterruptedStep as ended:
            _write(answers, "ended", ended.name, ended.is_memory, ended.allowed, here.taken_by(document) - before)
        except BaseException as error:  # whatever it is, it is told where the work was asked for
            _write(answers, "found", error, here.taken_by(document) - before)
        else:
            _write(answers, "found", found, here.taken_by(document) - before)
        here.end_worker()
    finally:
        os._exit(0)


def _write(target: int, *message: object) -> None:
    data = pickle.dumps(message, pickle.HIGHEST_PROTOCOL)
    rest = memoryview(len(data).to_bytes(_SIZE, "big") + data)
    while rest:
        rest = rest[os.write(target, rest) :]
