"""Wrong options chosen so that the looks of the key tell nothing: it is the longest, the shortest, the odd one in turn.

For each look (length, number of terms, share of pieces in common with the others) a place of the key is drawn; of all
sets of wrong options the one is taken that puts the key nearest to these places.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Sequence

_PIECE = re.compile(r"[^\W\d_]+|\d+|[^\s\w]")
_TERM = re.compile(r"[+−]")
PREFERENCE = 0.004  # what each place further down the catalogue counts against an option


def pieces(text: str) -> list[str]:
    """The words, symbols and signs of an option, in order."""
    return _PIECE.findall(text.lower())


def likeness(one: Sequence[str], other: Sequence[str]) -> float:
    """The share of pieces that two options have in common."""
    return len(set(one) & set(other)) / max(len(set(one) | set(other)), 1)


def balanced(
    key: str, wrong: Sequence[str], sets: Sequence[tuple[int, ...]], draw: str, *, pictures: bool = False
) -> tuple[int, ...]:
    """The one of some sets of wrong options, given by their places, that puts the key nearest to its drawn places.

    ``draw`` names the question: it decides alike on every machine. () where there is no set. Of ``pictures`` the texts
    tell what is to be seen, and how long they are counts for nothing.
    """
    texts = [key, *wrong]
    told = [pieces(text) for text in texts]
    shared = [[likeness(one, other) for other in told] for one in told]
    looks = [] if pictures else [[len(text) for text in texts], [len(_TERM.findall(text)) for text in texts]]
    options = 1 + max(map(len, sets), default=0)
    targets = list(_drawn(draw, len(looks) + 1, options))

    def cost(chosen: tuple[int, ...]) -> tuple[float, bytes]:
        here = [0, *(place + 1 for place in chosen)]
        alike = [sum(shared[at][other] for other in here) for at in here]
        ranks = [_rank([look[at] for at in here]) for look in looks] + [_rank(alike)]
        off = sum((rank - target) ** 2 for rank, target in zip(ranks, targets, strict=True))
        name = " ".join([draw, *(wrong[at] for at in chosen)])
        return round(off + PREFERENCE * sum(chosen), 6), hashlib.sha256(name.encode()).digest()

    return min(sets, key=cost, default=())


def _rank(look: Sequence[float]) -> float:
    """The place of the first among all, from 0 for the least to 1 for the greatest; equals share theirs."""
    own, rest = look[0], look[1:]
    if not rest:
        return 0.0
    below = sum(1.0 for each in rest if each < own - 1e-9)
    equal = sum(1.0 for each in rest if abs(each - own) <= 1e-9)
    return (below + equal / 2) / len(rest)


def _drawn(draw: str, wanted: int, options: int) -> Iterator[float]:
    """Places among the options, each as often as any other, from 0 for the least to 1 for the greatest."""
    for number in range(wanted):
        digest = hashlib.sha256(f"{draw} look {number}".encode()).digest()
        yield int.from_bytes(digest[:4], "big") % options / max(options - 1, 1)
