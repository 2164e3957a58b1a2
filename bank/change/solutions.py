"""Whether a worked solution changed while its key did not: another way through the equations, or other reasons."""

from __future__ import annotations

from collections.abc import Iterator

from ..item import formula
from ..solving.solution import SolvedQuestion
from ..writing.notation import Notation
from .changes import Change, Pair
from .letters import relettered


def reasons_differ(pair: Pair) -> bool:
    """Whether any sentence that gives a reason is another one, so that it is worth looking where it is used."""
    return _all(pair.old_problem) != _all(pair.new_problem)


def _all(problem: object) -> list[str]:
    return [each.because for part in ("relations", "energies", "holds") for each in getattr(problem, part)]


def about_path(pair: Pair, old: SolvedQuestion, new: SolvedQuestion) -> Iterator[Change]:
    """The steps of the algebra that changed."""
    before = [
        (*(relettered(each, pair.letters) for each in (one.left, one.value)), len(one.stages))
        for one in old.solution.path
    ]
    after = [(one.left, one.value, len(one.stages)) for one in new.solution.path]
    if before != after:
        yield Change("solution", "steps", _steps(old), _steps(new))


def _steps(solved: SolvedQuestion) -> str:
    notation = Notation()
    lines = [
        f"{formula.text(notation.node(each.left))} = {formula.text(notation.node(each.value))}"
        for each in solved.solution.path
    ]
    return ", then ".join(lines)


def about_reasons(old: SolvedQuestion, new: SolvedQuestion) -> Iterator[Change]:
    """The reasons in the worked solution that read otherwise."""
    before, after = _reasons(old), _reasons(new)
    gone, come = [each for each in before if each not in after], [each for each in after if each not in before]
    if gone or come:
        yield Change("solution", "reason", "; ".join(gone), "; ".join(come))


def _reasons(solved: SolvedQuestion) -> list[str]:
    equations = solved.system.equations
    used = [equations[each.origin].because for each in solved.solution.path if each.origin >= 0]
    held = [each.reason.because for each in solved.kept if each.expression is not None]
    return [each for each in dict.fromkeys((*used, *held)) if each]
