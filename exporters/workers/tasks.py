"""Tasks, who can do them, and the simplest of these: this process; results come in the order of the tasks."""

from __future__ import annotations

import gc
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import BrokenExecutor, CancelledError, Executor, Future
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from itertools import islice
from typing import Any, Generic, ParamSpec, Protocol, TypeAlias, TypeVar

Given = ParamSpec("Given")
Result = TypeVar("Result")
Work: TypeAlias = Callable[[Any], Any]
# Takes what is done, and how many steps that is; what it gives hears of steps done, for as long as the block runs.
Progress: TypeAlias = Callable[[str, int], AbstractContextManager[Callable[[float], None]]]
Task = TypeVar("Task")
# How often garbage is looked for: what an item leaves is many objects, and looking as often as usual takes a third of
# the time of proving; so much garbage at once is some ten megabytes.
SELDOM = (100_000, 20, 20)
AHEAD = 2  # tasks a worker: one in hand, and one waiting, so that nobody is idle and few results are held
MOST_LOSSES = 3  # of workers over one task, before it is done here


class Preparation(Protocol):
    """Plain data from which a process that has nothing of this one makes itself ready for the tasks; it is pickled."""

    def prepare(self) -> Work:
        """What does a task."""


Portable: TypeAlias = Callable[[], Preparation]


class Failed:
    """In place of a result: the task raised elsewhere. Errors don't all survive the way, so it is done here again."""


class TaskExecutor(Protocol):
    """Those that do the tasks of one piece of work, for as long as they are at it."""

    def submit(self, task: Any) -> Future[Any]:
        """The result to come, or ``Failed``; the future raises where a worker was lost with the task."""


class Workers(Protocol):
    """Those who can be set to work."""

    @property
    def size(self) -> int:
        """How many tasks they do at a time."""

    def executor(self, work: Work, portable: Portable | None) -> AbstractContextManager[TaskExecutor]:
        """What does tasks as ``work`` does; where the workers have nothing of this process, as it prepares them.

        Workers end with the block. Workers that can't be prepared leave it to this process.
        """


class Here(Executor):
    """An executor that does what is submitted at once, in this process and thread."""

    def submit(self, function: Callable[Given, Result], /, *args: Given.args, **kwargs: Given.kwargs) -> Future[Result]:
        """A future that is done; it raises what the function raised."""
        future: Future[Result] = Future()
        try:
            future.set_result(function(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


class _OwnExecutor:
    def __init__(self, work: Work) -> None:
        self._work, self._executor = work, Here()

    def submit(self, task: Any) -> Future[Any]:
        return self._executor.submit(self._work, task)


@contextmanager
def seldom_tidied() -> Iterator[None]:
    """A block in which garbage is looked for seldom: next to a bank in memory, each look takes long."""
    usual = gc.get_threshold()
    gc.set_threshold(*SELDOM)
    try:
        yield
    finally:
        gc.set_threshold(*usual)


class Alone:
    """This process, which does one task at a time, when its result is asked for."""

    size = 1

    @contextmanager
    def executor(self, work: Work, portable: Portable | None = None) -> Iterator[TaskExecutor]:
        """What does the work as it stands."""
        with seldom_tidied():
            yield _OwnExecutor(work)


ALONE = Alone()


def in_order(
    tasks: Iterable[Task], work: Callable[[Task], Result], workers: Workers, portable: Portable | None = None
) -> Iterator[Result]:
    """The result of each task. Where a worker is lost, what it had in hand is done again.

    A task that raises elsewhere, or that is lost again and again, is done in this process: its error is raised here.
    """
    with workers.executor(work, portable) as executor:
        queue = _Queue(iter(tasks), executor, workers.size * AHEAD if workers.size > 1 else 1)
        while (task := queue.next()) is not None:
            found = queue.result()
            yield work(task.what) if isinstance(found, Failed) else found


@dataclass
class _Given(Generic[Task]):
    what: Task
    future: Future[Any]


class _Queue(Generic[Task]):
    """Tasks given out and not yet asked for, the oldest first."""

    def __init__(self, rest: Iterator[Task], executor: TaskExecutor, most: int) -> None:
        self._rest, self._executor, self._most = rest, executor, most
        self._given: deque[_Given[Task]] = deque()

    def next(self) -> _Given[Task] | None:
        """The oldest task, after more have been given out; None where all are done."""
        more = islice(self._rest, self._most - len(self._given))
        self._given.extend(_Given(what, self._executor.submit(what)) for what in more)
        return self._given[0] if self._given else None

    def result(self) -> Any:
        """The result of the oldest task, which is taken off the queue."""
        task = self._given.popleft()
        for loss in range(1, MOST_LOSSES + 1):
            try:
                return task.future.result()
            except (BrokenExecutor, CancelledError):
                if loss < MOST_LOSSES:
                    task.future = self._executor.submit(task.what)
        return Failed()
