"""Faults, twelve a format and more, each planted in a small pack of ours and found by the proof alone.

The proof is given the pack and nothing else: neither the bank it was written from nor what was agreed on.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest
from turnwright.exporters.proof import Report, prove

from tests.exporters.changes import Change, both, put
from tests.exporters.qti1_packs import zipped
from tests.fuzz import packs

ITEM, OTHER, TEST, MANIFEST = "items/q01_v001.xml", "items/q01_v002.xml", "test.xml", "imsmanifest.xml"
QUESTIONS, FORM = "assessment.xml", "assessment-1.xml"


@dataclass(frozen=True)
class Fault:
    """A change of a pack that is named after its format and kind, what is ``told``, and whether that is a warning."""

    base: str
    change: Change
    told: str
    warned: bool = False

    def report(self, folder: Path) -> Report:
        """The proof of the pack with the fault."""
        held = dict(packs.members(self.base))
        before = dict(held)
        self.change(held)
        assert held != before, "the change changes nothing"
        return prove(zipped(held, folder / "fair.zip"))


def named_twice(item: str) -> Change:
    """The second item takes the name of the first; ``item`` is how the tag of one begins."""

    def change(held: dict[str, bytes]) -> None:
        start = held[ITEM].decode().partition(item)[2]
        name = start.partition('identifier="')[2].partition('"')[0]
        put(OTHER, f'identifier="{name[:-1]}2"', f'identifier="{name}"')(held)

    return change


def added(name: str, content: bytes) -> Change:
    """A file more, which the manifest lists."""
    listed = f'<resource identifier="more" type="webcontent" href="{name}"><file href="{name}"/></resource></resources>'
    return both(put(MANIFEST, "</resources>", listed), lambda held: held.update({name: content}))


def a_picture_called(new: str) -> Change:
    """The first picture under another name."""

    def change(held: dict[str, bytes]) -> None:
        called(next(each for each in held if each.startswith("media/")).removeprefix("media/"), new)(held)

    return change


def called(old: str, new: str) -> Change:
    """A member of another name wherever it is referred to."""

    def change(held: dict[str, bytes]) -> None:
        for name in list(held):
            content = held.pop(name).replace(old.encode(), new.encode())
            held[name.replace(old, new)] = content

    return change


KEYWORD = "<imsmd:keyword><imsmd:string>outward force</imsmd:string></imsmd:keyword></imsmd:general>"
ANSWERS = added("answers.txt", b"1 B 2 B")
TWICE = "calls itself"
DRAWN = "variants of one question"
NARROW, WIDE = 'tolerance="0.025 0.025"', 'tolerance="0.5 0.5"'
HINT, TELLING = "Look at the highest point.", "At the highest point it is 2.97 m/s."
COMMENT = "<!-- B, not outward-force -->"

FAULTS = {
    # --- QTI 3.0
    "3.0 two items of one name": Fault("qti-3.0 number", named_twice("<qti-assessment-item "), TWICE),
    "3.0 two variants for each candidate": Fault(
        "qti-3.0 number", put(TEST, 'select="1"', 'select="2"'), DRAWN, warned=True
    ),
    "3.0 a text under a rule for numbers": Fault(
        "qti-3.0 number",
        put(ITEM, 'cardinality="single" base-type="float"', 'cardinality="single" base-type="string"'),
        "qti-equal needs numbers",
    ),
    "3.0 a hint with the key": Fault("qti-3.0 number", put(ITEM, HINT, TELLING), "tells the key 2.97"),
    "3.0 another key in the rubric": Fault(
        "qti-3.0 number", put(ITEM, "2.97\u00a0m/s. Answers", "2.79\u00a0m/s. Answers"), "those who mark are told"
    ),
    "3.0 a right option that costs marks": Fault(
        "qti-3.0 several", put(ITEM, 'map-key="A" mapped-value="1"', 'map-key="A" mapped-value="-1"'), "takes marks"
    ),
    "3.0 a comment": Fault("qti-3.0 choice-exam", put(ITEM, "<qti-prompt>", f"{COMMENT}<qti-prompt>"), "a comment"),
    "3.0 a class of the right option": Fault(
        "qti-3.0 choice-exam",
        put(ITEM, 'e identifier="B"', 'e class="qti-dark" identifier="B"'),
        "has the class 'qti-d",
    ),
    "3.0 data of a mistake": Fault(
        "qti-3.0 choice-exam",
        put(ITEM, "<qti-prompt>", '<qti-prompt data-mistake="outward-force">'),
        "data-mistake",
        warned=True,
    ),
    "3.0 data of a mistake on a line of its own": Fault(
        "qti-3.0 choice-exam",
        put(ITEM, "<qti-prompt>", '<qti-prompt\ndata-mistake\t=\n"outward-force">'),
        "data-mistake",
        warned=True,
    ),
    "3.0 a list of answers": Fault("qti-3.0 choice-exam", ANSWERS, "answers.txt", warned=True),
    "3.0 a keyword": Fault(
        "qti-3.0 choice-exam", put(MANIFEST, "</imsmd:general>", KEYWORD), "has keywords", warned=True
    ),
    "3.0 a formula of no namespace": Fault(
        "qti-3.0 number", put(ITEM, 'xmlns="http://www.w3.org/1998/Math/MathML" ', ""), "namespace of MathML"
    ),
    # --- QTI 2.2
    "2.2 two items of one name": Fault("qti-2.2 number", named_twice("<assessmentItem "), TWICE),
    "2.2 another key than the solution has": Fault(
        "qti-2.2 number", put(ITEM, "<mn>2.97</mn>", "<mn>2.79</mn>"), "the worked solution gives no number"
    ),
    "2.2 another option in the rubric": Fault(
        "qti-2.2 choice", put(ITEM, "Key: 2.97 m/s", "Key: 1.485 m/s"), "those who mark are told"
    ),
    "2.2 a rubric with the key": Fault(
        "qti-2.2 number",
        put(ITEM, '<rubricBlock view="scorer tutor"', '<rubricBlock view="candidate scorer"'),
        "tells the key 2.97",
    ),
    "2.2 a right pair that costs marks": Fault(
        "qti-2.2 match",
        put(ITEM, 'mapKey="R1 C2" mappedValue="0.333333"', 'mapKey="R1 C2" mappedValue="-0.333333"'),
        "takes marks",
    ),
    "2.2 a wide tolerance": Fault("qti-2.2 number", put(ITEM, NARROW, WIDE), "more than 10% off", warned=True),
    "2.2 a label of the right option": Fault(
        "qti-2.2 choice-exam", put(ITEM, 'e identifier="B"', 'e label="best" identifier="B"'), "has the label 'best'"
    ),
    "2.2 a class of the page": Fault(
        "qti-2.2 choice-exam", put(ITEM, "<itemBody>", '<itemBody class="over-the-top">'), "the class", warned=True
    ),
    "2.2 a comment in the test": Fault(
        "qti-2.2 choice-exam", put(TEST, "<testPart", f"{COMMENT}<testPart"), "holds a comment"
    ),
    "2.2 a picture with a telling name": Fault(
        "qti-2.2 choice-exam", a_picture_called("arrow-inward.svg"), "its name says 'arrow'", warned=True
    ),
    "2.2 outcomes before responses": Fault(
        "qti-2.2 choice",
        put(
            ITEM,
            "<responseDeclaration",
            '<outcomeDeclaration identifier="N" cardinality="single"/><responseDeclaration',
        ),
        "qti-response-declaration has no place",
    ),
    "2.2 an attribute of nobody": Fault(
        "qti-2.2 choice", put(ITEM, 'maxChoices="1"', 'maxChoices="1" score="1"'), "has an attribute 'score'"
    ),
    # --- QTI 2.1
    "2.1 two items of one name": Fault("qti-2.1 number", named_twice("<assessmentItem "), TWICE),
    "2.1 two variants for each candidate": Fault(
        "qti-2.1 number", put(TEST, 'select="1"', 'select="2"'), DRAWN, warned=True
    ),
    "2.1 a text under a rule for numbers": Fault(
        "qti-2.1 number",
        put(ITEM, 'cardinality="single" baseType="float"', 'cardinality="single" baseType="string"'),
        "qti-equal needs numbers",
    ),
    "2.1 a hint with the key": Fault("qti-2.1 number", put(ITEM, HINT, TELLING), "tells the key 2.97"),
    "2.1 another key than rubric and solution have": Fault(
        "qti-2.1 number", put(ITEM, "<value>2.97</value>", "<value>2.79</value>"), "those who mark are told"
    ),
    "2.1 another order in the rubric": Fault(
        "qti-2.1 order", put(ITEM, "Key: 6\u00a0m/s; then 7", "Key: 7\u00a0m/s; then 6"), "those who mark are told"
    ),
    "2.1 the key as a label": Fault(
        "qti-2.1 number-exam", put(ITEM, "<itemBody>", '<itemBody label="2.97">'), "the label '2.97' holds the key"
    ),
    "2.1 the key as a class on two lines": Fault(
        "qti-2.1 number-exam", put(ITEM, "<itemBody>", '<itemBody class\n= "2.97">'), "the class '2.97' holds the key"
    ),
    "2.1 an identifier of the right option": Fault(
        "qti-2.1 choice-exam", put(ITEM, 'e identifier="B"', 'e id="b2" identifier="B"'), "has the id 'b2'"
    ),
    "2.1 a comment in the manifest": Fault(
        "qti-2.1 choice-exam", put(MANIFEST, "<resources>", f"{COMMENT}<resources>"), "holds a comment"
    ),
    "2.1 an element of nobody": Fault(
        "qti-2.1 choice", put(ITEM, "<prompt>", "<answer>B</answer><prompt>"), "qti-answer has no place in qti-choice"
    ),
    "2.1 no word on time": Fault("qti-2.1 choice", put(ITEM, ' timeDependent="false"', ""), "has no time-dependent"),
    "2.1 a resource without a type": Fault(
        "qti-2.1 choice", put(MANIFEST, ' type="webcontent"', ""), "resource has no type"
    ),
    # --- QTI 1.2.1
    "1.2.1 two items of one name": Fault(
        "qti-1.2.1 number", put(QUESTIONS, '_v002" title', '_v001" title'), "another item has the same ident"
    ),
    "1.2.1 two variants for each candidate": Fault(
        "qti-1.2.1 number", put(QUESTIONS, "number>1<", "number>2<"), "1 is expected", warned=True
    ),
    "1.2.1 a text under a rule for numbers": Fault(
        "qti-1.2.1 number",
        put(QUESTIONS, "response_num", "response_str", 2),
        "with a number, and that is a response_str",
    ),
    "1.2.1 a hint with the key": Fault("qti-1.2.1 number", put(QUESTIONS, HINT, TELLING), "tells 2.97, which is right"),
    "1.2.1 another key than the solution has": Fault(
        "qti-1.2.1 number", put(QUESTIONS, "= 2.97\u00a0", "= 2.79\u00a0"), "gives no number that would be right"
    ),
    "1.2.1 a right option that costs marks": Fault(
        "qti-1.2.1 several", put(QUESTIONS, 'action="Add"', 'action="Subtract"'), "the right option A costs marks"
    ),
    "1.2.1 a wide tolerance": Fault(
        "qti-1.2.1 number",
        both(put(QUESTIONS, ">2.945<", ">2.1<"), put(QUESTIONS, ">2.995<", ">3.9<")),
        "more than 10% off",
        warned=True,
    ),
    "1.2.1 a comment": Fault(
        "qti-1.2.1 choice-exam", put(QUESTIONS, "<presentation>", f"{COMMENT}<presentation>"), "holds a comment"
    ),
    "1.2.1 a word of the authors": Fault(
        "qti-1.2.1 choice-exam",
        put(QUESTIONS, "<presentation>", "<presentation><qticomment>B</qticomment>"),
        "qticomment in an exam",
    ),
    "1.2.1 data in a page": Fault(
        "qti-1.2.1 choice-exam",
        put(QUESTIONS, "&lt;p&gt;A pupil", "&lt;p data-key='B'&gt;A pupil"),
        "the data-key 'B'",
        warned=True,
    ),
    "1.2.1 a label of the right option": Fault(
        "qti-1.2.1 choice-exam", put(QUESTIONS, 'ident="B"', 'ident="B" labelrefid="best"'), "has the labelrefid 'best'"
    ),
    "1.2.1 an element of nobody": Fault(
        "qti-1.2.1 choice", put(QUESTIONS, "<presentation>", "<presentation><answer/>"), "answer has no place"
    ),
    "1.2.1 feedback before rules": Fault(
        "qti-1.2.1 choice",
        put(
            QUESTIONS,
            "<resprocessing>",
            '<itemfeedback ident="f"><material><mattext/></material></itemfeedback><resprocessing>',
        ),
        "resprocessing has no place",
    ),
    # --- cartridges
    "cartridge two items of one name": Fault(
        "common-cartridge-1.3 stepwise",
        put(FORM, 'q02_v001" title', 'q01_v001" title'),
        "another item has the same ident",
    ),
    "cartridge a text under a rule for numbers": Fault(
        "common-cartridge-1.3 number",
        put(
            FORM,
            '<varequal respident="RESPONSE" case="No">2.95</varequal>',
            '<vargte respident="RESPONSE">2.95</vargte>',
        ),
        "with a number, and that is a response_str",
    ),
    "cartridge a hint with the key": Fault(
        "common-cartridge-1.3 number", put(FORM, HINT, TELLING), "tells 2.97, which is right"
    ),
    "cartridge another key than the solution has": Fault(
        "common-cartridge-1.3 number", put(FORM, "= 2.97\u00a0", "= 2.79\u00a0"), "gives no number that would be right"
    ),
    "cartridge points for a wrong option, too": Fault(
        "common-cartridge-1.3 choice-exam",
        put(
            FORM,
            '<varequal respident="RESPONSE">B</varequal>',
            '<varequal respident="RESPONSE">B</varequal><varequal respident="RESPONSE">D</varequal>',
        ),
        "the option 'D', which is not there",
    ),
    "cartridge a comment": Fault(
        "common-cartridge-1.3 choice-exam", put(FORM, "<presentation>", f"{COMMENT}<presentation>"), "holds a comment"
    ),
    "cartridge a comment in a text": Fault(
        "common-cartridge-1.3 choice-exam",
        put(FORM, ">2.97 m/s<", ">2.97 m/s&lt;!-- key --&gt;<"),
        "HTML holds a comment",
    ),
    "cartridge a class in a text": Fault(
        "common-cartridge-1.3 choice-exam",
        put(FORM, "&lt;p&gt;A pupil", '&lt;p class="over-the-top"&gt;A pupil'),
        "HTML has the class 'over-the-top'",
        warned=True,
    ),
    "cartridge metadata of nobody": Fault(
        "common-cartridge-1.3 choice-exam",
        put(
            FORM,
            "</qtimetadatafield></qtimetadata></itemmetadata>",
            "</qtimetadatafield><qtimetadatafield><fieldlabel>mistake</fieldlabel><fieldentry>C</fieldentry></qtimetadatafield></qtimetadata></itemmetadata>",
        ),
        "the metadata 'mistake'",
        warned=True,
    ),
    "cartridge a list of answers": Fault("common-cartridge-1.3 choice-exam", ANSWERS, "answers.txt", warned=True),
    "cartridge a test the profile has not": Fault(
        "common-cartridge-1.3 choice",
        put(
            FORM, '<varequal respident="RESPONSE">B</varequal>', '<or><varequal respident="RESPONSE">B</varequal></or>'
        ),
        "or has no place",
    ),
    "cartridge no name": Fault(
        "common-cartridge-1.3 choice", put(FORM, '<response_label ident="A"', "<response_label"), "has no ident"
    ),
}


def test_there_are_twelve_of_each_format() -> None:
    """In three dialects of one family they are not the same twelve."""
    count = Counter(each.base.split()[0] for each in FAULTS.values())
    assert count.keys() == {*packs.FORMATS[:4], "common-cartridge-1.3"}
    assert min(count.values()) >= 12


@pytest.mark.parametrize("name", FAULTS)
def test_the_proof_alone_finds_it(name: str, tmp_path: Path) -> None:
    fault = FAULTS[name]
    report = fault.report(tmp_path)
    found = report.warnings if fault.warned else report.findings
    assert any(fault.told in each for each in found), (report.findings, report.warnings)


@pytest.mark.parametrize("base", sorted({each.base for each in FAULTS.values()}))
def test_nothing_is_found_without_a_fault(base: str, tmp_path: Path) -> None:
    report = prove(zipped(packs.members(base), tmp_path / "fair.zip"))
    assert (report.findings, report.warnings) == ((), ())
