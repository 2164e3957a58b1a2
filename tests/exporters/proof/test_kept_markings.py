"""A marking that is kept for numbers that the rules cannot tell apart is the one that the rules would make anew."""

from __future__ import annotations

import random
from decimal import Decimal

import pytest
from turnwright.exporters.proof.processing.response import Marking
from turnwright.exporters.proof.processing.values import Arithmetic, read_declarations, read_responses_again
from turnwright.exporters.strangers.documents import Element, read_document

NUMBERS = (Decimal, float)


def set_score(score: str, said: str) -> str:
    return (
        f'<qti-set-outcome-value identifier="SCORE"><qti-base-value base-type="float">{score}</qti-base-value>'
        '</qti-set-outcome-value><qti-set-outcome-value identifier="SAID"><qti-base-value base-type="identifier">'
        f"{said}</qti-base-value></qti-set-outcome-value>"
    )


def near(number: str, tolerance: str, included: tuple[str, str]) -> str:
    return (
        f'<qti-equal tolerance-mode="absolute" tolerance="{tolerance}" include-lower-bound="{included[0]}"'
        f' include-upper-bound="{included[1]}">{number}<qti-variable identifier="RESPONSE"/></qti-equal>'
    )


def drawn_item(dice: random.Random, more: str = "") -> tuple[str, list[Decimal]]:
    """An item of a number with known wrong ones, and the numbers where its marking may turn."""
    numbers = [Decimal(dice.randint(-3000, 3000)).scaleb(-dice.randint(0, 2)) for _ in range(5)]
    branches, edges = "", list(numbers)
    for place, number in enumerate(numbers):
        below, above = (Decimal(dice.randint(0, 900)).scaleb(-2) for _ in range(2))
        edges += [number - below, number + above]
        value = f'<qti-base-value base-type="float">{number}</qti-base-value>' if place else ""
        test = near(
            value or '<qti-correct identifier="RESPONSE"/>',
            f"{below} {above}",
            (dice.choice(("true", "false")), dice.choice(("true", "false"))),
        )
        branches += f"<qti-response-else-if>{test}{set_score(str(int(not place)), f'B{place}')}</qti-response-else-if>"
    text = f"""<qti-assessment-item><qti-response-declaration identifier="RESPONSE" cardinality="single"
      base-type="float"><qti-correct-response><qti-value>{numbers[0]}</qti-value></qti-correct-response>
      </qti-response-declaration>
      <qti-response-declaration identifier="ASKED" cardinality="single" base-type="boolean"/>
      <qti-outcome-declaration identifier="SCORE" cardinality="single" base-type="float"/>
      <qti-outcome-declaration identifier="OUT" cardinality="single" base-type="float"/>
      <qti-outcome-declaration identifier="SAID" cardinality="single" base-type="identifier"/>
      <qti-response-processing><qti-response-condition><qti-response-if><qti-is-null>
      <qti-variable identifier="RESPONSE"/></qti-is-null>{set_score("0", "NONE")}</qti-response-if>{branches}
      <qti-response-else>{set_score("0", "FAR")}</qti-response-else></qti-response-condition>
      <qti-response-condition><qti-response-if><qti-variable identifier="ASKED"/>
      <qti-set-outcome-value identifier="SAID"><qti-null/></qti-set-outcome-value></qti-response-if>
      </qti-response-condition>{more}</qti-response-processing></qti-assessment-item>"""
    return text, edges


def read(text: str) -> Element:
    return read_document(text.encode(), lambda name: name)


def answers_for(dice: random.Random, edges: list[Decimal]) -> list[dict[str, str]]:
    """Edges, what lies just beside them, and what is no number, some with a hint asked for."""
    typed = [str(edge + dice.choice((-1, 0, 0, 1)) * Decimal("1e-9")) for edge in edges * 2]
    typed += ["", "abc", "1e400", "0", "-0", "1e-400", " 12 "]
    dice.shuffle(typed)
    return [{"RESPONSE": each, **({"ASKED": "true"} if dice.random() < 0.3 else {})} for each in typed]


def anew(root: Element, answers: dict[str, str], number: Arithmetic) -> str:
    """What the rules make of answers when they are run for the first time; written out, so that 1 is not 1.0."""
    return repr(Marking(root, read_declarations(root), number).mark(answers))


# What asks for more of a number than its bands: from then on, no two numbers may be marked as one.
ASKING = (
    '<qti-set-outcome-value identifier="OUT"><qti-variable identifier="RESPONSE"/></qti-set-outcome-value>',
    '<qti-response-condition><qti-response-if><qti-lt><qti-variable identifier="RESPONSE"/>'
    '<qti-base-value base-type="float">7</qti-base-value></qti-lt><qti-set-outcome-value identifier="OUT">'
    '<qti-base-value base-type="float">9</qti-base-value></qti-set-outcome-value></qti-response-if>'
    "</qti-response-condition>",
    '<qti-response-condition><qti-response-if><qti-equal tolerance-mode="absolute" tolerance="RESPONSE">'
    '<qti-base-value base-type="float">3</qti-base-value><qti-base-value base-type="float">4</qti-base-value>'
    '</qti-equal><qti-set-outcome-value identifier="OUT"><qti-base-value base-type="float">9</qti-base-value>'
    "</qti-set-outcome-value></qti-response-if></qti-response-condition>",
)


@pytest.mark.parametrize("more", ["", *ASKING])
@pytest.mark.parametrize("number", NUMBERS)
def test_a_kept_marking_is_the_one_that_the_rules_make_anew(number: Arithmetic, more: str) -> None:
    dice = random.Random(5)
    for _ in range(4):
        text, edges = drawn_item(dice, more)
        root = read(text)
        marking = Marking(root, read_declarations(root), number)
        for answers in answers_for(dice, edges):
            assert repr(marking.mark(answers)) == anew(root, answers, number)


@pytest.mark.parametrize("number", NUMBERS)
def test_numbers_that_have_changed_are_marked_by_the_new_ones(number: Arithmetic) -> None:
    dice = random.Random(6)
    text, _ = drawn_item(dice)
    root = read(text)
    declarations = read_declarations(root)
    marking = Marking(root, declarations, number)
    for _ in range(6):
        other, edges = drawn_item(dice)
        changed: set[Element | str] = {"RESPONSE"}
        for mine, its in zip(root.walk(), read(other).walk(), strict=True):
            if (mine.text, mine.get("tolerance")) != (its.text, its.get("tolerance")):
                changed.add(mine)
                mine.put_text(its.text)
                if "tolerance" in its.attributes:
                    mine.put_attribute("tolerance", its.get("tolerance"))
        read_responses_again(root, declarations)
        marking.read_again(frozenset(changed))
        for answers in answers_for(dice, edges):
            assert repr(marking.mark(answers)) == anew(root, answers, number)


def test_a_score_that_has_changed_is_not_taken_from_before() -> None:
    root = read(drawn_item(random.Random(7))[0])
    marking = Marking(root, read_declarations(root), Decimal)
    assert marking.mark({"RESPONSE": ""})["SCORE"] == 0
    (first, *_) = [each for each in root.walk() if each.name == "qti-base-value" and each.text == "0"]
    first.put_text("3")
    marking.read_again(frozenset({first}))
    assert marking.mark({"RESPONSE": ""})["SCORE"] == 3
