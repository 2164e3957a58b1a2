"""A printed unit in words, as one reads it aloud: ``m/s²`` is metres per second squared."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

# --- the small change of english sentences: lists, choices, numbers with their nouns, articles, capitals ---


def capital(sentence: str) -> str:
    """The sentence with a capital first letter; the rest is left as it is."""
    return sentence[:1].upper() + sentence[1:]


def listed(parts: Iterable[str], last_word: str = "and") -> str:
    """The parts as in a sentence: ``a``, ``a and b``, ``a, b and c``."""
    *first, last = list(parts) or [""]
    return f"{', '.join(first)} {last_word} {last}" if first else last


def either(parts: Iterable[str]) -> str:
    """The parts as a choice: ``a``, ``a or b``, ``a, b or c``."""
    return listed(parts, "or")


def article(noun_phrase: str) -> str:
    """The indefinite article as the first letter suggests it: ``an upward push``."""
    return "an" if noun_phrase[:1].lower() in tuple("aeiou") else "a"


def count(number: int, one: str, many: str | None = None) -> str:
    """Number and noun in agreement, small numbers in words: ``one force``, ``three forces``, ``12 forces``."""
    words = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    shown = words[number] if number < len(words) else f"{number:,}"
    return f"{shown} {one if number == 1 else many or one + 's'}"


_PREFIXES = {"k": "kilo", "M": "mega", "G": "giga", "c": "centi", "m": "milli", "μ": "micro", "n": "nano"}
_NAMES = {
    "m": "metre", "in": "inch", "ft": "foot", "mi": "mile", "g": "gram", "t": "tonne", "s": "second", "min": "minute",
    "h": "hour", "d": "day", "N": "newton", "J": "joule", "Hz": "hertz", "rad": "radian", "r": "revolution",
    "C": "coulomb", "T": "tesla", "V": "volt", "°": "degree", "mph": "mile per hour",
    "y": "year", "au": "astronomical unit", "ly": "light year", "u": "atomic mass unit", "eV": "electronvolt",
}  # fmt: skip
_PLURALS = {
    "inch": "inches",
    "foot": "feet",
    "hertz": "hertz",
    "tesla": "tesla",
    "mile per hour": "miles per hour",
}
_POWERS = {"²": "squared", "³": "cubed"}
_FACTOR = re.compile(r"(?P<symbol>[A-Za-z°μ]+)(?P<power>[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]*)")


@lru_cache(maxsize=256)
def spoken_unit(text: str) -> str:
    """The unit in words, more than one of it; a unit that is not known stays as it is."""
    above, *below = text.split("/")
    *first, last = (_FACTOR.fullmatch(each) for each in above.split() or [above])
    others = [_FACTOR.fullmatch(each) for part in below for each in part.split()]
    factors = [each for each in (*first, last, *others) if each and _name(each["symbol"])]
    if last is None or len(factors) != len(first) + 1 + len(others):
        return text
    words = [_spoken(each, plural=each is last) for each in factors]
    here = len(first) + 1
    return " per ".join([" ".join(words[:here]), *words[here:]])


def _name(symbol: str) -> str:
    if symbol in _NAMES:
        return _NAMES[symbol]
    prefix, base = _PREFIXES.get(symbol[:1], ""), _NAMES.get(symbol[1:], "")
    return prefix + base if prefix and base else ""


def _spoken(factor: re.Match[str], *, plural: bool) -> str:
    name = _name(factor["symbol"])
    power = factor["power"]
    said = _several(name) if plural else name
    return f"{said} {_POWERS.get(power, f'to the power {power}')}" if power else said


def _several(name: str) -> str:
    irregular = (name.removesuffix(one) + many for one, many in _PLURALS.items() if name.endswith(one))
    return next(irregular, f"{name}s")
