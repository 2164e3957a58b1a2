"""The small change of English sentences: lists, choices, numbers with their nouns, articles, capitals."""

from __future__ import annotations

from collections.abc import Iterable


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
