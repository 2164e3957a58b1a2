"""Temporary folders beside what they will replace: locked while their run lives, cleared away by a later one.

A run that ends, well or badly, removes its own. What a killed run has left is locked no more, and goes when the next
run writes into the same folder, once the moves that it had written down are made; where they can't be made now, it
stays for a later one. Where the disk or the system has no locks it goes when nothing in it has changed for a day, by
the clock of the disk.
"""

from __future__ import annotations

import os
import secrets
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from . import journal
from .turns import PART

_TRIES = 20
STALE = 24 * 3600 * 10**9  # nanoseconds without a change, on a disk without locks


@contextmanager
def part(folder: Path) -> Iterator[Path]:
    """A new empty folder in ``folder``, for our user only and on the same disk; it goes when the block ends."""
    path, held = _made(folder)
    clear(folder, path)
    owner = os.getpid()
    try:
        yield path
    finally:
        if os.getpid() == owner:  # a fork that comes by here by mistake takes nothing from its parent
            shutil.rmtree(path, ignore_errors=True)
            _let_go(held)


def clear(folder: Path, own: Path | None = None) -> None:
    """Finishes and removes what killed runs have left in ``folder``; ``own`` is the part of this run, made just now."""
    with suppress(OSError), os.scandir(folder) as entries:
        now = own.stat().st_mtime_ns if own else None
        for name in [each.name for each in entries if PART.fullmatch(each.name)]:
            if own is None or name != own.name:
                _clear(folder / name, now)


def _clear(path: Path, now: int | None) -> None:
    """Finishes and removes a part unless its run lives: then it is locked, or has changed something lately."""
    held = None
    with suppress(OSError):
        held = _lock(path)
        is_left = _is_stale(path, now) if held is None else _is_at(path, held)
        if is_left and journal.finish(path):
            shutil.rmtree(path, ignore_errors=True)
    _let_go(held)


def _is_stale(path: Path, now: int | None) -> bool:
    """Whether a part that can't be locked has been left: no link, and nothing in it changed for long before ``now``."""
    if now is None or path.is_symlink():
        return False
    times = [each.stat(follow_symlinks=False).st_mtime_ns for each in os.scandir(path)]
    return max((path.stat().st_mtime_ns, *times)) < now - STALE


def _made(folder: Path) -> tuple[Path, int | None]:
    """A new part with its lock. Another run may clear it away before it is locked; then the next try is ours."""
    for _ in range(_TRIES):
        path = folder / f".turnwright-{secrets.token_hex(8)}.part"
        path.mkdir(0o700)
        held = None
        try:
            held = _lock(path)
            if held is None or _is_at(path, held):
                return path, held
        except (BlockingIOError, FileNotFoundError):
            pass
        except BaseException:
            shutil.rmtree(path, ignore_errors=True)
            _let_go(held)
            raise
        _let_go(held)
    raise BlockingIOError(f"{folder}: temporary folders are removed as soon as they are made")


def _lock(path: Path) -> int | None:
    """The descriptor that holds the lock of a part; None without locks. Raises BlockingIOError where it is held."""
    if sys.platform == "win32":
        return None
    import fcntl

    held = os.open(path, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    try:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(held)
        raise
    except OSError:  # this disk has no locks
        os.close(held)
        return None
    except BaseException:
        os.close(held)
        raise
    return held


def _is_at(path: Path, held: int) -> bool:
    """Whether the locked folder still stands at its path."""
    try:
        return os.path.samestat(os.fstat(held), path.lstat())
    except FileNotFoundError:
        return False


def _let_go(held: int | None) -> None:
    if held is not None:
        with suppress(OSError):
            os.close(held)
