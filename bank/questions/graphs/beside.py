"""Which of the possible graphs is asked for, and which wrong lines stand beside the right one: no look may tell it.

A candidate who knows no physics sees lines that begin at the origin or beside it, rise or fall, are straight or bent.
As each look is right in about a quarter of the questions in which it is offered, it says nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import prod
from types import MappingProxyType

from ...item.draw import drawn_number, drawn_place
from ...model.mistake import Mistake
from .lines import Line, Look

WRONG = 3
# How gladly a look is taken as that of the key, as that of a wrong line, and how often the start of a line is what
# tells the key from others. They follow from what the shipped bank has.
_AS_KEY = {
    "high falls less": 0.05, "origin rises less": 0.05, "above level straight": 0.4, "origin rises straight": 1.8,
    "origin rises more": 3.7,
}  # fmt: skip
_AS_WRONG = {
    "origin rises less": 15.0, "above level straight": 0.4, "high falls less": 0.17, "origin rises more": 0.09,
    "origin rises straight": 0.08, "above rises more": 20.0, "right rises more": 0.05, "above rises straight": 20.0,
    "above falls more": 2.2, "right rises straight": 11.0, "above falls straight": 0.34, "right rises less": 20.0,
    "above rises less": 0.05,
}  # fmt: skip
_STARTS = {"origin rises more": 0.5, "origin rises straight": 0.28, "origin rises less": 0.1, "high falls less": 0.1}
AS_KEY: Mapping[str, float] = MappingProxyType(_AS_KEY)
AS_WRONG: Mapping[str, float] = MappingProxyType(_AS_WRONG)
STARTS: Mapping[str, float] = MappingProxyType(_STARTS)
ELSE_AS_KEY = 20.0


@dataclass(frozen=True)
class MistakenLine:
    """A wrong line with the mistake that leads to it."""

    line: Line
    mistake: Mistake


def chosen_key(looks: Sequence[Look], draw: str) -> int:
    """The place of the one of some right lines that is asked about; the name of the draw decides."""
    return drawn_place([AS_KEY.get(each.name, ELSE_AS_KEY) for each in looks], draw)


def chosen_beside(key: Look, others: Sequence[MistakenLine], draw: str) -> Sequence[MistakenLine]:
    """Three of the wrong lines, each of another look; the name of the draw decides."""
    sets = _sets(key, others, has_starts=drawn_number(f"{draw} starts") / 2**64 < _starts_of(key))
    weights = [prod(AS_WRONG.get(one.line.look.name, 1.0) for one in each) for each in sets]
    return sets[drawn_place(weights, f"{draw} wrong")]


def _starts_of(key: Look) -> float:
    """How often its start is what tells the key from wrong lines: always where it does not begin as most do."""
    return 1.0 if key.is_beside_origin else STARTS.get(key.name, 0.0)


def _sets(key: Look, others: Sequence[MistakenLine], *, has_starts: bool) -> list[tuple[MistakenLine, ...]]:
    """Sets of wrong lines.

    With ``has_starts`` two of them at least go like the key and begin elsewhere, so that no start is the odd one; else
    none begins beside the origin. Where that is not to be had, as near to it as there are lines.
    """
    every = list(combinations(others, WRONG))

    def unlike(chosen: Sequence[MistakenLine]) -> int:
        looks = [each.line.look for each in chosen]
        if has_starts:
            alike = [each for each in looks if each.way == key.way and each.start != key.start]
            return -min(2, sum(key.way == "falls" or each.bend == key.bend for each in alike))
        return sum(each.is_beside_origin for each in looks)

    least = min(map(unlike, every))
    return [each for each in every if unlike(each) == least]
