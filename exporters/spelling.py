"""The texts that a right number may be typed as, for a format that compares answers as text."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from turnwright.bank.quantity import print_figures

MOST_NUMBERS = 60
LONGEST_PLAIN = 8  # digits of a number that is still typed without a power of ten


def spellings(middle: Decimal, half_width: Decimal, figures: int) -> tuple[str, ...] | None:
    """All texts for the numbers of so many figures within ``half_width`` of ``middle``; None where that is too many."""
    numbers = _numbers(middle - half_width, middle + half_width, figures)
    if numbers is None:
        return None
    return tuple(dict.fromkeys(text for number in numbers for text in _texts(number, figures)))


def _numbers(low: Decimal, high: Decimal, figures: int) -> list[Decimal] | None:
    if high < 0:
        mirrored = _numbers(-high, -low, figures)
        return None if mirrored is None else [-each for each in reversed(mirrored)]
    if low <= 0:
        return None
    found: list[Decimal] = []
    for exponent in range(low.adjusted(), high.adjusted() + 1):
        step = Decimal(1).scaleb(exponent - figures + 1)
        first = max((low / step).to_integral_value(ROUND_CEILING), Decimal(10) ** (figures - 1))
        last = min((high / step).to_integral_value(ROUND_FLOOR), Decimal(10) ** figures - 1)
        if last - first >= MOST_NUMBERS:
            return None
        found += [(first + place) * step for place in range(int(last - first) + 1)]
    return found if len(found) <= MOST_NUMBERS else None


def _texts(number: Decimal, figures: int) -> Iterator[str]:
    """With and without zeros at its end and before its point; with a power of ten where it is printed so."""
    sign, size = ("-" if number < 0 else ""), abs(number)
    exponent = size.adjusted()
    places = max(figures - 1 - exponent, 0)
    if max(exponent + 1, places) <= LONGEST_PLAIN:
        for text in _ends(f"{size:.{places}f}"):
            yield sign + text
            if text.startswith("0."):
                yield sign + text[1:]
    if "×" in print_figures(size, figures):
        for mantissa in _ends(f"{size.scaleb(-exponent):.{figures - 1}f}"):
            yield f"{sign}{mantissa}e{exponent}"


def _ends(text: str) -> Iterator[str]:
    yield text
    if "." in text and text.endswith("0"):
        yield text.rstrip("0").rstrip(".")
