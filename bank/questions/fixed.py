"""What nobody can change in a question: facts of the world, and givens that are tied to each other."""

from __future__ import annotations

from ..model.problem import Scene
from ..model.wording import is_name
from ..solving.solution import SolvedQuestion
from ..solving.ties import tied
from ..writing.letters import name_of


def is_fixed(solved: SolvedQuestion, scene: Scene, symbol: str) -> bool:
    """Whether a given can't change alone in a scene, all other givens held."""
    return symbol in tied(solved) or is_of_the_world(solved, scene, symbol)


def is_of_the_world(solved: SolvedQuestion, scene: Scene, symbol: str) -> bool:
    """Whether a quantity is a fact that nobody can change, such as the radius of the orbit of Io."""
    return any(map(is_name, name_of(solved.problem, scene, symbol).split()))
