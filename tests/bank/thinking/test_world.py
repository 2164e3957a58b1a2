"""Options stay in the world of their scene; what lies outside is known when it is typed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import numpy as np
from turnwright.bank.model.problem import QuantitySpec
from turnwright.bank.quantities.units import unit
from turnwright.bank.thinking.world import SPEED_OF_LIGHT, within_world
from turnwright.bank.variants.variant import Variant, VariantPool

from tests.bank import models
from tests.bank.models import GRAVITY


def kept(asked: QuantitySpec, *values: float) -> list[float]:
    found = within_world(asked, np.array(values))
    return [float(each) for each in found[np.isfinite(found)]]


def range_of(low: str, high: str) -> tuple[Decimal, Decimal]:
    return Decimal(low), Decimal(high)


def outside(name: str, variant: Variant, value: float) -> Iterator[str]:
    """What a wrong option breaks: its size beside what is plausible in the scene, its sign, the speed of light."""
    known = models.shipped(name)
    asked = known.problem.answer_spec(known.question, variant.scene)
    low, high = map(float, asked.plausible or (0, 0))
    times = 2.0 if asked.unit.symbol == "deg" else 5.0
    if not min(low / times, low * times) <= value <= max(high / times, high * times):
        yield f"{name}: {value} {asked.unit.symbol} in {variant.scene.name}"
    if asked.positive and value <= 0:
        yield f"{name}: {value} is no size"
    if asked.unit.dimension == unit("m/s").dimension and abs(value) * asked.unit.factor > SPEED_OF_LIGHT:
        yield f"{name}: {value} {asked.unit.symbol} is faster than light"


def test_no_option_of_the_bank_leaves_its_world() -> None:
    chosen = [(name, *each) for name in models.shipped_ids()[::3] for each in models.choices(name, 20)]
    assert len(chosen) > 1000
    assert not [
        told for name, variant, wrong in chosen for each in wrong for told in outside(name, variant, float(each.value))
    ]


def test_the_length_of_a_stage_is_not_42_metres() -> None:
    """Planted: the radius of a circle on a school stage, 0.5 m to 3 m."""
    asked = QuantitySpec("r", unit("m"), plausible=range_of("0.5", "3"))
    assert kept(asked, 0.09, 0.11, 2.0, 14.9, 42.0) == [0.11, 2.0, 14.9]
    assert kept(replace(asked, plausible=None), 42.0) == [42.0]


def test_nothing_is_faster_than_light_in_any_unit() -> None:
    asked = QuantitySpec("v", unit("km/s"), plausible=range_of("1", "200000"))
    assert kept(asked, 250_000.0, 299_793.0) == [250_000.0]


def test_a_size_has_no_sign_and_a_component_may_have_one() -> None:
    asked = QuantitySpec("F", unit("N"), plausible=range_of("-2", "8"), positive=False)
    assert kept(asked, -11.0, -9.0, 39.0, 41.0) == [-9.0, 39.0]
    assert kept(replace(asked, positive=True), -9.0, 39.0) == [39.0]


def test_what_leaves_the_world_is_still_known_when_it_is_typed() -> None:
    """In some variant a recognised number lies beyond five times what is plausible."""
    far = 0
    for name in models.shipped_ids()[::6]:
        found = models.diagnosed(name)
        drawn = VariantPool(found.solved, GRAVITY).draw_up_to(3, 1)
        for variant, values in zip(drawn, found.columns(drawn), strict=True):
            far += sum(any(outside(name, variant, float(each.value))) for each in found.recognised(variant, values))
    assert far > 20
