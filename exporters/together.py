"""Several files written as one: all of them take their places, or all stays as it was."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from contextlib import ExitStack, suppress
from pathlib import Path

from turnwright.exporters.replacement import move, part_of, place_of, told


def write_together(files: Mapping[Path, bytes]) -> None:
    """Leaves each content at its path. Raises FileError; then no file has changed and no temporary one is left."""
    places = {target: place_of(target) for target in files}
    with ExitStack() as temporary:
        parts: dict[Path, Path] = {}
        for target, content in files.items():
            parts[target] = _named(temporary, places[target])
            with told(target):
                _write(parts[target], content)
        _replace(parts, places, {target: _named(temporary, place) for target, place in places.items()})


def _named(temporary: ExitStack, place: Path) -> Path:
    """The name of a temporary file, which is gone at the end if it has been made."""
    path = part_of(place)
    temporary.callback(_drop, path)
    return path


def _drop(path: Path) -> None:
    with suppress(OSError):  # the reason to give up counts, not this one
        path.unlink(missing_ok=True)


def _write(part: Path, content: bytes) -> None:
    with part.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _replace(parts: Mapping[Path, Path], places: Mapping[Path, Path], kept: Mapping[Path, Path]) -> None:
    """Moves all parts into place; when one can't be moved, those before it go back to what they were."""
    moved: list[Path] = []
    try:
        for target, part in parts.items():
            with told(target):
                if places[target].exists():
                    _keep(places[target], kept[target])
                moved.append(target)
                move(part, places[target])
    except BaseException:
        for target in moved:
            _restore(places[target], parts[target], kept[target])
        raise


def _keep(place: Path, copy: Path) -> None:
    """A second name for the old file, or a copy where the disk has no second names."""
    try:
        os.link(place, copy)
    except OSError:
        shutil.copy2(place, copy)


def _restore(place: Path, part: Path, old: Path) -> None:
    """Takes back one move: the old file stands again, or nothing where there was none."""
    with suppress(OSError):
        if old.exists():
            os.replace(old, place)  # noqa: PTH105  Path.replace is what has just failed
        elif not part.exists():
            place.unlink(missing_ok=True)
