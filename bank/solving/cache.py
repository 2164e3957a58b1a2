"""Solved questions on disk, so that an unchanged question is not solved twice.

An entry is named by a digest of all that the solution depends on. It holds plain JSON behind a digest of it, so that
a damaged one is told, and is used only after its numbers were put into the freshly made equations (see
``substitution``): so is a forged one. Either is dropped and the question solved again. The folder may be deleted at
any time; the oldest entries go when it grows large.
A stranger's question is looked up and solved in a worker (see ``apart``).
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
from collections.abc import Mapping
from contextlib import suppress
from itertools import count
from pathlib import Path
from typing import Any

import sympy

from ..errors import SolveError
from ..limits.worker import apart, is_apart
from ..mechanics.equations import System, system_of
from ..model.problem import Problem, Question
from ..storage.files import replace_passing
from .elimination import Stage
from .serial import NoExpressionError, Tree, dump, load
from .solution import Sign, Solution, Solved, is_admissible
from .solved import Kept, SolvedQuestion, gap, kept, samples_of, solve_question
from .substitution import has_sign, satisfies

FORMAT = 6  # raised when the solver's results or this layout change
LARGEST = 200_000
MOST = 64_000_000  # bytes of all entries, beyond which the oldest go
OFTEN = 64  # entries from one look at the size of the folder to the next
FOLDER_VARIABLE = "TURNWRIGHT_CACHE"
_writes = count()


def solved_question(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question, from the cache where its model is unchanged; a stranger's is solved apart.

    Raises SolveError as the solver does, OverBudgetError where it takes too much.
    """
    if not is_apart(problem):
        return solved_here(problem, question)
    data = apart(problem, question, solve_task, question)
    return rebuilt(problem, question, system_of(problem, question), data)


def solved_here(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question, from the cache where its model is unchanged, worked out in this process."""
    system = system_of(problem, question)
    samples = samples_of(problem, question)
    path = folder() / f"{_digest(problem, system, samples)}.json"
    found = _read(path, problem, question, system, samples)
    if found:
        return found
    solved = solve_question(problem, question)
    _write(path, solved)
    return solved


def folder() -> Path:
    """The cache folder: the user's own, or the one named by the environment."""
    named = os.environ.get(FOLDER_VARIABLE)
    if named:
        return Path(named)
    import platformdirs

    return Path(platformdirs.user_cache_dir("turnwright")) / "solutions"


def _digest(problem: Problem, system: System, samples: Mapping[str, Any]) -> str:
    model = {
        "format": FORMAT,
        "sympy": sympy.__version__,
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
    return hashlib.sha256(json.dumps(model, sort_keys=True).encode()).hexdigest()


# --- reading ----------------------------------------------------------------------------------


def _read(
    path: Path, problem: Problem, question: Question, system: System, samples: Mapping[str, Any]
) -> SolvedQuestion | None:
    try:
        data = opened(_content(path))
        solution = Solution(system.ask, load(data["closed_form"]), _path(data["path"]))
        signs = [sign_from(each) for each in data["signs"]]
        if len(signs) != len(problem.holds) or not is_admissible(solution, samples, system.signed):
            return None
        if not satisfies(system, solution, samples):
            return None
        holding = [_kept(system, reason, sign, samples) for reason, sign in zip(problem.holds, signs, strict=True)]
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError, NoExpressionError, OverflowError):
        return None
    if any(each is None for each in holding):
        return None
    return SolvedQuestion(problem, question, system, solution, tuple(each for each in holding if each))


def sealed(data: Mapping[str, Tree]) -> bytes:
    """The bytes of an entry: a digest, and the data on a line of their own."""
    text = json.dumps(data).encode()
    return hashlib.sha256(text).hexdigest().encode() + b"\n" + text


def opened(content: bytes) -> Any:
    """The data of an entry. Raises ValueError where they are not those that were written."""
    digest, _, text = content.partition(b"\n")
    if hashlib.sha256(text).hexdigest().encode() != digest:
        raise ValueError("a damaged entry")
    return json.loads(text)


def _content(path: Path) -> bytes:
    """What an ordinary file holds, up to a bound; a pipe or device in its place is not waited for."""
    held = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(held, "rb") as file:
        if not stat.S_ISREG(os.fstat(held).st_mode):
            raise ValueError("no ordinary file")
        return file.read(LARGEST)


def rebuilt(problem: Problem, question: Question, system: System, data: Mapping[str, Any]) -> SolvedQuestion:
    """The solved question of which these are the data, as ``data_of`` gives them; they are believed."""
    solution = Solution(system.ask, load(data["closed_form"]), _path(data["path"]))
    holding = tuple(
        Kept(reason, sign_from(each), strict=reason.relation.sign in "<>")
        for reason, each in zip(problem.holds, data["signs"], strict=True)
    )
    return SolvedQuestion(problem, question, system, solution, holding)


def _kept(system: System, reason: Any, sign: Sign | None, samples: Mapping[str, Any]) -> Kept | None:
    """What is kept, or None where the entry does not bear it out; what was open is decided anew."""
    if sign is None:
        return kept(system, reason)
    if not has_sign(system, gap(reason), sign, samples):
        return None
    return Kept(reason, sign, strict=reason.relation.sign in "<>")


def _path(data: Any) -> tuple[Solved, ...]:
    return tuple(
        Solved(load(each["left"]), load(each["value"]), int(each["origin"]), _stages(each["stages"])) for each in data
    )


def _stages(data: Any) -> tuple[Stage, ...]:
    return tuple(
        Stage(did, load(left), load(right), None if what is None else load(what)) for did, left, right, what in data
    )


def sign_from(data: Any) -> Sign | None:
    """The sign of which these are the data, as ``dump_sign`` gives them."""
    return None if data is None else Sign(load(data["expression"]), load(data["factor"]), _path(data["path"]))


# --- writing ----------------------------------------------------------------------------------


def solve_task(problem: Problem, question: Question) -> dict[str, Tree]:
    """A question solved, as plain data."""
    return measured(solved_here(problem, question))


def measured(solved: SolvedQuestion) -> dict[str, Tree]:
    """The same as ``data_of``, where ``load`` can read it: a SolveError tells of numbers or depths beyond it."""
    data = data_of(solved)
    try:
        rebuilt(solved.problem, solved.question, solved.system, data)
    except NoExpressionError:
        raise SolveError(solved.id, "it comes out as a formula beyond all measure", "use shorter relations") from None
    return data


def data_of(solved: SolvedQuestion) -> dict[str, Tree]:
    """The solution and the signs of what holds, as plain data."""
    return {
        "closed_form": dump(solved.solution.closed_form),
        "path": _dump_path(solved.solution.path),
        "signs": [dump_sign(each.sign) for each in solved.kept],
    }


def _write(path: Path, solved: SolvedQuestion) -> None:
    """Leave the entry, whole, or nothing: a cache that can't be written is no error."""
    data = data_of(solved)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if next(_writes) % OFTEN == 0:
            trim(path.parent)
        replace_passing(path, sealed(data))
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


def dump_sign(sign: Sign | None) -> Tree:
    """A sign as plain data; None for what is open."""
    if sign is None:
        return None
    return {"expression": dump(sign.expression), "factor": dump(sign.factor), "path": _dump_path(sign.path)}


def _dump_path(path: tuple[Solved, ...]) -> list[Tree]:
    return [
        {
            "left": dump(each.left),
            "value": dump(each.value),
            "origin": each.origin,
            "stages": [
                [stage.did, dump(stage.left), dump(stage.right), None if stage.what is None else dump(stage.what)]
                for stage in each.stages
            ],
        }
        for each in path
    ]
