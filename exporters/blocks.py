"""Work that is done block by block, by several processes where that pays; the results come in the order of the blocks.

The workers are forks, which have all that was there before: a task is known to both sides, and only results are sent.
"""

from __future__ import annotations

import gc
import os
import pickle
import signal
import warnings
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from select import select
from typing import Any, Generic, NoReturn, TypeVar

Task = TypeVar("Task")
Result = TypeVar("Result")

ITEMS = 50  # of a block
FEW_ITEMS = 400  # which one process is done with before others have started
_PIECE = 1 << 16
_SIZE = 8


def cores(items: int) -> int:
    """How many processes so many items are worth."""
    if items <= FEW_ITEMS or not hasattr(os, "fork"):
        return 1
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_order(
    tasks: Sequence[Task], work: Callable[[Task], Result], workers: int, *, apart: bool = False
) -> Iterator[Result]:
    """The result of each task, worked out in this process or in so many others, which end with the iterator.

    Workers take tasks in turn and wait where results are not asked for, so that few are held here; or they take runs
    of tasks that lie ``apart``, which lets each learn from like tasks, and all results are held here until their turn.
    A task that fails elsewhere, or whose worker came to an end, is done here once more: its error is raised here.
    """
    if workers < 2 or len(tasks) < 2:
        yield from map(work, tasks)
        return
    crew: list[_Worker[Task, Result]] = []
    share = -(-len(tasks) // workers)
    try:
        for first in range(workers):
            own = tasks[first * share : (first + 1) * share] if apart else tasks[first::workers]
            crew.append(_Worker(own, work, crew))
        for place, task in enumerate(tasks):
            worker = crew[place // share if apart else place % workers]
            while not worker.is_ready:
                _listen(crew if apart else [worker])
            found = worker.result()
            yield found[0] if found else work(task)
    finally:
        for each in crew:
            each.stop()


def _listen(workers: Sequence[_Worker[Any, Any]]) -> None:
    """Takes what any of these workers has sent, and waits where none has."""
    open_ = {each.reader: each for each in workers if not each.is_over}
    for reader in select(list(open_), [], [])[0]:
        open_[reader].take()


class _Worker(Generic[Task, Result]):
    """A forked process that does its tasks one after the other; it waits where nobody takes the results."""

    def __init__(
        self, tasks: Sequence[Task], work: Callable[[Task], Result], earlier: Sequence[_Worker[Any, Any]]
    ) -> None:
        self.reader, writer = os.pipe()
        self.is_over = False
        self._sent, self._results = bytearray(), deque[bytes]()
        with warnings.catch_warnings():
            # Other threads, such as that of a progress bar, are not copied; a worker needs nothing that they hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._process = os.fork()
        if not self._process:
            # A worker whose results nobody can read any more comes to an end, so none may hold those of another.
            for reader in (self.reader, *(each.reader for each in earlier)):
                os.close(reader)
            _serve(writer, tasks, work)
        os.close(writer)

    @property
    def is_ready(self) -> bool:
        """Whether there is a result, or no more to wait for."""
        return self.is_over or bool(self._results)

    def take(self) -> None:
        """Takes what was sent, or the end."""
        piece = os.read(self.reader, _PIECE)
        self.is_over = not piece
        self._sent += piece
        while len(self._sent) >= _SIZE and len(self._sent) >= (
            end := _SIZE + int.from_bytes(self._sent[:_SIZE], "big")
        ):
            self._results.append(bytes(self._sent[_SIZE:end]))
            del self._sent[:end]

    def result(self) -> tuple[Result] | None:
        """The next result; None where the task failed or the worker has come to an end."""
        data = self._results.popleft() if self._results else b""
        return (pickle.loads(data),) if data else None  # noqa: S301  (made by our own fork)

    def stop(self) -> None:
        """Ends the worker, whether it is done or not."""
        os.close(self.reader)
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
        gc.set_threshold(20_000, 20, 20)
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
