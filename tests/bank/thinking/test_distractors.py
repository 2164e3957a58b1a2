"""Wrong answers of a variant: which become options, which a typed number is known by, and where the key stands."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, ROUND_UP, Context, Decimal
from functools import cache
from itertools import combinations, pairwise

import numpy as np
import pytest
import sympy
from scipy.stats import chisquare
from turnwright.bank.item.item import ChoiceEntry, Words
from turnwright.bank.model.edit import edit_of
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.questions.choice import ChoicePool, number_choice
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import solve_question
from turnwright.bank.thinking.advice import told_in
from turnwright.bank.thinking.distractors import WrongAnswer, apart, candidates, chosen, diagnosis, recognisable
from turnwright.bank.thinking.mistaken_forms import MistakenForm
from turnwright.bank.variants.variant import Variant, VariantPool

from tests.bank import models
from tests.bank.models import GRAVITY

PROMPT = (Words("Choose."),)
VARIANTS = 100


@cache
def drawn() -> list[tuple[str, Variant, tuple[WrongAnswer, ...]]]:
    """Choice variants of every shipped question, as many as it has and 100 at most."""
    return [(name, *each) for name in models.shipped_ids() for each in models.choices(name, VARIANTS)]


@cache
def entries() -> list[tuple[str, Variant, ChoiceEntry]]:
    """The same as they go into items."""
    return [
        (name, variant, number_choice(models.shipped(name), variant, wrong, PROMPT)) for name, variant, wrong in drawn()
    ]


def shown(entry: ChoiceEntry) -> list[str]:
    """What stands on the page."""
    texts = []
    for option in entry.options:
        assert isinstance(option.content, tuple)
        (words,) = option.content
        assert isinstance(words, Words)
        texts.append(words.text)
    return texts


_AMOUNT = re.compile(r"(?P<number>(?P<digits>−?[0-9.]+)(?P<power> × 10[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)?)\s*(?P<unit>.*)")


def amount(text: str) -> re.Match[str]:
    """The number and the unit of an option."""
    match = _AMOUNT.fullmatch(text)
    assert match, text
    return match


# --- options --------------------------------------------------------------------------------------


def test_options_come_from_every_problem_and_from_nearly_every_question() -> None:
    names = {name for name, *_ in drawn()}
    assert {name.split(".")[0] for name in names} == {name.split(".")[0] for name in models.shipped_ids()}
    assert len(names) > 0.9 * len(models.shipped_ids())
    assert len(drawn()) > 10_000


def test_exactly_one_of_three_to_five_options_is_right() -> None:
    for name, variant, entry in entries():
        numbers = [models.number(amount(text)["number"]) for text in shown(entry)]
        exact = variant.exact_si / variant.answer.unit.factor
        fits = [abs(number - exact) <= float(variant.half_width) for number in numbers]
        assert 3 <= len(entry.options) <= 5, name
        assert fits == [option.right for option in entry.options], (name, numbers, exact)
        assert sum(fits) == 1, (name, numbers, exact)


def test_options_look_alike_and_stand_in_order_of_size() -> None:
    for name, _, entry in entries():
        amounts = [amount(text) for text in shown(entry)]
        numbers = [models.number(each["number"]) for each in amounts]
        figures = {len(each["digits"].replace(".", "").lstrip("−0")) for each in amounts}
        assert numbers == sorted(numbers), name
        assert len(figures) == 1, (name, shown(entry))
        assert len({each["unit"] for each in amounts}) == 1, (name, shown(entry))
        assert len({bool(each["power"]) for each in amounts}) == 1, (name, shown(entry))


def test_options_keep_their_distance() -> None:
    """House limits: 5 % of each and of the key, three tolerances, two units of the last figure."""
    for name, variant, wrong in drawn():
        figures = variant.answer.figures
        key = Context(prec=figures, rounding=ROUND_HALF_EVEN).plus(variant.answer.value)
        for low, high in pairwise(sorted([key, *(each.value for each in wrong)])):
            last = Decimal(1).scaleb(max(abs(low), abs(high)).adjusted() - figures + 1)
            least = max(Decimal("0.05") * max(abs(low), abs(high)), 3 * variant.half_width, 2 * last)
            assert high - low >= least, (name, low, high)


def test_no_option_is_the_key_rounded_in_another_way() -> None:
    ways = (ROUND_DOWN, ROUND_UP, ROUND_HALF_EVEN, ROUND_HALF_UP, ROUND_FLOOR, ROUND_CEILING)
    tried = 0
    for name, variant, wrong in drawn():
        for figures in range(2, variant.answer.figures + 3):
            keys = {Context(prec=figures, rounding=way).plus(variant.answer.value) for way in ways}
            assert not keys & {each.value for each in wrong}, (name, variant.answer.value)
            tried += len(wrong) * len(keys)
    assert tried > 400_000


def test_every_wrong_option_can_be_an_answer_of_its_kind() -> None:
    for name, variant, wrong in drawn():
        problem = models.shipped(name).problem
        positive = problem.quantities[models.shipped(name).question.ask].positive
        for each in wrong:
            assert Decimal("0.0249") < abs(each.value / variant.answer.value) < Decimal("40.1"), name
            assert each.value > 0 or not positive, name
            assert each.forms, name


def test_every_wrong_option_names_its_mistakes_and_brings_feedback() -> None:
    for name, variant, entry in entries():
        for option in entry.options:
            assert bool(option.mistakes) != option.right, name
            named = told_in(models.shipped(name), variant.scene, _named(option.mistakes))
            assert option.right or (len(named) > 1) != (named[0].thinking in option.feedback), name


@cache
def _named(ids: tuple[str, ...]) -> list[Mistake]:
    return [each for each in shipped_mistakes() if each.id in ids]


# --- the place of the key -------------------------------------------------------------------------


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_the_key_stands_in_every_place_alike_over_a_pack(seed: int) -> None:
    places = Counter(
        (len(wrong) + 1, sum(each.value < variant.answer.value for each in wrong))
        for name in models.shipped_ids()
        for variant, wrong in models.choices(name, 5, seed)
    )
    for options in (3, 4, 5):
        counts = [places[options, place] for place in range(options)]
        assert chisquare(counts).pvalue > 0.01, (options, counts)


def test_the_place_is_drawn_by_name_and_all_honest_answers_are_in_some_draw() -> None:
    name = "flat-bend.needed-coefficient"
    pool = ChoicePool(models.diagnosed(name), VariantPool(models.shipped(name), GRAVITY))
    few = pool.variants.draw_up_to(1, 1)
    variant, (values,) = few[0], pool.diagnosis.columns(few)
    honest = apart(variant, values, pool.diagnosis.live)
    draws = [chosen(variant, honest, f"draw {number}") for number in range(400)]
    assert draws == [chosen(variant, honest, f"draw {number}") for number in range(400)]
    assert {each.value for draw in draws for each in draw} <= {each.value for each in honest}
    below = [each for each in honest if each.value < variant.answer.value]
    above = [each for each in honest if each.value > variant.answer.value]
    assert {sum(each.value < variant.answer.value for each in draw) for draw in draws} == set(
        range(min(4, len(below)) + 1)
    )
    assert len(above) >= 2  # else the key could not come first


def test_with_fewer_than_two_wrong_answers_there_is_no_choice() -> None:
    name, variant, wrong = drawn()[0]
    assert chosen(variant, wrong[:1], name) == ()
    assert chosen(variant, (), name) == ()
    assert len(chosen(variant, wrong[:2], name)) == 2


# --- two mistakes, one number ---------------------------------------------------------------------

TOP = """
    motion: {plane: vertical, radius: r, speed: v, diameter: d}
    diagrams: {top: {at: top, N: inward}}
    quantities: {d: m 1.8, v: m/s 6, m: kg 0.7}
