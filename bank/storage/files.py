"""The one way to a file of ours: written beside its target, flushed to the disk, moved into its place, folder flushed.

Whoever looks, at any time, finds the old file or the new one, whole; so does who looks after the power has failed.
Refusals of the system come as FileError, in plain words.
"""

from __future__ import annotations

import errno
import os
import shutil
import stat
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from types import MappingProxyType
from typing import IO

from ..errors import FileError, OvertakenError
from . import journal
from .leftovers import part
from .moving import flush_folder, move, settle
from .turns import Stood, refuse_overtaken, stood, turn

_REASONS = {
    errno.EACCES: ("it may not be written", "choose a folder that you may write to"),
    errno.EPERM: ("it may not be written", "choose a folder that you may write to"),
    errno.EROFS: ("its disk is read-only", "choose a folder on another disk"),
    errno.ENOENT: ("its folder does not exist", "make the folder first, or name one that exists"),
    errno.ENOTDIR: ("it lies below something that is not a folder", "name a file in a folder that exists"),
    errno.ENOSPC: ("its disk is full", "free some space, or choose a folder on another disk"),
    errno.EDQUOT: ("your share of its disk is used up", "free some space, or choose a folder on another disk"),
    errno.EFBIG: ("it grew larger than a file may be here", "write less at once"),
    errno.ENOTEMPTY: ("there are files in it by now", "name a new folder"),
    errno.ENAMETOOLONG: ("its name is too long", "choose a shorter name"),
}


@contextmanager
def told(target: Path) -> Iterator[None]:
    """Turns what the system refuses into one plain sentence. Raises FileError for what can't be read or written."""
    try:
        yield
    except OSError as error:
        fallback = (f"it cannot be written ({error.strerror or error})", "choose another place")
        raise FileError(str(target), *_REASONS.get(error.errno or 0, fallback)) from error


def place_of(target: Path) -> Path:
    """The file to replace: where a link leads, so that the link stays.

    Raises FileError for what can't be read or written.
    """
    with told(target):
        place = Path(os.path.realpath(target))
        if place.is_dir():
            raise FileError(str(target), "it is a folder", "name a file to write")
        if place.exists() and not place.is_file():
            raise FileError(str(target), "it is not an ordinary file", "name a file to write")
        if place.exists() and not os.access(place, os.W_OK):
            raise FileError(str(target), "it may not be overwritten", "choose another name")
    return place


_AS_IT_IS = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def ordinary_bytes(path: Path | str, most: int) -> bytes:
    """What an ordinary file holds, ``most`` bytes of it; a pipe or device in its place is not waited for.

    Raises OSError, or ValueError for no ordinary file.
    """
    held = os.open(path, _AS_IT_IS)
    try:
        state = os.fstat(held)
        if not stat.S_ISREG(state.st_mode):
            raise ValueError("no ordinary file")
        content = os.read(held, min(most, state.st_size + 1))
        while state.st_size < len(content) < most and (more := os.read(held, most - len(content))):
            content += more  # it has grown meanwhile
        return content
    finally:
        os.close(held)


# --- one file ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class Fresh:
    """A file that is being written, and the path at which it can be read back once it is flushed."""

    path: Path
    file: IO[bytes]


@contextmanager
def replacement(target: Path) -> Iterator[Fresh]:
    """A file to write in the block; when it ends well, the file replaces ``target``, whose permissions it takes over.

    Whatever goes wrong, ``target`` stays as it was and nothing else is left. Raises OvertakenError where ``target`` was
    changed meanwhile.
    """
    place = place_of(target)
    with scratch(target, place.parent) as folder:
        with told(target):
            before = stood(place)
            file = (folder / "new").open("x+b")
        try:
            yield Fresh(folder / "new", file)
            with told(target):
                settle(file)
        finally:
            with suppress(OSError):  # a full disk fails once more here, which must not hide the first failure
                file.close()
        with told(target), turn([place.parent]):
            refuse_overtaken(target, place, before)
            move(folder / "new", place)


def replace_passing(place: Path, content: bytes) -> None:
    """Leaves the content at ``place`` whole, and lets the system choose when it goes to the disk.

    For what can be made again and is checked when it is read. A link at ``place`` is replaced, not followed. Raises
    OSError.
    """
    with part(place.parent) as folder:
        (folder / "new").write_bytes(content)
        (folder / "new").chmod(0o600)
        (folder / "new").replace(place)


# --- several ----------------------------------------------------------------------------------


