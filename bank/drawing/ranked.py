"""Places for a label in the order of how much they are liked."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from heapq import heapify, heappop, heappush
from typing import TypeAlias

from .parts import Point

Spot: TypeAlias = tuple[float, Point]


class Ranked:
    """Places, the most liked first; ``more`` tells what else speaks against one, nothing at least.

    It is asked for a place when its turn comes: most searches end early, so most places are never judged.
    """

    def __init__(self, spots: Iterable[Spot], more: Callable[[Point], float]) -> None:
        self._waiting = [(dislike, spot, False) for dislike, spot in spots]
        heapify(self._waiting)
        self._more = more
        self._found: list[Spot] = []

    def __iter__(self) -> Iterator[Spot]:
        place = 0
        while place < len(self._found) or self._find():
            yield self._found[place]
            place += 1

    def _find(self) -> bool:
        """Take the next place in order; whether there was one."""
        while self._waiting:
            dislike, spot, is_judged = heappop(self._waiting)
            if is_judged:
                self._found.append((dislike, spot))
                return True
            heappush(self._waiting, (dislike + self._more(spot), spot, True))
        return False