"""
BOTTOM = """
    motion: {plane: vertical, radius: r, speed: v, diameter: d}
    diagrams: {bottom: {at: bottom, N: inward}}
    quantities: {d: m %s, v: m/s %s, m: kg 0.7}
"""


def groups(text: str) -> list[set[str]]:
    """The wrong options of the one variant of a small model, each with the mistakes that it names; g is 10 N/kg."""
    made = replace(models.problem(text, pull={"ask": "N", "given": ["m", "d", "v"]}), family="vertical-circle")
    found = diagnosis(solve_question(made, made.questions[0]), shipped_mistakes())
    pool = VariantPool(found.solved, Decimal(10))
    one = pool.draw(1, 1)
    (values,) = found.columns(one)
    return [{form.mistake.id for form in each.forms} for each in apart(one[0], values, found.live)]


def together(found: list[set[str]], *mistakes: str) -> bool:
    """Whether one option names these mistakes."""
    return any(set(mistakes) <= each for each in found)


def test_mistakes_that_agree_in_a_variant_are_named_together() -> None:
    """With k = v²/(r g): at the top the right force is (k − 1) m g, at the bottom (k + 1) m g.

    The diameter for the radius gives k/2 − 1 or k/2 + 1, the weight left out k, the weight for the contact force 1,
    the equation of the other end k + 1 or k − 1.
    """
    assert together(groups(TOP), "diameter-as-radius", "contact-is-the-weight")  # k = 4: 4/2 − 1 = 1
    assert together(groups(BOTTOM % ("1.8", "3")), "weight-left-out", "contact-is-the-weight")  # k = 1
    at_two = groups(BOTTOM % ("1.6", "4"))  # k = 2
    assert together(at_two, "diameter-as-radius", "weight-left-out")
    assert together(at_two, "weight-turned-round", "contact-is-the-weight")
    assert not together(at_two, "weight-left-out", "contact-is-the-weight")


def test_mistakes_that_are_one_in_letters_are_named_together_in_every_variant() -> None:
    """An outward force as well, 2 r for C/π: both halve v². Both exchanges turn tan θ into cot θ."""
    pairs = {
        "satellite.speed-from-circumference": ("circumference-over-pi-as-radius", "outward-force-and-m-a"),
        "smooth-bank.radius": ("sine-and-cosine-exchanged", "angle-from-the-other-line"),
        "wall-ride.coefficient-from-speed": ("fraction-upside-down", "friction-carries-inward"),
    }
    for name, pair in pairs.items():
        pool = ChoicePool(models.diagnosed(name), VariantPool(models.shipped(name), GRAVITY))
        few = pool.variants.draw_up_to(20, 1)
        for variant, values in zip(few, pool.diagnosis.columns(few), strict=True):
            named = [{form.mistake.id for form in each.forms} for each in apart(variant, values, pool.diagnosis.live)]
            known = [
                {form.mistake.id for form in each.forms}
                for each, _ in recognisable(variant, values, pool.diagnosis.live)
            ]
            assert not any(len(each & set(pair)) == 1 for each in (*named, *known)), name
            assert together(known, *pair), name


def forms_of(number: int) -> list[MistakenForm]:
    """Mistakes without a closed form, to go with made-up values."""
    mistakes = (
        Mistake(f"idea-{each}", "I think so.", edit_of("answer", "x"), "Look again.", "common practice, no source")
        for each in range(number)
    )
    return [MistakenForm(each, sympy.Integer(0)) for each in mistakes]


@pytest.mark.parametrize(
    ("shares", "kept"),
    [
        ((2.0, 2.08), [(0,)]),  # 4 % apart: the first stays
        ((2.0, 2.2), [(0,), (1,)]),
        ((2.0, 2.0), [(0, 1)]),  # one number: both are named
        ((1.03, 2.0), [(1,)]),  # too near the key
        ((0.97, 2.0, 2.0005), [(1, 2)]),
        ((float("nan"), 2.0), [(1,)]),
        ((2.08, 2.0, 1.92), [(0,), (2,)]),  # the one in between is near both
    ],
)
def test_of_near_wrong_answers_one_is_kept(shares: tuple[float, ...], kept: list[tuple[int, ...]]) -> None:
    variant = next(variant for _, variant, _ in drawn() if 1 < variant.answer.value < 4)
    values = np.array(shares) * float(variant.answer.value)
    found = [
        tuple(int(form.mistake.id[-1]) for form in each.forms) for each in apart(variant, values, forms_of(len(shares)))
    ]
    assert found == kept


def test_an_impossible_number_is_no_wrong_answer() -> None:
    """A negative size, an angle beyond 90°, a number that is not real or a thousand times too large."""
    seen = Counter[str]()
    for name in models.shipped_ids():
        found = models.diagnosed(name)
        for pool in VariantPool(found.solved, GRAVITY).pools:
            numbers = np.arange(min(len(pool.grid), 50))
            table = candidates(pool, found.live, numbers)
            assert table.shape == (len(found.live), len(numbers))
            left = table[np.isfinite(table)]
            seen["left"] += left.size
            seen["out"] += table.size - left.size
            assert not pool.answer.positive or (left > 0).all(), name
            assert pool.answer.unit.symbol != "deg" or (left < 90).all(), name
    assert seen["left"] > seen["out"] > 0


# --- typed numbers --------------------------------------------------------------------------------


def bands(name: str) -> Iterator[tuple[Variant, list[tuple[Decimal, Decimal]]]]:
    """For some variants of a question the bands of the key, first, and of the known wrong answers."""
    found = models.diagnosed(name)
    few = VariantPool(found.solved, GRAVITY).draw_up_to(20, 1)
    for variant, values in zip(few, found.columns(few), strict=True):
        key = Context(prec=variant.answer.figures, rounding=ROUND_HALF_EVEN).plus(variant.answer.value)
        known = [(each.value, each.half_width) for each in found.recognised(variant, values)]
        yield variant, [(value - width, value + width) for value, width in [(key, variant.half_width), *known]]


def test_bands_of_known_wrong_numbers_meet_neither_the_key_nor_each_other() -> None:
    known = 0
    for name in models.shipped_ids():
        for _, found in bands(name):
            known += len(found) - 1
            for (low, high), (other_low, other_high) in combinations(found, 2):
                assert high < other_low or other_high < low, name
    assert known > 10_000


def test_a_typed_wrong_number_is_known_however_many_figures_it_has() -> None:
    for name in models.shipped_ids()[::5]:
        found = models.diagnosed(name)
        pool = ChoicePool(found, VariantPool(found.solved, GRAVITY))
        few = pool.variants.draw_up_to(5, 1)
        for variant, values in zip(few, pool.diagnosis.columns(few), strict=True):
            for each in found.recognised(variant, values):
                mine = [
                    value for value, form in zip(values, found.live, strict=True) if form.mistake.id in each.mistakes
                ]
                for figures in range(variant.answer.figures, 8):
                    typed = Context(prec=figures, rounding=ROUND_HALF_EVEN).plus(Decimal(mine[0]))
                    assert abs(typed - each.value) <= each.half_width, name
                assert each.feedback.startswith(("Your answer corresponds ", "Several different mistakes ")), name


def test_a_number_a_thousand_times_too_large_is_known_but_no_option() -> None:
    """Grams for kilograms: nobody would choose it, but many type it."""
    found = models.diagnosed("conical-pendulum.tension")
    pool = ChoicePool(found, VariantPool(found.solved, GRAVITY))
    few = pool.variants.draw_up_to(40, 1)
    met = 0
    for variant, values in zip(few, pool.diagnosis.columns(few), strict=True):
        options = {form.mistake.id for each in apart(variant, values, found.live) for form in each.forms}
        known = {mistake for each in found.recognised(variant, values) for mistake in each.mistakes}
        assert "grams-as-they-are" not in options
        met += "grams-as-they-are" in known
    assert met >= 10
