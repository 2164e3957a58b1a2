"""All combinations of a question's draws in one scene, numbered, and a seeded order through them.

The order is a keyed permutation of the numbers (a balanced Feistel network with cycle walking, as in
format-preserving encryption), so any part of it can be made without the rest, alike on every machine.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, partial
from itertools import combinations
from math import prod
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from ..item.draw import lot
from ..quantities import units
from ..quantities.quantity import Quantity
from ..quantities.units import unit
from .evaluation import Columns
from .problem import Problem, QuantitySpec, Question, Scene, gravity_spec

Numbers: TypeAlias = NDArray[np.int64]
Floats: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]
_Domain: TypeAlias = NDArray[np.uint64]
_ROUNDS = 6
_HALF_OF_TABLE = 7  # bits
# shifts and multipliers of the SplitMix64 finaliser
_MIX = ((np.uint64(30), np.uint64(0xBF58476D1CE4E5B9)), (np.uint64(27), np.uint64(0x94D049BB133111EB)))
_LAST = np.uint64(31)


@dataclass(frozen=True)
class Grid:
    """The printed quantities that each given may take; combination ``n`` picks one of each, last axis fastest."""

    choices: Mapping[str, tuple[Quantity, ...]]

    @cached_property
    def shape(self) -> tuple[int, ...]:
        """How many values each given has, in order."""
        return tuple(len(each) for each in self.choices.values())

    def __len__(self) -> int:
        return prod(self.shape)

    @cached_property
    def _si(self) -> dict[str, Floats]:
        return {name: np.array([each.si for each in quantities]) for name, quantities in self.choices.items()}

    @cached_property
    def _told(self) -> dict[str, Floats]:
        return {name: np.array([float(each.value) for each in printed]) for name, printed in self.choices.items()}

    def values(self, numbers: Numbers) -> Columns:
        """SI values of each given for combinations ``numbers``, as printed; the same again for the very same array."""
        global _latest  # noqa: PLW0603  (one block is looked at from many sides, and then the next)
        grid, known, found = _latest
        if grid is not self or known is not numbers:
            places = np.unravel_index(numbers, self.shape)
            found = Columns({name: self._si[name][place] for name, place in zip(self.choices, places, strict=True)})
            _latest = (self, numbers, found)
        return found

    def distinct(self, numbers: Numbers) -> Flags:
        """Whether each combination prints another number for every given, so that exchanging two leads elsewhere."""
        places = np.unravel_index(numbers, self.shape)
        drawn = [name for name in self.choices if name != "g"]
        printed = [self._told[name][place] for name, place in zip(self.choices, places, strict=True) if name in drawn]
        found = np.ones(np.shape(numbers), dtype=bool)
        for one, other in combinations(printed, 2):
            found &= (one != other) | (one == 0)  # from rest to rest: nobody exchanges two zeros
        return found

    def printed(self, number: int) -> dict[str, Quantity]:
        """The printed quantities of one combination."""
        places = np.unravel_index(number, self.shape)
        pairs = zip(self.choices.items(), places, strict=True)
        return {name: quantities[int(place)] for (name, quantities), place in pairs}

    def shuffled(self, key: str, start: int, stop: int) -> Numbers:
        """Places ``start`` to ``stop`` of the seeded order; fewer where the grid ends."""
        return permuted(np.arange(start, min(stop, len(self)), dtype=np.int64), len(self), key)


_latest: tuple[Grid | None, Numbers | None, Columns] = (None, None, Columns({}))


def grid_of(problem: Problem, question: Question, scene: Scene, gravity: Decimal) -> Grid:
    """The grid of a question in a scene; g has the one value of the pack."""
    specs = [problem.spec(name, scene) for name in (*question.given, *question.extra)]
    choices = {spec.symbol: _choices(spec) for spec in specs}
    return Grid({**choices, "g": _choices(gravity_spec(gravity, unit("N/kg")))})


def _choices(spec: QuantitySpec) -> tuple[Quantity, ...]:
    if spec.constant:
        known = units.known(spec.constant)
        values: tuple[Decimal, ...] = (known.value,) if known else ()
    else:
        values = spec.draw.values if spec.draw else ()
    return tuple(Quantity(value, spec.unit, spec.figures) for value in values)


def permuted(numbers: Numbers, size: int, key: str) -> Numbers:
    """Each number below ``size`` under the keyed permutation of 0..size-1."""
    half = np.uint64(max((size - 1).bit_length() + 1, 2) // 2)
    mask = np.uint64((1 << int(half)) - 1)
    keys = np.frombuffer(lot(key) * 2, dtype="<u8")[:_ROUNDS]
    step: Callable[[_Domain], _Domain] = partial(_feistel, half=half, mask=mask, keys=keys)
    if half <= _HALF_OF_TABLE:  # one look at the whole domain is quicker than many at what is still outside
        step = step(np.arange(1 << 2 * int(half), dtype=np.uint64)).__getitem__
    walked = step(numbers.astype(np.uint64))
    outside = np.flatnonzero(walked >= np.uint64(size))
    while len(outside):
        walked[outside] = step(walked[outside])
        outside = outside[walked[outside] >= np.uint64(size)]
    return walked.astype(np.int64)


def _feistel(numbers: _Domain, half: np.uint64, mask: np.uint64, keys: _Domain) -> _Domain:
    left, right = numbers >> half, numbers & mask
    with np.errstate(over="ignore"):
        for round_key in keys:
            mixed = right ^ round_key
            for shift, factor in _MIX:
                mixed ^= mixed >> shift
                mixed *= factor
            mixed ^= mixed >> _LAST
            mixed &= mask
            mixed ^= left
            left, right = right, mixed
    return (left << half) | right
