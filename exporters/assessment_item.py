"""One item as a QTI 3.0 ``qti-assessment-item``: a number to type, marked against its key with a tolerance.

In an exam, the file holds no feedback, no solution and no rubric: the key stands only where the marking needs it.
"""

from __future__ import annotations

import copy
from decimal import Decimal
from functools import lru_cache

from turnwright.bank import formula
from turnwright.bank.item import Item, Math, NumberEntry, Words
from turnwright.exporters import namespaces
from turnwright.exporters.content import add_paragraph, add_steps
from turnwright.exporters.elements import Element, Vocabulary, say
from turnwright.exporters.mathml import math
from turnwright.exporters.naming import Question, figure_href

QTI = Vocabulary(namespaces.QTI, {"xsi": namespaces.XSI})

LONGEST_PLAIN_NUMBER = 20
FEEDBACK = {
    "NO_ANSWER": "No number was read. Type digits and a decimal point, without the unit.",
    "RIGHT": "Right: your answer lies within the tolerance. Compare your way with the worked solution.",
    "OUTSIDE": "Your answer does not lie within the tolerance. Find the first step of the worked solution that differs "
    "from yours.",
}


def assessment_item(item: Item, question: Question, index: int) -> Element:
    """The root of the file for the item at ``index`` of its question."""
    practice = question.purpose == "practice"
    root = QTI.root(
        "qti-assessment-item",
        identifier=question.item(index),
        title=question.title,
        adaptive="false",
        time_dependent="false",
    )
    root.set(namespaces.LANGUAGE_ATTRIBUTE, "en")
    root.set(namespaces.SCHEMA_LOCATION_ATTRIBUTE, namespaces.schema_location(namespaces.QTI))
    _add_declarations(root, item.entry, practice)
    _add_body(root, item, question, index)
    root.append(copy.deepcopy(_processing(number_text(item.entry.half_width), practice)))
    if practice:
        root.extend(copy.deepcopy(_modal_feedback()))
    return root


def number_text(value: Decimal) -> str:
    """A number as the standard reads it: plain where it stays short, and with the zeros it was printed with."""
    plain = f"{value:f}"
    return plain if len(plain) <= LONGEST_PLAIN_NUMBER else f"{value:E}"


def _add_declarations(root: Element, entry: NumberEntry, practice: bool) -> None:
    response = QTI.add(root, "qti-response-declaration", identifier="RESPONSE", cardinality="single", base_type="float")
    correct = QTI.add(response, "qti-correct-response")
    QTI.add(correct, "qti-value", number_text(entry.key))
    add_outcome(root, "SCORE", "0", normal_minimum="0", normal_maximum="1")
    add_outcome(root, "MAXSCORE", "1")
    if practice:
        for name in ("FEEDBACK", "SOLUTION"):
            QTI.add(root, "qti-outcome-declaration", identifier=name, cardinality="single", base_type="identifier")


def add_outcome(root: Element, name: str, value: str, **limits: str) -> None:
    """A declared outcome, a number that starts at ``value``."""
    outcome = QTI.add(
        root, "qti-outcome-declaration", identifier=name, cardinality="single", base_type="float", **limits
    )
    QTI.add(QTI.add(outcome, "qti-default-value"), "qti-value", value)


def _add_body(root: Element, item: Item, question: Question, index: int) -> None:
    body = QTI.add(root, "qti-item-body")
    for paragraph in item.stem:
        add_paragraph(body, paragraph, QTI)
    figure = question.section.figure_of[index]
    if figure is not None:
        href = f"../{figure_href(question.figure(figure))}"
        alternative = question.section.figures[figure].alternative
        QTI.add(QTI.add(body, "p"), "img", src=href, alt=alternative)
    _add_answer_line(body, item.entry)
    if question.purpose == "practice":
        _add_solution(body, item)


