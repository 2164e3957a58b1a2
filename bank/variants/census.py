"""A census of the combinations of a scene: how many are variants, what the others break, which values stay idle."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from ..model.draws import Grid, Numbers
from ..model.problem import Scene

Mask: TypeAlias = NDArray[np.bool_]

MOST_COUNTED = 250_000  # combinations of a scene; of more, so many are drawn
BLOCK = 32_768  # judged at once


@dataclass(frozen=True)
class Judgement:
    """Which combinations of a block are variants; for the others, how many break what."""

    good: Mask
    broken: Mapping[str, int]


@dataclass(frozen=True)
class Census:
    """What became of the combinations of a scene, or of a quarter of a million drawn ones where there are more.

    ``left`` of those ``judged`` are variants that may be drawn. ``broken`` tells how many break what, ``unmet`` the
    places of the values of each draw that no variant has.
    """

    scene: Scene
    judged: int
    left: int
    broken: Mapping[str, int]
    unmet: Mapping[str, Sequence[int]]


def census(
    scene: Scene, grid: Grid, judged: Callable[[Numbers], Judgement], left: Callable[[Numbers], Numbers]
) -> Census:
    """The combinations of a scene, judged once, in blocks; ``left`` are those of its variants that may be drawn."""
    size, many = min(len(grid), MOST_COUNTED), 0
    # of one block all are counted, whatever their order; of several, what is broken is told as it is met
    drawn = np.arange if len(grid) <= BLOCK else partial(grid.shuffled, scene.name)
    broken: Counter[str] = Counter()
    unmet = {name: np.ones(len(values), dtype=bool) for name, values in grid.choices.items()}
    for start in range(0, size, BLOCK):
        numbers = drawn(start, min(start + BLOCK, size))
        found = judged(numbers)
        good = numbers[found.good]
        many += len(left(good))
        broken.update(found.broken)
        for waits, places in zip(unmet.values(), np.unravel_index(good, grid.shape), strict=True):
            waits[places] = False
    return Census(
        scene, size, many, dict(broken), {name: np.flatnonzero(each).tolist() for name, each in unmet.items()}
    )
