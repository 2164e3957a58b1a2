"""A worker for algebra where processes can't fork: a new Python, which begins with nothing and is asked over pipes."""

from __future__ import annotations

import os
import queue
import signal
import subprocess
import sys
import threading
import time
from contextlib import suppress
from typing import BinaryIO, NoReturn

from . import budget
from .asking import AlgebraWorker
from .forking import framed, messages
from .serving import OVER_TIME, answer_all

_SERVE = f"from {__name__} import serve; serve()"
GONE = 5.0  # seconds in which a process that was killed is gone


class SpawnedWorker(AlgebraWorker):
    """A new Python, seen from the one that asks."""

    first = ""  # what it does before all else; for tests

    def __init__(self) -> None:
        super().__init__()
        code = f"import sys; sys.path[:] = {sys.path!r}; {self.first}{_SERVE}"
        command = [sys.executable, "-c", code]  # ours alone
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)  # noqa: S603
        assert self._process.stdin and self._process.stdout
        self._tasks, self._stream = self._process.stdin, self._process.stdout
        self._answers: queue.Queue[bytes | None] = queue.Queue()
        self._listener = threading.Thread(target=_listen, args=(self._stream, self._answers), daemon=True)
        self._listener.start()

    def _send(self, request: bytes) -> None:
        self._tasks.write(framed(request))
        self._tasks.flush()

    def _read(self, until: float) -> bytes | None:
        with suppress(queue.Empty):
            return self._answers.get(timeout=max(until - time.monotonic(), 0))
        return None

    def end(self) -> int | None:
        """Ends it, whether it is done or not; its exit status, below zero for a signal."""
        if self.is_over:
            return None
        self.is_over = True
        with suppress(OSError):  # what is left of a task that nobody reads
            self._tasks.close()
        try:
            status = self._process.wait(0.1)  # one that has just been ended may not be gone yet
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait(GONE)
            status = OVER_TIME  # it was still at it
        self._listener.join(GONE)
        self._stream.close()
        return status


def _listen(stream: BinaryIO, answers: queue.Queue[bytes | None]) -> None:
    """Takes what comes until nothing more does."""
    with suppress(OSError, ValueError):
        for each in messages(stream):
            answers.put(each)
    answers.put(None)


# --- in the worker ----------------------------------------------------------------------------


def serve() -> NoReturn:
    """Does tasks until nobody asks any more, and never comes back. What is printed goes to standard error."""
    budget.current().is_worker = True
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears it, too, and ends its worker
    answers = os.dup(1)
    os.dup2(2, 1)
    with suppress(ImportError):
        import resource

        resource.setrlimit(resource.RLIMIT_CORE, (0, resource.getrlimit(resource.RLIMIT_CORE)[1]))
    with os.fdopen(os.dup(0), "rb") as stream:
        answer_all(stream, answers)
    os._exit(0)
