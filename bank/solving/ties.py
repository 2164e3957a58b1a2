"""Givens that can't change alone: what nobody can change beside them fixes them against each other.

A question gives the speeds of a comet at both ends of its orbit, and one of the distances. With the mass of its star as
it is, none of the three can change while the other two stay as they are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..mechanics.equations import System
from ..model.once import once
from ..quantities.unit_kinds import OWN_TO_A_BODY, kind_of
from .elimination import Search
from .solution import SolvedQuestion


def tied(solved: SolvedQuestion) -> frozenset[str]:
    """The givens that have to obey an equation with nothing else in it than constants and what bodies have.

    These are masses, charges and spring constants that are neither given nor asked; a mass that a relation makes of
    other quantities, as that inside an orbit, is none.
    """
    return once(solved, "tied", lambda: frozenset().union(*_tied(solved)))


def _tied(solved: SolvedQuestion) -> Iterator[frozenset[str]]:
    quantities = solved.problem.quantities
    made = {str(each.relation.left) for each in solved.problem.relations}
    own = [each for each in left_open(solved) - made if kind_of(quantities[each].unit) in OWN_TO_A_BODY]
    for each in sorted(own):
        yield tied_by(solved, frozenset((each,)))
    if len(own) > 1:
        yield tied_by(solved, frozenset(own))


def left_open(solved: SolvedQuestion) -> frozenset[str]:
    """The quantities of the equations that are neither given nor asked, nor constants."""
    system = solved.system
    return (system.symbols - system.known - system.constants - {system.ask}) & solved.problem.quantities.keys()


def tied_by(solved: SolvedQuestion, facts: frozenset[str]) -> frozenset[str]:
    """The givens that constants and some quantities more, taken as known, fix against each other."""
    known: System = replace(solved.system, known=solved.system.known | solved.system.constants | facts)
    line = Search(known, frozenset()).contradiction()
    return frozenset(solved.question.given) & line.names if line else frozenset()
