"""Rasch difficulties by conditional maximum likelihood.

Method: Andersen, J. R. Stat. Soc. B 34, 42 (1972), from memory. The elementary symmetric functions are added up item by
item; all terms are positive, so nothing cancels, and each step is scaled, so that nothing overflows.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .classical import Scores

STEP = 1e-4
LIMITS = {"gtol": 1e-9, "ftol": 1e-15, "maxiter": 1000, "maxfun": 10_000}


@dataclass(frozen=True)
class Rasch:
    """Difficulties in logits, which add up to 0, with standard errors; NaN for a question that all or none solved.

    ``candidates`` is how many of them tell anything: those with neither all right nor all wrong.
    """

    difficulty: tuple[float, ...]
    error: tuple[float, ...]
    candidates: int


def difficulties(right: NDArray[np.bool_]) -> Rasch:
    """The difficulty of each column of a table of right and wrong, shape (candidates, questions)."""
    used, kept = _telling(right)
    questions = right.shape[1]
    wide, errors = np.full(questions, np.nan), np.full(questions, np.nan)
    if kept.sum() >= 2 and len(used):
        wide[kept], errors[kept] = _fit(used)
    return Rasch(tuple(map(float, wide)), tuple(map(float, errors)), len(used))


def _telling(right: NDArray[np.bool_]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """The part of the table that says something: no column and no row in it is all right or all wrong."""
    rows, columns = np.ones(len(right), bool), np.ones(right.shape[1], bool)
    while True:
        part = right[np.ix_(rows, columns)]
        if not part.size:
            return part, columns
        mixed_rows = (part.any(axis=1)) & ~part.all(axis=1)
        mixed_columns = (part.any(axis=0)) & ~part.all(axis=0)
        if mixed_rows.all() and mixed_columns.all():
            return part, columns
        rows[np.flatnonzero(rows)[~mixed_rows]] = False
        columns[np.flatnonzero(columns)[~mixed_columns]] = False


def _fit(right: NDArray[np.bool_]) -> tuple[Scores, Scores]:
    from scipy.optimize import minimize

    solved = right.sum(axis=0).astype(float)
    with_score = np.bincount(right.sum(axis=1), minlength=right.shape[1] + 1).astype(float)
    start = np.log((len(right) - solved) / solved)
    start -= start.mean()
    found = minimize(_loss, start, args=(solved, with_score), jac=True, method="L-BFGS-B", options=LIMITS)
    difficulty = np.asarray(found.x - found.x.mean())
    covariance = np.linalg.pinv(_information(difficulty, solved, with_score), rcond=1e-6, hermitian=True)
    return difficulty, np.sqrt(np.maximum(0.0, np.diag(covariance)))


def _loss(difficulty: Scores, solved: Scores, with_score: Scores) -> tuple[float, Scores]:
    """The negative logarithm of the conditional likelihood, a candidate, and its slope.

    The symmetric functions grow by one question a step; the slope goes back through the same steps.
    """
    easiness = np.exp(-difficulty)
    values, scales = _symmetric(easiness)
    count = with_score.sum()
    met = with_score > 0
    loss = solved @ difficulty + with_score[met] @ np.log(values[-1][met]) + count * np.log(scales).sum()
    back = np.zeros_like(with_score)
    back[met] = with_score[met] / values[-1][met]
    slope = solved.copy()
    for item in range(len(easiness) - 1, -1, -1):
        back = back / scales[item]
        slope[item] -= easiness[item] * (back[1:] @ values[item][:-1])
        back[:-1] += easiness[item] * back[1:]
    return float(loss) / count, slope / count


def _symmetric(easiness: Scores) -> tuple[list[Scores], Scores]:
    """The symmetric functions of the first none, one, two, ... questions, each divided by all scales so far."""
    values = [np.eye(1, len(easiness) + 1)[0]]
    scales = np.ones(len(easiness))
    for item, each in enumerate(easiness):
        grown = values[-1].copy()
        grown[1:] += each * values[-1][:-1]
        scales[item] = grown.max()
        values.append(grown / scales[item])
    return values, scales


def _information(difficulty: Scores, solved: Scores, with_score: Scores) -> Scores:
    """The information matrix: how the slope changes with each difficulty, by central differences."""
    steps = STEP * np.eye(len(difficulty))
    rows = [
        _loss(difficulty + step, solved, with_score)[1] - _loss(difficulty - step, solved, with_score)[1]
        for step in steps
    ]
    matrix = np.array(rows) * with_score.sum() / (2 * STEP)
    return np.asarray((matrix + matrix.T) / 2)


def none(questions: int) -> Rasch:
    """No difficulties, where nothing can be said."""
    return Rasch((float("nan"),) * questions, (float("nan"),) * questions, 0)
