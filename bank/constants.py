"""Physical constants by their CODATA names, from SciPy's table of the CODATA recommended values."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from turnwright.bank.unit import unit

EXAMPLE = "Newtonian constant of gravitation"
# the units that SciPy prints, in the spelling of bank files
_UNITS = {
    "m^3 kg^-1 s^-2": "N*m^2/kg^2",
    "C": "C",
    "kg": "kg",
    "m s^-1": "m/s",
    "m s^-2": "m/s^2",
}


@dataclass(frozen=True)
class Constant:
    """A CODATA constant in SI units."""

    name: str
    value: Decimal
    dimension: str


@cache
def known(name: str) -> Constant | None:
    """The constant of that CODATA name, or None."""
    from scipy.constants import physical_constants

    entry = physical_constants.get(name)
    if entry is None or entry[1] not in _UNITS:
        return None
    return Constant(name, Decimal(repr(entry[0])), unit(_UNITS[entry[1]]).dimension)
