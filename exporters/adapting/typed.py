"""The texts that a number may be typed as, for a format that compares answers as text and has no tolerance.

Every number within the tolerance counts that has no more than one figure beyond those asked for, and the unrounded
value as a calculator shows it, rounded or cut. At the asked figures it may be typed as people do: with a sign, a
decimal comma, the unit, thousands apart, a power of ten written out. Which ways people use is common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal

from ...bank.item.item import NumberEntry, Recognised
from ...bank.quantities import units
from ...bank.quantities.quantity import from_float, has_power

MOST_NUMBERS = 60
LONGEST_PLAIN = 8  # digits of a number that is still typed without a power of ten
ON_A_CALCULATOR = 10
_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_TENS = ("{}x10^{}", "{} x 10^{}", "{}×10^{}", "{} × 10^{}", "{}*10^{}")


def typed_as(entry: NumberEntry) -> tuple[str, ...] | None:
    """All texts that are right for an entry, in its unit; None where more numbers are than can be listed."""
    found = _listed(entry)
    if found is None:
        return None
    asked, finer = found
    power = has_power(entry.key, entry.figures)
    texts = [text for each in asked for text in _as_people_type(each, entry, power)]
    texts += [text for each in finer for text in _texts(each, entry.figures + 1, power)]
    texts += [text for each in _on_a_calculator(entry) for text in _texts(each, len(each.as_tuple().digits), power)]
    return _signed(entry.key, texts)


def can_be_listed(entry: NumberEntry) -> bool:
    """Whether there are texts for an entry, which are not made to tell."""
    return _listed(entry) is not None


def _listed(entry: NumberEntry) -> tuple[list[Decimal], list[Decimal]] | None:
    """The sizes within the tolerance: of the asked figures, and of one more."""
    low, high = entry.key - entry.half_width, entry.key + entry.half_width
    asked = _numbers(low, high, entry.figures, MOST_NUMBERS)
    finer = _numbers(low, high, entry.figures + 1, 10 * (MOST_NUMBERS + 1))
    return None if asked is None or finer is None else (asked, finer)


def known_as(wrong: Recognised, figures: int) -> tuple[str, ...]:
    """The texts of a wrong number at so many figures; none where there would be too many."""
    low, high = wrong.value - wrong.half_width, wrong.value + wrong.half_width
    power = has_power(wrong.value, figures)
    found = _numbers(low, high, figures, MOST_NUMBERS) or ()
    texts = [text for each in found for text in _texts(each, figures, power)]
    return _signed(wrong.value, (text for each in texts for text in _in_both(each)))


def _signed(number: Decimal, texts: Iterable[str]) -> tuple[str, ...]:
    """The texts of sizes, each once; of a negative number with a hyphen, and with a true minus."""
    signs = ("-", "−") if number < 0 else ("",)
    return tuple(dict.fromkeys(sign + each for each in texts for sign in signs))


def _numbers(low: Decimal, high: Decimal, figures: int, most: int) -> list[Decimal] | None:
    """The sizes of the numbers of so many figures from ``low`` to ``high``, the least first.

    None where these are too many, or zero is among them.
    """
    if high < 0:
        return _numbers(-high, -low, figures, most)
    if low <= 0:
        return None
    found: list[Decimal] = []
    for exponent in range(low.adjusted(), high.adjusted() + 1):
        step = Decimal(1).scaleb(exponent - figures + 1)
        first = max((low / step).to_integral_value(ROUND_CEILING), Decimal(10) ** (figures - 1))
        last = min((high / step).to_integral_value(ROUND_FLOOR), Decimal(10) ** figures - 1)
        if last - first >= most:
            return None
        found += [(first + place) * step for place in range(int(last - first) + 1)]
    return found if len(found) <= most else None


def _on_a_calculator(entry: NumberEntry) -> Iterator[Decimal]:
    """The size of the unrounded value to more figures than are listed one by one, rounded and cut."""
    exact = from_float(entry.exact)
    for figures in range(entry.figures + 2, ON_A_CALCULATOR + 1):
        for rounding in (ROUND_HALF_UP, ROUND_DOWN):
            shown = Context(prec=figures, rounding=rounding).plus(exact)
            if entry.accepts(shown):
                yield abs(shown)


def _as_people_type(size: Decimal, entry: NumberEntry, power: bool) -> Iterator[str]:
    """A number of the asked figures in the ways that people type it."""
    unit = entry.unit.replace("\u00a0", " ")
    for text in _plain(size, entry.figures):
        if text.startswith("."):
            yield text
            continue
        yield from _in_both(text)
        if unit:
            yield from (f"{each}{space}{unit}" for each in _in_both(text) for space in ("", " "))
        yield from (f"{text} {typed}" for typed in units.typed_as(entry.unit))
        if entry.key > 0:
            yield f"+{text}"
    if size == size.to_integral_value() and 1000 <= size < 10**LONGEST_PLAIN:
        yield f"{int(size):,}".replace(",", " ")
    for mantissa in _mantissas(size, entry.figures) if power else ():
        exponent = size.adjusted()
        yield from _in_both(f"{mantissa}e{exponent}")
        yield f"{mantissa}e{exponent:+}"
        yield from (pattern.format(mantissa, exponent) for pattern in _TENS)
        yield from (f"{mantissa}{times}10{str(exponent).translate(_RAISED)}" for times in ("×", " × "))
        if unit:
            yield f"{mantissa}e{exponent} {unit}"
            yield f"{mantissa} × 10^{exponent} {unit}"


def _texts(size: Decimal, figures: int, power: bool) -> Iterator[str]:
    """The digits, and with a power of ten behind the letter e where it is printed so."""
    yield from _plain(size, figures)
    if power:
        yield from (f"{mantissa}e{size.adjusted()}" for mantissa in _mantissas(size, figures))


def _plain(size: Decimal, figures: int) -> Iterator[str]:
    """With and without zeros at its end and before its point, unless it is too long."""
    places = max(figures - 1 - size.adjusted(), 0)
    if not has_power(size, figures) or max(size.adjusted() + 1, places) <= LONGEST_PLAIN:
        for text in _ends(f"{size:.{places}f}"):
            yield text
            if text.startswith("0."):
                yield text[1:]


def _mantissas(size: Decimal, figures: int) -> Iterator[str]:
    return _ends(f"{size.scaleb(-size.adjusted()):.{figures - 1}f}")


def _ends(text: str) -> Iterator[str]:
    """The digits with all zeros at their end behind the point, and with fewer and fewer of them."""
    yield text
    while "." in text and text[-1] in "0.":
        text = text[:-1].removesuffix(".")
        yield text


def _in_both(text: str) -> Iterator[str]:
    """With a decimal point and with a decimal comma."""
    yield text
    if "." in text:
        yield text.replace(".", ",")
