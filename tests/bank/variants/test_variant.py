"""Variants: possible, distinct, alike on every machine, and right when worked out from what is printed."""

from __future__ import annotations

import math
import os
import re
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Context, Decimal
from functools import cache
from itertools import product
from pathlib import Path

import numpy as np
import pytest
import sympy
from turnwright.bank.change.changes import Pair
from turnwright.bank.change.showing import shown
from turnwright.bank.errors import SolveError, TooFewVariantsError
from turnwright.bank.item.item import Given, Item
from turnwright.bank.model.evaluation import holds
from turnwright.bank.model.expression import Relation
from turnwright.bank.questions.change_keys import changes
from turnwright.bank.questions.items import items
from turnwright.bank.questions.own_numbers import solve_for
from turnwright.bank.solving.solution import SolvedQuestion, solve_question
from turnwright.bank.variants import variant as variants
from turnwright.bank.variants.magnification import needed_share
from turnwright.bank.variants.variant import Variant, VariantPool

from tests.bank import models

GRAVITY = Decimal("9.8")


def pool(name: str, gravity: Decimal = GRAVITY) -> VariantPool:
    return VariantPool(models.shipped(name), gravity)


def printed_si(variant: Variant) -> dict[str, float]:
    """SI values of the givens, from their printed numbers and units."""
    return {name: models.number(each.number) * models.factor(each.unit.printed) for name, each in variant.given.items()}


def told(variant: Variant) -> tuple[object, ...]:
    return variant.scene.name, *((name, each.text) for name, each in variant.given.items())


# --- possible ---------------------------------------------------------------------------------


@models.of_each(models.shipped_ids)
def test_every_variant_meets_its_equations_and_keeps_what_holds(name: str) -> None:
    """Forces, speeds and angles are found by least squares from the equations, the printed givens and the answer."""
    found = models.shipped(name)
    balance, answer = models.Balance(found.system), models.formula_of(name)
    for variant in pool(name).draw(6, seed=5):
        values = printed_si(variant)
        values[found.question.ask] = answer(values)
        assert values[found.question.ask] == pytest.approx(variant.exact_si, rel=1e-12)
        everything = balance.values(values)
        for each in found.kept:
            if each.expression is not None:
                assert is_kept(each.reason.relation, everything), f"{each.reason.text}: {variant.given}"


def is_kept(relation: Relation, values: Mapping[str, float]) -> bool:
    """Whether an inequality is true, give or take what is nothing beside the weight or beside its own terms."""
    larger, smaller = (relation.left, relation.right)[:: 1 if relation.sign.startswith(">") else -1]
    first, second = models.function(larger)(values), models.function(smaller)(values)
    size = max(abs(first), abs(second), values.get("m", 0.0) * values.get("g", 0.0))
    return first >= second - models.NOTHING * size


@models.of_each(models.shipped_ids)
def test_the_answer_is_plausible_positive_and_tells_no_given(name: str) -> None:
    found = models.shipped(name)
    for variant in pool(name).draw(12, seed=6):
        answer = found.problem.answer_spec(found.question, variant.scene)
        assert answer.plausible
        assert answer.plausible[0] <= variant.answer.value <= answer.plausible[1]
        assert variant.answer.value > 0 or not answer.positive
        alike = [each.text for each in variant.given.values() if each.unit == answer.unit]
        assert variant.answer.text not in alike


@models.of_each(models.shipped_ids)
def test_variants_are_distinct_as_printed(name: str) -> None:
    drawn = pool(name).draw_up_to(40, seed=2)
    assert len({told(each) for each in drawn}) == len(drawn) >= 20
    for variant in drawn:  # two givens that print the same number could be exchanged without a trace
        printed = [each.value for name_, each in variant.given.items() if name_ != "g"]
        assert len(set(printed)) == len(printed), variant.given


# --- counting ---------------------------------------------------------------------------------

