"""A Dask cluster: workers on other machines, which a scheduler knows. Needs the optional extra ``cluster``.

The scheduler itself gives the tasks of a lost worker to others. What many tasks need goes to the workers once, in
pieces that the scheduler can make again if the worker that held them is lost.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from concurrent.futures import BrokenExecutor, Executor, Future
from contextlib import contextmanager
from types import TracebackType
from typing import Any

from ...bank.errors import TurnwrightError
from .portable import Luggage, Other, do_prepared, luggage, tools
from .tasks import ALONE, Portable, TaskExecutor, Work

PATIENCE = 30.0  # seconds for the scheduler to answer, and for a first worker to come
PIECE = 1 << 22


class ClusterError(TurnwrightError):
    """A cluster that can't be used."""

    def __init__(self, address: str, wrong: str, right: str) -> None:
        self.address, self.wrong, self.right = address, wrong, right
        super().__init__(address, wrong, right)

    def __str__(self) -> str:
        return f"{self.address}: {self.wrong}; {self.right}"


class Cluster:
    """The workers of a scheduler, for as long as the block runs. Raises ClusterError where there are none."""

    def __init__(self, address: str, patience: float = PATIENCE) -> None:
        self._address, self._patience = address, patience

    def __enter__(self) -> Cluster:
        self._client = _client(self._address, self._patience)
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._client.close()

    @property
    def size(self) -> int:
        """How many workers there are now; each does one task at a time."""
        return max(len(self._client.scheduler_info(n_workers=-1).get("workers", ())), 2)

    @contextmanager
    def executor(self, work: Work, portable: Portable | None) -> Iterator[TaskExecutor]:
        """Workers that have made themselves ready; what they still have in hand is called off with the block."""
        if portable is None:
            with ALONE.executor(work) as executor:
                yield executor
            return
        executor = _ClusterExecutor(self._address, self._client, luggage(portable))
        try:
            yield executor
        finally:
            executor.call_off()


class _Coming(Future[Any]):
    """A result that is not waited for when the scheduler is gone: not every future hears of that."""

    def __init__(self, address: str, client: Any) -> None:
        super().__init__()
        self._address, self._client = address, client

    def result(self, timeout: float | None = None) -> Any:
        """The result. Raises ClusterError where there will be none."""
        while True:
            try:
                return super().result(1.0 if timeout is None else timeout)
            except TimeoutError:
                if self._client.status in ("closing", "closed"):
                    raise _lost(self._address) from None
                if timeout is not None:
                    raise


class _ClusterExecutor:
    """An executor of the client, with what its tasks need on the way to the workers."""

    def __init__(self, address: str, client: Any, load: Luggage) -> None:
        self._address, self._client, self._digest = address, client, load.digest
        self._executor: Executor = client.get_executor(pure=False)
        starts = range(0, len(load.data), PIECE)
        with self._told():
            self._pieces = [client.submit(bytes, load.data[start : start + PIECE], pure=False) for start in starts]

    def submit(self, task: Any) -> Future[Any]:
        """The result to come."""
        future = _Coming(self._address, self._client)
        with self._told():
            given = self._executor.submit(do_prepared, self._digest, self._pieces, task)
        given.add_done_callback(lambda done: self._pass_on(done, future))
        return future

    def call_off(self) -> None:
        """Lets go of all that is not done, without waiting."""
        if self._client.status == "running":
            self._executor.shutdown(wait=False)

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Turns what a client raises that has lost its scheduler into one sentence; it has many ways to say so."""
        try:
            yield
        except Exception as error:
            raise _lost(self._address) from error

    def _pass_on(self, done: Future[Any], future: Future[Any]) -> None:
        """Tells of a worker that would give other bytes, of one that was lost, and of a scheduler that is gone."""
        if self._client.status != "running":
            future.set_exception(_lost(self._address))
        elif done.cancelled():
            future.set_exception(BrokenExecutor("a worker was lost"))
        elif (error := done.exception()) is not None:
            future.set_exception(_told(self._address, error))
        elif isinstance(found := done.result(), Other):
            future.set_exception(_other(self._address, found))
        else:
            future.set_result(found)


def _told(address: str, error: BaseException) -> Exception:
    """What a task's error says: a worker that was lost with it again and again, or one that can't do such work."""
    if type(error).__name__ in ("KilledWorker", "FutureCancelledError", "CancelledError"):
        return BrokenExecutor(str(error))
    wrong = f"a worker can't do the work ({type(error).__name__}: {error})"
    return ClusterError(address, wrong, "install the same version of Turnwright with all that it needs on each worker")


def _lost(address: str) -> ClusterError:
    return ClusterError(address, "the scheduler is gone", "start it and its workers again, then run the command again")


def _other(address: str, other: Other) -> ClusterError:
    ours = tools()
    differing = [f"{name} {found}, here {ours[name]}" for name, found in other.tools.items() if found != ours[name]]
    wrong = f"a worker has other versions, which may give other bytes ({'; '.join(differing)})"
    return ClusterError(address, wrong, "install the same versions on each worker")


def _client(address: str, patience: float) -> Any:
    try:
        from distributed import Client
    except ImportError:
        right = "install it with: pip install 'turnwright[cluster]'"
        raise ClusterError(address, "work on a cluster needs Dask's distributed", right) from None
    for name in ("distributed", "distributed.client", "tornado.application"):
        # what they would say of a loss, or of a result that was under way as we left, we say in one sentence
        logging.getLogger(name).setLevel(logging.CRITICAL)
    try:
        client: Any = Client(address, timeout=patience, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError, TimeoutError) as error:
        wrong = f"no scheduler answers there ({' '.join(str(error).split()) or type(error).__name__})"
        raise ClusterError(address, wrong, "start one with 'dask scheduler', or mend the address") from None
    try:
        client.wait_for_workers(1, timeout=patience)
    except TimeoutError:
        client.close()
        right = f"start some with 'dask worker {address} --nworkers -1 --nthreads 1'"
        raise ClusterError(address, "the scheduler has no workers", right) from None
    return client
