"""What holds, at its very edge: ``>`` leaves the edge out and ``>=`` lets it in; counted by hand on a small grid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import pytest
from turnwright.bank.variants.variant import ScenePool, VariantPool

from tests.bank import models

# four speeds, three ratios: k = 2 and v = 4 m/s are met exactly, as they are whole numbers
TEXT = """
motion: {{plane: vertical, radius: r, speed: v}}
diagrams: {{low: {{at: bottom, N: inward}}}}
holds: ["{holds}"]
quantities: {{r: m 0.7 1.1, v: m/s 3 4 5 6, k: 1 1.5 2 2.5, m: kg 0.3}}
"""
# of 2 radii, 4 speeds and 3 ratios
KEPT = {"k > 2": 2 * 4 * 1, "k >= 2": 2 * 4 * 2, "k < 2": 2 * 4 * 1, "k <= 2": 2 * 4 * 2, "2 < k": 2 * 4 * 1,
        "2 <= k": 2 * 4 * 2, "2 > k": 2 * 4 * 1, "2 >= k": 2 * 4 * 2}  # fmt: skip


def variants(holds: str) -> list[float]:
    """The ratio of each variant of the question that keeps ``holds``."""
    text = TEXT.format(holds=holds)
    made = models.problem(text, one={"ask": "N", "given": ["m", "r", "v"], "extra": ["k"]})
    pool = VariantPool(models.solve_question(made, made.questions[0]), models.GRAVITY)
    return [each.given["k"].si for each in pool.draw_up_to(1000, seed=1)]


@pytest.mark.parametrize(("holds", "count"), KEPT.items())
def test_a_strict_condition_leaves_its_edge_out_and_the_other_lets_it_in(holds: str, count: int) -> None:
    ratios = variants(holds)
    assert len(ratios) == count
    assert (2.0 in ratios) is ("=" in holds)


def test_a_force_of_exactly_nothing_keeps_the_weak_condition_only() -> None:
    """N = m v²/r - m g is exactly 0 for v = 7 m/s, r = 5 m at g = 9.8 N/kg."""
    text = """
motion: {{plane: vertical, radius: r, speed: v}}
diagrams: {{top: {{at: top, N: inward}}}}
holds: [N {sign} 0]
quantities: {{r: m 5, v: m/s 7 8, m: kg 0.5, a: m/s^2, k: 1 1.5}}
relations: [a = k*v**2/r]
"""
    for sign, speeds in ((">=", {7.0, 8.0}), (">", {8.0})):
        made = models.problem(text.format(sign=sign), one={"ask": "a", "given": ["k", "r", "v"]})
        pool = VariantPool(models.solve_question(made, made.questions[0]), models.GRAVITY)
        assert {each.given["v"].si for each in pool.draw_up_to(10, seed=1)} == speeds


def test_a_strict_condition_judged_as_a_weak_one_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    honest = ScenePool._checks

    def planted(self: ScenePool, values: Mapping[str, Any], exact: Any) -> Iterator[tuple[str, Any]]:
        weak = replace(self.solved, kept=tuple(replace(each, strict=False) for each in self.solved.kept))
        return honest(ScenePool(weak, self.scene, self.grid), values, exact)

    monkeypatch.setattr(ScenePool, "_checks", planted)
    assert len(variants("k > 2")) != KEPT["k > 2"]
