"""What is drawn by lot, alike on every machine: the same text always gives the same number and the same order."""

from __future__ import annotations

import hashlib
from bisect import bisect_right
from collections.abc import Callable, Iterable
from itertools import accumulate
from typing import TypeVar

_Thing = TypeVar("_Thing")


def lot(*facts: object) -> bytes:
    """32 bytes drawn for some facts."""
    return hashlib.sha256(" ".join(map(str, facts)).encode()).digest()


def drawn_number(*facts: object) -> int:
    """A number from 0 to 2**64 - 1 drawn for some facts."""
    return int.from_bytes(lot(*facts)[:8], "big")


def drawn_place(weights: Iterable[float], *facts: object) -> int:
    """A place drawn for some facts, each as often as its weight says."""
    ends = list(accumulate(weights))
    return min(bisect_right(ends, drawn_number(*facts) / 2**64 * ends[-1]), len(ends) - 1)


def mixed(things: Iterable[_Thing], draw: object, name: Callable[[_Thing], object] = str) -> list[_Thing]:
    """The things in an order that is drawn for ``draw``, each by its ``name``."""
    start = f"{draw} ".encode()  # each by its ``lot``
    return sorted(things, key=lambda each: hashlib.sha256(start + str(name(each)).encode()).digest())
