"""Units read aloud."""

from __future__ import annotations

import pytest
from turnwright.bank.item.formula import Number, Row, Symbol, UnitNode, equals, spoken
from turnwright.bank.language import spoken_unit
from turnwright.bank.quantities.units import SYMBOLS, unit


@pytest.mark.parametrize(
    ("symbol", "words"),
    [
        ("m/s^2", "metres per second squared"),
        ("km/h", "kilometres per hour"),
        ("N/kg", "newtons per kilogram"),
        ("N*m^2/kg^2", "newton metres squared per kilogram squared"),
        ("r/min", "revolutions per minute"),
        ("deg", "degrees"),
        ("mT", "millitesla"),
        ("Mm", "megametres"),
        ("ft", "feet"),
        ("keV", "kiloelectronvolts"),
        ("μs", "microseconds"),
        ("ly", "light years"),
    ],
)
def test_a_unit_is_read_as_a_teacher_reads_it(symbol: str, words: str) -> None:
    assert spoken_unit(unit(symbol).printed) == words


def test_every_unit_of_the_bank_has_words_and_what_is_none_stays() -> None:
    assert all(spoken_unit(unit(symbol).printed).replace(" ", "").isalpha() for symbol in SYMBOLS)
    assert spoken_unit("furlong") == "furlong"
    assert spoken_unit("") == ""


def test_a_formula_is_read_with_its_units() -> None:
    key = equals(Symbol("v", "top"), Row((Number("2.97"), UnitNode("m/s"))))
    assert spoken(key) == "v top equals 2.97 metres per second"
