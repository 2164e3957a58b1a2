"""A folder of files that takes its place whole, or not at all."""

from __future__ import annotations

import os
import secrets
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from turnwright.bank.errors import BankFaultsError, FileError
from turnwright.bank.reader import collect, problem_files


def refuse_target(target: Path, sources: Sequence[str] = ()) -> None:
    """Raise FileError for a target that is no new or empty folder, or that lies in one of the sources."""
    with _told(target):
        if target.is_symlink() or (target.exists() and not target.is_dir()):
            raise FileError(str(target), "it is there and is no folder", "name a new or empty folder")
        if target.is_dir() and any(target.iterdir()):
            raise FileError(str(target), "the folder is not empty", "name a new or empty folder")
        if not target.parent.is_dir():
            raise FileError(str(target), "its folder does not exist", "make the folder first, or name another")
        for source in sources:
            if Path(source).is_dir() and target.resolve().is_relative_to(Path(source).resolve()):
                raise FileError(str(target), f"it lies in {source}", "name a folder beside the banks")


def write_folder(files: Mapping[str, bytes], target: Path) -> None:
    """Leaves the files in ``target``, a new or empty folder. They are written beside it, read back, and moved.

    Raises FileError or BankFaultsError; then nothing is left.
    """
    refuse_target(target)
    outside = [path for path in files if PurePosixPath(path).is_absolute() or ".." in PurePosixPath(path).parts]
    if outside:
        raise FileError(outside[0], "this path leads out of the bank's folder", "move the file inside")
    with _told(target):
        part = target.resolve().with_name(f".turnwright-{secrets.token_hex(8)}.part")
        try:
            part.mkdir()
            for path, content in sorted(files.items()):
                _write(part / PurePosixPath(path), content)
            _read_back(part)
            part.replace(target.resolve())
        finally:
            shutil.rmtree(part, ignore_errors=True)


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _read_back(folder: Path) -> None:
    if any(folder.iterdir()):
        _, faults = collect(problem_files([folder]))
        if faults:
            raise BankFaultsError(faults)


@contextmanager
def _told(target: Path) -> Iterator[None]:
    """Turns what the system refuses into one plain sentence."""
    try:
        yield
    except OSError as error:
        reason = error.strerror or str(error)
        raise FileError(str(target), f"it can't be written ({reason})", "choose another place") from error
