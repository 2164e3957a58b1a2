"""No variant that is drawn takes the number of a mistake for the key: not 45° where the sine is the cosine."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

import numpy as np
from turnwright.bank.checking.wrong_numbers import blind_notes, telling_faults
from turnwright.bank.model.problem import Draw, Problem, QuantitySpec
from turnwright.bank.quantities.quantity import from_float, round_figures
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.thinking.distractors import Diagnosis, blind_to, diagnosis, telling_pool
from turnwright.bank.variants.variant import VariantPool

from tests.bank import models
from tests.bank.models import GRAVITY

WANTED = 24


def taken_for_the_key(found: Diagnosis, pool: Callable[[Diagnosis, Decimal], VariantPool]) -> Iterator[str]:
    """Of some drawn variants the mistakes whose rounded number is accepted; not those that nothing tells apart."""
    blind = blind_to(found, GRAVITY)
    drawn = pool(found, GRAVITY).draw_up_to(WANTED, 3)
    for variant, values in zip(drawn, found.columns(drawn), strict=True):
        key = round_figures(variant.answer.value, variant.answer.figures)
        for form, value in zip(found.live, values, strict=True):
            if np.isnan(value) or form.mistake.id in blind[variant.scene.name]:
                continue
            typed = round_figures(from_float(float(value)), variant.answer.figures)
            if abs(typed - key) <= variant.half_width:
                yield f"{found.solved.id} {variant.scene.name}: {form.mistake.id} gives {typed} for {key}"


def test_no_mistake_leads_to_the_key_in_any_drawn_variant_of_the_bank() -> None:
    assert not [
        told for name in models.shipped_ids() for told in taken_for_the_key(models.diagnosed(name), telling_pool)
    ]


def test_the_test_finds_variants_that_tell_nothing() -> None:
    """Planted: the same draws without the rule."""

    def plain(found: Diagnosis, gravity: Decimal) -> VariantPool:
        return VariantPool(found.solved, gravity)

    found = [*taken_for_the_key(models.diagnosed("big-wheel.force-at-the-bottom"), plain)]
    assert any("speed-not-squared" in each for each in found)


def with_angles(problem: Problem, *angles: int) -> Problem:
    """The problem with these angles and four lengths in all scenes."""

    def changed(quantities: Mapping[str, QuantitySpec]) -> Mapping[str, QuantitySpec]:
        found = dict(quantities)
        for name in found.keys() & {"theta", "L"}:
            draw = found[name].draw
            assert draw or name == "theta"
            values = tuple(map(Decimal, angles)) if name == "theta" or draw is None else draw.values[:4]
            found[name] = replace(found[name], draw=Draw(values))
        return found

    scenes = tuple(replace(each, quantities=changed(each.quantities)) for each in problem.scenes)
    return replace(problem, quantities=changed(problem.quantities), scenes=scenes)


def planted(*angles: int) -> Diagnosis:
    known = models.shipped("conical-pendulum.period")
    return diagnosis(replace(known, problem=with_angles(known.problem, *angles)), shipped_mistakes())


def test_what_no_variant_tells_apart_is_answered_in_its_file() -> None:
    """A weight that a centrifuge makes negligible, bends banked by a few degrees, 1 m/s²; else units that cancel."""
    noted = [name for name in models.shipped_ids() if [*blind_notes(models.diagnosed(name), GRAVITY)]]
    assert {name.partition(".")[0] for name in noted} == {
        "laboratory-centrifuge", "rough-bank-fast", "rough-bank-slow", "smooth-bank", "speeding-up-on-a-circle"
    }  # fmt: skip
    for name in noted:
        solved = models.shipped(name)
        assert "mistake-gives-key" in {*solved.problem.answered, *solved.question.answered}, name
    (first, *_) = blind_notes(planted(*[45] * 20, 38), GRAVITY)
    assert first.found == (
        "in the scene hook a mistake leads to the key in nearly every variant: sine-and-cosine-exchanged and "
        "angle-from-the-other-line"
    )


def test_a_question_with_too_few_telling_variants_is_a_fault() -> None:
    """A fourth of the bank; ``check`` looks at all of it."""
    assert not [told for name in models.shipped_ids()[::4] for told in telling_faults(models.diagnosed(name), GRAVITY)]
    (fault,) = telling_faults(planted(45, 45, 45, 45, 38), GRAVITY)
    assert "only 12 variants left in which no mistake leads to the key" in str(fault)
