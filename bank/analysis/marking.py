"""What a response earns by the manifest alone, whatever a platform has made of it.

The rules are those that packs state to candidates: a number is right within its half-width, or where it follows from a
wrong choice in an earlier part; of several options each that is decided rightly earns its share; an order with two
neighbours exchanged earns half of the marks; each right pair earns its share.
"""

from __future__ import annotations

from math import fsum, nan

from ..questions.kinds import kinds_where
from .assessment import SatItem, SatPart
from .responses import given_to, numbers
from .sameness import is_within

SEVERAL = kinds_where(lambda each: each.entry == "several")


def earned(item: SatItem, response: str) -> float:
    """The marks of a response; NaN where the manifest can't tell them.

    That is so where people give marks for the working, where the manifest states no key or no marks of its parts, and
    where options are called otherwise than in the pack.
    """
    if item.by_people:
        return nan
    if not response.strip():
        return 0.0
    given = given_to(response, len(item.parts))
    if not any(given):
        return nan
    return fsum(part.marks * _share(item.kind, part, text, given) for part, text in zip(item.parts, given, strict=True))


def _share(kind: str, part: SatPart, text: str, given: tuple[str, ...]) -> float:
    """The share of the marks of a part; ``given`` is what was given to all parts."""
    names = text.split()
    if not part.key:
        return nan
    if not names:
        return 0.0
    if "number" in part.key:
        return float(_is_near(part, text, given))
    if "order" in part.key:
        return _of_order(tuple(part.key["order"]), tuple(names))
    if "pairs" in part.key:
        return _of_pairs(part, names)
    return _of_options(part, names, kind in SEVERAL)


def _is_near(part: SatPart, text: str, given: tuple[str, ...]) -> bool:
    bands = [(float(part.key["number"]), float(part.key["half_width"]))]
    bands += [
        (each.value, each.half_width) for each in part.carried if given[each.part - 1 : each.part] == (each.option,)
    ]
    found = list(map(float, numbers(text, part.key.get("unit", ""))))
    return any(is_within(each, value, width) for each in found for value, width in bands)


def _of_options(part: SatPart, names: list[str], several: bool) -> float:
    right = set(part.key["options"])
    known = {each.name for each in part.options} | right
    if not right or not known.issuperset(names) or (len(names) > 1 and not several):
        return nan
    if not several:
        return float(right == set(names))
    return (len(known) - len(right.symmetric_difference(names))) / len(known)


def _of_order(right: tuple[str, ...], names: tuple[str, ...]) -> float:
    if sorted(names) != sorted(right):
        return nan
    moved = [place for place, name in enumerate(names) if name != right[place]]
    if not moved:
        return 1.0
    return 0.5 if len(moved) == 2 and moved[1] == moved[0] + 1 else 0.0


def _of_pairs(part: SatPart, names: list[str]) -> float:
    right = {(f"R{row}", f"C{ord(column[0]) - ord('A') + 1}") for row, column in part.key["pairs"]}
    given = set(zip(names[::2], names[1::2], strict=False))
    if not right or len(names) % 2 or any(row[0] != "R" or column[0] != "C" for row, column in given):
        return nan
    return len(right & given) / len(right)
