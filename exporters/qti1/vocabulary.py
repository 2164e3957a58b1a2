"""The names and addresses of QTI 1.2.1 and Common Cartridge 1.3, and the small pieces of their files."""

from __future__ import annotations

from collections.abc import Iterable
from typing import IO, Any

from lxml import etree

from ..markup import elements
from ..markup.elements import Element, Vocabulary, put

QTI1_NAMESPACE = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2"
PLAIN_SCHEMA = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2p1.xsd"
CARTRIDGE_SCHEMA = "http://www.imsglobal.org/profile/cc/ccv1p3/ccv1p3_qtiasiv1p2p1_v1p0.xsd"

PLAIN_PACKAGING = "http://www.imsglobal.org/xsd/imscp_v1p1"
PLAIN_METADATA = "http://www.imsglobal.org/xsd/imsmd_v1p2"
PLAIN_TYPE = "imsqti_xmlv1p2"

CARTRIDGE = "http://www.imsglobal.org/xsd/imsccv1p3/imscp_v1p1"
CARTRIDGE_PACKAGING_SCHEMA = "http://www.imsglobal.org/profile/cc/ccv1p3/ccv1p3_imscp_v1p2_v1p0.xsd"
CARTRIDGE_LOM = "http://ltsc.ieee.org/xsd/imsccv1p3/LOM/manifest"
CARTRIDGE_LOM_SCHEMA = "http://www.imsglobal.org/profile/cc/ccv1p3/LOM/ccv1p3_lommanifest_v1p0.xsd"
ASSESSMENT_TYPE = "imsqti_xmlv1p2/imscc_xmlv1p3/assessment"
BANK_TYPE = "imsqti_xmlv1p2/imscc_xmlv1p3/question-bank"


QTI1 = Vocabulary(QTI1_NAMESPACE, {"xsi": elements.XSI})
_DECLARED = etree.tostring(QTI1.root("item")).removeprefix(b"<item").removesuffix(b"/>")
RESPONSE = "RESPONSE"


def put_item(stream: Any, file: IO[bytes], item: Element) -> None:
    """Writes an item where an ``etree.xmlfile`` into ``file`` is: as a whole, for most of a number are its texts."""
    put(stream, file, etree.tostring(item, encoding="UTF-8").replace(_DECLARED, b"", 1))


def yes_or_no(answer: bool) -> str:
    """A switch as the standard writes it."""
    return "Yes" if answer else "No"


def root(schema: str) -> Element:
    """The root of a file, under the name of the schema that it keeps to."""
    element = QTI1.root("questestinterop")
    element.set(elements.SCHEMA_LOCATION_ATTRIBUTE, f"{QTI1_NAMESPACE} {schema}")
    return element


def add_html(parent: Element, html: str) -> None:
    """Material that is HTML, escaped as the text of one element."""
    QTI1.add(QTI1.add(parent, "material"), "mattext", html, texttype="text/html")


def fields(facts: Iterable[tuple[str, str]]) -> Element:
    """Metadata as pairs of a label and an entry."""
    holder = QTI1.root("qtimetadata")
    for label, entry in facts:
        field = QTI1.add(holder, "qtimetadatafield")
        QTI1.add(field, "fieldlabel", label)
        QTI1.add(field, "fieldentry", entry)
    return holder


def add_rule(processing: Element, *, proceed: bool = False) -> Element:
    """A new condition with what follows from it; its test is to be added to its first child."""
    rule = QTI1.add(processing, "respcondition", continue_="Yes" if proceed else "No")
    QTI1.add(rule, "conditionvar")
    return rule


def test(rule: Element) -> Element:
    """The place for the test of a condition."""
    return rule[0]


def add_equal(parent: Element, value: str, **attributes: str) -> None:
    """A test of whether the response is this, or has it among others."""
    QTI1.add(parent, "varequal", value, respident=RESPONSE, **attributes)


def add_score(rule: Element, score: str, action: str = "Set") -> None:
    """What the rule does to the score."""
    QTI1.add(rule, "setvar", score, action=action, varname="SCORE")


def add_feedback(rule: Element, identifier: str, kind: str = "Response") -> None:
    """A piece of feedback that the rule brings: on the response, as a hint, or the solution."""
    QTI1.add(rule, "displayfeedback", feedbacktype=kind, linkrefid=identifier)
