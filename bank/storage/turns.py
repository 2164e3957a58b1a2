"""Several runs and one file: what stood at its place when a run began with it, and moves that are made in turn.

A run notes what stands at a place before it begins. When it is done it takes its turn in the folder and looks again: a
file that another run, or somebody by hand, has put there meanwhile stays, and this run is told, so that nobody's work
goes silently. On a disk without locks two moves in the same moment may still pass each other.
"""

from __future__ import annotations

import os
import re
import stat
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import TypeAlias

from ..errors import FileError, OvertakenError

PART = re.compile(r"\.turnwright-[0-9a-f]{16}\.part")  # the temporary folders of runs
# device, number, size and time of change of a file, as the system knows them; nothing where there is none
Stood: TypeAlias = "tuple[int, ...]"
PATIENCE = 60.0  # seconds of waiting for another run
_LOOK = 0.02  # seconds from one try to the next


def stood(place: Path) -> Stood:
    """What stands at a place."""
    try:
        found = place.lstat()
    except FileNotFoundError:
        return ()
    return found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns, stat.S_IFMT(found.st_mode)


def refuse_overtaken(target: Path, place: Path, before: Stood) -> None:
    """Raises OvertakenError where something else stands at a place than ``before``."""
    if stood(place) != before:
        wrong = "it was changed meanwhile (by another run, or by hand), and stays as it is now"
        raise OvertakenError(str(target), wrong, "look at it, then run this again or choose another name")


@contextmanager
def turn(folders: Iterable[Path]) -> Iterator[None]:
    """Nobody else moves files of ours in these folders until the block ends. Other runs wait: a block is short.

    In the temporary folder of a run nobody else moves any, and its lock is held by that run already. Raises FileError
    where another run does not end its turn within ``PATIENCE``.
    """
    until = time.monotonic() + PATIENCE
    with ExitStack() as stack:
        opened: dict[tuple[int, int], tuple[Path, int]] = {}  # one folder may have several paths
        for folder in (each for each in set(folders) if not PART.fullmatch(each.name)):
            with suppress(OSError):  # a folder that may not be read, or a system that opens none
                held = os.open(folder, os.O_RDONLY | getattr(os, "O_DIRECTORY", 0))
                stack.callback(os.close, held)
                state = os.fstat(held)
                opened.setdefault((state.st_dev, state.st_ino), (folder, held))
        for _, (folder, held) in sorted(opened.items()):  # two runs take the same folders in the same order
            stack.enter_context(_turn_in(folder, held, until))
        yield


@contextmanager
def _turn_in(folder: Path, held: int, until: float) -> Iterator[None]:
    if sys.platform == "win32":
        yield
        return
    import fcntl

    while True:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
            break
        except BlockingIOError:
            if time.monotonic() > until:
                wrong, right = "another run is moving files in it", "wait until that one has ended, then run this again"
                raise FileError(str(folder), wrong, right) from None
            time.sleep(_LOOK)
        except OSError:  # this disk has no locks
            break
    try:
        yield
    finally:
        with suppress(OSError):  # a fork that was made meanwhile may keep the folder open, which must not keep its lock
            fcntl.flock(held, fcntl.LOCK_UN)
