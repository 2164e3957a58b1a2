"""Solved questions and their mistakes on disk, so that what is unchanged is not solved twice.

An entry is named by a digest of all that it depends on: ``FORMAT``, the version of SymPy, and its key. It is plain
JSON behind a digest of its name and content, so that one that is damaged, or stands under another's name, is told,
dropped and made anew. Only ordinary files of bounded length are read, and nothing in them is run (see ``serial``). The
folder may be deleted at any time; the oldest entries go when it grows large.

What passes this is believed: the folder is the user's own, and who can write there can write the user's banks as well.
A forged entry could bring a wrong answer, worked line, condition or mistake into all that is made of the question. The
proof of a pack would not tell, for it compares the pack with keys that rest on the same entry. Where that matters,
``TURNWRIGHT_CACHE=off`` makes all from the bank alone.

A stranger's question is looked up and solved in a worker (see ``in_worker``).
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
from collections.abc import Callable, Mapping
from contextlib import suppress
from itertools import count
from pathlib import Path
from typing import Any, TypeVar

import sympy

from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import System, system_of
from ..model.problem import Problem, Question
from ..storage.files import replace_passing
from .serial import Tree, data_of, dump, measured, rebuilt
from .solution import SolvedQuestion, samples_of, solve_question

FORMAT = 11  # raised when the results of the solver or of the mistakes' edits change, or this layout
LARGEST = 200_000
MOST = 64_000_000  # bytes of all entries, beyond which the oldest go
OFTEN = 64  # entries from one look at the size of the folder to the next
FOLDER_VARIABLE = "TURNWRIGHT_CACHE"
OFF = "off"
_UNREADABLE = (OSError, LookupError, TypeError, ValueError, AttributeError, ArithmeticError, RecursionError)
_Found = TypeVar("_Found")
_writes = count()


# --- solved questions -------------------------------------------------------------------------


def solved_question(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question, from the cache where its model is unchanged; a stranger's is solved apart.

    Raises SolveError as the solver does, OverBudgetError where it takes too much.
    """
    if not goes_to_worker(problem):
        return solved_here(problem, question)
    data = in_worker(problem, question, solve_task, question)
    return rebuilt(problem, question, system_of(problem, question), data)


def solved_here(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question, from the cache where its model is unchanged, worked out in this process."""
    system = system_of(problem, question)
    return cached(
        _key(problem, system, samples_of(problem, question)),
        lambda: measured(solve_question(problem, question)),
        lambda data: rebuilt(problem, question, system, data),
    )


def solve_task(problem: Problem, question: Question) -> dict[str, Tree]:
    """A question solved, as plain data."""
    return data_of(solved_here(problem, question))


def _key(problem: Problem, system: System, samples: Mapping[str, Any]) -> Tree:
    return {
        "equations": [
            [each.kind, [dump(term) for term in each.terms], dump(each.right), each.diagram]
            for each in system.equations
        ],
        "ask": system.ask,
        "known": sorted(system.known),
        "signed": sorted(system.signed),
        "forces": sorted(system.forces),
        "holds": [reason.text for reason in problem.holds],
        "samples": {name: [repr(float(value)) for value in values] for name, values in sorted(samples.items())},
    }


# --- entries ----------------------------------------------------------------------------------


def cached(key: Tree, make: Callable[[], Tree], read: Callable[[Any], _Found]) -> _Found:
    """What ``read`` makes of the data under a key: those on disk, or those of ``make``, which are left there.

    ``key`` is plain data and names all that ``make`` depends on. Old data or new, ``read`` gets the same, so that the
    cache changes no result.
    """
    place = folder()
    if place is None:
        return read(make())
    name = hashlib.sha256(json.dumps([FORMAT, sympy.__version__, key], sort_keys=True).encode()).hexdigest()
    path = place / f"{name}.json"
    try:
        return read(opened(name, _content(path)))
    except _UNREADABLE:
        data = make()
    found = read(data)
    _write(path, sealed(name, data))
    return found


def folder() -> Path | None:
    """The cache folder: the user's own, or the one named by the environment; None where that says ``off``."""
    named = os.environ.get(FOLDER_VARIABLE)
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
    return json.loads(text)


def _seal(name: str, text: bytes) -> bytes:
    return hashlib.sha256(name.encode() + text).hexdigest().encode()


def _content(path: Path) -> bytes:
    """What an ordinary file holds, up to a bound; a pipe or device in its place is not waited for."""
    held = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(held, "rb") as file:
        if not stat.S_ISREG(os.fstat(held).st_mode):
            raise ValueError("no ordinary file")
        return file.read(LARGEST)


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
