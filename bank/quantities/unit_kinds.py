"""What a unit measures, in a word, and the SI unit in which that is worked."""

from __future__ import annotations

from functools import cache

from .units import Unit, unit

_KINDS = {
    "m": "length",
    "kg": "mass",
    "s": "time",
    "m/s": "speed",
    "m/s^2": "acceleration",
    "N": "force",
    "N/kg": "field strength",
    "rad": "angle",
    "rad/s": "angular speed",
    "rad/s^2": "angular acceleration",
    "N/m": "spring constant",
    "C": "charge",
    "T": "magnetic flux density",
    "Hz": "frequency",
    "J": "energy",
    "V": "voltage",
    "V/m": "electric field strength",
    "kg*m^2/s": "angular momentum",
}
OWN_TO_A_BODY = ("mass", "charge", "spring constant")  # what a body has, however it moves
# the unit that a dimension is worked in; a unit with another factor is converted first
_WORKING = (
    "m",
    "kg",
    "s",
    "m/s",
    "m/s^2",
    "N",
    "N/kg",
    "rad/s",
    "Hz",
    "N/m",
    "C",
    "T",
    "J",
    "V",
    "V/m",
    "N*m^2/kg^2",
    "1",
)


@cache
def working_unit(printed: Unit) -> Unit:
    """The SI unit that a printed unit is worked in; degrees stay degrees."""
    if printed.symbol in ("deg", "rad", "r", "N*m"):  # a torque is no energy
        return printed
    same = (unit(symbol) for symbol in _WORKING)
    return next(
        (each for each in same if each.dimension == printed.dimension and _rate(each) == _rate(printed)), printed
    )


def kind_of(printed: Unit) -> str | None:
    """What a unit measures, in a word such as ``length``; None where it has no word here."""
    return "angle" if printed.symbol == "deg" else _KINDS.get(working_unit(printed).symbol)


def _rate(each: Unit) -> bool:
    """Whether a unit of 1/time counts turns or radians, which have one dimension."""
    return "Hz" in each.symbol or each.symbol.startswith("1/")
