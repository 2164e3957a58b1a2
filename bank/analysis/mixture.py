"""Which thoughts a class holds, from wrong answers that one thought explains and others that several explain.

Each set of mistakes that an answer can come from is met by some answers, and given by some of them. A thought is shown
where more answers than chance would give come from it alone: chance gives every known wrong answer of a question as
often as any other that was offered as often. How often a shown thought is acted on comes from a mixture over all
sets: an answer of a set is as frequent as its shown thoughts together, and as chance. The likelihood (of Poisson
counts) has one greatest value and simple derivatives, so that SciPy's bounded search is all that it takes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.stats import chi2, poisson

from .outcome import Evidence, QuestionOutcome

RISK = 0.05  # of naming a thought that nobody has, over all thoughts of a report
UNSEEN = 0.10  # a thought that as many of the answers that could show it may come from is not ruled out
LEAST_RATE = 1e-9
TWO_SIDED = 1.96


@dataclass
class _Alone:
    """Answers that one thought alone explains: given, met, expected by chance, and the most in one question."""

    given: int = 0
    met: int = 0
    chance: float = 0.0
    most: int = 0

    @property
    def repeats(self) -> float:
        """How many answers stand for one candidate, if the same candidates gave as many of them as possible."""
        return self.given / self.most if self.most else 1.0

    @property
    def p(self) -> float:
        """The chance of as many answers or more."""
        return float(poisson.sf(self.given / self.repeats - 1, self.chance / self.repeats)) if self.given else 1.0

    @property
    def upper(self) -> float:
        """The greatest share, at 95 %, of the answers that could show it that may come from it and not from chance."""
        if not self.met:
            return 1.0
        most = chi2.ppf(0.95, 2 * (self.given / self.repeats + 1)) / 2 - self.chance / self.repeats
        return float(min(1.0, max(0.0, most * self.repeats / self.met)))


def evidence(questions: Sequence[QuestionOutcome]) -> dict[str, Evidence]:
    """What the answers say of each mistake that they could show."""
    alone = _alone(questions)
    shown = [name for name, each in alone.items() if each.p * len(alone) < RISK]
    rates = _rates(_sets(questions), shown, alone)
    return {
        name: Evidence(
            "shown" if name in rates else "open" if each.upper > UNSEEN else "chance",
            each.given,
            each.chance,
            *(rates.get(name) or (float("nan"), float("nan"), each.upper)),
        )
        for name, each in alone.items()
    }


def _alone(questions: Iterable[QuestionOutcome]) -> dict[str, _Alone]:
    found: dict[str, _Alone] = {}
    for question in questions:
        known = [each for each in question.chosen if each.sort == "mistake"]
        given, met = sum(each.count for each in known), sum(each.offered for each in known)
        for each in known:
            for name in each.mistakes:
                found.setdefault(name, _Alone())
            if len(each.mistakes) == 1:
                mine = found[each.mistakes[0]]
                mine.given += each.count
                mine.met += each.offered
                mine.chance += given * each.offered / met if met else 0.0
                mine.most = max(mine.most, each.count)
    return found


def _sets(questions: Iterable[QuestionOutcome]) -> dict[tuple[str, ...], tuple[int, int]]:
    """How often each set of mistakes was given and met, over all questions."""
    found: dict[tuple[str, ...], tuple[int, int]] = {}
    for question in questions:
        for each in question.chosen:
            if each.sort == "mistake" and each.offered:
                name = tuple(sorted(each.mistakes))
                given, met = found.get(name, (0, 0))
                found[name] = given + each.count, met + each.offered
    return found


def _rates(
    sets: Mapping[tuple[str, ...], tuple[int, int]], shown: Sequence[str], alone: Mapping[str, _Alone]
) -> dict[str, tuple[float, float, float]]:
    """The share of each shown thought, and its interval at 95 %, in the answers that could show it."""
    if not shown:
        return {}
    design = np.array([[*(float(name in each) for name in shown), 1.0] for each in sets])
    given, met = np.array(list(sets.values()), float).T
    rate = most_likely(design, given, met)
    frequency = np.maximum(design @ rate, LEAST_RATE)
    errors = np.sqrt(np.diag(np.linalg.pinv(design.T @ (design * (given / frequency**2)[:, None]))))
    return {
        name: (
            float(rate[place]),
            max(0.0, float(rate[place] - TWO_SIDED * errors[place] * sqrt(alone[name].repeats))),
            min(1.0, float(rate[place] + TWO_SIDED * errors[place] * sqrt(alone[name].repeats))),
        )
        for place, name in enumerate(shown)
    }


def most_likely(
    design: NDArray[np.float64], given: NDArray[np.float64], met: NDArray[np.float64]
) -> NDArray[np.float64]:
    """The rates, none below 0, under which Poisson counts of mean ``met * (design @ rates)`` are the likeliest.

    ``design`` has the shape (sets, rates); the last rate is that of chance.
    """

    def loss(rates: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        mean = np.maximum(design @ rates, LEAST_RATE)
        return float(met @ mean - given @ np.log(mean)), design.T @ (met - given / mean)

    start = np.full(design.shape[1], max(given.sum() / max(met.sum(), 1.0), LEAST_RATE))
    bounds = [(0.0, 1.0)] * (design.shape[1] - 1) + [(LEAST_RATE, 1.0)]
    found: NDArray[np.float64] = minimize(loss, start, jac=True, bounds=bounds, method="L-BFGS-B").x
    return found
