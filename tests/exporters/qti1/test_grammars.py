"""The RELAX NG grammars take what the exporters write, and refuse each file that has one thing wrong."""

from __future__ import annotations

import pytest
from lxml import etree
from turnwright.bank.item.sitting import Purpose
from turnwright.schemas import grammar

from tests.exporters.qti1_packs import BANK, CARTRIDGE, FORMATS, GRAMMARS, PLAIN_QTI, QUESTIONS, members

MANIFEST = "imsmanifest.xml"


def is_valid(name: str, text: str) -> bool:
    return bool(grammar(name).validate(etree.fromstring(text.encode())))


@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("name", FORMATS)
def test_what_is_written_is_valid(name: str, purpose: Purpose) -> None:
    held = members(name, purpose)
    files = [each for each in held if each.endswith(".xml") and each != MANIFEST]
    assert files
    for each in files:
        assert is_valid(GRAMMARS[name], held[each].decode()), each
    if name != PLAIN_QTI:
        assert is_valid("cartridge-manifest", held[MANIFEST].decode())


RESPONSE = '<response_lid ident="RESPONSE" rcardinality="Single">'
SHOWN = '<displayfeedback feedbacktype="Response" linkrefid="right_fb"></displayfeedback>'
SOLUTION = '<displayfeedback feedbacktype="Solution" linkrefid="solution"></displayfeedback>'
CASES: tuple[tuple[str, str, str], ...] = (
    # names and texts
    (PLAIN_QTI, '<item ident="', '<item ident="9'),
    (PLAIN_QTI, '<item ident="', '<item ident="a b'),
    (PLAIN_QTI, '<section ident="', '<section id="'),
    (PLAIN_QTI, 'title="Every kind"', 'title=""'),
    (PLAIN_QTI, 'title="Every kind"', ""),
    (PLAIN_QTI, 'texttype="text/html"', 'texttype="text/htm"'),
    (PLAIN_QTI, 'texttype="text/html"', ""),
    (PLAIN_QTI, 'xmlns="http://www.imsglobal.org/xsd/ims_qtiasiv1p2"', 'xmlns="http://www.imsglobal.org/xsd/other"'),
    # the assessment and its sections
    (PLAIN_QTI, 'feedbackswitch="Yes"', 'feedbackswitch="No"'),
    (PLAIN_QTI, 'hintswitch="Yes"', 'hintswitch="True"'),
    (PLAIN_QTI, "<selection_number>1<", "<selection_number>2<"),
    (PLAIN_QTI, 'sequence_type="Random"', 'sequence-type="Random"'),
    (PLAIN_QTI, '<order order_type="Random"></order>', ""),
    (PLAIN_QTI, '<rubric view="All">', '<rubric view="Nobody">'),
    # items
    (PLAIN_QTI, "<fieldlabel>question</fieldlabel>", "<fieldlabel>queston</fieldlabel>"),
    (PLAIN_QTI, "</presentation><resprocessing>", "<material></material></presentation><resprocessing>"),
    (PLAIN_QTI, 'numtype="Decimal"', 'numtype="Integer"'),
    (PLAIN_QTI, '<render_fib fibtype="Decimal">', '<render_fib fibtype="Decimal" rows="2">'),
    (PLAIN_QTI, 'rcardinality="Multiple"', 'rcardinality="Ordered"'),
    (PLAIN_QTI, 'respident="RESPONSE"', 'respident="ANSWER"'),
    (PLAIN_QTI, '<vargte respident="RESPONSE">2.945</vargte>', '<vargte respident="RESPONSE">2,945</vargte>'),
    (PLAIN_QTI, '<vargte respident="RESPONSE">2.945</vargte>', ""),
    (PLAIN_QTI, 'defaultval="0"', 'defaultval="1"'),
    (PLAIN_QTI, 'minvalue="0"', ""),
    (PLAIN_QTI, 'action="Set"', 'action="Put"'),
    (PLAIN_QTI, 'continue="No"', 'continue="no"'),
    (PLAIN_QTI, SHOWN + SOLUTION, SOLUTION + SHOWN),
    (PLAIN_QTI, 'linkrefid="solution"', 'linkrefid="answer"'),
    (PLAIN_QTI, '<itemfeedback ident="right_fb">', '<itemfeedback ident="right">'),
    # the profile of cartridges
    (CARTRIDGE, "cc.exam.v0p1", "cc.quiz.v0p1"),
    (CARTRIDGE, "<fieldentry>Percentage<", "<fieldentry>Points<"),
    (CARTRIDGE, "cc.multiple_choice.v0p1", "cc.fib.v0p1"),
    (CARTRIDGE, "cc.fib.v0p1", "cc.multiple_choice.v0p1"),
    (CARTRIDGE, "cc.multiple_response.v0p1", "cc.multiple_choice.v0p1"),
    (CARTRIDGE, "cc.fib.v0p1", "cc.essay.v0p1"),
    (CARTRIDGE, ' maxvalue="100"', ' maxvalue="1"'),
    (CARTRIDGE, 'varname="SCORE">100<', 'varname="SCORE">50<'),
    (CARTRIDGE, 'varname="SCORE">100<', 'varname="MARK">100<'),
    (CARTRIDGE, 'case="No">', 'case="Yes">'),
    (CARTRIDGE, 'case="No">2.95<', 'case="No">2.95 m/s<'),
    (CARTRIDGE, RESPONSE, f"{RESPONSE}<render_fib></render_fib></response_lid>{RESPONSE}"),
    (CARTRIDGE, "</section></assessment>", '</section><section ident="more"></section></assessment>'),
    (CARTRIDGE, "</section></assessment>", "<selection_ordering></selection_ordering></section></assessment>"),
    (CARTRIDGE, "<itemmetadata>", "<duration>PT1M</duration><itemmetadata>"),
    (CARTRIDGE, "</qtimetadata><section", "</qtimetadata><rubric></rubric><section"),
    (CARTRIDGE, "</presentation>", f"{RESPONSE}</response_lid></presentation>"),
    (BANK, "cc_question_category", "cc_category"),
    (BANK, "<objectbank ident=", '<objectbank title="A bank" ident='),
    (BANK, "</objectbank>", '</objectbank><objectbank ident="more"></objectbank>'),
)


