"""Processes of this machine as an executor, in which a lost worker loses no more than what it had in hand.

The pool of the standard library is not used: its workers share one pipe, and where one is killed while it writes a long
result, the pool waits for the rest of it for ever (seen on Python 3.11).
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import sys
import threading
import warnings
from collections import deque
from collections.abc import Callable, Hashable, Iterator
from concurrent.futures import BrokenExecutor, Executor, Future
from contextlib import contextmanager, suppress
from contextvars import copy_context
from dataclasses import dataclass
from itertools import count
from multiprocessing.connection import Connection
from pickle import PicklingError
from typing import Any, Literal, ParamSpec, TypeAlias, TypeVar

from .portable import Luggage, do_prepared, luggage, prepare, tried
from .tasks import ALONE, SELDOM, Failed, Portable, TaskExecutor, Work, Workers

Way: TypeAlias = Literal["fork", "spawn"]
Given = ParamSpec("Given")
Result = TypeVar("Result")
_Task: TypeAlias = tuple[Future[Any], Callable[..., Any], tuple[Any, ...]]

FEW_ITEMS = 400  # which one process is done with before others have started
WAY: Way = "fork" if sys.platform == "linux" else "spawn"

_STOPPING = {signal.SIGINT, signal.SIGTERM, signal.SIGHUP}
_known: dict[int, Work] = {}  # what forks inherit, by a number of its own
_numbers = count()


def cores() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def local(items: int) -> Workers:
    """Who is worth setting to so many items: all cores for many, this process for few."""
    return ALONE if items <= FEW_ITEMS or cores() < 2 else Processes(cores())


@dataclass(frozen=True)
class Processes:
    """So many processes of this machine.

    Forked, they have all that was there before, and nothing needs to be prepared. Spawned, as where a system has no
    safe fork, each prepares itself.
    """

    size: int
    way: Way = WAY

    @contextmanager
    def executor(self, work: Work, portable: Portable | None = None) -> Iterator[TaskExecutor]:
        """Workers that end with the block."""
        if self.way == "spawn" and portable is None:
            with ALONE.executor(work) as own:
                yield own
            return
        number = next(_numbers)
        _known[number] = work
        source = number if self.way == "fork" or portable is None else luggage(portable)
        executor = ProcessExecutor(self.size, self.way, source)
        try:
            yield _Pool(executor, source)
        except BaseException:
            executor.end()
            raise
        else:
            executor.shutdown()
        finally:
            del _known[number]


class _Pool:
    def __init__(self, executor: ProcessExecutor, source: int | Luggage) -> None:
        self._executor, self._source = executor, source

    def submit(self, task: Any) -> Future[Any]:
        alike = getattr(task, "alike", None)
        if isinstance(self._source, int):
            return self._executor.submit_alike(alike, _do_inherited, self._source, task)
        return self._executor.submit_alike(alike, do_prepared, self._source.digest, (), task)


class ProcessExecutor(Executor):
    """An executor of so many workers; one that is lost is replaced, and its future alone raises BrokenExecutor."""

    def __init__(self, size: int, way: Way, source: int | Luggage) -> None:
        self._tasks = WaitingTasks()
        self._is_ended, self._starting = False, threading.Lock()
        self._context, self._source = multiprocessing.get_context(way), source
        self._workers = [self._started() for _ in range(size)]
        # Each in a copy of this context: a worker that replaces a lost one is forked there, and shares our budget.
        self._threads = [
            threading.Thread(target=copy_context().run, args=(self._serve, place), daemon=True) for place in range(size)
        ]
        for thread in self._threads:
            thread.start()

    def submit(self, function: Callable[Given, Result], /, *args: Given.args, **kwargs: Given.kwargs) -> Future[Result]:
        """The result to come of a function that a worker can import; it takes no keywords."""
        assert not kwargs
        return self.submit_alike(None, function, *args)

    def submit_alike(self, alike: Hashable, function: Callable[..., Result], *args: Any) -> Future[Result]:
        """The same of a task that is quicker for the worker that has done some which are ``alike``."""
        future: Future[Result] = Future()
        self._tasks.put((future, function, args), alike)
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Lets the workers go when all that was submitted is done; waits for them in any case."""
        if cancel_futures:
            self.end()
        self._tasks.close()
        for thread in self._threads:
            thread.join()
        for worker in self._workers:
            worker.stop()

    def end(self) -> None:
        """Ends the workers, whether they are done or not; what was submitted is lost."""
        self._is_ended = True
        for worker in self._workers:
            worker.process.terminate()
        self.shutdown()

    def _started(self) -> _PoolWorker:
        # One at a time: a fork would keep open the end of a pipe that was made for another.
        with self._starting, warnings.catch_warnings():
            # Other threads, such as that of a progress bar, are not copied; a worker needs nothing that they hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            ours, theirs = self._context.Pipe()
            process = self._context.Process(target=_work, args=(theirs, self._source), daemon=True)  # type: ignore[attr-defined]
            told = signal.pthread_sigmask(signal.SIG_BLOCK, _STOPPING)
            try:
                process.start()
            finally:
                signal.pthread_sigmask(signal.SIG_SETMASK, told)
            theirs.close()
        return _PoolWorker(process, ours)

    def _serve(self, place: int) -> None:
        """Hands tasks to one worker, and to the next one where that is lost."""
        while (task := self._tasks.get(place)) is not None:
            future, function, args = task
            if self._is_ended or not future.set_running_or_notify_cancel():
                continue
            try:
                future.set_result(self._workers[place].done(function, args))
            except (EOFError, OSError):
                if not self._is_ended:
                    self._workers[place].stop()
                    self._workers[place] = self._started()
                future.set_exception(BrokenExecutor("a worker came to an end"))
            except Exception as error:  # of the way there or back; whoever waits hears it
                future.set_exception(error)


