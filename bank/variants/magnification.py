"""How much the key moves when a number moves a little: its elasticity, and the tolerance that rounding then needs.

A key that is a small difference of large terms magnifies what is rounded on the way: at an elasticity of 20, a term
that is 0.05 % off moves the key by 1 %. Two rules keep this from costing a careful candidate the marks:

- a combination whose greatest elasticity is above ``MOST`` is no variant;
- a question that would lose that way, in one of its scenes, two of five combinations or every variant of a value that
  is drawn (the height of an orbit is such a difference for every satellite) keeps them, and each of them gets the
  tolerance that honest rounding needs: the sum over all terms of elasticity times relative rounding. Those are dropped
  that would need more than ``WIDEST`` of the key, since there a wrong answer would count as right.

``MOST`` and ``WIDEST`` are common practice, no source; the sum is the bound of first order on an error that spreads
through a formula, as every text on numerical analysis derives it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import sympy

from ..model.evaluation import Array, Columns, evaluate
from ..model.expression import names_in

MOST = 5.0
WIDEST = 0.05
GUARD_FIGURES = 1  # a careful student keeps one figure more than is asked
_STEP = 1e-7


def elasticities(form: sympy.Expr, values: Mapping[str, Any]) -> Array:
    """|x/y · ∂y/∂x| of the value y of ``form``: a row for each of its symbols x by name, a column a combination.

    Infinite where the form is not real, zero, or at the edge of where it is real.
    """
    names = sorted(names_in(form))
    if not names:
        return np.empty((0, 1))
    here = Columns({name: np.atleast_1d(values[name]) for name in names})
    before = evaluate(form, here)
    moved = np.stack([evaluate(form, here.changed(name, here[name] * (1 + _STEP))) for name in names])
    with np.errstate(all="ignore"):
        result = np.abs(moved / before - 1) / _STEP
    return np.where(np.isfinite(result), result, np.inf)


def greatest(form: sympy.Expr, values: Mapping[str, Any]) -> Array:
    """The greatest elasticity of each combination; 0 for a form without symbols."""
    return np.asarray(elasticities(form, values).max(axis=0, initial=0.0))


def needed_share(form: sympy.Expr, values: Mapping[str, Any], figures: int) -> Array:
    """The share of the key that rounding of each term may move, where an elasticity is above ``MOST``; else 0.

    Each term is rounded to one figure more than the ``figures`` that are asked, by half a unit at most.
    """
    found = elasticities(form, values)
    rounding = 0.5 * 10.0 ** (1 - figures - GUARD_FIGURES)
    return np.where(found.max(axis=0, initial=0.0) > MOST, found.sum(axis=0) * rounding, 0.0)