@pytest.mark.parametrize(("name", "old", "new"), CASES)
def test_a_file_with_one_thing_wrong_is_refused(name: str, old: str, new: str) -> None:
    text = members(name)[QUESTIONS[name]].decode()
    assert old in text
    changed = text.replace(old, new, 1)
    etree.fromstring(changed.encode())  # it is refused by the grammar, not by the parser
    assert not is_valid(GRAMMARS[name], changed)


@pytest.mark.parametrize(
    ("name", "tag", "other"),
    [
        (PLAIN_QTI, "vargte", "vargt"),
        (PLAIN_QTI, "solutionmaterial", "hintmaterial"),
        (PLAIN_QTI, "and", "or"),
        (PLAIN_QTI, "response_num", "response_str"),
        (CARTRIDGE, "varequal", "varsubstring"),
        (CARTRIDGE, "response_str", "response_num"),
        (CARTRIDGE, "not", "or"),
        (BANK, "objectbank", "assessment"),
    ],
)
def test_an_element_under_another_name_is_refused(name: str, tag: str, other: str) -> None:
    root = etree.fromstring(members(name)[QUESTIONS[name]])
    found = next(root.iter(f"{{*}}{tag}"))
    found.tag = f"{{{etree.QName(found).namespace}}}{other}"
    assert not is_valid(GRAMMARS[name], etree.tostring(root).decode())


MANIFEST_CASES: tuple[tuple[str, str], ...] = (
    ("IMS Common Cartridge", "Common Cartridge"),
    ("<schemaversion>1.3.0", "<schemaversion>1.2.0"),
    ("rooted-hierarchy", "hierarchical"),
    ("imsccv1p3/imscp_v1p1", "imsccv1p2/imscp_v1p1"),
    ("imscc_xmlv1p3/assessment", "imscc_xmlv1p2/assessment"),
    ("imscc_xmlv1p3/assessment", "imscc_xmlv1p3/question-bank"),
    ('href="assessment-1.xml"', 'href="/assessment-1.xml"'),
    ('href="media/', 'href="../media/'),
    ('type="webcontent"', 'type="image"'),
    ("<lom:language>en", "<lom:language>english"),
    ("<lom:general>", "<lom:general><lom:structure></lom:structure>"),
    ('<lom:string language="en">', '<lom:string lang="en">'),
    ("<title>", "<title> </title><title>"),
    ("<dependency identifierref=", "<dependency idref="),
    ("</resources>", "</resources><resources></resources>"),
    ("<lom:copyrightAndOtherRestrictions><lom:value>yes", "<lom:copyrightAndOtherRestrictions><lom:value>maybe"),
)


@pytest.mark.parametrize(("old", "new"), MANIFEST_CASES)
def test_a_manifest_with_one_thing_wrong_is_refused(old: str, new: str) -> None:
    text = members(CARTRIDGE)[MANIFEST].decode()
    assert old in text
    changed = text.replace(old, new, 1)
    etree.fromstring(changed.encode())
    assert not is_valid("cartridge-manifest", changed)
