"""Where random values come from: a seed, or every outcome in turn."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from typing import Protocol, TypeVar

Result = TypeVar("Result")


class Dice(Protocol):
    """What an expression asks for a random value."""

    def place(self, count: int) -> int:
        """One of ``count`` places, counted from 0."""

    def fraction(self) -> float:
        """A number from 0 up to and without 1."""


class Seeded:
    """Draws that a seed decides, alike on every machine."""

    def __init__(self, seed: int) -> None:
        self._source = random.Random(seed)  # noqa: S311  (a draw of variants is no secret)

    def place(self, count: int) -> int:
        """One of ``count`` places, all alike."""
        return self._source.randrange(count)

    def fraction(self) -> float:
        """A number from 0 up to and without 1."""
        return self._source.random()


class EndlessError(Exception):
    """There are too many outcomes to go through them all."""


class _Forced:
    """Draws that follow a path, then take the first place; ``counts`` are how many places each draw had."""

    def __init__(self, path: list[int]) -> None:
        self._path = path
        self.taken: list[int] = []
        self.counts: list[int] = []

    def place(self, count: int) -> int:
        """The next place of the path."""
        asked = len(self.counts)
        self.counts.append(count)
        self.taken.append(self._path[asked] if asked < len(self._path) else 0)
        return self.taken[-1]

    def fraction(self) -> float:
        """Never a number: these have no last one. Raises EndlessError."""
        raise EndlessError


def all_outcomes(draw: Callable[[Dice], Result], most: int) -> Iterator[Result]:
    """What ``draw`` comes to for every way the dice can fall, the last draw fastest.

    Raises EndlessError where there are more than ``most``, or where a fraction is drawn.
    """
    path: list[int] | None = []
    found = 0
    while path is not None:
        dice = _Forced(path)
        yield draw(dice)
        found += 1
        path = _next_path(dice)
        if found >= most and path is not None:
            raise EndlessError


def _next_path(dice: _Forced) -> list[int] | None:
    """The path after the one that was taken; None after the last."""
    taken = list(dice.taken)
    while taken:
        if taken[-1] + 1 < dice.counts[len(taken) - 1]:
            return [*taken[:-1], taken[-1] + 1]
        taken.pop()
    return None
