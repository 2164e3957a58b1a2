"""The lines of worked solutions as they stand one below the other: nothing twice, one stroke in a fraction, true words.

Each check gives what is wrong as sentences; that it notices is shown on a planted fault.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import islice

import pytest
from turnwright.bank.item import formula
from turnwright.bank.item.formula import Fraction, Number, Operator, Row, Symbol, UnitNode
from turnwright.bank.item.item import Math, Paragraph, Step
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.writing import algebra, solution
from turnwright.bank.writing.solution import Writer

from tests.bank import models
from tests.bank.writing import printed
from tests.bank.writing.test_solutions import honest, text, writers

_ALONE = re.compile(r"From the [^{}]*(?:\{[^{}]+\})?[^{}]*: \{([^{}]+)\}\.")
_UNIT = re.compile(r"\b(?:revolutions per minute|N m²/kg²|m/s²|N/kg|N/m|m/s|km/h|km/s|rad/s|r/min|r/s|1/min|1/s)")


def displayed(steps: Sequence[Step]) -> list[str]:
    """The equations that stand on lines of their own, and those that a line gives from an equation, in their order."""
    found = []
    for paragraph in (each for step in steps for each in step.paragraphs):
        told = _ALONE.fullmatch(text([paragraph]))
        if told:
            found.append(told[1])
        elif len(paragraph) == 1 and isinstance(paragraph[0], Math):
            found.append(formula.text(paragraph[0].node))
    return found


def twice(solved: SolvedQuestion, steps: Sequence[Step]) -> Iterator[str]:
    """Lines that an earlier line has shown already."""
    lines = displayed(steps)
    yield from (f"{solved.id}: {line}" for place, line in enumerate(lines) if line in lines[:place])


def test_no_line_of_a_solution_is_shown_twice() -> None:
    assert [told for solved, variant, writer in honest() for told in twice(solved, writer.steps(variant))] == []


def test_an_equation_that_is_written_down_again_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the algebra starts with the equation as it stands."""
    monkeypatch.setattr(algebra.AlgebraWriter, "_stands", lambda *_: False)
    found = {told for solved, variant, writer in writers() for told in twice(solved, writer.steps(variant))}
    assert len(found) >= 20


# --- one stroke -------------------------------------------------------------------------------------


def strokes(line: str) -> Iterator[str]:
    """Terms with a fraction and a second stroke on one level: ``9.81 N/kg/cos 30°``."""
    while True:
        outer = re.sub(r"\([^()]*\)", "#", line)
        for inside in (*re.findall(r"\(([^()]*)\)", line), *([line] if outer == line else [])):
            for term in re.split(r" [+−=≈≤≥<>] |, ", inside):
                fractions = _UNIT.sub("u", term).count("/")
                if fractions and term.count("/") > 1:
                    yield term
        if outer == line:
            return
        line = outer


def all_formulas(paragraphs: Sequence[Paragraph]) -> list[str]:
    """The formulas of some paragraphs."""
    return [formula.text(part.node) for each in paragraphs for part in each if isinstance(part, Math)]


def test_no_fraction_has_two_strokes_on_one_level() -> None:
    told = [
        f"{solved.id}: {term}"
        for solved, variant, writer in honest()
        for line in all_formulas([each for step in writer.steps(variant) for each in step.paragraphs])
        for term in strokes(line)
    ]
    assert told == []


