"""A file that takes the place of its target only when it is complete; refusals of the system in plain words."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from turnwright.bank.errors import FileError

_REASONS = {
    errno.EACCES: ("it may not be written", "choose a folder that you may write to"),
    errno.EPERM: ("it may not be written", "choose a folder that you may write to"),
    errno.EROFS: ("its disk is read-only", "choose a folder on another disk"),
    errno.ENOENT: ("its folder does not exist", "make the folder first, or name one that exists"),
    errno.ENOTDIR: ("it lies below something that is not a folder", "name a file in a folder that exists"),
    errno.ENOSPC: ("its disk is full", "free some space, or choose a folder on another disk"),
    errno.EDQUOT: ("your share of its disk is used up", "free some space, or choose a folder on another disk"),
    errno.EFBIG: ("it grew larger than a file may be here", "write a smaller pack"),
    errno.ENAMETOOLONG: ("its name is too long", "choose a shorter name"),
}


@contextmanager
def replacement(target: Path) -> Iterator[Path]:
    """A temporary path in the folder of ``target``; what stands there when the block ends well replaces ``target``.

    Whatever goes wrong, ``target`` stays as it was and the temporary file goes.
    """
    place = place_of(target)
    part = part_of(place)
    try:
        yield part
        with told(target):
            move(part, place)
    finally:
        with suppress(OSError):  # the reason to give up counts, not this one
            part.unlink(missing_ok=True)


@contextmanager
def told(target: Path) -> Iterator[None]:
    """Turns what the system refuses into one plain sentence."""
    try:
        yield
    except OSError as error:
        fallback = (f"it cannot be written ({error.strerror or error})", "choose another place")
        raise FileError(str(target), *_REASONS.get(error.errno or 0, fallback)) from error


def place_of(target: Path) -> Path:
    """The file to replace: where a link leads, so that the link stays."""
    with told(target):
        place = Path(os.path.realpath(target))
        if place.is_dir():
            raise FileError(str(target), "it is a folder", "name a file to write")
        if place.exists() and not place.is_file():
            raise FileError(str(target), "it is not an ordinary file", "name a file to write")
        if place.exists() and not os.access(place, os.W_OK):
            raise FileError(str(target), "it may not be overwritten", "choose another name")
    return place


def part_of(place: Path) -> Path:
    """A new name for a temporary file in the folder of ``place``."""
    return place.with_name(f".turnwright-{secrets.token_hex(8)}.part")


def move(part: Path, place: Path) -> None:
    """Puts a complete file in the place of another, whose permissions it takes over."""
    if place.exists():
        part.chmod(place.stat().st_mode & 0o777)
    part.replace(place)
    # Some file systems cannot flush a folder; the file is in place all the same.
    with suppress(OSError):
        folder = os.open(place.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
