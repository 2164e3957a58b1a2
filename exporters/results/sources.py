"""The files that hold results: named ones, those of a folder, the members of a zip file; one at a time, within limits.

A file that was not named by the user is told by its number: its own name may be that of a candidate.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, TypeAlias

from ...bank.analysis.told import Ledger
from ...bank.errors import FileError
from ..strangers.archive import MIB, Archive, Limits, MemberError, open_archive
from ..strangers.parsing import shown

Kind: TypeAlias = Literal["xml", "csv"]

LIMITS = Limits(entries=200_000, document=32 * MIB, member=1024 * MIB, total=4096 * MIB)
NEITHER = "files that are neither XML nor CSV"
UNREAD = "files that can't be read"
_RIGHT = "name result files (XML, CSV), a folder of them, or a zip file"


@dataclass(frozen=True)
class Source:
    """One file: what it is called when something is told of it, its kind, and its bytes in pieces."""

    label: str
    kind: Kind
    pieces: Callable[[], Iterator[bytes]]


def sources(paths: Sequence[Path], ledger: Ledger) -> Iterator[Source]:
    """All files in order; what can't be read is told in the ledger. Raises FileError for a path to nothing."""
    for path in paths:
        label = shown(path.name or str(path))
        if path.is_dir():
            yield from _in_folder(path, label, ledger)
        elif path.is_file():
            yield from _file(path, label, ledger, named=True)
        else:
            raise FileError(str(path), "there is no such file or folder", _RIGHT)


def _in_folder(folder: Path, label: str, ledger: Ledger) -> Iterator[Source]:
    found = sorted(each for each in folder.rglob("*") if each.is_file() and not each.name.startswith("."))
    if not found:
        raise FileError(str(folder), "there is no file in this folder", _RIGHT)
    for number, path in enumerate(found, 1):
        yield from _file(path, f"{label}, file {number}", ledger, named=False)


def _file(path: Path, label: str, ledger: Ledger, *, named: bool) -> Iterator[Source]:
    try:
        with path.open("rb") as file:
            beginning = file.read(4)
        if beginning.startswith(b"PK\x03\x04"):
            yield from _in_archive(path, label, ledger)
            return
    except OSError as error:
        raise FileError(str(path), f"can't be read ({error.strerror})", "check who may read it") from None
    except FileError as error:
        if named:
            raise
        ledger.add(f"{UNREAD}: {error.wrong}", [label])
        return
    yield from _known(path.name, label, lambda: _pieces(path), ledger)


def _pieces(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        while piece := file.read(MIB):
            yield piece


def _in_archive(path: Path, label: str, ledger: Ledger) -> Iterator[Source]:
    with open_archive(path, LIMITS) as archive:
        for number, name in enumerate(sorted(archive.names), 1):
            called = f"{label}, file {number}"
            if not archive.is_sound(name):
                ledger.add(f"{UNREAD}: {_fault(archive, name)}", [called])
                continue
            yield from _known(name, called, lambda name=name: archive.pieces(name, LIMITS.member), ledger)  # type: ignore[misc]


def _fault(archive: Archive, name: str) -> str:
    """Why a member may not be read; its name is left out."""
    try:
        archive.read(name, 1)
    except MemberError as error:
        return str(error).removeprefix("cannot be read: ")
    return "it is damaged"


def _known(name: str, label: str, pieces: Callable[[], Iterator[bytes]], ledger: Ledger) -> Iterator[Source]:
    ending = name.lower().rpartition(".")[2]
    if ending == "xml":
        yield Source(label, "xml", pieces)
    elif ending in ("csv", "tsv", "txt"):
        yield Source(label, "csv", pieces)
    else:
        ledger.add(NEITHER, [label])