SMALL = """
motion: {plane: vertical, radius: r, speed: v}
diagrams: {top: {at: top, N: inward}}
holds: [N >= 0]
quantities: {r: m 0.5 0.8 1.1, v: m/s 2 2.4 3 4 5, m: kg 0.2 0.3, N: N}
"""


def small_pool() -> VariantPool:
    return VariantPool(models.solved(SMALL, "N", "m r v"), GRAVITY)


def counted_by_hand() -> int:
    """N = m (v²/r - 9.8) > 0, the printed N is not 1 (no given is a force), and to three figures it is no half."""
    forces = (m * (v**2 / r - 9.8) for m, r, v in product((0.2, 0.3), (0.5, 0.8, 1.1), (2, 2.4, 3, 4, 5)))
    return sum(force > 1e-9 and f"{force:.2f}" != "1.00" and not is_half(force, 3) for force in forces)


def is_half(value: float, figures: int) -> bool:
    """Whether the decimal digits of a value end with a 5 right after its figures."""
    digits = f"{abs(value):.11e}".partition("e")[0].replace(".", "").rstrip("0")
    return len(digits) == figures + 1 and digits.endswith("5")


def test_no_answer_lies_half_way_between_two_rounded_ones() -> None:
    """One is taught to round a half up, another to round it to even: 36.25 cm is no answer to three figures."""
    drawn = [(each, name) for name in models.shipped_ids() for each in pool(name).draw_up_to(60, seed=1)]
    assert len(drawn) > 10_000
    halves = [(name, each.answer) for each, name in drawn if is_half(float(each.answer.value), each.answer.figures)]
    assert halves == []


HALVES = "motion: {plane: horizontal, radius: r}\nrelations: [h = 5*r/2]\nquantities: {r: m 1.45 1.46 1.55 1.65, h: m}"


def test_an_answer_half_way_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: halves are variants, as they were before."""
    solved = models.solved(HALVES, "h", "r")
    counts = [VariantPool(solved, GRAVITY).count]
    monkeypatch.setattr(variants, "_is_tie", lambda value, figures: np.zeros(np.shape(value), dtype=bool))
    counts.append(VariantPool(replace(solved), GRAVITY).count)
    assert counts == [1, 4]


def test_the_count_is_that_of_all_combinations_tried_one_by_one() -> None:
    assert small_pool().count == counted_by_hand()


def test_no_combination_that_prints_a_number_twice_is_a_variant() -> None:
    alike = "m/s 5 6, m: kg 2 5"
    found = VariantPool(models.solved(SMALL.replace("m/s 2 2.4 3 4 5, m: kg 0.2 0.3", alike), "N", "m r v"), GRAVITY)
    heavy = {
        (m, v) for m, _, v in ([quantity.value for quantity in each.given.values()][:3] for each in found.draw(9, 1))
    }
    assert heavy == {(2, 5), (2, 6), (5, 6)}
    assert found.breaking()["plain: two givens print the same number"] == 3


def test_all_variants_can_be_drawn_and_not_one_more() -> None:
    found = small_pool()
    assert len({told(each) for each in found.draw(found.count, seed=1)}) == found.count
    with pytest.raises(TooFewVariantsError) as caught:
        found.draw(found.count + 1, seed=1)
    assert (caught.value.question, caught.value.found, caught.value.wanted) == (
        "a-model.one",
        found.count,
        found.count + 1,
    )
    assert str(caught.value).startswith(f"a-model.one: {found.count} variants exist, {found.count + 1} were asked for")


@pytest.mark.parametrize("name", ["over-the-top.least-speed", "satellite.period", "wall-ride.longest-period"])
def test_all_variants_of_a_shipped_question_can_be_drawn_and_not_one_more(name: str) -> None:
    found = pool(name)
    assert len({told(each) for each in found.draw(found.count, seed=3)}) == found.count
    with pytest.raises(TooFewVariantsError) as caught:
        found.draw(found.count + 1, seed=3)
    assert caught.value.found == found.count


# --- what holds is judged alike in every unit ---

CORD = """
motion: {{plane: horizontal, radius: r, speed: v, acceleration: a}}
diagrams: {{load: {{N: up, F: inward}}}}
holds: [F <= F_b]
quantities: {{m: {mass} 0.002 0.003, v: {speed} 3 4.7 6 6.1, r: m 4 5, a: m/s^2 3 4, F_b: {force}}}
"""
IN_KILOGRAMS = CORD.format(mass="kg", speed="m/s", force="N 0.0045 0.0072 0.018")  # 0.0045 N = 0.002 kg (3 m/s)²/4 m
IN_MILLIGRAMS = CORD.format(mass="mg", speed="mm/s", force="mN 0.0000000000045 0.0000000000072 0.000000000018")


@cache
def on_a_cord(text: str) -> SolvedQuestion:
    """The acceleration from v and r, where what the cord stands bounds the variants."""
    made = models.problem(text, one={"ask": "a", "given": ["v", "r"], "extra": ["m", "F_b"]})
    return solve_question(made, made.questions[0])


def digits(text: str) -> set[tuple[int, ...]]:
    """The places of the variants' numbers in their draws."""
    found = VariantPool(on_a_cord(text), GRAVITY)
    draws = {name: each.draw.values for name, each in found.solved.problem.quantities.items() if each.draw}
    variants = found.draw(found.count, seed=1)
    return {tuple(draws[name].index(each.given[name].value) for name in ("v", "r", "m", "F_b")) for each in variants}


