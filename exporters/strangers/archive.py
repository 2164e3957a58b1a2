"""A zip file from a stranger: read one member at a time, within limits, and never written to disk."""

from __future__ import annotations

import hashlib
import io
import os
import re
import stat
import struct
import zipfile
import zlib
from array import array
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise
from operator import attrgetter
from pathlib import Path
from posixpath import dirname, join, normpath
from sys import intern
from types import TracebackType
from typing import Protocol
from urllib.parse import unquote, urlsplit

from ...bank.errors import FileError
from .parsing import Seen, shown

KIB, MIB = 1024, 1024 * 1024
PIECE = 64 * KIB
SMALL = MIB
SMALLEST_HEADER = 30
LARGEST = 2**63 - 1
_PLAIN_PATH = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]*(?:/[A-Za-z0-9_][A-Za-z0-9_.-]*)*")

# What zipfile and zlib are known to raise on bytes that are no sound archive.
_DAMAGE = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    IndexError,
    NotImplementedError,
    OSError,
    OverflowError,
    RuntimeError,
    ValueError,
)
_FACTS = ("header_offset", "compress_size", "file_size", "CRC", "compress_type", "flag_bits")
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_WANTED = "give a question pack, which is a zip file"


@dataclass(frozen=True)
class Limits:
    """The most that a pack may hold; sizes are in bytes, unpacked.

    ``ratio`` bounds how many times larger than its packed form a member of more than 1 MiB may be.
    """

    entries: int = 20_000
    manifest: int = 64 * MIB
    test: int = 8 * MIB
    document: int = 2 * MIB
    member: int = 32 * MIB
    total: int = 512 * MIB
    ratio: int = 200


class MemberError(Exception):
    """A member that cannot be read; the text says why, in one line."""


class Members(Protocol):
    """What can be read member by member."""

    def __contains__(self, name: str) -> bool:
        """Whether there is such a member."""

    def read(self, name: str, most: int) -> bytes:
        """All bytes of a member, at most ``most``. Raises MemberError."""

    def pieces(self, name: str, most: int) -> Iterator[bytes]:
        """The bytes of a member in turn, at most ``most`` in all. Raises MemberError."""


class _Bounded(io.BufferedReader):
    """A file that gives no more than ``longest`` bytes at once, so that a false directory costs no memory."""

    def __init__(self, path: Path, longest: int) -> None:
        super().__init__(io.FileIO(path))
        self._path, self._longest, self._size = path, longest, path.stat().st_size

    def again(self) -> _Bounded:
        """The same file, opened once more."""
        return _Bounded(self._path, self._longest)

    def read(self, size: int | None = -1, /) -> bytes:
        wanted = self._size if size is None or size < 0 else size
        data = super().read(max(0, min(wanted, self._longest + 1, self._size - self.tell())))
        if len(data) > self._longest:
            raise zipfile.BadZipFile("its list of members is too long")
        return data


