"""Equations of motion that no question of a problem needs: a diagram too many, or a missing link between two."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..solving.solution import SolvedQuestion
from .note import Note

_BALANCE = "up"  # in a horizontal circle it often fixes a normal force that nobody asks for


def unused_equations(solved: Sequence[SolvedQuestion]) -> Iterator[Note]:
    """A note for each force equation that is on no way to an answer, or to what holds, over all questions."""
    used = {each for question in solved for each in _used(question)}
    met = dict.fromkeys(each for question in solved for each in _force_equations(question))
    for diagram, kind in met:
        if kind != _BALANCE and (diagram, kind) not in used:
            found = f"no question needs the '{kind}' equation of the diagram {diagram}"
            yield Note("unused-equation", solved[0].problem.id, found)


def _force_equations(question: SolvedQuestion) -> Iterator[tuple[str, str]]:
    return ((each.diagram, each.kind) for each in question.system.equations if each.diagram)


def _used(question: SolvedQuestion) -> Iterator[tuple[str, str]]:
    signs = [step for each in question.kept if each.sign for step in each.sign.path]
    for step in (*question.solution.path, *signs):
        equation = question.system.equations[step.origin]
        yield equation.diagram, equation.kind