def test_the_same_problem_in_milligrams_and_in_kilograms_has_the_same_variants() -> None:
    kept = {
        (a, b, c, d)
        for (a, v), (b, r), (c, m), (d, most) in product(
            *map(enumerate, ((3, 4.7, 6, 6.1), (4, 5), (2, 3), (4.5, 7.2, 18)))
        )
        if m * v**2 <= most * r * (1 + 1e-9)
    }
    assert 0 < len(kept) < 48
    assert digits(IN_KILOGRAMS) == digits(IN_MILLIGRAMS) == kept


@pytest.mark.parametrize("text", [IN_KILOGRAMS, IN_MILLIGRAMS], ids=["kilograms", "milligrams"])
def test_own_numbers_break_what_holds_in_every_unit(text: str) -> None:
    problem = on_a_cord(text).problem
    most = {name: str(each.draw.values[0]) for name, each in problem.quantities.items() if each.draw}
    assert solve_for(problem, problem.questions[0], settings(most), None, GRAVITY).value_si > 0
    with pytest.raises(SolveError, match="F <= F_b is broken"):
        solve_for(problem, problem.questions[0], settings({**most, "v": "3.01"}), None, GRAVITY)


def settings(numbers: Mapping[str, str]) -> list[str]:
    return [f"{name}={value}" for name, value in numbers.items() if name in ("v", "r", "m", "F_b")]


@pytest.mark.parametrize("text", [IN_KILOGRAMS, IN_MILLIGRAMS], ids=["kilograms", "milligrams"])
def test_a_change_is_asked_where_what_holds_still_holds_in_every_unit(text: str) -> None:
    assert {each.done for each in changes(on_a_cord(text), ()) if each.symbol == "v"} == {"halved", "quartered"}


@pytest.mark.parametrize("text", [IN_KILOGRAMS, IN_MILLIGRAMS], ids=["kilograms", "milligrams"])
def test_a_key_that_a_new_bound_takes_away_is_shown_in_every_unit(text: str) -> None:
    free, bound = on_a_cord(text.replace("holds: [F <= F_b]", "holds: []")), on_a_cord(text)
    pair = Pair(free.problem, bound.problem, free.question, bound.question)
    found = shown(pair, free, bound)
    assert found and found.new == "none, F <= F_b is broken"


