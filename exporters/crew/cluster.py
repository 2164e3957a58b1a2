"""A Dask cluster: workers on other machines, which a scheduler knows. Needs the optional extra ``cluster``.

The scheduler itself gives the tasks of a lost worker to others. What many tasks need goes to the workers once, in
pieces that the scheduler can make again if the worker that held them is lost.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future
from contextlib import contextmanager
from types import TracebackType
from typing import Any

from turnwright.bank.errors import TurnwrightError
from turnwright.exporters.crew.hands import ALONE, Hands, Portable, Work
from turnwright.exporters.crew.portable import Other, do_prepared, luggage, tools

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
        return max(len(self._client.scheduler_info(n_workers=-1)["workers"]), 2)

    @contextmanager
    def at_work(self, work: Work, portable: Portable | None) -> Iterator[Hands]:
        """Workers that have made themselves ready; what they still have in hand is called off with the block."""
        if portable is None:
            with ALONE.at_work(work) as hands:
                yield hands
            return
        load = luggage(portable)
        pieces = [
            self._client.submit(bytes, load.data[start : start + PIECE], pure=False)
            for start in range(0, len(load.data), PIECE)
        ]
        executor = self._client.get_executor(pure=False)
        try:
            yield _Workers(self._address, executor, load.digest, pieces)
        finally:
            executor.shutdown(wait=False)


class _Workers:
    def __init__(self, address: str, executor: Executor, digest: str, pieces: Sequence[Any]) -> None:
        self._address, self._executor = address, executor
        self._digest, self._pieces = digest, pieces

    def submit(self, task: Any) -> Future[Any]:
        """The result to come."""
        future: Future[Any] = Future()
        self._executor.submit(do_prepared, self._digest, self._pieces, task).add_done_callback(
            lambda done: self._passed_on(done, future)
        )
        return future

    def _passed_on(self, done: Future[Any], future: Future[Any]) -> None:
        """Tells of a worker that would give other bytes, and of one that was lost."""
        if done.cancelled():
            future.set_exception(_lost(self._address))
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
