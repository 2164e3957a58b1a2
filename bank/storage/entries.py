"""Entries of the cache: plain data on disk under a digest of all that they depend on, so that work is not done twice.

An entry is JSON behind a digest of its name and content, so that one that is damaged, or stands under another's name,
is told, dropped and made anew. Only ordinary files of bounded length are read, and nothing in them is run. The folder
may be deleted at any time; the oldest entries go when it grows large.

What passes this is believed: the folder is the user's own, and who can write there can write the user's banks as well.
Where that matters, ``TURNWRIGHT_CACHE=off`` makes all anew.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable
from contextlib import suppress
from functools import lru_cache
from itertools import count
from pathlib import Path
from typing import Any, TypeAlias, TypeVar

from .files import ordinary_bytes, replace_passing

Tree: TypeAlias = Any  # plain data, as JSON has them
LARGEST = 200_000
MOST = 64_000_000  # bytes of all entries, beyond which the oldest go
OFTEN = 64  # entries from one look at the size of the folder to the next
FOLDER_VARIABLE = "TURNWRIGHT_CACHE"
OFF = "off"
_UNREADABLE = (OSError, LookupError, TypeError, ValueError, AttributeError, ArithmeticError, RecursionError)
_Found = TypeVar("_Found")
_writes = count()


def kept(what: str, key: Tree, make: Callable[[], Tree], read: Callable[[Any], _Found]) -> _Found:
    """What ``read`` makes of the data under a key: those on disk, or those of ``make``, which are left there.

    ``what`` is the sort of entry, and ``key`` plain data that name all that ``make`` depends on. Old data or new,
    ``read`` gets the same, so that the cache changes no result.
    """
    place = folder()
    if place is None:
        return read(make())
    name = name_of(what, key)
    path = f"{place}{os.sep}{name}.json"
    try:
        return read(opened(name, ordinary_bytes(path, LARGEST)))
    except _UNREADABLE:
        data = make()
    found = read(data)
    _write(Path(path), sealed(name, data))
    return found


def forget(what: str, key: Tree) -> None:
    """Take an entry out that has told something wrong."""
    place = folder()
    if place is not None:
        with suppress(OSError):
            (place / f"{name_of(what, key)}.json").unlink(missing_ok=True)


def name_of(what: str, key: Tree) -> str:
    """The name of the entry of this sort under a key."""
    return f"{what}-{hashlib.sha256(json.dumps(key, sort_keys=True).encode()).hexdigest()}"


def folder() -> Path | None:
    """The cache folder: the user's own, or the one named by the environment; None where that says ``off``."""
    return _folder(os.environ.get(FOLDER_VARIABLE, ""))


@lru_cache(maxsize=8)
def _folder(named: str) -> Path | None:
    if named:
        return None if named == OFF else Path(named)
    import platformdirs

    return Path(platformdirs.user_cache_dir("turnwright")) / "solutions"


def sealed(name: str, data: Tree) -> bytes:
    """The bytes of an entry: a digest, and the data on a line of their own."""
    text = json.dumps(data).encode()
    return _seal(name, text) + b"\n" + text


def opened(name: str, content: bytes) -> Any:
    """The data of an entry. Raises ValueError where they are not those that were written under this name."""
    seal, _, text = content.partition(b"\n")
    if _seal(name, text) != seal:
        raise ValueError("a damaged entry")
    return json.loads(text.decode())


def _seal(name: str, text: bytes) -> bytes:
    return hashlib.sha256(name.encode() + text).hexdigest().encode()


def _write(path: Path, content: bytes) -> None:
    """Leave the entry, whole, or nothing: a cache that can't be written is no error."""
    if len(content) > LARGEST:
        return
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if next(_writes) % OFTEN == 0:
            trim(path.parent)
        replace_passing(path, content)
    except OSError:
        return


def trim(place: Path, most: int = MOST) -> None:
    """Removes the oldest entries of a folder until those that are left take no more than so many bytes."""
    found = [(each.stat(follow_symlinks=False), each.path) for each in os.scandir(place) if each.name.endswith(".json")]
    size = sum(state.st_size for state, _ in found)
    for state, path in sorted(found, key=lambda each: (each[0].st_mtime_ns, each[1])):
        if size <= most:
            return
        with suppress(OSError):  # another run may have removed it
            Path(path).unlink(missing_ok=True)
            size -= state.st_size
