"""Old symbols to new ones, where a quantity is called otherwise and is the same one; and formulas read through that."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
import sympy

from ..model.evaluation import SAME, agree, evaluate
from ..model.expression import names_in
from ..model.problem import Problem

_PLACES = 48


def letters(old: Problem, new: Problem) -> Mapping[str, str]:
    """Old to new for each quantity that has another symbol, and the same meaning in words and in dimension."""
    return dict(_matches(old, new))


def _matches(old: Problem, new: Problem) -> Iterator[tuple[str, str]]:
    free = [name for name in new.quantities if name not in old.quantities]
    for name in [each for each in old.quantities if each not in new.quantities]:
        spec = old.quantities[name]
        alike = [each for each in free if _is_same(spec, new.quantities[each])]
        if alike:
            free.remove(alike[0])
            yield name, alike[0]


def _is_same(old: Any, new: Any) -> bool:
    return bool(old.unit.fits(new.unit) and old.means == new.means)


def relettered(expression: sympy.Expr, names: Mapping[str, str]) -> sympy.Expr:
    """An old expression in new letters."""
    return expression.xreplace({sympy.Symbol(old): sympy.Symbol(new) for old, new in names.items()})


def agree_somewhere(first: sympy.Expr, second: sympy.Expr, *samples: Mapping[str, Any]) -> bool:
    """Whether two expressions are equal in every sample set that has all their symbols, and real in one of them."""
    names = names_in(first) | names_in(second)
    found = [agree(first, second, each) for each in samples if names <= each.keys()]
    return True in found and False not in found


def ratio(first: sympy.Expr, second: sympy.Expr) -> float | None:
    """The number by which two expressions differ, whatever their symbols stand for; None where there is none."""
    draw = np.random.default_rng(1)
    values = {name: draw.uniform(0.3, 1.2, _PLACES) for name in sorted(names_in(first) | names_in(second))}
    one, other = (np.broadcast_to(evaluate(each, values), (_PLACES,)) for each in (first, second))
    both = np.isfinite(one) & np.isfinite(other) & (other != 0)
    if not both.any():
        return 1.0 if first == second else None
    found = one[both] / other[both]
    return float(found[0]) if np.allclose(found, found[0], rtol=SAME * 100, atol=0) else None


def is_same_edge(first: sympy.Expr, second: sympy.Expr) -> bool:
    """Whether two expressions are negative for the same values: equal but for a positive number."""
    found = ratio(first, second)
    return found is not None and found > 0


def is_same_zero(first: sympy.Expr, second: sympy.Expr) -> bool:
    """Whether two expressions are zero for the same values: equal but for a number."""
    return bool(ratio(first, second))


def is_same_value(first: sympy.Expr, second: sympy.Expr) -> bool:
    """Whether two expressions are equal."""
    found = ratio(first, second)
    return found is not None and abs(found - 1) < SAME * 100
