"""Variants that magnify rounding: dropped, or with the tolerance that honest rounding of each term needs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest
import sympy
from turnwright.bank.model.evaluation import Columns, evaluate
from turnwright.bank.model.problem import Tolerance
from turnwright.bank.variants.magnification import MOST, WIDEST, elasticities, greatest, needed_share
from turnwright.bank.variants.variant import BLOCK, ScenePool, VariantPool, half_width

from tests.bank import models

GRAVITY = Decimal("9.8")
DROPPED = "a rounded term would move the answer too far"


def pools(name: str) -> tuple[ScenePool, ...]:
    return VariantPool(models.shipped(name), GRAVITY).pools


def uncovered(pool: ScenePool, most: int) -> Iterator[str]:
    """Variants above the limit whose half-width is less than what rounding each term to a guard figure may move."""
    form, figures = pool.solved.solution.closed_form, pool.answer.figures
    numbers = pool.grid.shuffled("honest", 0, 128)
    numbers = numbers[pool.judged(numbers).good][:most]
    for number, found in zip(numbers, elasticities(form, pool.grid.values(numbers)).T, strict=True):
        variant = pool.variant(int(number))
        moved = abs(variant.answer.value) * Decimal(float(found.sum()) * 0.5 * 10.0**-figures)
        if found.max() > MOST and variant.half_width < moved * Decimal("0.999"):
            yield f"{pool.solved.id}: {variant.given} ± {variant.half_width}, {moved:.3g} needed"


def test_no_variant_magnifies_rounding_beyond_its_tolerance() -> None:
    names = models.shipped_ids()
    found = [fault for name in names for pool in pools(name) for fault in uncovered(pool, 6)]
    assert not found


def test_a_variant_that_keeps_its_two_percent_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the share that rounding needs is forgotten where the half-width is set."""
    monkeypatch.setattr(
        "turnwright.bank.variants.variant.half_width", lambda answer, tolerance, _: half_width(answer, tolerance)
    )
    assert any(fault for pool in pools("over-on-a-rod.top-from-bottom") for fault in uncovered(pool, 60))


def test_the_limit_drops_where_enough_is_left() -> None:
    pool = pools("big-wheel.period-from-force")[0]
    judgement = pool.judged(np.arange(len(pool.grid)))
    form = pool.solved.solution.closed_form
    assert not pool.widened and judgement.broken[DROPPED] > 10
    assert greatest(form, pool.grid.values(np.flatnonzero(judgement.good))).max() <= MOST


def test_a_question_that_would_lose_nearly_all_widens() -> None:
    """The height of an orbit is the difference of two radii: no variant of it is below the limit."""
    for pool in pools("satellite.height"):
        strict = replace(pool, widened=False)
        numbers = np.arange(len(pool.grid))
        assert pool.widened and not strict.judged(numbers).good.any()
        assert pool.judged(numbers).good.sum() >= 20


@pytest.mark.parametrize("name", ["over-on-a-rod.top-from-bottom", "over-on-a-rod.force-at-the-top"])
def test_what_would_need_too_wide_a_tolerance_is_dropped(name: str) -> None:
    for pool in pools(name):
        numbers = pool.grid.shuffled("widest", 0, BLOCK)
        judged = pool.judged(numbers)
        values = pool.grid.values(numbers[judged.good])
        assert judged.broken[DROPPED]
        assert needed_share(pool.solved.solution.closed_form, values, pool.answer.figures).max() <= WIDEST


def test_terms_rounded_by_a_careful_student_stay_within_the_half_width() -> None:
    """Each printed given is moved at once, every one to its worst side, by half a unit of the guard figure."""
    for pool in pools("over-on-a-rod.top-from-bottom"):
        form, numbers = pool.solved.solution.closed_form, pool.grid.shuffled("moved", 0, 256)
        for number in numbers[pool.judged(numbers).good][:10]:
            variant, values = pool.variant(int(number)), pool.grid.values(np.array([number]))
            names = sorted(pool.solved.solution.symbols)
            sides = np.array(np.meshgrid(*[[-1, 1]] * len(names))).reshape(len(names), -1)
            moved = {name: values[name] * (1 + side * 0.0005) for name, side in zip(names, sides, strict=True)}
            far = np.abs(evaluate(form, moved) - variant.exact_si).max() / pool.answer.unit.factor
            assert far <= float(variant.half_width) * 1.02  # second order


def test_elasticities_are_those_of_the_derivative() -> None:
    """Held against SymPy's exact derivatives, and by hand: the weight of m(v²/r − g) has the elasticity 1."""
    m, v, r, g = letters = sympy.symbols("m v r g")
    form, point = m * (v**2 / r - g), {"m": 0.25, "v": 3.1, "r": 0.8, "g": 9.8}
    found = elasticities(form, {name: np.array([each, each]) for name, each in point.items()})
    exact = {each.name: abs((form.diff(each) * each / form).subs(point)) for each in letters}
    assert exact["m"] == 1
    for row, name in enumerate(sorted(point)):
        assert found[row] == pytest.approx([float(exact[name])] * 2, rel=1e-5)


def test_a_form_that_stops_being_real_is_magnified_without_bound() -> None:
    x = sympy.Symbol("x")
    assert np.isinf(greatest(sympy.asin(x), {"x": np.array([1.0])})).all()


def test_the_share_raises_the_half_width_and_never_lowers_it() -> None:
    answer = pools("satellite.height")[0].variant(0).answer
    plain = half_width(answer, Tolerance())
    assert half_width(answer, Tolerance(), 0.001) == plain < half_width(answer, Tolerance(), 0.04)


def test_an_item_carries_the_wider_tolerance() -> None:
    solved = models.shipped("over-on-a-rod.force-at-the-top")
    drawn = VariantPool(solved, GRAVITY).draw(40, seed=3)
    assert any(each.half_width > half_width(each.answer, Tolerance()) for each in drawn)


def test_what_a_changed_letter_is_no_part_of_is_not_worked_out_again() -> None:
    form = sympy.sympify("sin(a)*r + cos(b)*v**2")
    values = {
        "a": np.array([0.1, 0.7]),
        "b": np.array([0.2, 0.3]),
        "r": np.array([1.0, 2.0]),
        "v": np.array([3.0, 4.0]),
    }
    here = Columns(values)
    before = evaluate(form, here)
    assert evaluate(form, here).tolist() == before.tolist() == evaluate(form, values).tolist()
    changed = here.changed("r", np.array([5.0, 6.0]))
    assert 0 < len(changed.parts) < len(here.parts)
    assert evaluate(form, changed).tolist() == evaluate(form, {**values, "r": np.array([5.0, 6.0])}).tolist()
    assert evaluate(form, here).tolist() == before.tolist()
