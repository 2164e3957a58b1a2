"""Whether variants of a question, or forms of an assessment, are as hard as each other.

Chi-square of Pearson; step-down correction of Holm, Scand. J. Stat. 6, 65 (1979); two one-sided tests of Schuirmann,
J. Pharmacokinet. Biopharm. 15, 657 (1987): all from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt

import numpy as np

NINETY = 1.6448536269514722  # two one-sided tests at 5 % go with an interval of 90 %
VARIANT_MARGIN = 0.15
FORM_MARGIN = 0.05
LEAST_EXPECTED = 5.0


@dataclass(frozen=True)
class Homogeneity:
    """Pearson's chi-square of variants by right and wrong; ``residuals`` are how far each lies from its siblings."""

    chi_square: float
    freedom: int
    p: float
    residuals: tuple[float, ...]


def homogeneity(right: Sequence[int], counts: Sequence[int]) -> Homogeneity | None:
    """The test over variants; None where one of the expected counts is below 5, which is too small."""
    from scipy.stats import chi2

    good, number = np.asarray(right, float), np.asarray(counts, float)
    share = good.sum() / number.sum() if number.sum() else 0.0
    if len(good) < 2 or min(number.min() * share, number.min() * (1 - share)) < LEAST_EXPECTED:
        return None
    square = float((((good - number * share) ** 2) / (number * share * (1 - share))).sum())
    spread = np.sqrt(number * share * (1 - share) * (1 - number / number.sum()))
    residuals = tuple(map(float, (good - number * share) / spread))
    return Homogeneity(square, len(good) - 1, float(chi2.sf(square, len(good) - 1)), residuals)


def holm(chances: Sequence[float]) -> list[float]:
    """The p values corrected for their number."""
    order = sorted(range(len(chances)), key=lambda place: chances[place])
    corrected, so_far = [0.0] * len(chances), 0.0
    for rank, place in enumerate(order):
        so_far = max(so_far, min(1.0, (len(chances) - rank) * chances[place]))
        corrected[place] = so_far
    return corrected


@dataclass(frozen=True)
class Equivalence:
    """Two one-sided tests of a difference against a margin; equivalent where both p are below 5 %."""

    difference: float
    error: float
    margin: float
    p_below: float
    p_above: float

    @property
    def interval(self) -> tuple[float, float]:
        """The 90 % interval of the difference, which lies within the margin where the two are equivalent."""
        return self.difference - NINETY * self.error, self.difference + NINETY * self.error

    @property
    def p(self) -> float:
        """The larger of the two p values, which decides."""
        return max(self.p_below, self.p_above)

    @property
    def shown(self) -> bool:
        """Whether the two are shown to be equivalent."""
        return self.p < 0.05


def two_one_sided(difference: float, error: float, margin: float) -> Equivalence:
    """The tests of a difference with this standard error, by the normal distribution."""
    from scipy.stats import norm

    low, high = ((difference + margin) / error, (difference - margin) / error) if error > 0 else (inf, -inf)
    return Equivalence(difference, error, margin, float(norm.sf(low)), float(norm.cdf(high)))


def two_shares(first: int, of_first: int, second: int, of_second: int, margin: float = VARIANT_MARGIN) -> Equivalence:
    """The tests of two shares of right answers."""
    p, q = first / of_first, second / of_second
    return two_one_sided(p - q, sqrt(p * (1 - p) / of_first + q * (1 - q) / of_second), margin)


def two_means(first: np.ndarray, second: np.ndarray, margin: float = FORM_MARGIN) -> Equivalence:
    """The tests of the means of two samples with variances of their own."""
    error = sqrt(first.var(ddof=1) / len(first) + second.var(ddof=1) / len(second))
    return two_one_sided(float(first.mean() - second.mean()), error, margin)
