"""Work that is done block by block, by several processes where that pays; the results come in the order of the blocks.

The workers are forks, which have all that was there before; only a task's place goes to them, and its result back.
"""

from __future__ import annotations

import gc
import os
import pickle
import signal
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from typing import Any, Generic, NoReturn, TypeVar

try:
    import fcntl
except ImportError:  # where there is no fork either
    fcntl = None  # type: ignore[assignment]

Task = TypeVar("Task")
Result = TypeVar("Result")

ITEMS = 50  # of a block
FEW_ITEMS = 400  # which one process is done with before others have started
_BUFFER = 1 << 20  # bytes that may wait between a worker and its reader
_SIZE = 8


def cores(items: int) -> int:
    """How many processes so many items are worth."""
    if items <= FEW_ITEMS or not hasattr(os, "fork"):
        return 1
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_order(tasks: Sequence[Task], work: Callable[[Task], Result], workers: int) -> Iterator[Result]:
    """The result of each task, worked out in this process or in so many others, which end with the iterator.

    A task that fails elsewhere, or whose worker came to an end, is done here once more: its error is raised here.
    """
    if workers < 2 or len(tasks) < 2:
        yield from map(work, tasks)
        return
    crew: list[_Worker[Task, Result]] = []
    try:
        for first in range(workers):
            crew.append(_Worker(tasks[first::workers], work, crew))
        for place, task in enumerate(tasks):
            found = crew[place % workers].result()
            yield found[0] if found else work(task)
    finally:
        for each in crew:
            each.stop()


class _Worker(Generic[Task, Result]):
    """A forked process that does its tasks one after the other; it waits where nobody takes the results."""

    def __init__(self, tasks: Sequence[Task], work: Callable[[Task], Result], earlier: Sequence[_Worker[Any, Any]]) -> None:
        reader, writer = os.pipe()
        with suppress(OSError, AttributeError):
            fcntl.fcntl(writer, fcntl.F_SETPIPE_SZ, _BUFFER)
        with warnings.catch_warnings():
            # Other threads, such as that of a progress bar, are not copied; a worker needs nothing that they hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._process = os.fork()
        if not self._process:
            os.close(reader)
            for each in earlier:  # a worker whose results nobody can read any more comes to an end
                each._reader.close()
            _serve(writer, tasks, work)
        os.close(writer)
        self._reader = open(reader, "rb")  # noqa: SIM115  (closed by stop)

    def result(self) -> tuple[Result] | None:
        """The next result; None where the task failed or the worker has come to an end."""
        size = int.from_bytes(self._reader.read(_SIZE), "big")
        data = self._reader.read(size)
        return (pickle.loads(data),) if size and len(data) == size else None  # noqa: S301  (made by our own fork)

    def stop(self) -> None:
        """Ends the worker, whether it is done or not."""
        self._reader.close()
        with suppress(ProcessLookupError):
            os.kill(self._process, signal.SIGTERM)
        with suppress(ChildProcessError):
            os.waitpid(self._process, 0)


def _serve(writer: int, tasks: Sequence[Task], work: Callable[[Task], Result]) -> NoReturn:
    """Does the tasks in a worker, and never comes back: nothing of its parent may run on here."""
    try:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears it, too, and stops its workers
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        gc.freeze()  # what the parent made is not looked through for garbage, so that its memory stays shared
        with open(writer, "wb") as stream:
            for task in tasks:
                data = _done(work, task)
                stream.write(len(data).to_bytes(_SIZE, "big") + data)
                stream.flush()
    finally:
        os._exit(0)


def _done(work: Callable[[Task], Result], task: Task) -> bytes:
    """The result as bytes, none where the task failed: the parent will find out why."""
    try:
        return pickle.dumps(work(task), pickle.HIGHEST_PROTOCOL)
    except Exception:
        return b""
