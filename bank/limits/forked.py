"""A worker for algebra as a fork of this process: it has all that is loaded here, and the kernel ends it."""

from __future__ import annotations

import os
import signal
import time
from contextlib import suppress
from select import select

from . import budget
from .asking import AlgebraWorker
from .forking import SIZE, forked, write
from .serving import answer_all

_PIECE = 1 << 16


class ForkedWorker(AlgebraWorker):
    """A fork of this process, which has all that is loaded here."""

    def __init__(self) -> None:
        super().__init__()
        self._process, self._tasks, self._answers = forked(_serve)

    def _send(self, request: bytes) -> None:
        write(self._tasks, request)

    def _read(self, until: float) -> bytes | None:
        data = bytearray()
        while len(data) < SIZE or len(data) < SIZE + int.from_bytes(data[:SIZE], "big"):
            if not select([self._answers], [], [], max(until - time.monotonic(), 0))[0]:
                return None
            piece = os.read(self._answers, _PIECE)
            if not piece:
                return None
            data += piece
        return bytes(data[SIZE:])

    def end(self) -> int | None:
        """Ends it, whether it is done or not; its exit status, below zero for a signal."""
        if self.is_over:
            return None
        self.is_over = True
        os.close(self._tasks)
        os.close(self._answers)
        with suppress(ChildProcessError):
            found, status = os.waitpid(self._process, os.WNOHANG)
            for _ in range(20):  # one that the kernel has just ended may not be gone yet
                if found:
                    return os.waitstatus_to_exitcode(status)
                time.sleep(0.005)
                found, status = os.waitpid(self._process, os.WNOHANG)
            with suppress(ProcessLookupError):  # it may end in this very moment
                os.kill(self._process, signal.SIGKILL)
            return os.waitstatus_to_exitcode(os.waitpid(self._process, 0)[1])
        return None


# --- in the worker ----------------------------------------------------------------------------


def _serve(tasks: int, answers: int) -> None:
    """Does tasks until nobody asks any more."""
    budget.current().is_worker = True
    with open(tasks, "rb") as stream:
        answer_all(stream, answers)
