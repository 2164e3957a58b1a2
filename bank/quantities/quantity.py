"""A value with its unit and its significant figures: SI inside, printed units outside."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from functools import cached_property, lru_cache

from .units import Unit

PLAIN = (Decimal("0.001"), Decimal(100_000))  # sizes that are easy to read without a power of ten
TRUSTED_FIGURES = 13  # what is left of a double's 15 to 17 after the arithmetic of a closed form
_SUPERSCRIPT = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_LEVEL = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺−", "0123456789-+-")
# as people type a number: 12 500 with any blank between thousands, 6.4e6, 1.6 x10^-19, 1.6 × 10⁻¹⁹
_TYPED = re.compile(
    r"(?P<digits>[-+−]?(?:[0-9]{1,3}(?:[ \u00a0\u2009\u202f][0-9]{3})+(?![0-9])(?:\.[0-9]+)?|[0-9]+\.?[0-9]*|\.[0-9]+))"
    r"(?:[eE](?P<e>[-+−]?[0-9]{1,4})|\s*[x×·*]\s*10(?:(?:\^|\*\*|(?=[-+−]))(?P<typed>[-+−]?[0-9]{1,4})"
    r"|(?P<raised>[⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]{1,4})))?"
)


@dataclass(frozen=True)
class Quantity:
    """A number in ``unit``, known to ``figures`` significant figures."""

    value: Decimal
    unit: Unit
    figures: int

    @cached_property  # one of a grid comes again in many variants
    def si(self) -> float:
        """The value in SI units, as printed: nothing beyond the printed figures."""
        return float(round_figures(self.value, self.figures)) * self.unit.factor

    @cached_property
    def number(self) -> str:
        """The number as printed; what is zero has no figures, as the speed of a body at rest."""
        return print_figures(self.value, self.figures) if self.value else "0"

    @property
    def text(self) -> str:
        """Number and unit as printed: ``0.850 m``, ``25°``, ``5.97 × 10²⁴ kg``, ``45.0 revolutions per minute``."""
        printed = self.unit.in_text
        if not printed:
            return self.number
        return f"{self.number}{printed}" if printed == "°" else f"{self.number} {printed}"


def round_figures(value: Decimal, figures: int) -> Decimal:
    """``value`` at ``figures`` significant figures, ties to the even digit (ISO 80000-1 Annex B, rule A).

    Zero has no sign and no figures: it stays as it is.
    """
    if not value:
        return abs(value)
    return _to_even(figures).plus(value)


@lru_cache(maxsize=64)
def _to_even(figures: int) -> Context:
    return Context(prec=figures, rounding=ROUND_HALF_EVEN)


def typed_number(text: str) -> tuple[Decimal, str] | None:
    """The number that a text begins with, as people type it, and the text behind it; None where it begins with none.

    >>> typed_number("1.6 x10^-19 C")
    (Decimal('1.6E-19'), ' C')
    """
    found = _TYPED.match(text)
    if not found:
        return None
    digits = re.sub(r"\s", "", found["digits"]).translate(_LEVEL)
    exponent = (found["e"] or found["typed"] or found["raised"] or "0").translate(_LEVEL)
    return Decimal(f"{digits}e{exponent}"), text[found.end() :]


def from_float(value: float) -> Decimal:
    """The decimal that a computed number stands for, so that no binary noise decides how a half is rounded.

    >>> from_float(3 * 0.1)  # 0.30000000000000004 in binary
    Decimal('0.3')
    """
    return Decimal(f"{float(value):.{TRUSTED_FIGURES}g}")


def half_unit(value: Decimal, figures: int) -> Decimal:
    """Half a unit in the last of ``figures`` significant figures of ``value``: what rounding may move it."""
    exponent = value.adjusted() - figures + 1 if value else 1 - figures
    return Decimal(5).scaleb(exponent - 1)


def needs_power(value: Decimal) -> bool:
    """Whether a number is too small or too large to be read without a power of ten."""
    return bool(value) and not PLAIN[0] <= abs(value) < PLAIN[1]


def has_power(value: Decimal, figures: int) -> bool:
    """Whether a number is printed with a power of ten at ``figures`` significant figures."""
    return "×" in print_figures(value, figures)


def print_exact(value: Decimal, figures: int = 1) -> str:
    """``value`` with every digit that it has, and with zeros up to ``figures`` significant figures: ``7.00``.

    >>> print_exact(Decimal("0.000000159"), 4)
    '1.590 × 10⁻⁷'
    """
    if not needs_power(value):
        return _plain(value, figures)
    exponent = value.adjusted()
    return f"{_plain(value.scaleb(-exponent), figures)} × 10{str(exponent).translate(_SUPERSCRIPT)}"


def print_range(low: Decimal, high: Decimal) -> str:
    """From which to which number, all digits kept, both ends with one power of ten: ``3.01 to 3.13``."""
    largest = max(low, high, key=abs)
    if not needs_power(largest):
        return f"{_signed(low)} to {_signed(high)}"
    exponent = largest.adjusted()
    power = f" × 10{str(exponent).translate(_SUPERSCRIPT)}"
    return f"{_signed(low.scaleb(-exponent))}{power} to {_signed(high.scaleb(-exponent))}{power}"


def _plain(value: Decimal, figures: int) -> str:
    digits = value.normalize()
    exponent = digits.as_tuple().exponent
    places = max(figures - 1 - (digits.adjusted() if digits else 0), -int(exponent), 0)
    return f"{digits:.{places}f}".replace("-", "−")


def _signed(value: Decimal) -> str:
    return f"{value:f}".replace("-", "−")


def print_figures(value: Decimal, figures: int) -> str:
    """``value`` at ``figures`` significant figures as text.

    A power of ten is written where zeros would hide how many figures are meant (2.50 × 10³), or where plain
    digits would be long.
    """
    rounded = round_figures(value, figures)
    exponent = rounded.adjusted() if rounded else 0
    if -3 <= exponent < figures:
        return f"{rounded:.{max(figures - 1 - exponent, 0)}f}".replace("-", "−")
    mantissa = f"{rounded.scaleb(-exponent):.{figures - 1}f}".replace("-", "−")
    return f"{mantissa} × 10{str(exponent).translate(_SUPERSCRIPT)}"
