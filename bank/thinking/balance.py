"""Wrong options chosen so that the looks of the key tell nothing: it is the longest, the shortest, the odd one in turn.

For each look (length, number of terms, share of pieces in common with the others) a place of the key is drawn; of all
sets of wrong options the one is taken that puts the key nearest to these places.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import fsum

from ..item.draw import lot

_PIECE = re.compile(r"[^\W\d_]+|\d+|[^\s\w]")
_TERM = re.compile(r"[+−]")
SAME = 1e-9  # a difference that rounding explains
EQUAL = 0.05  # what two that are equally like the others count against a set
PREFERENCE = 0.004  # what each place further down the catalogue counts against an option


@dataclass(frozen=True)
class ToldPicture:
    """A picture as it is told to a listener, and how far-fetched the thoughts behind it are."""

    told: str
    far_fetched: int = 0


def pieces(text: str) -> list[str]:
    """The words, symbols and signs of an option, in order."""
    return _PIECE.findall(text.lower())


def likeness(one: Collection[str], other: Collection[str]) -> float:
    """The share of pieces that two options have in common."""
    return len(set(one) & set(other)) / max(len(set(one) | set(other)), 1)


def balanced(key: str, wrong: Sequence[str], sets: Sequence[tuple[int, ...]], draw: str) -> tuple[int, ...]:
    """The one of some sets of wrong options, given by their places, that puts the key nearest to its drawn places.

    ``draw`` names the question: it decides alike on every machine. () where there is no set.
    """
    texts = [key, *wrong]
    told = [pieces(text) for text in texts]
    shared = _shares(told)
    looks = [[len(text) for text in texts], [len(_TERM.findall(text)) for text in texts]]
    options = 1 + max(map(len, sets), default=0)
    targets = list(_drawn(draw, len(looks) + 1, options))

    def cost(chosen: tuple[int, ...]) -> tuple[float, bytes]:
        here = [0, *(place + 1 for place in chosen)]
        alike = [sum(shared[at][other] for other in here) for at in here]
        ranks = [_rank([look[at] for at in here]) for look in looks] + [_rank(alike)]
        off = sum((rank - target) ** 2 for rank, target in zip(ranks, targets, strict=True))
        return round(off + PREFERENCE * sum(chosen), 6), lot(draw, *(wrong[at] for at in chosen))

    return min(sets, key=cost, default=())


def alike_as_drawn(pictures: Sequence[ToldPicture], sets: Sequence[tuple[int, ...]], draw: str) -> tuple[int, ...]:
    """The one of some sets of wrong pictures, given by their places, that puts the key nearest to its drawn place.

    The first picture is the key, which has place 0. Its drawn place is that among all by how like the others each is.
    Of sets that do equally well that of the least far-fetched thoughts is taken, of these the first; () for no set.
    """
    options = 1 + max(map(len, sets), default=0)
    target = next(_drawn(draw, 1, options))
    shared = _shares([pieces(each.told) for each in pictures])

    def cost(chosen: tuple[int, ...]) -> tuple[float, int]:
        here = (0, *chosen)
        off = _off_place([fsum(shared[at][other] for other in here) for at in here], target)
        return round(off, 6), sum(pictures[at].far_fetched for at in chosen)

    return min(sets, key=cost, default=())


def _off_place(look: Sequence[float], target: float) -> float:
    """How far the first is from a place among all, squared; more where some are equal, as that tells more."""
    equal = sum(after - before < SAME for before, after in pairwise(sorted(look)))
    return (_rank(look) - target) ** 2 + equal * EQUAL


def _shares(parts: Sequence[Sequence[str]]) -> list[list[float]]:
    """The share of parts that each has in common with each."""
    sets = [frozenset(each) for each in parts]
    return [[likeness(one, other) for other in sets] for one in sets]


def _rank(look: Sequence[float]) -> float:
    """The place of the first among all, from 0 for the least to 1 for the greatest; equals share theirs."""
    own, rest = look[0], look[1:]
    if not rest:
        return 0.0
    below = sum(1.0 for each in rest if each < own - SAME)
    equal = sum(1.0 for each in rest if abs(each - own) <= SAME)
    return (below + equal / 2) / len(rest)


def _drawn(draw: str, wanted: int, options: int) -> Iterator[float]:
    """Places among the options, each as often as any other, from 0 for the least to 1 for the greatest."""
    for number in range(wanted):
        yield int.from_bytes(lot(draw, "look", number)[:4], "big") % options / max(options - 1, 1)
