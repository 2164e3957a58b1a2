"""Forks of this process that do one thing and are gone; they are talked to in messages with their length first."""

from __future__ import annotations

import gc
import os
import signal
import warnings
from collections.abc import Callable, Iterator
from typing import BinaryIO

from ..errors import NoProcessError

FORKS = hasattr(os, "fork")
SIZE = 8  # bytes that tell how long a message is


def forked(work: Callable[[int, int], object]) -> tuple[int, int, int]:
    """The id of a fork that does this work, with two ends of pipes: where it is written to, and where it is heard.

    The work is given its own two ends, and never comes back: nothing of this process may run on there. Raises
    NoProcessError where the system grants no other process.
    """
    ends: list[int] = []
    try:
        for _ in range(2):
            ends += os.pipe()
        with warnings.catch_warnings():
            # Other threads, such as that of a progress bar, are not copied; a worker needs nothing that they hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            process = os.fork()
    except OSError as error:
        for each in ends:
            os.close(each)
        raise NoProcessError(error.strerror or str(error)) from error
    asked, to_it, from_it, answers = ends
    if not process:
        try:
            os.close(to_it)
            os.close(from_it)
            _settle()
            work(asked, answers)
        finally:
            os._exit(0)
    os.close(asked)
    os.close(answers)
    return process, to_it, from_it


def _settle() -> None:
    """In the fork: nothing that its parent does with signals, with memory or with an image of it."""
    import resource  # which is not everywhere, as forks are not

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears it, too, and ends its worker
    for each in (signal.SIGTERM, signal.SIGPROF):
        signal.signal(each, signal.SIG_DFL)
    resource.setrlimit(resource.RLIMIT_CORE, (0, resource.getrlimit(resource.RLIMIT_CORE)[1]))
    gc.freeze()  # what the parent made is not looked through for garbage, so that its memory stays shared


def write(target: int, data: bytes) -> None:
    """Writes a message."""
    rest = memoryview(framed(data))
    while rest:
        rest = rest[os.write(target, rest) :]


def framed(data: bytes) -> bytes:
    """A message as it is sent: with its length before it."""
    return len(data).to_bytes(SIZE, "big") + data


def messages(stream: BinaryIO) -> Iterator[bytes]:
    """The messages that come, until nobody writes any more; one that was broken off is none."""
    while size := stream.read(SIZE):
        length = int.from_bytes(size, "big")
        data = stream.read(length) if len(size) == SIZE else b""
        if len(size) < SIZE or len(data) < length:
            return
        yield data