class Archive:
    """The members of one zip file, by name; a member with a fault is listed but not read."""

    def __init__(self, file: _Bounded, zipped: zipfile.ZipFile, limits: Limits) -> None:
        self._file, self._zipped, self._process = file, zipped, os.getpid()
        infos = zipped.infolist()
        overlapping = _overlapping(infos)
        self._faults: dict[str, str] = {}
        for info in infos:
            fault = _fault(info, limits) or ("overlaps another member" if info.header_offset in overlapping else "")
            if fault:
                self._faults.setdefault(info.filename, fault)
        self._repeated = _repeated(each.filename for each in infos)
        self._members = {intern(each.filename): index for index, each in enumerate(infos) if not _is_folder(each)}
        # A directory entry as an object takes half a kilobyte, and a pack has one for each of its items.
        self._facts = array("q", (min(getattr(each, name), LARGEST) for each in infos for name in _FACTS))
        zipped.filelist.clear()
        zipped.NameToInfo.clear()

    def __enter__(self) -> Archive:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        """Lets the file go."""
        self._zipped.close()
        self._file.close()

    def __contains__(self, name: str) -> bool:
        return name in self._members

    @property
    def names(self) -> Iterable[str]:
        """All member names but folders, in the order of the archive."""
        return self._members.keys()

    def faults(self) -> Iterator[str]:
        """What is wrong with the members themselves, before any is read."""
        for name, fault in self._faults.items():
            yield f"member '{shown(name)}' {fault}"
        for name in self._repeated:
            yield f"two members are called '{shown(name)}', or differ in case only"

    def is_sound(self, name: str) -> bool:
        """Whether the member exists and may be read."""
        return name in self._members and name not in self._faults

    def read(self, name: str, most: int) -> bytes:
        """All bytes of a member, at most ``most``."""
        info = self._info(name, most)
        with suppress(*_DAMAGE):
            if data := self._unpacked(info):
                return data
        return self._read(info, most)

    def _read(self, info: zipfile.ZipInfo, most: int) -> bytes:
        try:
            with self._zipped.open(info) as stream:
                return stream.read(most + 1)
        except _DAMAGE as error:
            raise _damaged(error) from error

    def _unpacked(self, info: zipfile.ZipInfo) -> bytes:
        """All bytes of a small deflated member without a fault; none of any other, which ``zipfile`` tells more of."""
        unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
        data = unpacker.decompress(self._packed(info), info.file_size + 1)
        sound = unpacker.eof and not unpacker.unused_data and len(data) == info.file_size
        return data if sound and zlib.crc32(data) == info.CRC else b""

    def _packed(self, info: zipfile.ZipInfo) -> bytes:
        """The deflated bytes of a small member whose header says what it should; none of any other."""
        name = info.orig_filename.encode("ascii", "replace")
        if info.compress_type != zipfile.ZIP_DEFLATED or info.compress_size > SMALL or info.flag_bits:
            return b""
        self._file.seek(info.header_offset)
        packed = self._file.read(SMALLEST_HEADER + len(name) + info.compress_size)
        header, found = packed[:SMALLEST_HEADER], packed[SMALLEST_HEADER : SMALLEST_HEADER + len(name)]
        # signature, then no flags, and as many bytes of name as there should be, with nothing else after them
        lengths = struct.pack("<HH", len(name), 0)
        if header[:4] != b"PK\3\4" or header[6:8] != b"\0\0" or header[26:] != lengths or found != name:
            return b""
        return packed[SMALLEST_HEADER + len(name) :]

    def digest(self, name: str, most: int) -> bytes:
        """The ``digest`` of a small deflated member with a sound header; none of any other. Raises MemberError."""
        info = self._info(name, most)
        with suppress(*_DAMAGE):
            if packed := self._packed(info):
                return digest(info.CRC, info.file_size, packed)
        return b""

    def pieces(self, name: str, most: int) -> Iterator[bytes]:
        """The bytes of a member in turn, at most ``most`` in all; damage may show at the end only."""
        info = self._info(name, most)
        try:
            with self._zipped.open(info) as stream:
                while piece := stream.read(PIECE):
                    yield piece
        except _DAMAGE as error:
            raise _damaged(error) from error

    def _reopen(self) -> None:
        """Opens the file for this process, which else would share its place in it with the one it was forked from."""
        inherited, self._file = self._file, self._file.again()
        self._zipped.fp, self._process = self._file, os.getpid()
        inherited.close()

    def _info(self, name: str, most: int) -> zipfile.ZipInfo:
        """The directory entry of a member, as far as reading needs it."""
        if self._process != os.getpid():
            self._reopen()
        if not self.is_sound(name):
            raise MemberError("cannot be read: " + (self._faults.get(name) or "it is not in the archive"))
        info = zipfile.ZipInfo(name)
        first = self._members[name] * len(_FACTS)
        for index, fact in enumerate(_FACTS, first):
            setattr(info, fact, self._facts[index])
        if info.file_size > most:
            raise MemberError(f"has {info.file_size} bytes, at most {most} are read")
        return info


def digest(crc: int, size: int, packed: bytes) -> bytes:
    """What tells a deflated member from any other: its bytes in the file, and what they are said to unpack to."""
    return hashlib.sha256(struct.pack("<QQ", crc, size) + packed).digest()