def write_together(files: Mapping[Path, bytes], since: Mapping[Path, Stood] = MappingProxyType({})) -> None:
    """Leaves each content at its path. Raises FileError; then no file has changed.

    All are written and flushed before the first is moved, and the moves follow one another in the order of ``files``.
    Those of one folder are one step: a run that is killed between two of its moves has left a list, by which the next
    run that writes into the folder makes the others (``journal``). Files of several folders are as many steps, so name
    last what speaks of the others, such as a manifest. ``since`` is what stood at a path when its content was made, if
    that was before: OvertakenError is raised where it was changed since then.
    """
    with ExitStack() as parts:
        moves: list[_Move] = []
        folders: dict[Path, Path] = {}
        for number, (target, content) in enumerate(files.items()):
            place = place_of(target)
            if place.parent not in folders:
                folders[place.parent] = parts.enter_context(scratch(target, place.parent))
            new, old = (folders[place.parent] / f"{number}.{age}" for age in ("new", "old"))
            with told(target):
                moves.append(_Move(target, place, new, old, since.get(target, stood(place))))
                _write(new, content)
        with turn(folders):
            for each in moves:
                refuse_overtaken(each.target, each.place, each.before)
            _move_all(moves)


def rewrite(targets: Sequence[Path], make: Callable[[], Mapping[Path, bytes]]) -> Mapping[Path, bytes]:
    """Leaves what ``make`` makes of what the ``targets`` hold, and returns it: two runs at once lose nothing.

    Where one of them was changed meanwhile, also by moves that a killed run had left, all is made once more. Raises
    FileError.
    """
    while True:
        since = {each: stood(place_of(each)) for each in targets}
        made = make()
        try:
            write_together(made, since)
        except OvertakenError as error:
            if error.path not in map(str, targets):
                raise
        else:
            return made


@dataclass(frozen=True)
class _Move:
    """A written file ``new`` that is to stand at ``place``, where ``before`` stands; ``old`` is a name for that."""

    target: Path
    place: Path
    new: Path
    old: Path
    before: Stood


def _move_all(moves: list[_Move]) -> None:
    """Moves all into place; when one can't be moved, those before it go back to what they were."""
    begun: list[_Move] = []
    parts = {each.new.parent for each in moves}
    try:
        for part_folder in parts:
            mine = [each for each in moves if each.new.parent == part_folder]
            if len(mine) > 1:
                with told(mine[0].target):
                    journal.note(part_folder, [(each.new.name, each.place.name, each.before) for each in mine])
        for each in moves:
            with told(each.target):
                if each.place.exists():
                    _keep(each.place, each.old)
                begun.append(each)
                move(each.new, each.place)
    except BaseException:
        for part_folder in parts:
            journal.withdraw(part_folder)
        for each in reversed(begun):
            _take_back(each)
        raise


def _keep(place: Path, copy: Path) -> None:
    """A second name for the old file, or a copy where the disk has no second names."""
    try:
        os.link(place, copy)
    except OSError:
        shutil.copy2(place, copy)


def _take_back(move: _Move) -> None:
    """The old file stands again, or nothing where there was none."""
    with suppress(OSError):
        if move.old.exists():
            os.replace(move.old, move.place)  # noqa: PTH105  Path.replace may be what has just failed
        elif not move.new.exists():
            move.place.unlink(missing_ok=True)


# --- a folder ---------------------------------------------------------------------------------


def write_tree(files: Mapping[str, bytes], target: Path, check: Callable[[Path], None]) -> None:
    """Leaves a folder of files at ``target``, a new or empty one, once ``check`` has accepted it where it was written.

    Raises FileError or what ``check`` raises; then nothing is left.
    """
    with told(target):
        place = target.resolve()
    with scratch(target, place.parent) as folder:
        tree = folder / "new"
        with told(target):
            tree.mkdir()
            for path, content in sorted(files.items()):
                (tree / PurePosixPath(path)).parent.mkdir(parents=True, exist_ok=True)
                _write(tree / PurePosixPath(path), content)
            for inner in (tree, *(each for each in tree.rglob("*") if each.is_dir())):
                flush_folder(inner)
        check(tree)
        with told(target):
            tree.replace(place)
            flush_folder(place.parent)


# --- what all of them do ----------------------------------------------------------------------


@contextmanager
def scratch(target: Path, folder: Path) -> Iterator[Path]:
    """A new folder in ``folder`` for what is to become ``target``; it goes when the block ends."""
    with ExitStack() as stack:
        with told(target):
            made = stack.enter_context(part(folder))
        yield made


def _write(path: Path, content: bytes) -> None:
    with path.open("xb") as file:
        file.write(content)
        settle(file)
