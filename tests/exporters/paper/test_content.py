"""Formulas in running text hold together on a page, and so does a number with its unit; other words may part."""

from __future__ import annotations

import pytest
from turnwright.bank.item.formula import Number, Operator, Row, Symbol
from turnwright.bank.item.item import Math
from turnwright.exporters.paper.content import paragraph_data, words


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("like the kinetic energy ½ m v².", "like the kinetic energy ½~m~v²."),
        ("a centripetal force m v²/r, so I added it", "a centripetal force m~v²/r, so I added it"),
        ("for which v² = 2 g h.", "for which v²~=~2~g~h."),
        ("{x} is μ F_N.", "{x} is μ~F_N."),
        ("is m g cos θ, like", "is m~g~cos~θ, like"),
        ("Take a factor of 2 and a mass m, a radius r", "Take a factor of 2 and a mass m, a radius r"),
        ("I used v where v² is needed", "I used v where v² is needed"),
        ("is 2π rad in 60 s.", "is 2π rad in 60~s."),
        ("at 9.81 N/kg for 3 bodies", "at 9.81~N/kg for 3 bodies"),
    ],
)
def test_a_formula_in_words_is_not_broken(text: str, held: str) -> None:
    assert words(text) == held.replace("~", "\u00a0")


def test_a_short_formula_is_set_in_one_piece_and_a_long_one_may_break() -> None:
    short = Row((Symbol("F"), Operator("="), Symbol("m"), Symbol("g")))
    long = Row((*short.parts, *(part for _ in range(6) for part in (Operator("+"), Number("1.25"), Symbol("m")))))
    assert [part["whole"] for part in paragraph_data((Math(short), Math(long)))] == [True, False]
