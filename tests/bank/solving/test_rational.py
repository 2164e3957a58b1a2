"""Fractions of polynomials come out as SymPy writes them, letter by letter."""

from __future__ import annotations

import random

import pytest
import sympy
from turnwright.bank.solving import rational

LETTERS = (*sympy.symbols("m g v r theta_1 sin:a cos:a"), sympy.pi)


def drawn(dice: random.Random, depth: int = 3) -> sympy.Expr:
    """An expression of sums, products and whole powers of letters and numbers."""
    if depth == 0 or dice.random() < 0.2:
        return dice.choice([*LETTERS, sympy.Rational(dice.randint(1, 9), dice.randint(1, 4)), -LETTERS[0]])
    parts = [drawn(dice, depth - 1) for _ in range(dice.randint(2, 3))]
    made = dice.choice([sympy.Add, sympy.Mul])(*parts)
    return made ** dice.choice([1, 1, 1, 2, -1]) if made != 0 else made


# with 10 and 30, SymPy alone takes seconds
@pytest.mark.parametrize("seed", [*range(10), *range(11, 30), *range(31, 62)])
def test_fractions_are_cancelled_factored_and_multiplied_out_as_by_sympy(seed: int) -> None:
    expression = drawn(random.Random(seed))
    whole = sympy.cancel(sympy.together(expression))
    for ours, theirs in (
        (rational.cancelled(expression), whole),
        (rational.factored(whole), sympy.factor(whole)),
        (rational.expanded(whole), sympy.expand(whole)),
    ):
        assert sympy.srepr(ours) == sympy.srepr(theirs)


@pytest.mark.parametrize("text", ["sqrt(r) + 1", "sin(theta)*r/r**2", "2", "x**(1/3) - x", "(r**2 - 1)**(3/2)"])
def test_what_is_no_fraction_of_polynomials_is_left_to_sympy(text: str) -> None:
    expression = sympy.sympify(text)
    assert rational.fraction_of(expression) is None
    assert rational.cancelled(expression) == sympy.cancel(expression)
    assert rational.factored(expression) == sympy.factor(expression)
    assert rational.expanded(expression) == sympy.expand(expression)


def test_a_fraction_with_nothing_above_the_line_is_zero() -> None:
    m, r = sympy.symbols("m r")
    assert rational.factored(m / (m + r) + r / (m + r) - 1) == 0


def test_factors_without_a_letter_of_the_first_degree_are_found_too() -> None:
    m, g, v = LETTERS[:3]
    for product in ((m**2 - g**2) * (v**2 + m**2) * g**3, 6 * (m**2 + g**2) ** 2, -(m**3) + g**3):
        assert rational.factored(sympy.expand(product)) == sympy.factor(sympy.expand(product))


def test_the_numbers_before_the_powers_of_a_letter() -> None:
    m, g, v = LETTERS[:3]
    found = rational.coefficients(m * v**2 / 2 - g * m + v**2 * g, v)
    assert found == {2: m / 2 + g, 0: -g * m}
    assert rational.coefficients(sympy.sqrt(m) * v - 1, v) == {1: sympy.sqrt(m), 0: -1}
    assert rational.coefficients(m * g, v) == {0: m * g}
