"""Old symbols to new ones, where a quantity is called otherwise and is the same one; and formulas read through that."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
import sympy
from turnwright.bank.evaluation import SAME, agree, evaluate
from turnwright.bank.expression import names_in
from turnwright.bank.problem import Problem

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


def is_multiple(first: sympy.Expr, second: sympy.Expr, *, signed: bool = False) -> bool:
    """Whether two expressions are equal but for a positive number (``signed``: any number but 0): the same edge."""
    names = sorted(names_in(first) | names_in(second))
    draw = np.random.default_rng(1)
    values = {name: draw.uniform(0.3, 1.2, _PLACES) for name in names}
    one, other = (np.broadcast_to(evaluate(each, values), (_PLACES,)) for each in (first, second))
    both = np.isfinite(one) & np.isfinite(other) & (other != 0)
    if not both.any():
        return bool(first == second)
    ratio = one[both] / other[both]
    return bool(np.allclose(ratio, ratio[0], rtol=SAME * 100, atol=0) and (ratio[0] > 0 or (signed and ratio[0] < 0)))
