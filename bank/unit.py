"""Units as bank files write them (``km/h``, ``N*m^2/kg^2``, ``r/min``): a closed list, converted by Pint.

A bank file is data from a stranger, so its text never reaches Pint's own parser: it is split here into
known symbols and small powers.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from turnwright.bank.errors import UnitError

# symbol in a bank file -> Pint's name; `r` (one turn) is the symbol that the SI Brochure's users write in r/min
SYMBOLS = {
    "m": "meter", "cm": "centimeter", "mm": "millimeter", "km": "kilometer", "Mm": "megameter", "in": "inch",
    "ft": "foot", "mi": "mile",
    "kg": "kilogram", "g": "gram", "mg": "milligram", "t": "metric_ton",
    "s": "second", "ms": "millisecond", "min": "minute", "h": "hour", "d": "day",
    "N": "newton", "kN": "kilonewton", "mN": "millinewton", "J": "joule", "kJ": "kilojoule",
    "mph": "mile/hour", "Hz": "hertz", "rad": "radian", "deg": "degree", "r": "revolution",
    "C": "coulomb", "T": "tesla", "mT": "millitesla", "V": "volt",
}  # fmt: skip
_ANGLES = {"rad", "deg", "r"}
_USUAL = (
    "m", "km", "kg", "g", "s", "h", "m/s", "km/h", "m/s^2", "N", "N/kg", "rad/s", "r/min", "deg", "1", "N*m^2/kg^2",
)  # fmt: skip
_MISTAKEN = {
    "kmh": "km/h",
    "kph": "km/h",
    "rpm": "r/min",
    "ms-1": "m/s",
    "degrees": "deg",
    "degree": "deg",
    "sec": "s",
    "kgs": "kg",
}
_PART = re.compile(r"(?P<symbol>[A-Za-z]+)(?:\^(?P<power>-?[1-9]))?")
_SUPERSCRIPT = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_LONGEST = 24


@dataclass(frozen=True)
class Unit:
    """A unit: ``factor`` turns a number of it into SI, ``dimension`` is a canonical text: ``[length] / [time]``."""

    symbol: str
    factor: float
    dimension: str

    @cached_property
    def printed(self) -> str:
        """The unit as it stands after a number: ``m/s²``, ``°``, and nothing for a pure number."""
        if self.symbol in ("1", "deg"):
            return {"1": "", "deg": "°"}[self.symbol]
        raised = re.sub(r"\^(-?\d)", lambda match: match[1].translate(_SUPERSCRIPT), self.symbol)
        return raised.replace("*", "\u00a0")

    @property
    def counts_angle(self) -> bool:
        """Whether it is made with radians, degrees or turns, which have no dimension and yet are no pure number."""
        return not _ANGLES.isdisjoint(re.findall("[A-Za-z]+", self.symbol))

    def fits(self, other: Unit) -> bool:
        """Whether a quantity in the other unit may be given in this one; 30 r/min is no number of hertz."""
        return self.dimension == other.dimension and self.counts_angle == other.counts_angle


@cache
def registry() -> Any:
    """The one Pint registry; made on first use, because it takes long to load."""
    import pint

    return pint.UnitRegistry(cache_folder=None)


@cache
def unit(symbol: str) -> Unit:
    """The unit written as ``symbol``.

    Raises UnitError where the text is not made of known symbols, ``*``, ``/`` and powers from -9 to 9.
    """
    quantity = registry().Quantity(1.0, registry().dimensionless)
    for sign, part in _parts(symbol):
        quantity = quantity * _known(part, symbol) ** sign
    base = quantity.to_base_units()
    return Unit(symbol, float(base.magnitude), str(base.dimensionality))


def _parts(symbol: str) -> list[tuple[int, str]]:
    if symbol == "1":
        return []
    if len(symbol) > _LONGEST:
        raise UnitError(symbol, f"found a unit of {len(symbol)} characters", f"at most {_LONGEST} are read")
    numerator, *denominators = symbol.split("/")
    parts = [] if numerator == "1" else [(1, part) for part in numerator.split("*")]
    return parts + [(-1, part) for below in denominators for part in below.split("*")]


def _known(part: str, symbol: str) -> Any:
    match = _PART.fullmatch(part)
    name = SYMBOLS.get(match["symbol"]) if match else None
    if match is None or name is None:
        raise UnitError(symbol, f"found the unknown unit '{symbol}'", _advice(part))
    return registry().Quantity(1.0, name) ** int(match["power"] or 1)


def _advice(part: str) -> str:
    known = {**{symbol.lower(): symbol for symbol in SYMBOLS}, **_MISTAKEN}
    near = [known[part.lower()]] if part.lower() in known else difflib.get_close_matches(part, SYMBOLS, n=2)
    if near:
        return f"expected a unit such as {' or '.join(repr(name) for name in near)}"
    return "expected a unit such as 'm/s', 'km/h', 'r/min', 'kg', 'N' or 'deg'"


def examples_of(like: Unit) -> str:
    """One or two known units that fit, for an error message; the unit itself where none of the usual does."""
    found = [symbol for symbol in dict.fromkeys((*_USUAL, *SYMBOLS)) if unit(symbol).fits(like)]
    return " or ".join(repr(symbol) for symbol in found[:2] or [like.symbol])
