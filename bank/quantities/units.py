"""Units as bank files write them (``km/h``, ``N*m^2/kg^2``, ``r/min``): a closed list, converted by Pint.

A bank file is data from a stranger, so its text never reaches Pint's own parser: it is split here into
known symbols and small powers.
"""

from __future__ import annotations

import difflib
import re
import signal
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, cached_property
from typing import Any

from ..errors import OverBudgetError, UnitError
from ..language import spoken_unit
from ..storage.dependencies import version
from ..storage.entries import kept

# symbol in a bank file -> Pint's name; `r` (one turn) is the symbol that the SI Brochure's users write in r/min
SYMBOLS = {
    "m": "meter", "cm": "centimeter", "mm": "millimeter", "km": "kilometer", "Mm": "megameter", "in": "inch",
    "ft": "foot", "mi": "mile",
    "kg": "kilogram", "g": "gram", "mg": "milligram", "t": "metric_ton",
    "s": "second", "ms": "millisecond", "min": "minute", "h": "hour", "d": "day",
    "N": "newton", "kN": "kilonewton", "mN": "millinewton", "J": "joule", "kJ": "kilojoule",
    "mph": "mile/hour", "Hz": "hertz", "rad": "radian", "deg": "degree", "r": "revolution",
    "C": "coulomb", "T": "tesla", "mT": "millitesla", "V": "volt",
    # of particles and of stars; y is the Julian year of 365.25 d, u the atomic mass unit
    "nm": "nanometer", "μm": "micrometer", "au": "astronomical_unit", "ly": "light_year", "μg": "microgram",
    "u": "unified_atomic_mass_unit", "ns": "nanosecond", "μs": "microsecond", "y": "year", "kHz": "kilohertz",
    "MHz": "megahertz", "MN": "meganewton", "μN": "micronewton", "MJ": "megajoule", "GJ": "gigajoule",
    "eV": "electron_volt", "keV": "kiloelectron_volt", "MeV": "megaelectron_volt", "GeV": "gigaelectron_volt",
    "nC": "nanocoulomb", "μC": "microcoulomb", "μT": "microtesla", "kV": "kilovolt", "MV": "megavolt",
}  # fmt: skip
# what people type instead: a whole unit, and a factor of one; read as the symbol, which is what is printed
TYPED_UNITS = {"rpm": "r/min", "rps": "r/s", "kph": "km/h", "kmh": "km/h", "kmph": "km/h"}
_TYPED_FACTORS = {
    "rev": "r", "revs": "r", "revolution": "r", "revolutions": "r", "turn": "r", "turns": "r", "°": "deg",
    "degree": "deg", "degrees": "deg", "radians": "rad", "sec": "s", "secs": "s", "mins": "min", "hr": "h", "hrs": "h",
    "yr": "y", "yrs": "y", "AU": "au", "Da": "u",
}  # fmt: skip
_TYPED_FACTORS |= {f"u{symbol[1:]}": symbol for symbol in SYMBOLS if symbol.startswith("μ")}
_LETTERS = "A-Za-zμ"
_ANGLES = {"rad", "deg", "r"}
_REVOLUTIONS = re.compile(r"r/(?P<time>s|min|h|d|y)")
_WRITTEN_OUT = {"r", "r/min", "r/s", "min", "h", "d", "y"}  # as examination papers do (common practice, no source)
_USUAL = (
    "m", "km", "kg", "g", "s", "h", "m/s", "km/h", "m/s^2", "N", "N/kg", "rad/s", "r/min", "deg", "1", "N*m^2/kg^2",
)  # fmt: skip
_MISTAKEN = {"ms-1": "m/s", "gramme": "g"}  # for what has no name in words
_WRITTEN = re.compile(rf"[{_LETTERS}]+|°")
_PART = re.compile(rf"(?P<symbol>[{_LETTERS}]+)(?:\^(?P<power>-?[1-9]))?")
_RAISED = re.compile("[⁻²³⁴¹]+")
_SUPERSCRIPT = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_PLAIN = str.maketrans("⁻²³⁴¹", "-2341")
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

    @cached_property
    def in_text(self) -> str:
        """The unit as it stands in a sentence: one that has no SI symbol is written out, as revolutions per minute."""
        return spoken_unit(self.printed) if self.symbol in _WRITTEN_OUT else self.printed

    @property
    def counts_angle(self) -> bool:
        """Whether it is made with radians, degrees or turns, which have no dimension and yet are no pure number."""
        return not _ANGLES.isdisjoint(_WRITTEN.findall(self.symbol))

    @property
    def seconds_per_revolution(self) -> int | None:
        """The time of one revolution at one of this unit, 60 for r/min; None for what doesn't count revolutions."""
        counted = _REVOLUTIONS.fullmatch(self.symbol)
        return round(unit(counted["time"]).factor) if counted else None

    def fits(self, other: Unit) -> bool:
        """Whether a quantity in the other unit may be given in this one; 30 r/min is no number of hertz."""
        return self.dimension == other.dimension and self.counts_angle == other.counts_angle


