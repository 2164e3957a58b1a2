"""The advice for a wrong answer helps against every mistake that leads to it, and the likeliest is named first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cache

from turnwright.bank.item.item import Recognised
from turnwright.bank.model.edit import EDITS, edit_of
from turnwright.bank.model.mistake import WEIGHTS, Mistake, Prior
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.thinking.advice import STAGES, advice, cause, feedback, stage
from turnwright.bank.variants.variant import VariantPool
from turnwright.bank.writing.advice import NEXT_MOVE, ONWARDS, PLACES, SEVERAL

from tests.bank import models
from tests.bank.models import GRAVITY


@cache
def known_numbers() -> list[tuple[str, Recognised, Mapping[str, Mistake]]]:
    """The recognised numbers of two variants of a fourth of the shipped questions, with the mistakes by id."""
    return [
        (name, known, {each.mistake.id: each.mistake for each in diagnosed.live})
        for name in models.shipped_ids()[::4]
        for diagnosed in [models.diagnosed(name)]
        for drawn in [VariantPool(diagnosed.solved, GRAVITY).draw_up_to(2, 1)]
        for variant, values in zip(drawn, diagnosed.columns(drawn), strict=True)
        for known in diagnosed.recognised(variant, values)
    ]


def one_sided(known: Recognised, mistakes: Mapping[str, Mistake]) -> Iterator[str]:
    """The mistakes of a shared number whose own advice is told though another mistake leads there with another."""
    found = [mistakes[each] for each in known.mistakes]
    if len({each.feedback for each in found}) > 1:
        yield from (each.id for each in found if each.feedback in known.feedback)


def test_no_number_that_several_mistakes_give_tells_the_advice_of_one() -> None:
    shared = [known for _, known, _ in known_numbers() if len(known.mistakes) > 1]
    assert len(shared) > 50
    for name, known, mistakes in known_numbers():
        assert not list(one_sided(known, mistakes)), name
        assert known.feedback.startswith(SEVERAL[:20]) == (len(known.mistakes) > 1), name


def test_the_advice_of_one_of_two_mistakes_is_caught() -> None:
    """Planted: what was told before, the advice of the first for both."""
    one, two = (own(name, "answer", "x/2", advice=f"Advice {name}.") for name in ("one", "two"))
    planted = Recognised(Decimal(1), Decimal("0.1"), f"It matches. {one.feedback}", ("one", "two"))
    assert list(one_sided(planted, {"one": one, "two": two})) == ["one"]


USUAL = Prior()


def own(name: str, kind: str, argument: object, *, advice: str = "Look again.", prior: Prior = USUAL) -> Mistake:
    thought = f"I thought {name}."
    return Mistake(name, thought, edit_of(kind, argument), advice, "common practice, no source", prior=prior)


def test_the_likeliest_of_several_comes_first_and_none_is_told() -> None:
    for name, known, mistakes in known_numbers():
        weights = [WEIGHTS.index(mistakes[each].prior.weight) for each in known.mistakes]
        assert weights == sorted(weights), name
    seldom = own("seldom", "answer", "x/2", prior=Prior("seldom", "a book"))
    often = own("often", "answer", "x/2", prior=Prior("often", "a book"))
    told = feedback(cause([seldom, often]))
    assert often.thinking not in told
    assert seldom.thinking not in told


def test_who_doubled_the_radius_is_not_asked_for_a_body_that_pushes_outward() -> None:
    by_id = {each.id: each for each in shipped_mistakes()}
    outward, doubled = by_id["outward-force-and-m-a"], by_id["diameter-as-radius"]
    assert feedback(cause([outward, doubled])) == (
        "Several different mistakes can lead to this answer. Check your working line by line, starting with the forces "
        "in your diagram."
    )


def test_mistakes_at_one_stage_get_the_next_move_of_that_stage() -> None:
    found = [own("a", "given", {"of": "radius", "is": "2*x"}), own("b", "relation", "first-term", advice="Measure.")]
    assert advice(found) == NEXT_MOVE["radius"]
    same = [own("a", "given", {"of": "radius", "is": "2*x"}), own("b", "relation", "first-term")]
    assert advice(same) == "Look again."


def test_mistakes_at_many_stages_send_one_through_the_whole_work() -> None:
    kinds = [("drop", "weight"), ("acceleration", "a/2"), ("unit", "km/h"), ("answer", "x/2")]
    assert advice([own(f"m-{each}", each, what, advice=each) for each, what in kinds]) == ONWARDS.format(
        place=PLACES["forces"]
    )


def test_every_mistake_has_a_stage() -> None:
    assert [each.id for each in shipped_mistakes() if stage(each.edit) not in NEXT_MOVE.keys() & PLACES.keys()] == []


def test_every_kind_of_edit_has_a_stage() -> None:
    """Those whose argument decides are in ``stage`` itself."""
    decided = {"given", "angle", "exchange"}
    assert {name for name, kind in EDITS.items() if kind not in STAGES} == decided
