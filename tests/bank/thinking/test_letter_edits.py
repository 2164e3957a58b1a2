"""Mistakes in letters, each against an expression written by hand; each of them is used in a shipped question."""

from __future__ import annotations

import pytest
import sympy
from sympy import Expr, acos, asin, atan, cos, pi, sin, sqrt, tan
from turnwright.bank.model.edit import WrittenEdit, edit_of
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.thinking.letter_edits import letter_changes, role_of

from tests.bank import models

m, v, r, g, T, L, omega, theta, mu, h = sympy.symbols("m v r g T L omega theta mu h")


def changed(form: Expr, written: str, problem: str = "conical-pendulum.period") -> list[Expr | None]:
    """What an edit makes of an expression, once for each letter that it is about."""
    mistake = Mistake("own", "I thought so.", edit_of("written", written), "Look again.", "common practice, no source")
    found = letter_changes(models.shipped(problem).problem, form, [mistake])
    return [each.made(form) for each in found]


@pytest.mark.parametrize(
    ("form", "written", "expected"),
    [
        (v**2 / (g * r), "length-other-side", v**2 * r / g),
        (m * g / cos(theta), "gravity-other-side", m / (g * cos(theta))),
        (m * v**2 / r, "mass-left-out", v**2 / r),
        (omega * r, "turning-squared", omega**2 * r),
        (m * v**2 / r, "speed-not-squared", m * v / r),
        (m * omega**2 * r, "turning-not-squared", m * omega * r),
        (4 * pi**2 * r / T**2, "pi-left-out", r / T**2),
        (4 * pi**2 * r / T**2, "pi-half", pi**2 * r / T**2),
        (4 * pi**2 * r / T**2, "pi-not-squared", 2 * pi * r / T**2),
        (g * T**2 / (4 * pi**2), "pi-not-squared", g * T**2 / (2 * pi)),
        (6 * m * g, "factor-left-out", m * g),
        (5 * r / 2, "factor-upside-down", 2 * r / 5),
        (6 * m * g, "factor-one-more", 7 * m * g),
        (m * v**2 / r - 5 * m * g, "factor-one-less", m * v**2 / r - 4 * m * g),
        (m * v**2 / r - m * g, "sign-first", m * v**2 / r + m * g),
        (g * tan(theta), "angle-exchanged", g / tan(theta)),
        (L * sin(theta), "angle-exchanged", L * cos(theta)),
        (m * g / cos(theta), "angle-other-side", m * g * cos(theta)),
        (m * g * cos(theta), "angle-left-out", m * g),
        (m * g / cos(theta), "angle-sine", m * g / sin(theta)),
        (g * tan(theta), "angle-cosine", g * cos(theta)),
        (L * sin(theta), "angle-tangent", L * tan(theta)),
        (atan(v**2 / (g * r)), "inverse-sine", asin(v**2 / (g * r))),
        (atan(v**2 / (g * r)), "inverse-cosine", acos(v**2 / (g * r))),
        (acos(g / r), "inverse-tangent", atan(g / r)),
        (2 * pi * sqrt(L / g), "root-left-out", 2 * pi * L / g),
        (v / r, "root-put", sqrt(v / r)),
        (v**2 / r, "root-put", None),  # nobody leaves v² under a root
        (m * v / r, "fraction-whole", r / (m * v)),
        (atan(v**2 / (g * r)), "fraction-whole", atan(g * r / v**2)),
    ],
)
def test_each_edit_makes_of_an_expression_what_is_made_of_it_by_hand(
    form: Expr, written: str, expected: Expr | None
) -> None:
    made = changed(form, written)[0]
    assert made is None if expected is None else made is not None and sympy.simplify(made - expected) == 0


def test_the_two_sums_of_a_fraction_are_changed_one_by_one() -> None:
    form = (mu + tan(theta)) / (1 - mu * tan(theta))
    numbers = {mu: 0.3, theta: 0.4}
    ways = {
        round(float(made.subs(numbers)), 9) for how in ("first", "last") if (made := changed(form, f"sign-{how}")[0])
    }
    one = (0.3 - sympy.tan(0.4)) / (1 - 0.3 * sympy.tan(0.4))
    other = (0.3 + sympy.tan(0.4)) / (1 + 0.3 * sympy.tan(0.4))
    assert ways in ({round(float(one), 9), round(float(other), 9)}, {round(float(-one), 9), round(float(other), 9)})


def test_two_letters_of_one_kind_change_places() -> None:
    M = sympy.Symbol("M")
    assert changed(M * g / m, "mass-exchanged", "cord-through-a-hole.speed") == [m * g / M]
    assert changed(m * g, "mass-exchanged", "cord-through-a-hole.speed") == []


def test_a_letter_that_stands_in_both_terms_is_changed_in_both() -> None:
    assert changed(m * g + m * v**2 / r, "mass-left-out") == [g + v**2 / r]


def test_a_root_stays_one_root() -> None:
    form = sympy.Mul(2, pi, sympy.Pow(L * cos(theta) / g, sympy.Rational(1, 2), evaluate=False), evaluate=False)
    (made,) = changed(form, "gravity-other-side")
    assert made is not None
    assert [each.base for each in made.args if each.is_Pow and each.exp == sympy.Rational(1, 2)] == [L * g * cos(theta)]


def test_letters_are_known_by_their_dimension() -> None:
    problem = models.shipped("conical-pendulum.period").problem
    roles = {name: role_of(problem, name) for name in ("g", "m", "L", "T", "omega", "theta", "nobody")}
    expected = ("gravity", "mass", "length", "time", "turning", "angle", "other")
    assert tuple(roles.values()) == expected


def test_every_mistake_in_letters_changes_some_shipped_key() -> None:
    written = [each for each in shipped_mistakes() if isinstance(each.edit, WrittenEdit)]
    live = {
        each.mistake.id
        for name in models.shipped_ids()
        for key in [models.shipped(name).solution.closed_form]
        for each in letter_changes(models.shipped(name).problem, key, written)
        if each.made(key) is not None
    }
    assert live == {each.id for each in written}
