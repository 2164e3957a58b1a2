"""The pieces that response processing is written with: conditions, their branches, and what a branch sets."""

from __future__ import annotations

from turnwright.exporters.elements import Element
from turnwright.exporters.qti import QTI


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
