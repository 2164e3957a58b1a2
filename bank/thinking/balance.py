"""Wrong options chosen so that the looks of the key tell nothing: it is the longest, the shortest, the odd one in turn.

For each look (length, number of terms, share of pieces in common with the others) a place of the key is drawn; of all
sets of wrong options the one is taken that puts the key nearest to these places, and that tells least by its pieces.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise
from math import fsum

from ..item.draw import lot

_PIECE = re.compile(r"[^\W\d_]+|\d+|[^\s\w]")
_TERM = re.compile(r"[+−]")
SAME = 1e-9  # a difference that rounding explains
EQUAL = 0.05  # what two that are equally like the others count against a set
LOOKS = 3  # length, terms, likeness
OFF = 0.6  # what the distance of a look from its drawn place counts
EVEN = (0.0,) * 7  # ranks of four options, equals between
DRAWN = 0.3  # what the draw counts at most
_NAMED = ("sin", "cos", "tan", "π")


@dataclass(frozen=True)
class ToldPicture:
    """A picture by its arrows, each as it is told to a listener, and how far-fetched the thoughts behind it are."""

    arrows: frozenset[str]
    far_fetched: int = 0


def pieces(text: str) -> list[str]:
    """The words, symbols and signs of an option, in order."""
    return _PIECE.findall(text.lower())


def likeness(one: Collection[str], other: Collection[str]) -> float:
    """The share of pieces that two options have in common."""
    first, second = frozenset(one), frozenset(other)
    both = len(first & second)
    return both / max(len(first) + len(second) - both, 1)


@dataclass(frozen=True)
class Counterweights:
    """What counts against a set of wrong options, by what it would tell of the key beside them.

    ``has`` is for a piece that the key has and another option lacks, ``lacks`` the other way round, each by itself or
    by its sort (``sort``). ``length``, ``terms`` and ``alike`` are for the place of the key by length, by number of
    terms where that differs, and by likeness to all others: from the least to the most, equals between. ``off`` is
    for the distance from the drawn places, and ``drawn`` is what the draw counts at most. With them a key that stands
    out is as often one that has more as one that has less, over the shipped bank.
    """

    has: Mapping[str, float]
    lacks: Mapping[str, float]
    length: Sequence[float] = EVEN
    terms: Sequence[float] = EVEN
    alike: Sequence[float] = EVEN
    off: float = OFF
    drawn: float = DRAWN

    def against(self, texts: Sequence[str], draw: str) -> float:
        """How much counts against some options, of which the first is the key; the draw decides among the rest."""
        told = [_different(text) for text in texts]
        split = frozenset().union(*told) - told[0].intersection(*told[1:])
        terms = [len(_TERM.findall(text)) for text in texts]
        looks = (_rank([len(text) for text in texts]), _rank(terms), _rank(_alike(told)))
        off = fsum((look - place) ** 2 for look, place in zip(looks, _drawn(draw, LOOKS, len(texts)), strict=True))
        tables = (self.length, self.terms if len(set(terms)) > 1 else EVEN, self.alike)
        ranks = (table[round(rank * (len(table) - 1))] for table, rank in zip(tables, looks, strict=True))
        more = {self._name(each) for each in split if each in told[0]}
        less = {self._name(each) for each in split if each not in told[0]}
        weights = (*(self.has.get(each, 0.0) for each in more), *(self.lacks.get(each, 0.0) for each in less))
        drawn = self.drawn * lot(draw, *texts[1:])[0] / 255
        return fsum((self.off * off, *weights, *ranks, drawn))

    def _name(self, piece: str) -> str:
        """What a piece is called in the tables: by itself, or else its sort."""
        return piece if piece in self.has or piece in self.lacks else sort(piece)


def balanced(
    key: str,
    sets: Sequence[tuple[str, ...]],
    weigh: Callable[[Sequence[str]], float],
    own: Sequence[float] = (),
) -> int | None:
    """The place of that set of wrong options against which least counts; None where there is no set.

    ``weigh`` tells what counts against some options of which the first is the key; ``own`` is what else counts.
    """
    every = own or [0.0] * len(sets)
    counts = [round(weigh((key, *one)) + other, 6) for one, other in zip(sets, every, strict=True)]
    return min(range(len(sets)), key=counts.__getitem__, default=None)


def sort(piece: str) -> str:
    """The sort of a piece of a formula: numbers above 4, squares and other letters are each of one sort."""
    if piece.isdecimal():
        return piece if int(piece) < 5 else "number"
    if piece[-1] in "²³⁴":
        return "power"
    return piece if (len(piece) == 1 and not piece.isalpha()) or piece in _NAMED else "letter"


@lru_cache(maxsize=4096)  # an option stands in many of the sets that are weighed
def _different(text: str) -> frozenset[str]:
    """The different pieces of an option."""
    return frozenset(pieces(text))


def _alike(told: Sequence[frozenset[str]]) -> list[float]:
    """How like all others each is."""
    shares: list[list[float]] = [[float(bool(each))] for each in told]
    for (one, of_one), (other, of_other) in combinations(zip(told, shares, strict=True), 2):
        share = likeness(one, other)
        of_one.append(share)
        of_other.append(share)
    return [fsum(each) for each in shares]


def alike_as_drawn(pictures: Sequence[ToldPicture], sets: Sequence[tuple[int, ...]], draw: str) -> tuple[int, ...]:
    """The one of some sets of wrong pictures, given by their places, that puts the key nearest to its drawn place.

    The first picture is the key, which has place 0. Its drawn place is that among all by how like the others each is,
    arrow by arrow: the picture that has each force as most pictures have it is told by that. Of sets that do equally
    well that of the least far-fetched thoughts is taken, of these the first; () for no set.
    """
    options = 1 + max(map(len, sets), default=0)
    (target,) = _drawn(draw, 1, options)
    apart = [[float(len(one.arrows ^ other.arrows)) for other in pictures] for one in pictures]

    def cost(chosen: tuple[int, ...]) -> tuple[float, int]:
        here = (0, *chosen)
        off = _off_place([-fsum(apart[at][other] for other in here) for at in here], target)
        return round(off, 6), sum(pictures[at].far_fetched for at in chosen)

    return min(sets, key=cost, default=())


def _off_place(look: Sequence[float], target: float) -> float:
    """How far the first is from a place among all, squared; more where some are equal, as that tells more."""
    equal = sum(after - before < SAME for before, after in pairwise(sorted(look)))
    return (_rank(look) - target) ** 2 + equal * EQUAL


def _rank(look: Sequence[float]) -> float:
    """The place of the first among all, from 0 for the least to 1 for the greatest; equals share theirs."""
    own, rest = look[0], look[1:]
    if not rest:
        return 0.0
    below = sum(1.0 for each in rest if each < own - SAME)
    equal = sum(1.0 for each in rest if abs(each - own) <= SAME)
    return (below + equal / 2) / len(rest)


@lru_cache(maxsize=64)  # the same for all sets of a draw
def _drawn(draw: str, wanted: int, options: int) -> tuple[float, ...]:
    """Places among the options, each as often as any other, from 0 for the least to 1 for the greatest."""
    lots = (int.from_bytes(lot(draw, "look", number)[:4], "big") for number in range(wanted))
    return tuple(each % options / max(options - 1, 1) for each in lots)