@pytest.mark.parametrize("scale", [1e-30, 1.0, 1e30])
@pytest.mark.parametrize(
    ("a", "b", "strict", "expected"),
    [
        (1, 1, False, True),
        (1, 1, True, False),
        (0.1 + 0.2, 0.3, True, False),
        (0.3, 0.1 + 0.2, False, True),
        (1, 1 + 1e-9, False, False),
        (1 + 1e-9, 1, True, True),
        (math.nan, 1, False, False),
        (0, 0, False, True),
    ],
)
def test_a_margin_is_judged_by_its_terms(scale: float, a: float, b: float, *, strict: bool, expected: bool) -> None:
    c, d, e = sympy.symbols("c d e")
    for margin in (c - d, (c - d) * e, (c - d) / e, c / e - d / e, sympy.sqrt(e) * (c - d)):
        assert holds(margin, {"c": a * scale, "d": b * scale, "e": scale}, strict=strict) == expected


def test_combinations_that_are_no_variants_are_counted_by_what_they_break() -> None:
    found = small_pool()
    broken = found.breaking()
    assert broken["plain: the answer is negative"] > 0
    assert sum(broken.values()) + found.count == 30


def test_numbers_that_lose_the_answer_to_honest_rounding_are_no_variant() -> None:
    """v²/r is 9.80046 m/s² for 2.92 m/s and 0.87 m: with four figures nothing is left over g."""
    close = SMALL.replace("r: m 0.5 0.8 1.1, v: m/s 2 2.4 3 4 5", "r: m 0.87, v: m/s 2.92 4")
    found = VariantPool(models.solved(close, "N", "m r v"), GRAVITY)
    assert found.breaking() == {"plain: rounding on the way would miss the tolerance": 2}
    assert {each.given["v"].text for each in found.draw(found.count, seed=1)} == {"4.00 m/s"}


def test_an_answer_that_equals_a_given_or_one_is_no_variant() -> None:
    """P = k F: 1 times 0.5 and 3.7 give back F, 2 times 0.5 is 1, and only 2 times 3.7 asks for some thought."""
    times = "motion: {plane: horizontal, radius: r}\nrelations: [P = k*F]\nquantities: {k: 1 1 2, F: N 0.5 3.7, P: N}"
    found = VariantPool(models.solved(times, "P", "k F"), GRAVITY)
    assert found.breaking() == {"plain: the answer equals a given, 0 or 1": 3}
    assert [each.answer.text for each in found.draw(1, seed=1)] == ["7.40 N"]


# --- alike everywhere -------------------------------------------------------------------------

SCRIPT = """
from decimal import Decimal
from turnwright.bank.questions.selection import find_question
from turnwright.bank.solving.cache import solved_question
from turnwright.bank.reading.files import read_bank
from turnwright.bank.variants.variant import VariantPool
bank = read_bank()
names = "over-the-top.pull-at-the-top rough-bank-fast.greatest-speed satellite.height big-wheel.difference"
for name in names.split():
    solved = solved_question(*find_question(bank, name))
    print(name, solved.solution.closed_form, [str(each.expression) for each in solved.kept])
    for each in VariantPool(solved, Decimal("9.81")).draw(25, 7):
        print(each.scene.name, [q.text for q in each.given.values()], each.half_width, repr(each.exact_si))
"""


def in_a_fresh_process(hash_seed: str, cache: Path) -> str:
    environment = {**os.environ, "PYTHONHASHSEED": hash_seed, "TURNWRIGHT_CACHE": str(cache)}
    result = subprocess.run([sys.executable, "-c", SCRIPT], env=environment, capture_output=True, text=True, check=True)
    return result.stdout


def test_another_seed_gives_other_variants() -> None:
    first, second = ([told(each) for each in pool("over-the-top.pull-at-the-top").draw(30, seed)] for seed in (1, 2))
    assert len(set(first) & set(second)) < 5