@cache
def registry() -> Any:
    """The one Pint registry; made on first use, because it takes long to load."""
    import pint

    try:
        with _bells_wait():
            return pint.UnitRegistry(cache_folder=None)
    except Exception as wrapped:  # a bell that another thread has heard: Pint makes an error of its own of what ends it
        ended = _cause_of(wrapped)
        if ended is None:
            raise
        raise ended from None


@contextmanager
def _bells_wait() -> Iterator[None]:
    """A timer that rings in the block is heard after it: Pint takes an error for a fault of its definitions."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGPROF})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _cause_of(error: BaseException | None) -> OverBudgetError | None:
    """The used-up budget behind an error, if that is what it comes from."""
    while error is not None and not isinstance(error, OverBudgetError):
        error = error.__cause__ or error.__context__
    return error


@cache
def unit(symbol: str) -> Unit:
    """The unit written as ``symbol``, or as people type it: ``rpm``, ``rev/min``, ``°``, ``m/s²``, ``us``.

    Raises UnitError where the text is not made of known symbols, ``*``, ``/`` and powers from -9 to 9.
    """
    usual = as_symbols(symbol)
    key = [usual, SYMBOLS, version("pint")]
    factor, dimension = kept("unit", key, lambda: _by_pint(usual, symbol), lambda data: (float(data[0]), str(data[1])))
    return Unit(usual, factor, dimension)


def product(*factors: tuple[Unit, int]) -> Unit:
    """The product of units, each to its power, in lowest terms: m/s over s is ``m/s^2``, and m/s² over (rad/s)² is m.

    Raises UnitError where a power is beyond those that units may have.
    """
    powers: Counter[str] = Counter()
    for each, power in factors:
        for sign, part in _parts(each.symbol):
            known = _PART.fullmatch(part)
            assert known
            powers[known["symbol"]] += sign * power * int(known["power"] or 1)
    if len(factors) > 1:
        del powers["rad"]  # a pure number, which only an angle by itself keeps as a unit
    above = [_raised(name, power) for name, power in powers.items() if power > 0]
    below = [(name, power) for name, power in powers.items() if power < 0]
    if above and len(below) == 1:
        ((name, power),) = below
        return unit(f"{'*'.join(above)}/{_raised(name, -power)}")
    return unit("*".join([*above, *(_raised(name, power) for name, power in below)]) or "1")


def _raised(symbol: str, power: int) -> str:
    return symbol if power == 1 else f"{symbol}^{power}"


@cache
def symbol_in_text(text: str) -> str:
    """The symbol of a unit that stands so in a sentence: ``deg`` for °, ``r/min`` for revolutions per minute."""
    written_out = (each for each in sorted(_WRITTEN_OUT) if spoken_unit(each) == text)
    return next(written_out, as_symbols(text.replace("\u00a0", "*")))


@cache
def typed_as(text: str) -> tuple[str, ...]:
    """How else people type a unit that stands so in a sentence: ``rpm``, ``degrees``, ``m/s^2`` and ``m/s2``."""
    symbol = symbol_in_text(text)
    others = [typed for typed, known in {**TYPED_UNITS, **_TYPED_FACTORS}.items() if known == symbol]
    roofed = symbol.replace("*", " ")
    known = [roofed, roofed.replace("^", ""), *(each for each in others if each.isascii())]
    return tuple(dict.fromkeys(each for each in known if each != text.replace("\u00a0", " ")))


def as_symbols(text: str) -> str:
    """The text with the symbols of this module in place of other spellings; what is none stays as it is."""
    if text in SYMBOLS or len(text) > _LONGEST:
        return text
    signs = text.replace("µ", "μ").replace("·", "*").replace("⋅", "*")  # the micro sign is no Greek letter
    raised = _RAISED.sub(lambda found: f"^{found[0].translate(_PLAIN)}", signs)
    whole = TYPED_UNITS.get(raised.lower(), raised)
    return _WRITTEN.sub(lambda found: _TYPED_FACTORS.get(found[0], found[0]), whole)


def _by_pint(symbol: str, typed: str) -> list[Any]:
    """Factor and dimension, as plain data; ``typed`` is told where it is no unit."""
    quantity = registry().Quantity(1.0, registry().dimensionless)
    for sign, part in _parts(symbol):
        quantity = quantity * _known(part, typed) ** sign
    base = quantity.to_base_units()
    return [float(base.magnitude), str(base.dimensionality)]


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
        raise UnitError(symbol, f"found the unknown unit '{symbol}'", _meant(symbol) or _advice(part))
    return registry().Quantity(1.0, name) ** int(match["power"] or 1)


def _meant(symbol: str) -> str:
    """The unit that is written with words or signs: ``m/s^2`` for ``metres per second squared`` or ``m/s²``."""
    words = symbol.replace(" per ", "/").replace(" squared", "^2").replace(" cubed", "^3")
    usual = as_symbols(re.sub(" +", "*", words.strip()))
    text = _WRITTEN.sub(lambda word: word[0] if word[0] in SYMBOLS else _by_word().get(word[0].lower(), word[0]), usual)
    text = _MISTAKEN.get(symbol.lower(), text)
    found = [_PART.fullmatch(each) for each in re.split("[*/]", text)]
    known = all(each and each["symbol"] in SYMBOLS for each in found)
    return f"write '{text}'" if known and text != symbol else ""


@cache
def _by_word() -> dict[str, str]:
    """Symbols by their names in words, in singular and plural, and by other spellings."""
    found: dict[str, str] = {}
    for symbol in SYMBOLS:
        many = spoken_unit("°" if symbol == "deg" else symbol)
        one = {"inches": "inch", "feet": "foot"}.get(many, many.removesuffix("s"))
        found |= {word: symbol for each in (many, one) for word in (each, each.replace("metre", "meter"))}
    return {**found, **_MISTAKEN, **{f"{word}s": symbol for word, symbol in _MISTAKEN.items()}}


def _advice(part: str) -> str:
    known = {symbol.lower(): symbol for symbol in SYMBOLS}
    near = [known[part.lower()]] if part.lower() in known else difflib.get_close_matches(part, SYMBOLS, n=2)
    if near:
        return f"expected a unit such as {' or '.join(repr(name) for name in near)}"
    return "expected a unit such as 'm/s', 'km/h', 'r/min', 'kg', 'N' or 'deg'"


def examples_of(like: Unit) -> str:
    """One or two known units that fit, for an error message; the unit itself where none of the usual does."""
    found = [symbol for symbol in dict.fromkeys((*_USUAL, *SYMBOLS)) if unit(symbol).fits(like)]
    return " or ".join(repr(symbol) for symbol in found[:2] or [like.symbol])


# --- physical constants by their codata names, from scipy's table of the codata recommended values ---


EXAMPLE = "Newtonian constant of gravitation"
# the units that SciPy prints, in the spelling of bank files
_UNITS = {
    "m^3 kg^-1 s^-2": "N*m^2/kg^2",
    "C": "C",
    "kg": "kg",
    "m s^-1": "m/s",
    "m s^-2": "m/s^2",
}


# the letters that stand for some of them where a value is typed
LETTERS = {
    "G": "Newtonian constant of gravitation", "c": "speed of light in vacuum", "e": "elementary charge",
    "m_e": "electron mass", "m_p": "proton mass", "m_n": "neutron mass", "m_alpha": "alpha particle mass",
    "m_u": "atomic mass constant",
}  # fmt: skip


@dataclass(frozen=True)
class PhysicalConstant:
    """A CODATA constant in SI units."""

    name: str
    value: Decimal
    unit: Unit


@cache
def known(name: str) -> PhysicalConstant | None:
    """The constant of that CODATA name, or None."""
    found = kept("constant", [name, _UNITS, version("scipy")], lambda: _by_scipy(name), _value_and_unit)
    return PhysicalConstant(name, found[0], unit(found[1])) if found else None


def _by_scipy(name: str) -> list[str] | None:
    """Value and unit, as plain data; None for what is no constant."""
    from scipy.constants import physical_constants

    entry = physical_constants.get(name)
    return None if entry is None or entry[1] not in _UNITS else [repr(float(entry[0])), _UNITS[entry[1]]]


def _value_and_unit(data: Any) -> tuple[Decimal, str] | None:
    return None if data is None else (Decimal(data[0]), str(data[1]))
