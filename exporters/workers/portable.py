"""Work for processes that have nothing of the one that sends it: a preparation as bytes, made ready once a process."""

from __future__ import annotations

import hashlib
import pickle
import threading
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from importlib.metadata import version
from typing import Any

from .tasks import Failed, Portable, Work

PACKAGES = ("turnwright", "lxml", "numpy", "scipy", "sympy", "pint", "pyyaml")
_ready: dict[str, Work] = {}  # of this process: the last work it was made ready for
_one_at_a_time = threading.Lock()  # a worker of a cluster may have several threads, and work keeps its place in a file


def tools() -> dict[str, str]:
    """The versions on which the bytes of a pack depend."""
    return {**{name: version(name) for name in PACKAGES}, "zlib": zlib.ZLIB_RUNTIME_VERSION}


@dataclass(frozen=True)
class Other:
    """In place of a result: the versions of a worker that would not give the same bytes."""

    tools: dict[str, str]


@dataclass(frozen=True)
class Luggage:
    """A preparation as bytes; ``digest`` names it."""

    data: bytes

    @cached_property
    def digest(self) -> str:
        """What tells one preparation from another."""
        return hashlib.sha256(self.data).hexdigest()


def luggage(portable: Portable) -> Luggage:
    """The preparation of some work, with the versions that it needs."""
    return Luggage(pickle.dumps((tools(), portable()), pickle.HIGHEST_PROTOCOL))


def do_prepared(digest: str, pieces: Sequence[bytes], task: Any) -> Any:
    """The result of a task in a process that makes itself ready at the first one; ``Failed`` where the task raises."""
    with _one_at_a_time:
        return prepare(digest, pieces) or tried(_ready[digest], task)


def prepare(digest: str, pieces: Sequence[bytes]) -> Other | None:
    """Makes this process ready, unless it is; ``Other`` where its versions are.

    What is unpickled comes from the process that gives the work; see the threat model on who may reach a scheduler.
    """
    if digest not in _ready:
        wanted, preparation = pickle.loads(b"".join(pieces))  # noqa: S301
        if wanted != tools():
            return Other(tools())
        _ready.clear()
        _ready[digest] = preparation.prepare()
    return None


def tried(work: Work, task: Any) -> Any:
    """The result of a task, or ``Failed``."""
    try:
        return work(task)
    except Exception:
        return Failed()
