"""Givens that a mass of the world fixes against each other: three values of an orbit round the Sun, for example.

Draws are independent, so that most of their combinations contradict that mass, and who knows it finds another answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ..language import listed
from ..model.problem import Scene
from ..quantities.unit_kinds import kind_of
from ..questions.fixed import is_of_the_world
from ..solving.solution import SolvedQuestion
from ..solving.ties import left_open, tied_by
from ..writing.letters import name_of
from .note import Note

NAME: Final = "tied-givens"


def tied_notes(solved: SolvedQuestion) -> Iterator[Note]:
    """A note for each scene in which drawn givens have to obey an equation with a mass that the world has once."""
    for scene in solved.problem.scenes_of(solved.question):
        masses = frozenset(each for each in left_open(solved) if _is_mass_of_the_world(solved, scene, each))
        names = tied_by(solved, masses) if masses else frozenset()
        if any(_is_drawn(solved, scene, each) for each in names):
            known = listed([f"the {name_of(solved.problem, scene, each)}" for each in sorted(masses)])
            found = f"the values of {listed(sorted(names))} have to agree with {known} in the scene {scene.name}"
            yield Note(NAME, solved.id, found)


def _is_mass_of_the_world(solved: SolvedQuestion, scene: Scene, symbol: str) -> bool:
    is_mass = kind_of(solved.problem.spec(symbol, scene).unit) == "mass"
    return is_mass and is_of_the_world(solved, scene, symbol)


def _is_drawn(solved: SolvedQuestion, scene: Scene, symbol: str) -> bool:
    """Whether a given has several values; one value may be the true one."""
    draw = solved.problem.spec(symbol, scene).draw
    return draw is not None and len(draw.values) > 1
