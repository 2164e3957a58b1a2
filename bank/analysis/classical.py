"""Classical statistics of a table of scores, a row for each candidate and a column for each question.

Formulas: Lord and Novick, Statistical Theories of Mental Test Scores (1968), in their usual textbook form, from memory;
the upper and lower 27 % from Kelley (1939), the interval of alpha from Feldt, Woodruff and Salih, Appl. Psychol. Meas.
11, 93 (1987), both from memory. Variances are divided by n throughout, but for the standard error of measurement.
A score that is not known is NaN: totals are then those of the known questions, brought to all marks in proportion.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Scores: TypeAlias = NDArray[np.float64]

SHARE = 0.27
TIES = "candidates with the same total keep the order in which the files name them"


def facility(scores: Scores, marks: Scores) -> Scores:
    """The mean share of the marks that each question earned."""
    return np.asarray(_mean(scores) / marks, dtype=np.float64)


def _mean(scores: Scores) -> Scores:
    """The mean of the known scores in each column, NaN where there is none."""
    known = ~np.isnan(scores)
    count = known.sum(axis=0)
    return np.asarray(np.where(known, scores, 0.0).sum(axis=0) / np.where(count, count, np.nan), dtype=np.float64)


def totals(scores: Scores, marks: Scores) -> Scores:
    """The total of each candidate; where scores are not known, in proportion to the marks of the known ones."""
    known = ~np.isnan(scores)
    if known.all():
        return np.asarray(scores.sum(axis=1))
    most = known @ marks
    earned = np.where(known, scores, 0.0).sum(axis=1) * marks.sum()
    return np.asarray(earned / np.where(most > 0, most, np.nan), dtype=np.float64)


def correlation(first: Scores, second: Scores) -> float:
    """Pearson's r of the pairs that are known, NaN where one of the two does not vary."""
    known = ~(np.isnan(first) | np.isnan(second))
    if known.sum() < 2:
        return float("nan")
    if not known.all():
        first, second = first[known], second[known]
    a, b = first - first.mean(), second - second.mean()
    below = float(np.sqrt((a * a).sum() * (b * b).sum()))
    return float((a * b).sum()) / below if below > 1e-12 else float("nan")


def item_total(scores: Scores, marks: Scores) -> Scores:
    """The correlation of each question with the total, itself included."""
    total = totals(scores, marks)
    return np.array([correlation(column, total) for column in scores.T])


def item_rest(scores: Scores, marks: Scores) -> Scores:
    """The corrected discrimination: the correlation of each question with the total of all others."""
    return np.array([correlation(column, rest(scores, marks, place)) for place, column in enumerate(scores.T)])


def rest(scores: Scores, marks: Scores, place: int) -> Scores:
    """The total of each candidate without one question; 0 where there is no other."""
    if scores.shape[1] == 1:
        return np.zeros(len(scores))
    if np.isnan(scores).any():
        return totals(np.delete(scores, place, axis=1), np.delete(marks, place))
    return np.asarray(scores.sum(axis=1) - scores[:, place])


def by_total(total: Scores) -> NDArray[np.intp]:
    """The places of candidates, shape (candidates,), from the highest total on; ties keep the table's order."""
    return np.argsort(-total, kind="stable")


def upper_lower(scores: Scores, marks: Scores) -> Scores:
    """How much more of its marks each question earned from the upper 27 % than from the lower."""
    size = group_size(len(scores))
    order = by_total(totals(scores, marks))
    return (_mean(scores[order[:size]]) - _mean(scores[order[len(order) - size :]])) / marks


def group_size(candidates: int) -> int:
    """How many candidates the upper group has, and the lower as well."""
    return max(1, round(SHARE * candidates))


def thirds(total: Scores) -> NDArray[np.int8]:
    """The third of each candidate by total, shape (candidates,): 0 lower, 1 middle, 2 upper."""
    order = by_total(total)[::-1]
    places = np.empty(len(total), dtype=np.int64)
    places[order] = np.arange(len(total))
    return (3 * places // max(1, len(total))).astype(np.int8)


@dataclass(frozen=True)
class Reliability:
    """Cronbach's alpha (KR-20 where every question is right or wrong) with its interval and what follows from it.

    ``sem`` is in marks. ``without`` is alpha once each question is left out.
    """

    alpha: float
    lower: float
    upper: float
    sem: float
    without: tuple[float, ...]
    level: float = 0.95


def alpha(scores: Scores) -> float:
    """Cronbach's alpha, NaN for less than two questions or a total that does not vary."""
    return _alpha_of(_covariance(scores))


def _covariance(scores: Scores) -> Scores:
    """The covariances of the questions, each from the candidates of whom both scores are known."""
    known = ~np.isnan(scores)
    centred = np.where(known, scores - _mean(scores), 0.0)
    both = len(scores) if known.all() else known.T.astype(float) @ known.astype(float)
    products = np.einsum(
        "ij,ik->jk", centred, centred
    )  # threads of a matrix product wait for each other on a busy machine
    return np.asarray(products / np.maximum(both, 1.0), dtype=np.float64)


def _alpha_of(covariance: Scores) -> float:
    questions, spread = len(covariance), float(covariance.sum())
    if questions < 2 or spread <= 1e-12:
        return float("nan")
    return questions / (questions - 1) * (1 - float(np.trace(covariance)) / spread)


def interval(found: float, candidates: int, questions: int, level: float = 0.95) -> tuple[float, float]:
    """The interval of alpha by the F distribution."""
    from scipy.stats import f

    if not np.isfinite(found) or candidates < 2 or questions < 2:
        return float("nan"), float("nan")
    freedom = candidates - 1, (candidates - 1) * (questions - 1)
    edge = (1 - level) / 2
    lower, upper = (1 - (1 - found) * float(f.ppf(each, *freedom)) for each in (1 - edge, edge))
    return lower, upper


def reliability(scores: Scores) -> Reliability:
    """Alpha of the table, with its interval, the standard error of measurement (divisor n - 1), alpha without each."""
    candidates, questions = scores.shape
    covariance = _covariance(scores)
    found = _alpha_of(covariance)
    total = float(covariance.sum()) * candidates / max(candidates - 1, 1)
    # where scores are unknown, covariances come from different candidates, and their sum may be below zero
    spread = math.sqrt(total) if candidates > 1 and total > 0 else float("nan")
    sem = spread * float(np.sqrt(max(0.0, 1 - found))) if np.isfinite(found) else float("nan")
    kept = (np.delete(np.arange(questions), place) for place in range(questions))
    without = tuple(_alpha_of(covariance[np.ix_(each, each)]) for each in kept)
    return Reliability(found, *interval(found, candidates, questions), sem, without)
