"""A worker as the one that asks it sees it: a task goes out, an answer comes back, or the worker has come to an end."""

from __future__ import annotations

import json
import os
import pickle
import signal
import time
from abc import ABC, abstractmethod
from collections.abc import Callable
from contextlib import suppress
from typing import Any, TypeAlias

from ..model.problem import Problem
from . import budget
from .serving import OVER_TIME

Task: TypeAlias = Callable[..., Any]
_BY_KERNEL = (*(-getattr(signal, each) for each in ("SIGPROF", "SIGKILL") if hasattr(signal, each)), OVER_TIME)


class EndedError(Exception):
    """A worker came to an end over a task; ``refusal`` makes what the user is told."""

    def __init__(self, refusal: budget.Refusal) -> None:
        self.refusal = refusal
        super().__init__(refusal)


class AlgebraWorker(ABC):
    """A process that does algebra, seen from the one that asks."""

    def __init__(self) -> None:
        self.owner, self.is_over = os.getpid(), False
        self._known: Problem | None = None

    def ask(self, problem: Problem, task: Task, more: tuple[Any, ...]) -> dict[str, Any]:
        """What the worker answers. Raises EndedError where it ends over it."""
        known = problem is self._known
        limits = budget.seconds(), budget.MEGABYTES
        request = pickle.dumps((task, None if known else problem, more, limits), pickle.HIGHEST_PROTOCOL)
        self._known = problem
        try:
            with suppress(OSError):  # it is gone, which each system tells in its own way; there is no answer then
                self._send(request)
            answer = self._read(time.monotonic() + budget.PATIENCE * budget.seconds())
        except BaseException:
            self.end()  # a worker that was left in the middle has an answer too many
            raise
        if answer is None:
            raise EndedError(budget.over_time if self.end() in _BY_KERNEL else budget.stopped)
        found: dict[str, Any] = json.loads(answer)
        if "memory" in found:
            self.end()
            raise EndedError(budget.over_memory)
        return found

    @abstractmethod
    def _send(self, request: bytes) -> None:
        """Gives it a task."""

    @abstractmethod
    def _read(self, until: float) -> bytes | None:
        """Its answer; None where it comes to an end, or to no answer by that moment of the clock."""

    @abstractmethod
    def end(self) -> int | None:
        """Ends it, whether it is done or not; its exit status, below zero for a signal."""
