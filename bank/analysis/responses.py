"""A response as results tell it, taken apart: what was given to each part of an item, and the numbers that are meant.

A response is a text: the identifiers of options with spaces between, or what was typed; in an item of several parts
each stands behind the name of its part, as in ``RESPONSE_1=A RESPONSE_2=4.2``.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from decimal import Decimal

from ..quantities.quantity import typed_number

LONGEST = 64  # letters of a number with its unit; a longer text is none
_PART = re.compile(r"(?:^|\s)RESPONSE_([1-9][0-9]?)=")
_GROUPED = re.compile(r"[-+]?[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9,])")
_ANSWER_OF_ONE = "RESPONSE="


def given_to(response: str, parts: int) -> tuple[str, ...]:
    """What was given to each of so many parts, empty where nothing was."""
    if parts == 1:
        return (response.removeprefix(_ANSWER_OF_ONE).strip(),)
    pieces = _PART.split(response)
    found: dict[int, list[str]] = {}
    for number, text in zip(pieces[1::2], pieces[2::2], strict=True):
        found.setdefault(int(number), []).append(text.strip())
    return tuple(" ".join(found.get(number, ())).strip() for number in range(1, parts + 1))


def numbers(text: str, unit: str = "") -> tuple[Decimal, ...]:
    """The numbers that a typed text can mean, none where it means no number.

    A comma is read as a decimal comma, and between thousands as nothing; a unit behind the number may be ``unit`` only.

    >>> numbers("1,200"), numbers("4,2 m/s", "m/s"), numbers("4.2 km/h", "m/s")
    ((Decimal('1.200'), Decimal('1200')), (Decimal('4.2'),), ())
    """
    text = unicodedata.normalize("NFC", text).rpartition("=")[2].strip()
    if not text or len(text) > LONGEST:
        return ()
    read = (_number(each, unit) for each in _without_commas(text))
    return tuple(dict.fromkeys(each for each in read if each is not None))


def _without_commas(text: str) -> Iterator[str]:
    comma, point = text.rfind(","), text.rfind(".")
    if comma < 0:
        yield text
    elif point > comma:
        yield text.replace(",", "")
    elif point >= 0:
        yield text.replace(".", "").replace(",", ".")
    else:
        if text.count(",") == 1:
            yield text.replace(",", ".")
        if _GROUPED.match(text):
            yield text.replace(",", "")


def _number(text: str, unit: str) -> Decimal | None:
    found = typed_number(text)
    if found is None or _level(found[1]) not in ("", _level(unit)):
        return None
    return found[0]


def _level(unit: str) -> str:
    """A unit without what people type in several ways: spaces, raised digits, signs of multiplication."""
    return re.sub(r"[\s^*·⋅]", "", unicodedata.normalize("NFKC", unit)).replace("−", "-")
