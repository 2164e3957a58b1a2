"""The numbers and the look back of every worked solution, worked out again from what is printed.

The arithmetic is the test's own. Each check says what is wrong as a list of sentences; that the checks notice is shown
on planted faults.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from decimal import Context, Decimal
from itertools import pairwise
from typing import Any

import pytest
import sympy
from turnwright.bank.item import formula
from turnwright.bank.item.item import Math, Paragraph, Step, Words
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.variants.variant import Variant, VariantPool
from turnwright.bank.writing import numeric_steps
from turnwright.bank.writing.solution import Writer

from tests.bank import models
from tests.bank.models import GRAVITY
from tests.bank.writing import printed

MOST_GUARD = 7  # more than that nobody needs to see which way a number is rounded
GUARD = 2  # figures that a converted given keeps beyond its own: what the documentation of the step promises
# one question whose givens are converted by other factors than powers of ten, one with several powers in its look back
CONVERTED, POWERS = "rough-bank-fast.friction", "flat-bend.greatest-speed"
_DOUBLED = re.compile(
    r"If only \{(?P<varied>.+)\} doubles, \{(?P<asked>.+)\}"
    r" (?P<verb>doubles|is halved|increases|decreases)(?P<by> by .*)?\."
)
_GREATER = re.compile(r"If only \{(?P<varied>.+)\} increases, \{(?P<asked>.+)\} (?P<way>increases|decreases)\.")
_ROOTS = {"": 1, "√": 2, "∛": 3}

# SI Brochure, 9th edition (2019), tables 2, 4 and 5: from memory
_UNIT_OF = {
    "length": "m", "mass": "kg", "time": "s", "speed": "m/s", "acceleration": "m/s^2", "force": "N",
    "angular speed": "rad/s", "a spring constant": "N/m", "charge": "C", "magnetic flux density": "T",
    "frequency": "Hz", "field strength": "N/kg", "energy": "J", "voltage": "V", "electric field strength": "V/m",
    "angular momentum": "kg*m^2/s",
    "angle": "rad", "angular acceleration": "rad/s^2",
}  # fmt: skip


def line(paragraph: Paragraph) -> str:
    """A paragraph on one line; formulas between braces."""
    return "".join(part.text if isinstance(part, Words) else f"{{{formula.text(_math(part))}}}" for part in paragraph)


def _math(part: object) -> formula.Node:
    assert isinstance(part, Math)
    return part.node


def variant_of(solved: SolvedQuestion) -> Variant:
    """A variant whose amounts all differ in print, so that each is found by how it looks."""
    for variant in VariantPool(solved, models.GRAVITY).draw_up_to(12, seed=3):
        worked = [each.text for each in numeric_steps.put_in(solved, variant).values()]
        if len(set(worked)) == len(worked):
            return variant
    raise AssertionError(f"{solved.id}: no variant without two alike amounts")


def steps_of(name: str) -> tuple[Variant, list[str], list[str]]:
    """A variant of a shipped question, and the lines of its numbers and its look back."""
    solved = models.shipped(name)
    variant = variant_of(solved)
    *_, numbers, back = Writer(solved, variant.scene).steps(variant)
    assert (numbers.stage, back.stage) == ("numbers", "look back")
    told = _lines(numbers)
    of_turns = [each for each in told if each == "One revolution per minute is 2π rad in 60 s."]
    units = {each.unit.symbol for each in (variant.answer, *variant.given.values())}
    assert len(of_turns) <= ("r/min" in units)
    return variant, [each for each in told if each not in of_turns], _lines(back)


def _lines(step: Step) -> list[str]:
    return [line(each) for each in step.paragraphs]


# --- numbers -----------------------------------------------------------------------------------


def wrong_in_numbers(variant: Variant, lines: list[str]) -> Iterator[str]:
    """What is wrong in the numbers: its conversions, its value, its rounding."""
    *before, last = [each.strip("{}") for each in lines if each.endswith("}")]
    conversions = [each for each in before if re.fullmatch(rf"\S+ = {_AMOUNT} = {_AMOUNT}", each)]
    put_in = [each for each in before if each not in conversions]
    assert len(put_in) <= 1, before
    for each in conversions:
        yield from wrong_conversion(*each.split(" = ")[1:], guard=True)
    shown, _, answer = last.split(" = ", 1)[-1].rpartition(" ≈ ")
    chain = shown.split(" = ") if shown and " = " in last else []
    for first, second in pairwise(chain):
        yield from wrong_conversion(first, second, guard=False)
    if answer != variant.answer.text:
        yield f"{last}: the answer is {variant.answer.text}"
    if put_in and not works_out(put_in[0].split(" = ", 1)[1], answer):
        yield f"{put_in[0]}: this is not {answer}"
    if chain:
        number, unit = printed.split(chain[-1])
        key, key_unit = printed.split(answer)
        # the key is rounded from the value itself, once: a shown half may have been a little more or less
        off = abs(printed.decimal(number) - printed.decimal(key))
        if unit != key_unit or off > half_place(key) + half_place(number):
            yield f"{last}: {chain[-1]} does not round to {answer}"
        guard = printed.figures(number) - printed.figures(key)
        if not GUARD <= guard < GUARD + MOST_GUARD:
            yield f"{last}: {chain[-1]} has no guard figures"


_AMOUNT = printed.AMOUNT.pattern.replace("(?![A-Za-z_])", "")


def wrong_conversion(first: str, second: str, guard: bool) -> Iterator[str]:
    """A shift of the point keeps the figures; any other factor gives ``GUARD`` more but for zeros, rightly rounded."""
    (number, unit), (other, other_unit) = printed.split(first), printed.split(second)
    factor = models.factor(unit) / models.factor(other_unit)
    exact = printed.decimal(number) * Decimal(f"{factor:.14g}")
    shift = re.fullmatch("10*", f"{max(factor, 1 / factor):.9g}".replace("e+", "0")) is not None
    least = printed.figures(number)
    most = least + (GUARD if guard and not shift else 0)
    kept = printed.figures(other)
    in_full = Context(prec=most).plus(exact) == printed.decimal(other)
    if guard and (not least <= kept <= most or (kept < most and not in_full)):
        yield f"{first} = {second}: {kept} figures, not {least} to {most}"
    # where the value was worked out, either side is rounded by itself
    off = abs(exact - printed.decimal(other))
    if off > half_place(other) + (Decimal(0) if guard else half_place(number) * Decimal(f"{factor:.14g}")):
        yield f"{first} = {second}: this is {exact:.9g} {other_unit}"


def half_place(number: str) -> Decimal:
    """Half a unit in the last printed place."""
    return Decimal(5).scaleb(printed.decimal(number).adjusted() - printed.figures(number))


def works_out(put_in: str, answer: str) -> bool:
    """Whether the line comes to the answer, give or take half its last place and a tenth, what guard figures leave."""
    number, unit = printed.split(answer)
    found = printed.value(put_in).to(models.unit(unit)).magnitude
    return abs(found - float(printed.decimal(number))) <= 1.1 * float(half_place(number))


@models.of_each(models.shipped_ids)
def test_the_printed_numbers_come_to_the_printed_answer(name: str) -> None:
    variant, numbers, _ = steps_of(name)
    assert list(wrong_in_numbers(variant, numbers)) == []


def test_a_converted_given_without_its_guard_figures_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(numeric_steps, "_is_power_of_ten", lambda factor: True)
    variant, numbers, _ = steps_of(CONVERTED)
    assert any("figures, not 3 to 5" in each for each in wrong_in_numbers(variant, numbers))


def test_a_wrong_conversion_and_another_answer_are_noticed() -> None:
    variant, numbers, _ = steps_of(CONVERTED)
    (converted,) = [each for each in numbers if "km/h" in each]
    speed = converted.split(" = ")[-1].rstrip("}")
    told = [each.replace(speed, "19.999 m/s") for each in numbers]
    found = list(wrong_in_numbers(variant, told))
    assert any("this is" in each for each in found)
    assert any("this is not" in each for each in found)


# --- a look back -----------------------------------------------------------------------------------


def wrong_in_look_back(solved: SolvedQuestion, variant: Variant, numbers: list[str], lines: list[str]) -> Iterator[str]:
    """What is wrong in the look back, found by changing a number in the line that has them put in."""
    put_in = [each.strip("{}").split(" = ", 1)[1] for each in numbers[:-1] if not _is_conversion(each)]
    asked = formula.text(Writer(solved, variant.scene).notation.symbol(solved.question.ask))
    for told in lines:
        doubled, greater = _DOUBLED.fullmatch(told), _GREATER.fullmatch(told)
        match = doubled or greater
        if match is None:
            yield from wrong_in_words(solved, told, put_in)
            continue
        if match["asked"] != asked:
            yield f"{told}: the question asks for {asked}"
        grown = growth(solved, variant, put_in[0], match["varied"], 2.0 if doubled else 1.001)
        if doubled and abs(grown / promised(doubled) - 1) > 5e-3:
            yield f"{told}: it is multiplied by {grown:.4g}"
        if greater and (grown > 1) != (greater["way"] == "increases"):
            yield f"{told}: it is multiplied by {grown:.6g}"


def _is_conversion(told: str) -> bool:
    return re.fullmatch(rf"\{{\S+ = {_AMOUNT} = {_AMOUNT}\}}", told) is not None


def promised(doubled: re.Match[str]) -> float:
    """The factor that the sentence names."""
    plain = {"doubles": 2.0, "is halved": 0.5}.get(doubled["verb"])
    if plain:
        return plain
    exact, _, about = doubled["by"].removeprefix(" by a factor of ").strip("{}").partition(" ≈ ")
    roots = [(each.lstrip("√∛"), _ROOTS[each.rstrip("0123456789")]) for each in exact.split()]
    factor = math.prod(int(number) ** (1 / root) for number, root in roots)
    assert about in ("", f"{factor:.3g}")
    return factor if doubled["verb"] == "increases" else 1 / factor


def growth(solved: SolvedQuestion, variant: Variant, put_in: str, letter: str, factor: float) -> float:
    """By what the value of the line grows where the amount of a letter is taken ``factor`` times."""
    notation = Writer(solved, variant.scene).notation
    (name,) = [each for each in variant.given if formula.text(notation.symbol(each)) == letter]
    text = numeric_steps.put_in(solved, variant)[name].text
    digits, *rest = re.split("(?=[ \u00a0°])", text, maxsplit=1)
    grown = "".join((f"{float(digits) * factor:.12f}", *rest))
    changed = printed.AMOUNT.sub(
        lambda found: found[0].replace(text, grown) if found[0].lstrip("−") == text.lstrip("−") else found[0], put_in
    )
    assert changed != put_in, f"{text} is not in {put_in}"
    return float((printed.value(changed) / printed.value(put_in)).to_base_units().magnitude)


def wrong_in_words(solved: SolvedQuestion, told: str, put_in: list[str]) -> Iterator[str]:
    """The unit, the pure number, and the mass that is not in the result."""
    unit = re.fullmatch(r"The unit of the right-hand side is \{(.+)\}, the unit of (.+)\.", told)
    mass = re.fullmatch(r"The mass(?:es)? (.+) cancels?, so the .+ does not depend on (?:it|them)\.", told)
    if unit:
        if put_in and printed.value(put_in[0]).dimensionality != models.unit(unit[1]).dimensionality:
            yield f"{told}: it comes out in {printed.value(put_in[0]).units}"
        if models.unit(unit[1]).dimensionality != models.unit(_UNIT_OF[unit[2]]).dimensionality:
            yield f"{told}: {unit[2]} has another unit"
    elif mass:
        gone = set(re.findall(r"\{(.+?)\}", mass[1]))
        if gone & {each.name for each in solved.solution.closed_form.free_symbols}:
            yield told
        if (len(gone) > 1) != told.startswith("The masses"):
            yield f"{told}: one or several?"
    elif "pure number" in told:
        if put_in and not printed.value(put_in[0]).dimensionless:
            yield told
    else:
        yield f"{told}: this sentence is not known here"


@models.of_each(models.shipped_ids)
def test_the_look_back_says_what_a_changed_number_does_in_the_line_of_numbers(name: str) -> None:
    variant, numbers, told = steps_of(name)
    assert told
    assert list(wrong_in_look_back(models.shipped(name), variant, numbers, told)) == []


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("smooth-bank.normal-force", lambda power: -power),
        (POWERS, lambda power: -power),
        (POWERS, lambda power: power * 2),
        (POWERS, lambda power: power + 1),
        ("smooth-bank.radius", lambda power: -power),
    ],
)
def test_a_wrong_power_in_the_look_back_is_noticed(name: str, wrong: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    honest = numeric_steps.power_law

    def planted(closed: sympy.Expr, symbol: str) -> sympy.Rational | None:
        with pytest.MonkeyPatch.context() as patch:  # it calls itself by name
            patch.setattr(numeric_steps, "power_law", honest)
            power = honest(closed, symbol)
        return None if power is None else sympy.sympify(wrong(power))

    monkeypatch.setattr(numeric_steps, "power_law", planted)
    variant, numbers, told = steps_of(name)
    assert any("multiplied by" in each for each in wrong_in_look_back(models.shipped(name), variant, numbers, told))


def test_greater_for_smaller_in_the_look_back_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    honest = numeric_steps._monotony
    monkeypatch.setattr(numeric_steps, "_monotony", lambda solved, symbol: -honest(solved, symbol))
    variant, numbers, told = steps_of("smooth-bank.bank-angle")
    assert any(
        "multiplied by" in each
        for each in wrong_in_look_back(models.shipped("smooth-bank.bank-angle"), variant, numbers, told)
    )


# --- signs -----------------------------------------------------------------------------------------------------


def signs_that_meet(lines: list[str]) -> list[str]:
    """The lines in which an operator stands before a minus; a power of ten and a bracket may do so."""
    return [each for each in lines if re.search(r"[×+−/] −", each)]


def test_a_negative_number_that_is_put_in_stands_in_brackets() -> None:
    solved = models.shipped("energy-of-an-orbit.height-from-energy")
    variant = VariantPool(solved, GRAVITY).draw_up_to(1, 1)[0]
    steps = Writer(solved, solved.problem.scenes_of(solved.question)[0]).steps(variant)
    lines = [line(each) for step in steps for each in step.paragraphs]
    assert any("(−" in each for each in lines)
    assert signs_that_meet(lines) == []
    assert signs_that_meet([each.replace("(−", "−") for each in lines])
