"""The last steps of a file: it is on the disk, it stands in its place, and the folder knows that."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import IO, Any


def settle(file: IO[Any]) -> None:
    """All of the file is on the disk. Raises OSError."""
    file.flush()
    os.fsync(file.fileno())


def move(new: Path, place: Path) -> None:
    """Puts a complete file in the place of another, whose permissions it takes over. Raises OSError."""
    if place.exists():
        new.chmod(place.stat().st_mode & 0o777)
    new.replace(place)
    flush_folder(place.parent)


def flush_folder(folder: Path) -> None:
    """The folder's list of files is on the disk, where the system can flush a folder; the files are in place anyhow."""
    with suppress(OSError):
        held = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(held)
        finally:
            os.close(held)
