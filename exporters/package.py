"""A zip that is the same bytes on every run, and that takes the place of its target only when it is complete."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from turnwright.bank.errors import FileError, ProofError

DATE = (1980, 1, 1, 0, 0, 0)
MODE = 0o100644 << 16
UNIX = 3

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


class Package:
    """A zip being written: members keep the order in which they come, and nothing of their content is kept."""

    def __init__(self, archive: ZipFile, target: Path) -> None:
        self._archive = archive
        self._target = target

    def add(self, name: str, content: bytes) -> None:
        """A new member with this content."""
        with told(self._target):
            self._archive.writestr(_entry(name), content)

    @contextmanager
    def member(self, name: str) -> Iterator[IO[bytes]]:
        """A new member, open for as long as the block runs."""
        with told(self._target), self._archive.open(_entry(name), "w") as stream:
            yield stream


@contextmanager
def package(target: Path, check: Callable[[Path], None]) -> Iterator[Package]:
    """A package to fill, which replaces ``target`` when the block ends and ``check`` accepts the file.

    ``check`` gets a temporary file in the folder of ``target``, complete and on disk, and raises to refuse it.
    Whatever goes wrong, ``target`` stays as it was and the temporary file goes.
    """
    place = place_of(target)
    part = part_of(place)
    try:
        with _archive(part, target) as archive:
            yield Package(archive, target)
        _run(check, part, target)
        with told(target):
            move(part, place)
    finally:
        with suppress(OSError):  # the reason to give up counts, not this one
            part.unlink(missing_ok=True)


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
    """A new temporary name beside a file, on the same disk."""
    return place.with_name(f".turnwright-{secrets.token_hex(8)}.part")


@contextmanager
def _archive(part: Path, target: Path) -> Iterator[ZipFile]:
    """A new zip at ``part``, which is on disk when the block has ended well."""
    with told(target):
        file = part.open("xb")
    archive = ZipFile(file, "w", ZIP_DEFLATED)
    try:
        yield archive
        with told(target):
            archive.close()
            file.flush()
            os.fsync(file.fileno())
        # The caller still holds the archive while the file is checked, and its list is as long as the pack.
        archive.filelist.clear()
        archive.NameToInfo.clear()
    finally:
        # Left to the garbage collector, the archive would write to a file that is gone; and when a disk is full,
        # closing fails once more, which must not hide the first failure.
        for each in (archive, file):
            with suppress(OSError):
                each.close()


def _entry(name: str) -> ZipInfo:
    """A directory entry that says nothing of the clock or the machine; deflate runs at zlib's own default level, 6."""
    entry = ZipInfo(name, DATE)
    entry.compress_type = ZIP_DEFLATED
    entry.external_attr = MODE
    entry.create_system = UNIX
    return entry


def _run(check: Callable[[Path], None], part: Path, target: Path) -> None:
    """Runs the check; its findings name the target, since the temporary file is about to go."""
    try:
        check(part)
    except ProofError as error:
        raise ProofError(str(target), error.findings) from error


def move(part: Path, place: Path) -> None:
    """Puts a complete file in the place of another one in one step; the mode of the other is kept."""
    if place.exists():
        part.chmod(place.stat().st_mode & 0o777)
    part.replace(place)
    # Some file systems cannot flush a folder; the pack is in place all the same.
    with suppress(OSError):
        folder = os.open(place.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


@contextmanager
def told(target: Path) -> Iterator[None]:
    """Turns what the system refuses into one plain sentence."""
    try:
        yield
    except OSError as error:
        fallback = (f"it cannot be written ({error.strerror or error})", "choose another place")
        raise FileError(str(target), *_REASONS.get(error.errno or 0, fallback)) from error
