"""A folder of files that takes its place whole, or not at all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path, PurePosixPath

from ..errors import BankFaultsError, FileError
from ..reading.files import collect, problem_files
from ..storage.files import told, write_tree


def refuse_target(target: Path, sources: Sequence[str] = ()) -> None:
    """Raise FileError for a target that is no new or empty folder, or that lies in one of the sources."""
    with told(target):
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
    write_tree(files, target, _read_back)


def _read_back(folder: Path) -> None:
    if any(folder.iterdir()):
        _, faults = collect(problem_files([folder]))
        if faults:
            raise BankFaultsError(faults)
