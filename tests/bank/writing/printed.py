"""A reader of formulas as they stand on a line of a worked solution, by arithmetic of its own: no code of the bank.

``9.8 N/kg × 0.700 m × tan 19.5°`` becomes a quantity of Pint, so that a sum of unlike dimensions is refused as well.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from tests.bank import models

_HIGH = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
# units without an SI symbol are printed as words
_WORDS = {"revolutions per minute": "r/min", "revolutions": "r", "minutes": "min", "hours": "h", "days": "d"}
_UNITS = "|".join(_WORDS) + (
    "|N\u00a0m²/C²|N m²/C²|kV/m|N\u00a0m²/kg²|N m²/kg²|kg\u00a0m²/s|kg m²/s|m/s²|N/kg|N/m|V/m|m/s|km/h|km/s|rad/s²"
    "|rad/s|rad|r/min|r/s|1/min|1/s|kg|mg|km|cm|mm|kN|mN|MN|mT|µm|Hz|min|MeV|keV|eV|GJ|MJ|kJ|MHz|kV|MV|ms|°|d|g|h|t|m|s|N"
    "|T|C|J|V"
)
_DIGITS = r"−?[0-9]+(?:\.[0-9]+)?(?: × 10[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)?"
AMOUNT = re.compile(rf"({_DIGITS})(?:[ \u00a0]?({_UNITS})(?![A-Za-z_]))?")
_POWER = re.compile(r"[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+")
_NAME = re.compile(r"[A-Za-zθωμφαβπΔ]+(?:_[A-Za-z0-9]+)?")
_CALL = re.compile(r"(sin|cos|tan)(⁻¹)?[ (]")


def decimal(text: str) -> Decimal:
    """The exact number of ``−8.70 × 10⁻⁴``."""
    digits, _, power = text.replace("−", "-").partition(" × 10")
    return Decimal(digits).scaleb(int(power.translate(_HIGH) or 0))


def figures(text: str) -> int:
    """How many significant figures a number is printed with."""
    return len(text.partition(" ")[0].replace("−", "").replace(".", "").lstrip("0"))


def split(text: str) -> tuple[str, str]:
    """Number and unit of an amount as printed."""
    match = AMOUNT.fullmatch(text)
    assert match, text
    return match[1], _WORDS.get(match[2], match[2] or "")


def amount(text: str) -> Any:
    """The amount as a quantity of Pint."""
    number, unit = split(text)
    return models.UNITS.Quantity(float(decimal(number)), models.unit(unit))


def value(text: str, symbols: Mapping[str, Any] | None = None) -> Any:
    """The value of a formula as printed, in base units; ``symbols`` are quantities of the letters in it."""
    reader = _Reader(text, symbols or {})
    found = reader.total()
    assert reader.at == len(text), f"not read: {text[reader.at :]}"
    return models.UNITS.Quantity(1.0, "dimensionless") * found


class _Reader:
    """Sums of products of powers, from left to right."""

    def __init__(self, text: str, symbols: Mapping[str, Any]) -> None:
        self.text, self.symbols, self.at = text, symbols, 0

    def takes(self, piece: str) -> bool:
        found = self.text.startswith(piece, self.at)
        self.at += len(piece) * found
        return found

    def total(self) -> Any:
        found = -self.product() if self.takes("−") else self.product()
        while True:
            if self.takes(" + "):
                found = found + self.product()
            elif self.takes(" − "):
                found = found - self.product()
            else:
                return found

    def product(self) -> Any:
        found = self.power()
        while True:
            if self.takes("/"):
                found = found / self.power()
            elif self.takes(" × ") or (self.peeks(r" [(√∛A-Za-zθωμφαβπ0-9]") and self.takes(" ")):
                found = found * self.power()
            else:
                return found

    def peeks(self, pattern: str) -> bool:
        return bool(re.compile(pattern).match(self.text, self.at))

    def power(self) -> Any:
        found = self.factor()
        match = _POWER.match(self.text, self.at)
        if match:
            self.at = match.end()
            found = found ** int(match[0].translate(_HIGH))
        return found

    def factor(self) -> Any:
        for sign, index in (("√", 2), ("∛", 3)):
            if self.takes(sign):
                return self.factor() ** (1 / index)
        call = _CALL.match(self.text, self.at)
        if call:
            self.at = call.end() - (call[0][-1] == "(")
            return _turned(call[1], bool(call[2]), self.factor())
        if self.takes("½"):
            return 0.5
        if self.takes("("):
            inner = self.total()
            assert self.takes(")"), self.text
            return inner
        match = AMOUNT.match(self.text, self.at)
        if match:
            self.at = match.end()
            return amount(match[0]).to_base_units()
        name = _NAME.match(self.text, self.at)
        assert name, f"{self.text} at {self.at}"
        self.at = name.end()
        return math.pi if name[0] == "π" else self.symbols[name[0]]


def _turned(name: str, inverse: bool, argument: Any) -> Any:
    plain = models.UNITS.Quantity(1.0, "dimensionless") * argument
    number = plain.to_base_units().to("radian").magnitude
    found = getattr(math, ("a" if inverse else "") + name)(number)
    return models.UNITS.Quantity(found, "radian" if inverse else "dimensionless")
