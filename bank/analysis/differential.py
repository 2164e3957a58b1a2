"""Differential item functioning: whether a question is harder for one of two groups of the same total score.

Mantel and Haenszel, J. Natl. Cancer Inst. 22, 719 (1959); the variance of the logarithm from Robins, Breslow and
Greenland, Biometrics 42, 311 (1986); delta scale and classes as the Educational Testing Service uses them: all
from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from .classical import Scores

Class: TypeAlias = Literal["A", "B", "C"]

DELTA = 2.35
SIGNIFICANT, ONE_SIDED = 1.959963984540054, 1.6448536269514722


@dataclass(frozen=True)
class Differential:
    """The Mantel-Haenszel figures of one question; ``delta`` below 0 means harder for the focal group.

    ``z_from_zero`` tells whether delta differs from 0, ``z_beyond_one`` whether its size is beyond 1.
    """

    odds: float
    delta: float
    error: float
    chi_square: float
    p: float
    z_from_zero: float
    z_beyond_one: float

    @property
    def letter(self) -> Class:
        """A negligible, B moderate, C large by the strict rule: C only where the size is significantly above 1."""
        size = abs(self.delta)
        if size < 1 or abs(self.z_from_zero) < SIGNIFICANT:
            return "A"
        return "C" if size >= 1.5 and self.z_beyond_one > ONE_SIDED else "B"


def mantel_haenszel(strata: Scores) -> Differential | None:
    """The figures of strata (reference right, wrong, focal right, wrong); None where they tell nothing."""
    from scipy.stats import chi2

    strata = strata[(strata[:, :2].sum(axis=1) > 0) & (strata[:, 2:].sum(axis=1) > 0)]
    a, b, c, d = strata.T
    count = a + b + c + d
    right, wrong = a * d / count, b * c / count
    if right.sum() <= 0 or wrong.sum() <= 0:
        return None
    odds = float(right.sum() / wrong.sum())
    p, q = (a + d) / count, (b + c) / count
    spread = (p @ right) / (2 * right.sum() ** 2) + (q @ wrong) / (2 * wrong.sum() ** 2)
    spread += (p @ wrong + q @ right) / (2 * right.sum() * wrong.sum())
    expected = (a + b) * (a + c) / count
    several = count > 1
    variance = np.sum(((a + b) * (c + d) * (a + c) * (b + d))[several] / (count**2 * (count - 1))[several])
    square = float(max(0.0, abs(a.sum() - expected.sum()) - 0.5) ** 2 / variance)
    delta, error = -DELTA * float(np.log(odds)), DELTA * float(np.sqrt(spread))
    return Differential(
        odds, delta, error, square, float(chi2.sf(square, 1)), abs(delta) / error, (abs(delta) - 1) / error
    )


def strata(right: NDArray[np.bool_], total: Scores, focal: NDArray[np.bool_]) -> Scores:
    """The counts of a question for each total that was reached, shape (totals, 4): right and wrong of either group.

    All that comes in has the shape (candidates,).
    """
    _, level = np.unique(total, return_inverse=True)
    columns = (~focal & right, ~focal & ~right, focal & right, focal & ~right)
    return np.column_stack([np.bincount(level, weights=each, minlength=level.max() + 1) for each in columns])
