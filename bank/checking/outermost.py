"""Items at the edges of a question's draws, made as a pack makes them: what can't be made is told by ``check``."""

from __future__ import annotations

import numpy as np

from ..questions.items import Generator
from ..thinking.distractors import Diagnosis
from ..variants.variant import Drawn, VariantPool


def make_outermost(diagnosis: Diagnosis, pool: VariantPool) -> None:
    """Make the items with the first values of the first scene, the last of the last, and the largest answer of all.

    They are looked for among the sample of each scene. Raises whatever making an item raises.
    """
    generator = Generator(diagnosis.solved)
    drawn = _outermost(pool)
    for number, (variant, values) in enumerate(zip(drawn, diagnosis.columns(drawn), strict=True), 1):
        generator.item(variant, number, diagnosis.recognised(variant, values))


def _outermost(pool: VariantPool) -> Drawn:
    sizes = {at: np.abs(each.exact(each.sample)) for at, each in enumerate(pool.pools) if len(each.sample)}
    if not sizes:
        return Drawn(pool.pools, np.array([], dtype=np.int64), np.array([], dtype=np.int64))
    first, last, extreme = min(sizes), max(sizes), max(sizes, key=lambda at: float(sizes[at].max()))
    found = {
        (first, int(pool.pools[first].sample.min())),
        (last, int(pool.pools[last].sample.max())),
        (extreme, int(pool.pools[extreme].sample[sizes[extreme].argmax()])),
    }
    scenes, numbers = np.array(sorted(found), dtype=np.int64).T
    return Drawn(pool.pools, scenes, numbers)
