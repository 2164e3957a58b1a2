"""What a crew is, and the simplest one: this process."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future
from contextlib import AbstractContextManager, contextmanager
from typing import Any, ParamSpec, Protocol, TypeAlias, TypeVar

Given = ParamSpec("Given")
Result = TypeVar("Result")
Work: TypeAlias = Callable[[Any], Any]


class Preparation(Protocol):
    """Plain data from which a process that has nothing of this one makes itself ready for the tasks; it is pickled."""

    def prepare(self) -> Work:
        """What does a task."""


Portable: TypeAlias = Callable[[], Preparation]


class Failed:
    """In place of a result: the task raised elsewhere. Errors don't all survive the way, so it is done here again."""


class Hands(Protocol):
    """Those that do the tasks of one piece of work, for as long as they are at it."""

    def submit(self, task: Any) -> Future[Any]:
        """The result to come, or ``Failed``; the future raises where a worker was lost with the task."""


class Crew(Protocol):
    """Those who can be set to work."""

    @property
    def size(self) -> int:
        """How many tasks they do at a time."""

    def at_work(self, work: Work, portable: Portable | None) -> AbstractContextManager[Hands]:
        """Hands that do tasks as ``work`` does; where they have nothing of this process, as it prepares them.

        Workers end with the block. A crew whose hands can't be prepared does the work in this process.
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


class _OwnHands:
    def __init__(self, work: Work) -> None:
        self._work, self._executor = work, Here()

    def submit(self, task: Any) -> Future[Any]:
        return self._executor.submit(self._work, task)


class Alone:
    """This process, which does one task at a time, when its result is asked for."""

    size = 1

    @contextmanager
    def at_work(self, work: Work, portable: Portable | None = None) -> Iterator[Hands]:
        """Hands that do the work as it stands."""
        yield _OwnHands(work)


ALONE = Alone()
