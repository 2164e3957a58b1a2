"""The words of QTI 3.0, and the declarations, numbers and pictures that are written with them."""

from __future__ import annotations

from decimal import Decimal

from turnwright.exporters import namespaces
from turnwright.exporters.elements import Element, Vocabulary

QTI = Vocabulary(namespaces.QTI, {"xsi": namespaces.XSI})

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
