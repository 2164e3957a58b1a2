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
from typing import TYPE_CHECKING, Any, TypeVar

from ..errors import Place
from . import budget
from .forking import FORKS, forked, messages, write

if TYPE_CHECKING:
    from ..documents.document import Document

_Found = TypeVar("_Found")
_BY_KERNEL = [getattr(signal, each) for each in ("SIGPROF", "SIGVTALRM", "SIGKILL") if hasattr(signal, each)]


def apart(document: Document, task: Callable[[], _Found]) -> _Found:
    """What a task on a document gives, as a copy. Raises what the task raises."""
    if document.is_ours or not FORKS:
        return task()
    here = budget.current()
    refused = here.refused.setdefault(document, {})
    while True:
        told = _told(document, task)
        here.add(document, told.taken)
        if told.ended is None:
            if isinstance(told.found, BaseException):
                raise told.found
            found: _Found = told.found
            return found
        name, refusal = told.ended
        if not name or name in refused:  # it came to an end outside of every step
            raise budget.stopped(name or document.file, Place(document.file))
        refused[name] = refusal


class _Told:
    """What a process told before it came to an end, how long its steps took, and at which of them it was ended."""

    def __init__(self) -> None:
        self.found: Any = None
        self.taken = 0.0
        self.ended: tuple[str, budget.Refusal] | None = None


def _told(document: Document, task: Callable[[], object]) -> _Told:
    """What a fork that does the task told, once it is gone."""
    process, to_it, from_it = forked(lambda _, answers: _do(document, task, answers))
    os.close(to_it)
    made, at, is_done = _Told(), ("", 0.0), False
    try:
        with os.fdopen(from_it, "rb") as stream:
            for message in messages(stream):
                made.taken, what, *more = pickle.loads(message)  # noqa: S301  (our own fork)
                match what, more:
                    case "at", [name, allowed]:
                        at = name, allowed
                    case "found", [found]:
                        made.found, is_done = found, True
                    case "ended", [name, is_memory, allowed]:
                        made.ended, is_done = (name, _refusal(allowed, is_memory)), True
    except BaseException:
        with suppress(ProcessLookupError):
            os.kill(process, signal.SIGKILL)
        raise
    finally:
        status = os.waitpid(process, 0)[1]
    if not is_done:
        name, allowed = at
        by_kernel = os.WIFSIGNALED(status) and os.WTERMSIG(status) in _BY_KERNEL
        made.ended = name, _refusal(allowed) if by_kernel else budget.stopped
        made.taken += allowed
    return made


def _refusal(allowed: float, is_memory: bool = False) -> budget.Refusal:
    return budget.over_memory if is_memory else partial(budget.over_time, allowed=allowed)


# --- in the fork ------------------------------------------------------------------------------


def _do(document: Document, task: Callable[[], object], answers: int) -> None:
    """Does the task, and tells what came of it; with each message goes the time that the steps have taken so far."""
    here = budget.current()
    before = here.taken_by(document)

    def tell(what: str, *more: object) -> None:
        message = here.taken_by(document) - before, what, *more
        write(answers, pickle.dumps(message, pickle.HIGHEST_PROTOCOL))

    here.tell = partial(tell, "at")
    try:
        found: object = task()
    except budget.InterruptedStep as ended:
        tell("ended", ended.name, ended.is_memory, ended.allowed)
    except BaseException as error:  # whatever it is, it is told where the work was asked for
        _deliver(tell, error)
    else:
        _deliver(tell, found)
    here.end_worker()


def _deliver(tell: Callable[[str, object], None], found: object) -> None:
    """Tells what was found, or why that can't go to another process: a fault of the program, and told as such."""
    try:
        tell("found", found)
    except Exception as error:
        wrong = f"{type(found).__name__} can't go to another process: {type(error).__name__}: {error}"
        tell("found", pickle.PicklingError(wrong))