def test_a_second_stroke_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: fractions as they were written before."""

    def plain(node: Fraction) -> str:
        return f"{formula.text(node.above)}/{formula._bracketed(node.below)}"

    monkeypatch.setitem(formula._TEXT, Fraction, plain)
    told = {
        term
        for solved, variant, writer in islice(writers(), 0, None, 3)
        for line in all_formulas([each for step in writer.steps(variant) for each in step.paragraphs])
        for term in strokes(line)
    }
    assert len(told) >= 10


FIELD = Row((Number("9.81"), UnitNode("N/kg")))


@pytest.mark.parametrize(
    ("node", "line"),
    [
        (Fraction(FIELD, formula.Call("cos", Number("30°"))), "(9.81 N/kg)/cos 30°"),
        (Fraction(Fraction(Symbol("a"), Symbol("b")), Symbol("c")), "(a/b)/c"),
        (Fraction(Symbol("a"), Fraction(Symbol("b"), Symbol("c"))), "a/(b/c)"),
        (Row((Fraction(Number("3"), Number("4")), Symbol("m"))), "(3/4) m"),
        (Row((Fraction(Number("3"), Number("4")), Operator("×"), FIELD)), "(3/4) × 9.81 N/kg"),
        (Row((Fraction(Number("1"), Number("2")), Symbol("m"))), "½ m"),
        (Row((Fraction(Symbol("a"), Symbol("b")), Operator("="), Symbol("c"))), "a/b = c"),
        (Fraction(Number("1"), formula.Root(Symbol("r"))), "1/√r"),
    ],
)
def test_a_fraction_on_one_line_has_one_reading(node: formula.Node, line: str) -> None:
    assert formula.text(node) == line
    assert list(strokes(line)) == []


def test_the_reader_of_strokes() -> None:
    assert list(strokes("F = 2 kg × 9.81 N/kg/cos 30° − a/b")) == ["2 kg × 9.81 N/kg/cos 30°"]
    assert list(strokes("F = √(a/b/c) + 1")) == ["a/b/c"]
    assert list(strokes("F = 3 rad/s × 9.81 N/kg")) == []
    assert printed.value("½ × 3.0 m").magnitude == 1.5


# --- what is true of the forces ---------------------------------------------------------------------


def test_a_force_that_may_act_either_way_has_no_direction_before_its_sign_is_known() -> None:
    """And when its value is there, the solution says which way it points."""
    signs = set()
    for solved, variant, writer in honest():
        told = text([each for step in writer.steps(variant) for each in step.paragraphs])
        ask = solved.problem.quantities[solved.question.ask]
        if not ask.positive and any(force.symbol == ask.symbol for d in solved.problem.diagrams for force in d.forces):
            symbol = re.escape(formula.text(writer.notation.symbol(ask.symbol)))
            assert re.search(rf"\{{{symbol}\}} exerted by [^(]+\(along the radius, taken as positive", told), solved.id
            sign, way = re.search(rf"\{{{symbol}\}} is (\w+), so .+ is directed (towards|away from)", told).groups()  # type: ignore[union-attr]
            assert (sign, way) in {("positive", "towards"), ("negative", "away from")}
            assert (variant.answer.value > 0) == (sign == "positive"), solved.id
            signs.add(sign)
        else:
            assert "taken as positive" not in told or ask.symbol != solved.question.ask
    assert signs


def test_no_solution_says_that_nothing_drives_an_aeroplane() -> None:
    """Where a problem says that a forward force acts, no solution says that no other forces act; elsewhere all do."""
    seen = {True: 0, False: 0}
    for solved, _, writer in honest():
        told = text([each for step in writer.letters for each in step.paragraphs])
        driven = "forward-force-drawn" in solved.problem.without
        if "Forces on " in told:
            seen[driven] += 1
            assert ("No other forces act." in told) != driven, solved.id
            assert (solution.NONE_ACROSS in told) == driven, solved.id
    assert seen[True] >= 5
    assert seen[False] >= 100


def test_a_direction_before_the_sign_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solution, "sense_of", lambda *_: "")
    rods = [
        (solved, variant)
        for solved, variant, _ in honest()
        if not solved.problem.quantities[solved.question.ask].positive
    ]
    assert rods
    for solved, variant in rods:
        told = text([each for step in Writer(solved, variant.scene).steps(variant) for each in step.paragraphs])
        assert "taken as positive" not in told


# --- tangents -----------------------------------------------------------------------------------------


def test_sine_and_cosine_that_stand_as_a_tangent_are_found_as_one() -> None:
    """Of a raised rail, tan θ = v²/(g r) is put into e = w tan θ; no cosine as a multiple of the sine is seen."""
    solved = models.shipped("raised-outer-rail.rail-height")
    told = text(Writer(solved, solved.problem.scenes[0]).without_numbers()[3].paragraphs)
    assert "{tan θ = v²/(g r)}" in told
    assert "Substitute for {tan θ} in the relation for {e}" in told
    assert "{cos θ =" not in told


# --- where a body turns back --------------------------------------------------------------------------


def test_where_a_body_turns_back_is_no_limit_and_has_no_acceleration_towards_the_centre() -> None:
    solved = models.shipped("pendulum-on-the-way-up.turning-point")
    steps = {each.heading: text(each.paragraphs) for each in Writer(solved, solved.problem.scenes[0]).without_numbers()}
    assert (
        "its speed is zero for a moment, so its acceleration has no component" in steps["Direction of the acceleration"]
    )
    assert "its speed is zero for a moment: {v = 0}" in steps["Condition"]
    assert "Limiting condition" not in steps


def test_a_speed_that_is_only_just_reached_is_a_limit() -> None:
    solved = models.shipped("over-on-a-rod.bottom-at-the-limit")
    headings = [each.heading for each in Writer(solved, solved.problem.scenes[0]).without_numbers()]
    assert "Limiting condition" in headings