def test_fewer_variants_are_the_first_of_more() -> None:
    more = [told(each) for each in pool("over-the-top.pull-at-the-top").draw(60, seed=1)]
    assert [told(each) for each in pool("over-the-top.pull-at-the-top").draw(13, seed=1)] == more[:13]


@pytest.mark.parametrize("name", models.shipped_ids()[::4])
def test_scenes_take_turns(name: str) -> None:
    found = pool(name)
    count = len(found.pools)
    fewest = min(int(each.judged(np.arange(min(len(each.grid), 4096))).good.sum()) for each in found.pools)
    scenes = [each.scene.name for each in found.draw(count * min(fewest, 4), seed=8)]
    assert len(set(scenes[:count])) == count
    assert scenes[count:] == scenes[:-count]


def test_a_scene_that_runs_out_leaves_its_turns_to_the_others() -> None:
    found = pool("satellite.period")
    scenes = [each.scene.name for each in found.draw(found.count, seed=1)]
    assert len(set(scenes[:4])) == 4
    assert len(set(scenes[-10:])) < 4


# --- the key, from what a student reads -------------------------------------------------------

Numbers = Mapping[str, float]

# each formula is the test's own, in plain Python; the derivations stand in test_solution.py
KEYS: dict[str, Callable[[Numbers], float]] = {
    "over-the-top.least-speed": lambda x: math.sqrt(x["g"] * x["r"]),
    "over-the-top.pull-at-the-top": lambda x: x["m"] * (x["v"] ** 2 / x["r"] - x["g"]),
    "smooth-bank.bank-angle": lambda x: math.atan2(x["v"] ** 2, x["g"] * x["r"]),
    "smooth-bank.normal-force": lambda x: x["m"] * x["g"] / math.cos(x["theta"]),
    "rough-bank-fast.greatest-speed": lambda x: math.sqrt(x["g"] * x["r"] * math.tan(x["theta"] + math.atan(x["mu"]))),
    "rough-bank-slow.least-speed": lambda x: math.sqrt(x["g"] * x["r"] * math.tan(x["theta"] - math.atan(x["mu"]))),
    "conical-pendulum.angle": lambda x: math.acos(x["g"] / (x["L"] * (2 * math.pi / x["T"]) ** 2)),
    "chair-ride.arm-length": lambda x: x["g"] * math.tan(x["theta"]) / x["omega"] ** 2 - x["L"] * math.sin(x["theta"]),
    "on-a-turntable.shortest-period": lambda x: 2 * math.pi / math.sqrt(x["mu"] * x["g"] / x["r"]),
    "wall-ride.friction": lambda x: x["m"] * x["g"],
    "flat-bend.greatest-speed": lambda x: math.sqrt(x["mu"] * x["g"] * x["r"]),
    "loop-from-a-ramp.force-at-the-bottom": lambda x: x["m"] * x["g"] * (1 + 2 * x["h"] / x["r"]),
    "big-wheel.difference": lambda x: 2 * x["m"] * (2 * math.pi / x["T"]) ** 2 * x["r"],
    "cord-through-a-hole.radius": lambda x: x["M"] * x["g"] / (x["m"] * x["omega"] ** 2),
    "satellite.period": lambda x: 2 * math.pi * math.sqrt((x["R"] + x["h"]) ** 3 / (x["G"] * x["M"])),
    "satellite.height": lambda x: (x["G"] * x["M"] * (x["T"] / 2 / math.pi) ** 2) ** (1 / 3) - x["R"],
}


def read_off(item: Item) -> dict[str, float]:
    """SI values of the numbers that stand in the stem."""
    given = (part for paragraph in item.stem for part in paragraph if isinstance(part, Given))
    return {each.symbol: models.number(each.number) * models.factor(each.unit) for each in given}


def rounded(value: float, figures: int) -> Decimal:
    """The value at so many figures; a tie is a tie although floats miss it by their last digits."""
    clean = Context(prec=12).create_decimal(repr(value))
    return Context(prec=figures, rounding=ROUND_HALF_EVEN).plus(clean)