class WaitingTasks:
    """Tasks that nobody has begun: a worker takes the oldest of its own kinds, or of a kind that is nobody's.

    Where there are only those of others, it helps with one that it has helped with before, or with the oldest. So no
    worker waits where there is a task, and each learns as few kinds as that allows.
    """

    def __init__(self) -> None:
        self._tasks: deque[tuple[_Task, Hashable]] = deque()
        self._whose: dict[Hashable, dict[int, None]] = {}  # those who know a kind, the first of them first
        self._changed, self._is_closed = threading.Condition(), False

    def put(self, task: _Task, alike: Hashable) -> None:
        """Takes a task of some kind; those of the kind None have nothing in common."""
        with self._changed:
            self._tasks.append((task, alike))
            self._changed.notify()

    def close(self) -> None:
        """Says that no more tasks come."""
        with self._changed:
            self._is_closed = True
            self._changed.notify_all()

    def get(self, worker: int) -> _Task | None:
        """The next task for a worker, once there is one; None where none comes any more."""
        with self._changed:
            self._changed.wait_for(lambda: self._tasks or self._is_closed)
            if not self._tasks:
                return None
            place = min(range(len(self._tasks)), key=lambda each: self._strange(self._tasks[each][1], worker))
            task, alike = self._tasks[place]
            del self._tasks[place]
            if alike is not None:
                self._whose.setdefault(alike, {})[worker] = None
            return task

    def _strange(self, alike: Hashable, worker: int) -> int:
        """How far a kind is from those of a worker: its own, nobody's, another's that it knows, or another's."""
        knowing = self._whose.get(alike)
        if not knowing:
            return 1
        return 0 if next(iter(knowing)) == worker else 2 if worker in knowing else 3


@dataclass(frozen=True)
class _PoolWorker:
    process: Any
    pipe: Connection

    def done(self, function: Callable[..., Any], args: tuple[Any, ...]) -> Any:
        """The result of a function. Raises EOFError or OSError where the worker comes to an end."""
        self.pipe.send((function, args))
        return self.pipe.recv()

    def stop(self) -> None:
        """Lets the worker go, or what is left of it."""
        with suppress(OSError):
            self.pipe.send(None)
        self.process.join()
        self.pipe.close()


def _work(pipe: Connection, source: int | Luggage) -> None:
    """What a worker does, from its start to its end."""
    for each in _STOPPING:  # which were held back from the start: the parent's way to stop is not a worker's
        signal.signal(each, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears it, too, and stops its workers
    signal.pthread_sigmask(signal.SIG_UNBLOCK, _STOPPING)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    if isinstance(source, Luggage):
        prepare(source.digest, (source.data,))
    gc.freeze()  # what the parent made is not looked through for garbage, so that its memory stays shared
    gc.set_threshold(*SELDOM)
    while (task := pipe.recv()) is not None:
        function, args = task
        result = function(*args)
        try:
            pipe.send(result)
        except (PicklingError, TypeError, AttributeError):  # pickle's ways to say that it can't
            pipe.send(Failed())


def _end_with_parent() -> None:
    """Ends this worker when its parent is gone, however it went: it would wait for tasks for ever."""
    parent = multiprocessing.parent_process()
    if parent:
        parent.join()
        os._exit(1)


def _do_inherited(number: int, task: Any) -> Any:
    return tried(_known[number], task)
