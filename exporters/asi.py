"""The words of QTI 1.2.1, and the small pieces that its files are written with."""

from __future__ import annotations

from collections.abc import Iterable

from turnwright.exporters import namespaces
from turnwright.exporters.asi_namespaces import ASI as NAMESPACE
from turnwright.exporters.elements import Element, Vocabulary

ASI = Vocabulary(NAMESPACE, {"xsi": namespaces.XSI})
RESPONSE = "RESPONSE"


def root(schema: str) -> Element:
    """The root of a file, under the name of the schema that it keeps to."""
    element = ASI.root("questestinterop")
    element.set(namespaces.SCHEMA_LOCATION_ATTRIBUTE, f"{NAMESPACE} {schema}")
    return element


def add_html(parent: Element, html: str) -> None:
    """Material that is HTML, escaped as the text of one element."""
    ASI.add(ASI.add(parent, "material"), "mattext", html, texttype="text/html")


def fields(facts: Iterable[tuple[str, str]]) -> Element:
    """Metadata as pairs of a label and an entry."""
    holder = ASI.root("qtimetadata")
    for label, entry in facts:
        field = ASI.add(holder, "qtimetadatafield")
        ASI.add(field, "fieldlabel", label)
        ASI.add(field, "fieldentry", entry)
    return holder


def add_rule(processing: Element, *, proceed: bool = False) -> Element:
    """A new condition with what follows from it; its test is to be added to its first child."""
    rule = ASI.add(processing, "respcondition", continue_="Yes" if proceed else "No")
    ASI.add(rule, "conditionvar")
    return rule


def test(rule: Element) -> Element:
    """The place for the test of a condition."""
    return rule[0]


def add_equal(parent: Element, value: str, **attributes: str) -> None:
    """A test of whether the response is this, or has it among others."""
    ASI.add(parent, "varequal", value, respident=RESPONSE, **attributes)


def add_score(rule: Element, score: str, action: str = "Set") -> None:
    """What the rule does to the score."""
    ASI.add(rule, "setvar", score, action=action, varname="SCORE")


def add_feedback(rule: Element, identifier: str, kind: str = "Response") -> None:
    """A piece of feedback that the rule brings: on the response, as a hint, or the solution."""
    ASI.add(rule, "displayfeedback", feedbacktype=kind, linkrefid=identifier)
