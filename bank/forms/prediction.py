"""How hard a question will be and how long it will take, predicted from stated features until results are known.

The index is logistic: facility = c + (1 - c)/(1 + exp(-z)), with z a weighted sum of features and c the chance to guess
right (Lord, Novick, Statistical Theories of Mental Test Scores, 1968, chapter 17). The weights are house values that no
results have confirmed: they put questions in an order, and they make forms alike; they promise no class its marks.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, fsum
from types import MappingProxyType

from ..model.problem import Scene
from ..questions.items import difficulty
from ..questions.kinds import KIND, Kind
from ..solving.solution import SolvedQuestion

EASIEST = 1.8  # z of a number that one equation gives in the units as printed
WEIGHTS: Mapping[str, float] = MappingProxyType(
    {"steps": 0.45, "conversions": 0.30, "limiting": 0.35, "two axes": 0.40, "angle": 0.50}
)
MINUTES: Mapping[str, float] = MappingProxyType(
    {"steps": 1.0, "conversions": 0.5, "limiting": 0.5, "two axes": 0.5, "angle": 0.5}
)
SHORTEST = 1.5  # minutes for reading, and for a number from one equation


@dataclass(frozen=True)
class Features:
    """What a question asks a candidate to do, in a scene: counts, and 1 or 0 for what is there or not."""

    steps: int = 0
    conversions: int = 0
    limiting: int = 0
    two_axes: int = 0
    angle: int = 0

    def weighed(self, weights: Mapping[str, float]) -> float:
        """The weighted sum; the first step is in every question, so it counts nothing."""
        counts = {
            "steps": max(self.steps - 1, 0),
            "conversions": self.conversions,
            "limiting": self.limiting,
            "two axes": self.two_axes,
            "angle": self.angle,
        }
        return fsum(weights[name] * count for name, count in counts.items())


def features_of(solved: SolvedQuestion, scene: Scene) -> Features:
    """The features of a question in a scene."""
    steps = len(solved.solution.path)
    limiting = int(solved.question.limiting is not None)
    angle = int(solved.problem.answer_spec(solved.question, scene).unit.symbol == "deg")
    used = {solved.system.equations[each.origin].kind for each in solved.solution.path}
    return Features(
        steps=steps,
        conversions=difficulty(solved, scene) - steps - limiting - angle,
        limiting=limiting,
        two_axes=int("inward" in used and bool(used & {"up", "forward"})),
        angle=angle,
    )


def predicted_facility(kind: Kind, features: Features) -> float:
    """The share of marks that a class is expected to earn.

    The table of kinds holds z, and for what is calculated the shift of z; and the chance to guess right.
    """
    of_kind = KIND[kind]
    z = EASIEST + of_kind.ease - features.weighed(WEIGHTS) if of_kind.is_calculated else of_kind.ease
    return of_kind.guessed + (1 - of_kind.guessed) / (1 + exp(-z))


def predicted_minutes(kind: Kind, features: Features, usual: int) -> int:
    """Whole minutes that a question takes; ``usual`` are those of kinds that are not worked out in numbers."""
    if KIND[kind].is_derived:
        return usual
    return max(1, round(SHORTEST + features.weighed(MINUTES) + 0.01))
