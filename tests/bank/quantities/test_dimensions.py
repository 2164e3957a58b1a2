"""The closed form of every shipped question carried out with Pint quantities: unit and number come out right.

The arithmetic is Pint's own, on the units that a stem prints; neither the bank's units nor its dimensions take part.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Mapping
from decimal import Decimal
from functools import reduce
from typing import Any

import pint
import pytest
import sympy
from turnwright.bank.variants.variant import VariantPool

from tests.bank import models
from tests.bank.models import UNITS

FUNCTIONS = {sympy.sin: math.sin, sympy.cos: math.cos, sympy.tan: math.tan}
INVERSES = {sympy.asin: math.asin, sympy.acos: math.acos, sympy.atan: math.atan}


def carried_out(formula: sympy.Expr, values: Mapping[str, Any]) -> Any:
    """The formula by Pint's arithmetic; pint.DimensionalityError where a sum or a function does not fit."""
    if formula.is_Symbol:
        return values[formula.name]
    if formula.is_number:
        return UNITS.Quantity(float(formula), "dimensionless")
    if formula.is_Add or formula.is_Mul:
        parts = [carried_out(each, values) for each in formula.args]
        return reduce(operator.add if formula.is_Add else operator.mul, parts)
    inner = carried_out(formula.args[0], values)
    if formula.is_Pow:
        return inner.to_base_units() ** float(formula.exp)
    if formula.func in FUNCTIONS:
        return UNITS.Quantity(FUNCTIONS[formula.func](inner.to("radian").magnitude), "dimensionless")
    return UNITS.Quantity(INVERSES[formula.func](inner.to("dimensionless").magnitude), "radian")


@models.of_each(models.shipped_ids)
def test_a_closed_form_has_the_dimension_and_the_number_of_the_asked_quantity(name: str) -> None:
    found = models.shipped(name)
    pool = VariantPool(found, Decimal("9.8"))
    for variant in pool.draw(len(pool.pools), seed=1):
        values = {
            symbol: UNITS.Quantity(models.number(each.number), models.unit(each.unit.symbol))
            for symbol, each in variant.given.items()
        }
        result = carried_out(found.solution.closed_form, values)
        expected = UNITS.Quantity(float(variant.answer.value), models.unit(variant.answer.unit.symbol))
        assert result.check(expected.dimensionality)
        assert result.to(expected.units).magnitude == pytest.approx(expected.magnitude, rel=1e-9)


@pytest.mark.parametrize("wrong", ["v**2/g + m", "sqrt(g*r) + r", "sin(r)", "v**2*r/g + r"])
def test_pint_refuses_a_formula_whose_parts_do_not_fit(wrong: str) -> None:
    values = {name: UNITS.Quantity(2.0, unit) for name, unit in (("v", "m/s"), ("g", "N/kg"), ("r", "m"), ("m", "kg"))}
    with pytest.raises(pint.DimensionalityError):
        carried_out(sympy.sympify(wrong), values)
