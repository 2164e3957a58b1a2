"""A bank as it stands in a folder, in a file or in a revision: its problems, each with its file's name and bytes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..documents.bounds import LARGEST_FILE
from ..documents.document import parse_document
from ..errors import BankFaultsError, Fault, FileError
from ..model.problem import Problem
from ..reading.files import judged, problem_files, short
from . import revision


@dataclass(frozen=True)
class File:
    """A problem file: its path inside the bank with ``/`` between folders, what a person calls it, its bytes."""

    inside: str
    shown: str
    content: bytes


@dataclass(frozen=True)
class BankEntry:
    """A problem of a bank and the file that it came from."""

    problem: Problem
    file: File


@dataclass(frozen=True)
class Bank:
    """Problems by file order. ``is_folder`` is false for a single file, whose place in a bank is not known."""

    name: str
    entries: tuple[BankEntry, ...]
    is_folder: bool = True

    @property
    def problems(self) -> tuple[Problem, ...]:
        """The problems, in file order."""
        return tuple(each.problem for each in self.entries)

    @property
    def by_id(self) -> dict[str, BankEntry]:
        """The entries by the ids of their problems, in file order."""
        return {each.problem.id: each for each in self.entries}


def banks(*names: str) -> tuple[Bank, ...]:
    """The banks that are named by a folder, a file, or ``REVISION:PATH``.

    Raises BankFaultsError with all faults of all of them, FileError or UsageError for a name that leads to none.
    """
    found: list[Bank] = []
    faults: list[Fault] = []
    for name, (files, is_folder) in [(name, _files(name)) for name in names]:
        bank, wrong = bank_of_files(name, files, is_folder)
        found.append(bank)
        faults += [each for each in wrong if each not in faults]
    if faults:
        raise BankFaultsError(faults)
    return tuple(found)


def bank_of_files(name: str, files: Iterable[File], is_folder: bool) -> tuple[Bank, tuple[Fault, ...]]:
    """The problems without fault in some files as a bank, and every fault found."""
    kept = list(files)
    documents = [parse_document(each.content, each.shown) for each in kept]
    problems, faults = judged(documents)
    homes = {id(document): file for document, file in zip(documents, kept, strict=True)}
    return Bank(name, tuple(BankEntry(each, homes[id(each.document)]) for each in problems), is_folder), faults


def bank_of_problems(name: str, problems: Sequence[Problem]) -> Bank:
    """Problems that were read already, as a bank whose files count for nothing."""
    entries = (BankEntry(each, File(each.document.file, each.document.file, b"")) for each in problems)
    return Bank(name, tuple(entries), is_folder=False)


def _files(name: str) -> tuple[list[File], bool]:
    path = Path(name)
    if revision.is_named(name):
        found, is_folder = revision.files_at(name)
        return [File(inside, f"{name.partition(':')[0]}:{full}", content) for inside, full, content in found], is_folder
    found_paths = problem_files([path])
    if not path.is_dir():
        return [File(path.name, short(path), _bytes(path))], False
    return [_inside(path, each) for each in found_paths], True


def _inside(folder: Path, path: Path) -> File:
    """A file of a folder. Raises FileError for a link that leads out of it: a bank is whole in itself."""
    if not path.resolve().is_relative_to(folder.resolve()):
        raise FileError(str(path), "it is a link that leads out of the bank's folder", "put a copy in its place")
    return File(path.relative_to(folder).as_posix(), short(path), _bytes(path))


def _bytes(path: Path) -> bytes:
    """What a file holds, up to where the reader finds it too long."""
    if not path.is_file():
        raise FileError(str(path), "this is not an ordinary file", "name a problem file or a folder of them")
    try:
        with path.open("rb") as stream:
            return stream.read(LARGEST_FILE + 1)
    except OSError as error:
        raise FileError(str(path), f"it can't be read ({error.strerror})", "name a readable path") from None
