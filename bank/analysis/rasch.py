"""Rasch difficulties by conditional maximum likelihood.

Method: Andersen, J. R. Stat. Soc. B 34, 42 (1972), from memory. The elementary symmetric functions are added up item by
item; all terms are positive, so nothing cancels, and each step is scaled, so that nothing overflows.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from turnwright.bank.analysis.classical import Scores


@dataclass(frozen=True)
class Rasch:
    """Difficulties in logits, which add up to 0, with standard errors; NaN for a question that all or none solved.

    ``candidates`` is how many of them tell anything: those with neither all right nor all wrong.
    """

    difficulty: tuple[float, ...]
    error: tuple[float, ...]
    candidates: int


def symmetric(easiness: Scores) -> tuple[Scores, Scores]:
    """Symmetric functions of each row of ``easiness``: values scaled to at most 1, and the logarithm of the scale."""
    rows, items = easiness.shape
    values = np.zeros((rows, items + 1))
    values[:, 0] = 1.0
    scale = np.zeros(rows)
    for item in range(items):
        values[:, 1:] += easiness[:, item, None] * values[:, :-1]
        largest = values.max(axis=1)
        values /= largest[:, None]
        scale += np.log(largest)
    return values, scale


def difficulties(right: NDArray[np.bool_]) -> Rasch:
    """The difficulty of each column of a table of right and wrong."""
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
    found = minimize(_loss, start, args=(solved, with_score), jac=True, method="BFGS", options={"gtol": 1e-7})
    difficulty = np.asarray(found.x - found.x.mean())
    covariance = np.linalg.pinv(_information(difficulty, with_score), rcond=1e-9, hermitian=True)
    return difficulty, np.sqrt(np.maximum(0.0, np.diag(covariance)))


def _loss(difficulty: Scores, solved: Scores, with_score: Scores) -> tuple[float, Scores]:
    """The negative logarithm of the conditional likelihood, a candidate, and its slope."""
    values, scale = symmetric(np.exp(-difficulty)[None, :])
    count = with_score.sum()
    loss = solved @ difficulty + with_score @ (np.log(values[0]) + scale[0])
    return float(loss) / count, (solved - with_score @ _chances(difficulty)) / count


def _chances(difficulty: Scores) -> Scores:
    """The chance of a right answer by raw score (rows) and question (columns)."""
    easiness = np.exp(-difficulty)
    items = len(easiness)
    whole, scale = symmetric(easiness[None, :])
    others, their_scale = symmetric(np.where(np.eye(items, dtype=bool), 0.0, easiness))
    chances = np.zeros((items + 1, items))
    share = easiness * np.exp(their_scale - scale[0])
    chances[1:] = others[:, :-1].T * share / whole[0, 1:, None]
    return chances


def _information(difficulty: Scores, with_score: Scores) -> Scores:
    """The information matrix: covariances of right answers given the raw score, added up over candidates."""
    easiness = np.exp(-difficulty)
    items = len(easiness)
    whole, scale = symmetric(easiness[None, :])
    chances = _chances(difficulty)
    matrix = np.diag(with_score @ chances)
    for item in range(items):
        without = np.where(np.eye(items, dtype=bool), 0.0, easiness)
        without[:, item] = 0.0
        values, their_scale = symmetric(without)
        share = easiness[item] * easiness * np.exp(their_scale - scale[0])
        both = np.zeros((items + 1, items))
        both[2:] = values[:, :-2].T * share / whole[0, 2:, None]
        both[:, item] = 0.0
        matrix[item] += with_score @ both
    return matrix - (chances * with_score[:, None]).T @ chances


def none(questions: int) -> Rasch:
    """No difficulties, where nothing can be said."""
    return Rasch((float("nan"),) * questions, (float("nan"),) * questions, 0)
