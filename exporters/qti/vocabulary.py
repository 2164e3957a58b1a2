"""The pieces that response processing is written with: conditions, their branches, and what a branch sets."""

from __future__ import annotations

from decimal import Decimal

from ..markup import elements
from ..markup.elements import Element, Vocabulary

# --- the words of qti 3.0, and the declarations, numbers and pictures that are written with them ---


QTI = Vocabulary(elements.QTI, {"xsi": elements.XSI})

LONGEST_PLAIN_NUMBER = 20


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