def _add_answer_line(body: Element, entry: NumberEntry) -> None:
    figures = "1 significant figure" if entry.figures == 1 else f"{entry.figures} significant figures"
    QTI.add(body, "p", f"Give the answer to {figures}, with a decimal point where one is needed.")
    line = QTI.add(body, "p")
    line.append(math(entry.symbol))
    say(line, " = ")
    unit = "degrees" if entry.unit == "°" else entry.unit
    QTI.add(
        line,
        "qti-text-entry-interaction",
        response_identifier="RESPONSE",
        expected_length="10",
        class_="qti-input-width-10",
        aria_label=f"{entry.name} in {unit}" if unit else entry.name,
    )
    if entry.unit:
        say(line, entry.unit if entry.unit == "°" else f"\u00a0{entry.unit}")


def _add_solution(body: Element, item: Item) -> None:
    """The worked solution twice: for the candidate after an answer, and for those who mark or help."""
    block = QTI.add(body, "qti-feedback-block", outcome_identifier="SOLUTION", identifier="SHOWN", show_hide="show")
    content = QTI.add(block, "qti-content-body")
    add_steps(content, item.solution, QTI)
    if item.metadata.caution:
        say(QTI.add(content, "p"), f"Caution: {item.metadata.caution}")
    rubric = QTI.add(body, "qti-rubric-block", view="scorer tutor", use="scoring")
    again = copy.deepcopy(content)
    again.insert(0, _key_line(again, item.entry))
    rubric.append(again)


def _key_line(parent: Element, entry: NumberEntry) -> Element:
    unit = f"\u00a0{entry.unit}" if entry.unit else ""
    key, half_width = number_text(entry.key), number_text(entry.half_width)
    relation = Math(formula.Row((entry.symbol, formula.Operator("="))))
    words = Words(f" {key}{unit}. Answers within {half_width}{unit} of it are right.")
    return add_paragraph(parent, (Words("Key: "), relation, words), QTI)


@lru_cache(maxsize=64)
def _processing(half_width: str, practice: bool) -> Element:
    """The marking, written out: nothing typed, near enough to the key, anything else."""
    processing = QTI.root("qti-response-processing")
    condition = QTI.add(processing, "qti-response-condition")
    empty = QTI.add(condition, "qti-response-if")
    QTI.add(QTI.add(empty, "qti-is-null"), "qti-variable", identifier="RESPONSE")
    _add_outcomes(empty, "0", "NO_ANSWER" if practice else "")
    near = QTI.add(condition, "qti-response-else-if")
    _add_comparison(near, half_width)
    _add_outcomes(near, "1", "RIGHT" if practice else "")
    _add_outcomes(QTI.add(condition, "qti-response-else"), "0", "OUTSIDE" if practice else "")
    return processing


def _add_comparison(branch: Element, half_width: str) -> None:
    """The key comes first: a tolerance is taken about the first of the two."""
    equal = QTI.add(
        branch,
        "qti-equal",
        tolerance_mode="absolute",
        tolerance=f"{half_width} {half_width}",
        include_lower_bound="true",
        include_upper_bound="true",
    )
    QTI.add(equal, "qti-correct", identifier="RESPONSE")
    QTI.add(equal, "qti-variable", identifier="RESPONSE")


def _add_outcomes(branch: Element, score: str, feedback: str) -> None:
    """The score of a branch and, in practice, its feedback; a typed answer brings the worked solution."""
    outcomes = [("SCORE", "float", score)]
    if feedback:
        outcomes.append(("FEEDBACK", "identifier", feedback))
    if feedback and feedback != "NO_ANSWER":
        outcomes.append(("SOLUTION", "identifier", "SHOWN"))
    for name, kind, value in outcomes:
        rule = QTI.add(branch, "qti-set-outcome-value", identifier=name)
        QTI.add(rule, "qti-base-value", value, base_type=kind)


@lru_cache(maxsize=1)
def _modal_feedback() -> Element:
    """An element that holds the feedback on each kind of answer; it is not written itself."""
    holder = QTI.root("qti-assessment-item")
    for name, text in FEEDBACK.items():
        modal = QTI.add(holder, "qti-modal-feedback", outcome_identifier="FEEDBACK", identifier=name, show_hide="show")
        QTI.add(QTI.add(modal, "qti-content-body"), "p", text)
    return holder
