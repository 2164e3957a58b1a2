"""Results in the order of the tasks, a few tasks ahead of the one that is asked for."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import BrokenExecutor, CancelledError, Future
from dataclasses import dataclass
from itertools import islice
from typing import Any, Generic, TypeVar

from turnwright.exporters.crew.hands import Crew, Failed, Hands, Portable

Task = TypeVar("Task")
Result = TypeVar("Result")

AHEAD = 2  # tasks a worker: one in hand, and one waiting, so that nobody is idle and few results are held
MOST_LOSSES = 3  # of workers over one task, before it is done here


def in_order(
    tasks: Iterable[Task], work: Callable[[Task], Result], crew: Crew, portable: Portable | None = None
) -> Iterator[Result]:
    """The result of each task. Where a worker is lost, what it had in hand is done again.

    A task that raises elsewhere, or that is lost again and again, is done in this process: its error is raised here.
    """
    with crew.at_work(work, portable) as hands:
        queue = _Queue(iter(tasks), hands, crew.size * AHEAD if crew.size > 1 else 1)
        while (task := queue.next()) is not None:
            found = queue.result()
            yield work(task.what) if isinstance(found, Failed) else found


@dataclass
class _Given(Generic[Task]):
    what: Task
    future: Future[Any]


class _Queue(Generic[Task]):
    """Tasks given out and not yet asked for, the oldest first."""

    def __init__(self, rest: Iterator[Task], hands: Hands, most: int) -> None:
        self._rest, self._hands, self._most = rest, hands, most
        self._given: deque[_Given[Task]] = deque()

    def next(self) -> _Given[Task] | None:
        """The oldest task, after more have been given out; None where all are done."""
        more = islice(self._rest, self._most - len(self._given))
        self._given.extend(_Given(what, self._hands.submit(what)) for what in more)
        return self._given[0] if self._given else None

    def result(self) -> Any:
        """The result of the oldest task, which is taken off the queue."""
        task = self._given.popleft()
        for loss in range(1, MOST_LOSSES + 1):
            try:
                return task.future.result()
            except (BrokenExecutor, CancelledError):
                if loss < MOST_LOSSES:
                    task.future = self._hands.submit(task.what)
        return Failed()