def open_archive(path: Path, limits: Limits) -> Archive:
    """The archive at ``path``; a file that is none, or that is larger than the limits, is refused.

    Raises FileError for what can't be read or written.
    """
    if not path.is_file():
        raise FileError(str(path), "is no file" if path.exists() else "does not exist", _WANTED)
    try:
        file = _Bounded(path, 512 * limits.entries + 64 * KIB + 22)
    except OSError as error:
        raise FileError(str(path), "cannot be read", "check who may read it") from error
    try:
        zipped = zipfile.ZipFile(file)
        too_much = _too_much(zipped.infolist(), limits)
    except _DAMAGE as error:
        file.close()
        raise FileError(str(path), f"is no sound zip file: {shown(str(error))}", _WANTED) from error
    if too_much:
        file.close()
        raise FileError(str(path), too_much, "give a smaller pack")
    return Archive(file, zipped, limits)


def _too_much(infos: list[zipfile.ZipInfo], limits: Limits) -> str:
    if len(infos) > limits.entries:
        return f"holds {len(infos)} members, at most {limits.entries} are read"
    total = sum(each.file_size for each in infos)
    return f"unpacks to {total} bytes, at most {limits.total} are read" if total > limits.total else ""


def _is_folder(info: zipfile.ZipInfo) -> bool:
    return info.filename.endswith("/") and info.file_size == 0  # is_dir fails on an empty name


def _fault(info: zipfile.ZipInfo, limits: Limits) -> str:
    """Why the member may not be read, or nothing."""
    kind = stat.S_IFMT(info.external_attr >> 16)
    faults = (
        (_is_unsafe(info.orig_filename), "has a name that could leave the folder it is unpacked in"),
        (info.flag_bits & 0x1, "is encrypted"),
        (kind not in (0, stat.S_IFREG, stat.S_IFDIR), "is a link or a device, not a file"),
        (info.compress_type not in _METHODS, "is packed by a method other than stored or deflated"),
        (_is_bomb(info, limits.ratio), f"unpacks to more than {limits.ratio} times its packed size"),
        (info.filename.lower().endswith(".zip"), "is an archive inside the archive"),
    )
    return next((text for holds, text in faults if holds), "")


def _is_bomb(info: zipfile.ZipInfo, ratio: int) -> bool:
    return info.file_size > MIB and info.file_size > ratio * info.compress_size


def _is_unsafe(name: str) -> bool:
    parts = name.removesuffix("/").split("/")
    return (
        any(part in ("", ".", "..") for part in parts)
        or bool(re.match(r"[A-Za-z]:", name))
        or any(each == "\\" or not each.isprintable() for each in name)
        or len(name) > 1024
    )


def _repeated(names: Iterable[str]) -> list[str]:
    seen: Seen = {}
    repeated = []
    for name in names:
        folded = name.casefold()
        if folded in seen:
            repeated.append(name)
        seen[name if folded == name else folded] = None
    return repeated


def _overlapping(infos: list[zipfile.ZipInfo]) -> set[int]:
    """Where members start that run into the next one, as they do in a bomb whose members share their bytes."""
    return {
        each.header_offset
        for each, following in pairwise(sorted(infos, key=attrgetter("header_offset")))
        if each.header_offset + SMALLEST_HEADER + each.compress_size > following.header_offset
    }


def _damaged(error: Exception) -> MemberError:
    return MemberError(f"is damaged: {shown(str(error))}")


def resolve(href: str, base: str = "") -> str | None:
    """The member that ``href`` in the member ``base`` points at; None when it points out of the pack."""
    if not base and _PLAIN_PATH.fullmatch(href):
        return href
    try:
        parts = urlsplit(href)
    except ValueError:
        return None
    path = unquote(parts.path)
    if parts.scheme or parts.netloc or not path or path.startswith("/") or "\\" in path:
        return None
    name = normpath(join(dirname(base), path))
    return None if name in (".", "..") or name.startswith("../") else name
