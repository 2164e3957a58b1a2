"""A zip file from a stranger: read one member at a time, within limits, and never written to disk."""

from __future__ import annotations

import io
import re
import stat
import struct
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from turnwright.bank.errors import FileError
from turnwright.exporters.proof.findings import shown

KIB, MIB = 1024, 1024 * 1024

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


class _Bounded(io.BufferedReader):
    """A file that gives no more than ``longest`` bytes at once, so that a false directory costs no memory."""

    def __init__(self, path: Path, longest: int) -> None:
        super().__init__(io.FileIO(path))
        self._longest = longest

    def read(self, size: int | None = -1, /) -> bytes:
        bounded = self._longest + 1 if size is None or size < 0 else min(size, self._longest + 1)
        data = super().read(bounded)
        if len(data) > self._longest:
            raise zipfile.BadZipFile("its list of members is too long")
        return data


class Archive:
    """The members of one zip file, by name; a member with a fault is listed but not read."""

    def __init__(self, file: io.BufferedReader, zipped: zipfile.ZipFile, limits: Limits) -> None:
        self._file, self._zipped = file, zipped
        self._members = {each.filename: each for each in zipped.infolist() if not _is_folder(each)}
        self._faults: dict[str, str] = {}
        for info in zipped.infolist():
            fault = _fault(info, limits)
            if fault:
                self._faults.setdefault(info.filename, fault)
        self._repeated = _repeated([each.filename for each in zipped.infolist()])

    def __enter__(self) -> Archive:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._zipped.close()
        self._file.close()

    def __contains__(self, name: str) -> bool:
        return name in self._members

    @property
    def names(self) -> tuple[str, ...]:
        """All member names but folders, in the order of the archive."""
        return tuple(self._members)

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
        info = self._members.get(name)
        if info is None or name in self._faults:
            raise MemberError("cannot be read: " + (self._faults.get(name) or "it is not in the archive"))
        if info.file_size > most:
            raise MemberError(f"has {info.file_size} bytes, at most {most} are read")
        try:
            with self._zipped.open(info) as stream:
                return stream.read(most + 1)
        except _DAMAGE as error:
            raise MemberError(f"is damaged: {shown(str(error))}") from error


def open_archive(path: Path, limits: Limits) -> Archive:
    """The archive at ``path``; a file that is none, or that is larger than the limits, is refused."""
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
    return info.is_dir() and info.file_size == 0


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


def _repeated(names: list[str]) -> list[str]:
    seen: set[str] = set()
    repeated = []
    for name in names:
        folded = name.casefold()
        if folded in seen:
            repeated.append(name)
        seen.add(folded)
    return repeated
