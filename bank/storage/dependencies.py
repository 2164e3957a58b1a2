"""What entries of the cache depend on besides their key: our own code and data, and versions of libraries.

Both are found without an import of what they are about, so that a command that only looks something up stays quick.
"""

from __future__ import annotations

import hashlib
import os
import re
import sys
from collections.abc import Iterator
from functools import cache
from importlib.machinery import PathFinder
from pathlib import Path

from ... import schemas

_FOLDERS = (Path(__file__).parents[1], schemas.FOLDER)
_LEFT_OUT = ("problems", "drafts", "blueprints", "__pycache__")
_ENDINGS = (".py", ".yaml", ".json")
_METADATA = re.compile(r"(?P<name>[A-Za-z0-9_.]+)-(?P<version>[^-]+)(-[^-]+)?\.(dist|egg)-info")


@cache
def code() -> str:
    """A digest of the library as it is: its modules, its schemas and its catalogue of mistakes.

    Problem files are left out, as each is known by its own digest.
    """
    found = hashlib.sha256()
    for root in _FOLDERS:
        for path in sorted(_below(root)):
            content = Path(path).read_bytes()
            found.update(f"{path[len(str(root)) :]} {len(content)}\n".encode())
            found.update(content)
    return found.hexdigest()


def _below(root: Path) -> Iterator[str]:
    for folder, inner, names in os.walk(root):
        inner[:] = [each for each in inner if each not in _LEFT_OUT]  # these are walked next
        yield from (f"{folder}{os.sep}{name}" for name in names if name.endswith(_ENDINGS))


@cache
def everything() -> list[str]:
    """A digest of all that a reading of a bank file depends on besides the file.

    That is our code and data, Python, and the libraries.
    """
    libraries = (
        *(("sympy", ""), ("mpmath", ""), ("yaml", "PyYAML"), ("numpy", ""), ("scipy", ""), ("pint", "")),
        *(("jsonschema", ""), ("referencing", "")),
    )
    parts = [code(), sys.version, *(version(*each) for each in libraries)]
    return [hashlib.sha256("\n".join(parts).encode()).hexdigest()]


@cache
def version(package: str, distribution: str = "") -> str:
    """The version of an installed library, named by its package, from what its installer left beside it.

    ``distribution`` is its name there, where that is another. The stamp of its file where nothing was left.
    """
    spec = PathFinder.find_spec(package)
    origin = Path(spec.origin) if spec and spec.origin else None
    if origin is None:
        return "none"
    place = origin.parent.parent if origin.name.startswith("__init__.") else origin.parent
    wanted = (distribution or package).lower()
    found = sorted(each["version"] for each in map(_METADATA.fullmatch, _names(place)) if each and _is(each, wanted))
    return " ".join(found) or str(origin.stat().st_mtime_ns)


def _is(found: re.Match[str], wanted: str) -> bool:
    return found["name"].lower() == wanted


@cache
def _names(place: Path) -> tuple[str, ...]:
    return tuple(os.listdir(place))  # noqa: PTH208  (paths are made of none of them)
