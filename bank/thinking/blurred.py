"""Variants that tell right from wrong: in none does a mistake of the question lead to the key itself.

At 45° the sine is the cosine, and of a body twice as heavy k² is 2 k: who thinks wrong there is told that it is right.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import compress
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..model.draws import Numbers
from ..model.evaluation import to_figures
from ..model.once import once
from ..variants.census import Mask
from ..variants.variant import ScenePool, VariantPool
from .distractors import Diagnosis, candidates

MARGIN: Final = 1.25  # of a tolerance, which is rounded up, and for the rounding of a wrong number
EVERYWHERE: Final = 0.9  # share of a scene's variants in which a mistake makes no difference there: units that cancel


@dataclass(frozen=True)
class _Blur:
    """Which combinations of a question tell nothing of some mistake."""

    diagnosis: Diagnosis

    def __call__(self, pool: ScenePool, numbers: Numbers) -> Mask:
        """Whether a mistake leads to the key, of each combination."""
        if not len(numbers) or not self.diagnosis.live:
            return np.zeros(numbers.shape, dtype=bool)
        return np.asarray(self._near(pool, numbers)[~self.everywhere(pool)].any(axis=0))

    def everywhere(self, pool: ScenePool) -> Mask:
        """Which of the mistakes lead to the key in nearly all variants of a scene, whatever is drawn."""
        under = pool.grid.choices["g"][0]
        return once(self.diagnosis, ("everywhere", pool.scene.name, under), lambda: self._everywhere(pool))

    def _everywhere(self, pool: ScenePool) -> Mask:
        if not len(pool.sample):
            return np.zeros(len(self.diagnosis.live), dtype=bool)
        return np.asarray(self._near(pool, pool.sample).mean(axis=1) > EVERYWHERE)

    def _near(self, pool: ScenePool, numbers: Numbers) -> NDArray[np.bool_]:
        """Mistakes x combinations: whether the mistake's number would be taken for the key."""
        wrong = candidates(pool, self.diagnosis.live, numbers)
        key = to_figures(pool.answer.figures)(pool.exact(numbers) / pool.answer.unit.factor)
        return np.asarray(np.abs(wrong - key) <= MARGIN * pool.widths(numbers, key))


def telling_pool(diagnosis: Diagnosis, gravity: Decimal) -> VariantPool:
    """The variants of a question under one g in which every mistake leads away from the key."""
    blur = once(diagnosis, "blur", lambda: _Blur(diagnosis))  # one, so that what is counted is counted once
    return VariantPool(diagnosis.solved, gravity, blur)


def blind_to(diagnosis: Diagnosis, gravity: Decimal) -> dict[str, tuple[str, ...]]:
    """The mistakes that no variant of a scene tells from the right way, by the names of scenes."""
    ids, blur = [each.mistake.id for each in diagnosis.live], _Blur(diagnosis)
    return {
        pool.scene.name: tuple(compress(ids, blur.everywhere(pool)))
        for pool in VariantPool(diagnosis.solved, gravity).pools
    }