@pytest.mark.parametrize("name", KEYS)
@pytest.mark.parametrize("gravity", ["9.8", "9.81", "10"])
def test_the_key_follows_from_the_numbers_in_the_stem(name: str, gravity: str) -> None:
    for item in items(models.shipped(name), Decimal(gravity), 15, 9):
        entry = item.entry
        exact = KEYS[name](read_off(item)) / models.factor(entry.unit)
        assert entry.exact == pytest.approx(exact, rel=1e-11)
        assert entry.key == rounded(exact, entry.figures)


@models.of_each(models.shipped_ids)
def test_every_given_stands_in_the_stem_as_it_counts(name: str) -> None:
    found = models.shipped(name)
    for item, variant in zip(items(found, GRAVITY, 2, 4), pool(name).draw(2, seed=4), strict=True):
        read, counted = read_off(item), printed_si(variant)
        assert set(found.solution.symbols) <= set(read)
        assert read == {symbol: pytest.approx(counted[symbol], rel=1e-12) for symbol in read}
        assert not re.search(r"\{[^}]*\}", "".join(getattr(part, "text", "") for line in item.stem for part in line))


# --- tolerance --------------------------------------------------------------------------------


def worked_with_rounding(formula: sympy.Expr, values: Mapping[str, Decimal], figures: int) -> Decimal:
    """The formula with every result on the way rounded to ``figures``, in decimal arithmetic as on paper."""
    paper = Context(prec=figures, rounding=ROUND_HALF_EVEN)
    if formula.is_Symbol:
        return values[formula.name]
    if formula.is_number and not formula.args:
        return Decimal(repr(float(formula)))
    inner = [worked_with_rounding(each, values, figures) for each in formula.args]
    result = inner[0]
    if formula.is_Add or formula.is_Mul:
        for each in inner[1:]:
            result = result + each if formula.is_Add else result * each
    elif formula.is_Pow:
        result = Decimal(repr(float(inner[0]) ** float(formula.exp)))
    else:
        result = Decimal(repr(getattr(math, formula.func.__name__)(float(inner[0]))))
    return paper.plus(result)


@models.of_each(models.shipped_ids)
def test_the_tolerance_takes_the_unrounded_answer_and_honest_rounding(name: str) -> None:
    """Honest: every result on the way is kept to one figure more than asked, and the last one rounded as asked."""
    found = models.shipped(name)
    for variant in pool(name).draw(15, seed=10):
        key = rounded(float(variant.answer.value), variant.answer.figures)
        assert abs(variant.answer.value - key) <= variant.half_width
        values = {symbol: Decimal(repr(value)) for symbol, value in printed_si(variant).items()}
        worked = worked_with_rounding(found.solution.closed_form, values, variant.answer.figures + 1)
        honest = rounded(float(worked) / models.factor(variant.answer.unit.printed), variant.answer.figures)
        assert abs(honest - key) <= variant.half_width


@models.of_each(models.shipped_ids)
def test_the_tolerance_is_hardly_wider_than_the_question_says(name: str) -> None:
    """At two figures, rounded up, and half a unit of the second more: at most 15 % wider than is said or needed."""
    found = models.shipped(name)
    for variant in pool(name).draw(15, seed=10):
        said, key = found.question.tolerance, abs(variant.answer.value)
        last_place = Decimal(1).scaleb(
            rounded(float(key), variant.answer.figures).adjusted() - variant.answer.figures + 1
        )
        percent = Decimal("0.02") * key if variant.answer.unit.symbol != "deg" else Decimal("0.5")
        width = percent if said is None else said.absolute or key * (said.percent or 0) / 100
        spread = Decimal(
            float(needed_share(found.solution.closed_form, printed_si(variant), variant.answer.figures)[0])
        )
        assert variant.half_width <= max(width, last_place / 2, key * spread) * Decimal("1.16")
