"""Where problem files are: those that come with the library, and those that a user's paths mean. Nothing is read."""

from __future__ import annotations

import os
from collections.abc import Iterable
from itertools import islice
from pathlib import Path

from ..errors import FileError

_ENDINGS = (".yaml", ".yml")
SHIPPED = "shipped"  # names the library's own bank among paths; ./shipped is a folder of this name
MOST_FILES = 2_000  # of a bank
MOST_ENTRIES = 100_000  # looked through in a folder


def shipped_files() -> list[Path]:
    """The problem files that come with the library, in a fixed order."""
    return sorted((Path(__file__).parents[1] / "problems").rglob("*.yaml"))


def problem_files(paths: Iterable[Path]) -> list[Path]:
    """The files meant by paths, each once; a folder stands for all ``.yaml`` and ``.yml`` files below it.

    The word ``shipped`` means those that come with the library, so that a bank can add to them. Raises FileError for a
    path that leads to none.
    """
    files: dict[str, Path] = {}
    for path in paths:
        try:
            folders: dict[str, str] = {}
            for each in shipped_files() if str(path) == SHIPPED else _files_at(path):
                files.setdefault(_resolved(each, folders), each)
                if len(files) > MOST_FILES:
                    raise FileError(
                        str(path), f"there are more than {MOST_FILES:,} problem files", "name fewer at once"
                    )
        except OSError as error:
            raise FileError(str(path), f"it can't be read ({error.strerror})", "name a readable path") from None
    return list(files.values())


def _files_at(path: Path) -> list[Path]:
    if path.is_dir():
        entries = list(islice(path.rglob("*"), MOST_ENTRIES + 1))
        if len(entries) > MOST_ENTRIES:
            wrong = f"there are more than {MOST_ENTRIES:,} files and folders in it"
            raise FileError(str(path), wrong, "name a folder that holds a bank and little else")
        found = sorted(
            (each for each in entries if each.suffix.lower() in _ENDINGS and each.is_file()),
            key=lambda each: each.parts,
        )
        if not found:
            raise FileError(str(path), "there is no problem file in this folder", "problem files end in .yaml")
        return found
    if not path.exists():
        raise FileError(str(path), "there is no such file or folder", "name a problem file or a folder of them")
    return [path]


def _resolved(path: Path, folders: dict[str, str]) -> str:
    """Where a path leads; ``folders`` keeps where those of earlier ones led."""
    folder, name = os.path.split(path)
    try:
        if name in ("", os.curdir, os.pardir) or path.is_symlink():
            return str(path.resolve())
        if folder not in folders:
            folders[folder] = os.path.realpath(folder)
        return os.path.join(folders[folder], name)  # noqa: PTH118  (2,000 files are looked at before each answer)
    except (OSError, RuntimeError):
        return str(path)


def short(path: Path) -> str:
    """The path as an editor can open it from here: relative where that is shorter."""
    try:
        return str(path.resolve().relative_to(Path.cwd()))
    except (ValueError, OSError, RuntimeError):
        return str(path)
