"""A worker for algebra as a fork of this process: it has all that is loaded here, and the kernel ends it."""

from __future__ import annotations

import gc
import os
import signal
import time
import warnings
from contextlib import suppress
from select import select
from typing import NoReturn

from . import budget
from .asking import AlgebraWorker
from .serving import SIZE, answer_all, write

_PIECE = 1 << 16


class ForkedWorker(AlgebraWorker):
    """A fork of this process, which has all that is loaded here."""

    def __init__(self) -> None:
        super().__init__()
        tasks, self._tasks = os.pipe()
        self._answers, answers = os.pipe()
        with warnings.catch_warnings():
            # Other threads, such as that of a progress bar, are not copied; a worker needs nothing that they hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._process = os.fork()
        if not self._process:
            os.close(self._tasks)
            os.close(self._answers)
            _serve(tasks, answers)
        os.close(tasks)
        os.close(answers)

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


def _serve(tasks: int, answers: int) -> NoReturn:
    """Does tasks until nobody asks any more, and never comes back: nothing of its parent may run on here."""
    import resource  # which is not everywhere, as forks are not

    budget.current().is_worker = True
    try:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears it, too, and ends its worker
        for each in (signal.SIGTERM, signal.SIGPROF):
            signal.signal(each, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CORE, (0, resource.getrlimit(resource.RLIMIT_CORE)[1]))
        gc.freeze()  # what the parent made is not looked through for garbage, so that its memory stays shared
        with open(tasks, "rb") as stream:
            answer_all(stream, answers)
    finally:
        os._exit(0)
