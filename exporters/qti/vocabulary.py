"""The words that items are written with: elements, conditions, what a branch sets, and what is asked of each part."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, Protocol, TypeAlias

from ...bank.item.item import Paragraph
from ...bank.writing import instructions
from ..markup import elements
from ..markup.elements import Element, Vocabulary

QTI = Vocabulary(elements.QTI, {"xsi": elements.XSI})

LONGEST_PLAIN_NUMBER = 20
Cardinality: TypeAlias = Literal["single", "multiple"]
SOLUTION, SHOWN = "SOLUTION", "SHOWN"
NO_ANSWER = "NO_ANSWER"
RIGHT = "RIGHT"
COMPARE, FIND = instructions.COMPARE, instructions.FIND


def number_text(value: Decimal) -> str:
    """A number as the standard reads it: plain where it stays short, and with the zeros it was printed with."""
    plain = f"{value:f}"
    return plain if len(plain) <= LONGEST_PLAIN_NUMBER else f"{value:E}"


def add_response(root: Element, name: str, cardinality: str, base_type: str, *correct: str) -> Element:
    """A declared response with its correct value, or with the values that are correct together; none if none is."""
    response = QTI.add(root, "qti-response-declaration", identifier=name, cardinality=cardinality, base_type=base_type)
    if correct:
        holder = QTI.add(response, "qti-correct-response")
        for value in correct:
            QTI.add(holder, "qti-value", value)
    return response


def add_mapping(response: Element, worth: dict[str, Decimal]) -> None:
    """What each value of a response is worth; a value that is not named is worth nothing."""
    mapping = QTI.add(response, "qti-mapping", default_value="0")
    for key, value in worth.items():
        QTI.add(mapping, "qti-map-entry", map_key=key, mapped_value=number_text(value), case_sensitive="true")


def add_outcome(root: Element, name: str, value: str, **limits: str) -> None:
    """A declared outcome, a number that starts at ``value``."""
    outcome = QTI.add(
        root, "qti-outcome-declaration", identifier=name, cardinality="single", base_type="float", **limits
    )
    QTI.add(QTI.add(outcome, "qti-default-value"), "qti-value", value)


def add_flag(root: Element, name: str, cardinality: str = "single") -> None:
    """A declared outcome that names what to show; at first, nothing."""
    QTI.add(root, "qti-outcome-declaration", identifier=name, cardinality=cardinality, base_type="identifier")


def branch(condition: Element) -> Element:
    """A new branch of a condition, the first as an if; its test is to be its first child."""
    return QTI.add(condition, "qti-response-else-if" if len(condition) else "qti-response-if")


def otherwise(condition: Element) -> Element:
    """The last branch of a condition, which needs no test."""
    return QTI.add(condition, "qti-response-else")


def if_empty(condition: Element, response: str) -> Element:
    """A branch for a response that was not given."""
    empty = branch(condition)
    add_variable(QTI.add(empty, "qti-is-null"), response)
    return empty


def if_correct(condition: Element, response: str) -> Element:
    """A branch for the response that is declared as correct."""
    right = branch(condition)
    match = QTI.add(right, "qti-match")
    add_variable(match, response)
    QTI.add(match, "qti-correct", identifier=response)
    return right


def add_choice(parent: Element, response: str, name: str) -> None:
    """The test whether a response is this one name."""
    match = QTI.add(parent, "qti-match")
    add_variable(match, response)
    add_name(match, name)


def put(parent: Element, outcome: str) -> Element:
    """A rule that sets an outcome; the value is to be its only child."""
    return QTI.add(parent, "qti-set-outcome-value", identifier=outcome)


def add_variable(parent: Element, name: str) -> None:
    """The value of a variable."""
    QTI.add(parent, "qti-variable", identifier=name)


def add_number(parent: Element, text: str) -> None:
    """A number that is written out."""
    QTI.add(parent, "qti-base-value", text, base_type="float")


def add_name(parent: Element, name: str) -> None:
    """An identifier that is written out."""
    QTI.add(parent, "qti-base-value", name, base_type="identifier")


@dataclass(frozen=True)
class Names:
    """What the variables of an entry are called. An outcome whose name is empty is not there.

    ``solution`` is there only where an answer to this entry alone brings the worked solution; ``label`` tells the
    parts of an item apart. ``earlier`` are the responses of the parts before it. ``solved``: the item has a worked
    solution, to which feedback may point.
    """

    response: str
    score: str
    feedback: str = ""
    solution: str = ""
    label: str = ""
    earlier: tuple[str, ...] = ()
    solved: bool = True


class Part(Protocol):
    """An entry under its names, as each place of an item file shows it."""

    @property
    def names(self) -> Names:
        """What its variables are called."""

    @property
    def feedback_cardinality(self) -> Cardinality:
        """Whether an answer brings one piece of feedback or several."""

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response, with the key."""

    def add_body(self, parent: Element) -> None:
        """Adds what the candidate sees and answers."""

    def add_marking(self, processing: Element) -> None:
        """Adds the condition that sets its score and, in practice, its feedback."""

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on each kind of answer."""

    def key(self) -> Paragraph:
        """The right answer, for those who mark."""


def conclude(branch: Element, names: Names, score: str, feedback: str) -> None:
    """The score of a branch and what follows it; every answer starts from no score, so that only feedback says it."""
    if score != "0" or not names.feedback:
        add_number(put(branch, names.score), score)
    conclude_feedback(branch, names, feedback)


def conclude_feedback(branch: Element, names: Names, feedback: str) -> None:
    """In practice, the one piece of feedback of a branch; an answer brings the worked solution as well."""
    if names.feedback:
        add_name(put(branch, names.feedback), feedback)
    if feedback != NO_ANSWER:
        show_solution(branch, names)


def show_solution(branch: Element, names: Names) -> None:
    """Brings the worked solution, where an answer to this entry does."""
    if names.solution:
        add_name(put(branch, names.solution), SHOWN)


def add_modal(root: Element, names: Names, identifier: str, text: str, pointer: str = "") -> Element:
    """A piece of feedback with its words, which end in a ``pointer`` to the worked solution; the element with them."""
    if pointer and names.solved:
        text = f"{text} {pointer}"
    modal = QTI.add(
        root, "qti-modal-feedback", outcome_identifier=names.feedback, identifier=identifier, show_hide="show"
    )
    content = QTI.add(modal, "qti-content-body")
    QTI.add(content, "p", f"{names.label}: {text}" if names.label else text)
    return content
