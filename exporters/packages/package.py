"""The file of a package: a zip with members and drawings, put in place of its target only when it is complete.

It is the same bytes on every run.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from ...bank.errors import ProofError
from ...bank.item.drawing import Drawing
from ...bank.storage.files import replacement, told
from ..markup.svg import svg
from .delivery import Figures
from .naming import PackNames, figure_href

DATE = (1980, 1, 1, 0, 0, 0)
MODE = 0o100644 << 16
UNIX = 3
PIXELS_WIDE = 800  # twice as wide as a drawing, for screens with small pixels and for paper


@dataclass(frozen=True)
class Packed:
    """The content of a member as it stands in the zip, with what is told of it."""

    name: str
    crc: int
    size: int
    data: bytes


def packed(name: str, content: bytes) -> Packed:
    """A member with this content; deflate runs at zlib's own default level, 6."""
    packer = zlib.compressobj(zlib.Z_DEFAULT_COMPRESSION, zlib.DEFLATED, -zlib.MAX_WBITS)
    return Packed(name, zlib.crc32(content), len(content), packer.compress(content) + packer.flush())


class PackedZip(ZipFile):
    """A new zip that takes members that are deflated already, since deflating is work that several processes share.

    ``ZipFile`` has no way for that. What is used of its inside here is ``fp``, ``start_dir``,
    ``filelist`` and ``NameToInfo``; a test holds what comes out against what ``ZipFile`` itself writes.
    """

    def put(self, member: Packed) -> None:
        """A new member, written as ``writestr`` would write it."""
        info = _entry(member.name)
        info.CRC, info.file_size, info.compress_size = member.crc, member.size, len(member.data)
        info.header_offset = self.start_dir
        assert self.fp is not None
        self.fp.seek(info.header_offset)
        self.fp.write(info.FileHeader(zip64=False) + member.data)
        self.start_dir = self.fp.tell()
        self.filelist.append(info)
        self.NameToInfo[info.filename] = info

    def members(self) -> Iterator[Packed]:
        """The members so far, read from the file."""
        assert self.fp is not None
        for info in self.filelist:
            self.fp.seek(info.header_offset + len(info.FileHeader(zip64=False)))
            yield Packed(info.filename, info.CRC, info.file_size, self.fp.read(info.compress_size))

    def forget(self) -> None:
        """Lets go of the list of members, which is as long as the pack, when all is written."""
        self.filelist.clear()
        self.NameToInfo.clear()


class Package:
    """A zip being written: members keep the order in which they come, and nothing of their content is kept."""

    def __init__(self, archive: PackedZip, target: Path) -> None:
        self._archive = archive
        self._target = target

    def add(self, name: str, content: bytes) -> None:
        """A new member with this content."""
        self.put(packed(name, content))

    def put(self, member: Packed) -> None:
        """A new member that was packed before."""
        with told(self._target):
            self._archive.put(member)

    def members(self) -> Iterator[Packed]:
        """All members that were put in so far, as they stand in the zip. Raises OSError."""
        return self._archive.members()

    @contextmanager
    def member(self, name: str) -> Iterator[IO[bytes]]:
        """A new member, open for as long as the block runs."""
        with told(self._target), self._archive.open(_entry(name), "w") as stream:
            yield stream


@contextmanager
def package(target: Path, check: Callable[[Path], None]) -> Iterator[Package]:
    """A package to fill, which replaces ``target`` when the block ends and ``check`` accepts the file.

    ``check`` gets a temporary file on the disk of ``target``, complete, and raises to refuse it.
    Whatever goes wrong, ``target`` stays as it was and the temporary file goes.
    """
    with replacement(target) as fresh:
        with _archive(fresh.file, target) as archive:
            yield Package(archive, target)
        _run(check, fresh.path, target)


@contextmanager
def _archive(file: IO[bytes], target: Path) -> Iterator[PackedZip]:
    """A new zip in ``file``, which can be read when the block has ended well."""
    archive = PackedZip(file, "w", ZIP_DEFLATED)
    try:
        yield archive
        with told(target):
            archive.close()
            file.flush()
        archive.forget()  # the caller still holds the archive while the file is checked
    finally:
        # Left to the garbage collector, the archive would write to a file that is gone; and when a disk is full,
        # closing fails once more, which must not hide the first failure.
        with suppress(OSError):
            archive.close()


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


def add_pictures(box: Package, contents: PackNames, figures: Figures) -> None:
    """Puts all figures and option drawings into the package."""
    for _, drawings in contents.drawings():
        for name, drawing in drawings.items():
            box.add(figure_href(name, f".{figures}"), picture(drawing, figures))


def picture_names(contents: PackNames) -> list[str]:
    """The identifiers of all figures and option drawings, in the order in which they are put in."""
    return [name for _, drawings in contents.drawings() for name in drawings]


def picture(drawing: Drawing, figures: Figures) -> bytes:
    """The drawing as a file."""
    drawn = svg(drawing)
    if figures == "svg":
        return drawn
    from ..markup.png import png

    return png(drawn, PIXELS_WIDE)
