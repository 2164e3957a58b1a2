"""Items of every kind: the good ones pass, and each of them fails with one thing wrong at a time."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.bank.item.item import ChoiceEntry, Item, Option
from turnwright.exporters.proof import Report, prove
from turnwright.exporters.proof.processing.response import Marking
from turnwright.exporters.proof.processing.values import read_declarations
from turnwright.exporters.strangers.documents import read_document

from tests.exporters.proof.entries import expected, words
from tests.exporters.proof.items import (
    BLOCK,
    BUTTON,
    GOOD,
    HINTS,
    choices,
    first,
    item,
    number,
    outcome,
    put,
    response,
    right,
    tell,
    var,
    word,
)

MANIFEST = """<manifest xmlns="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1" identifier="M"><metadata>
<schema>QTI Package</schema></metadata><organizations/><resources>{resources}</resources></manifest>"""
RESOURCE = (
    '<resource identifier="I{n}" type="imsqti_item_xmlv3p0" href="{n}.xml"><file href="{n}.xml"/>{more}</resource>'
)
TEST = """<qti-assessment-test xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="T" title="The fair">
<qti-test-part identifier="P" navigation-mode="linear" submission-mode="individual">
<qti-assessment-section identifier="S" title="S" visible="true">
<qti-selection select="1"/>{refs}</qti-assessment-section></qti-test-part></qti-assessment-test>"""
PICTURE = '<svg xmlns="http://www.w3.org/2000/svg"><desc>The lantern with an arrow {}.</desc></svg>'
PICTURES = {"in": PICTURE.format("to the post"), "out": PICTURE.format("away from the post")}


def proved(
    folder: Path, *texts: str, known: tuple[Item, ...] | None = None, exam: bool = False, drawn: bool = False
) -> Report:
    """The proof of a pack that holds these items; if ``drawn``, a test draws one of them."""
    pictures = PICTURES if any("<img" in each for each in texts) else {}
    more = "".join(f'<file href="{name}.svg"/>' for name in pictures)
    resources = "".join(RESOURCE.format(n=place, more=more) for place in range(len(texts)))
    files = {f"{place}.xml": text for place, text in enumerate(texts)}
    if drawn:
        needs = "".join(f'<dependency identifierref="I{place}"/>' for place in range(len(texts)))
        resources += (
            f'<resource identifier="T" type="imsqti_test_xmlv3p0" href="t.xml"><file href="t.xml"/>{needs}</resource>'
        )
        refs = "".join(
            f'<qti-assessment-item-ref identifier="R{place}" href="{place}.xml"/>' for place in range(len(texts))
        )
        files["t.xml"] = TEST.format(refs=refs)
    with zipfile.ZipFile(folder / "fair.zip", "w") as zipped:
        zipped.writestr("imsmanifest.xml", MANIFEST.format(resources=resources))
        for name, text in {**files, **{f"{name}.svg": text for name, text in pictures.items()}}.items():
            zipped.writestr(name, text)
    return prove(folder / "fair.zip", known, exam=exam)


# The answers tried of each good item, where its entries are known.
TRIED = {
    "choice": 3 + 1,  # each option, and none
    "pictures": 2 + 1,
    "several": 2**4,  # each set of options
    "order": 6 + 3 + 1,  # each order, three cut short, and none
    "match": 3**3 + 3 + 3 + 1,  # each way to match all rows, one row alone, one left out, and none
    "number": 15 + 2 * (3 + 2) + 2,  # as ever; each slip with its edges, and past them; any wrong number, and none
    "stepwise": 15 + 5 + 3 + (2 + 4 + 3 + 2) + 2 * 2 + (1 + 2 * 2 + 1),  # by parts, together, hints, these over answers
}


@pytest.mark.parametrize("kind", GOOD)
def test_a_good_item_of_each_kind_passes_with_exact_counts(kind: str, tmp_path: Path) -> None:
    report = proved(tmp_path, GOOD[kind], known=(expected(kind),))
    assert (report.findings, report.unmarked) == ((), ())
    assert (report.marked, report.answers_tried) == (1, TRIED[kind])
    assert report.as_json()["marked_by_kind"] == {kind if kind != "pictures" else "choice": 1}


@pytest.mark.parametrize("kind", GOOD)
def test_a_good_item_passes_from_the_file_alone(kind: str, tmp_path: Path) -> None:
    report = proved(tmp_path, GOOD[kind])
    assert (report.findings, report.unmarked, report.marked) == ((), (), 1)
    assert len(report.bands) == (kind == "number")


def mutations() -> Iterator[tuple[str, str, str, str, str]]:
    """Name, kind, old text, new text and finding of each block of the file beside this one."""
    blocks = Path(__file__).with_name("test_entries_mutations.txt").read_text("utf-8").split("\n# ")[1:]
    for block in blocks:
        name, kind, *lines = block.strip("\n").split("\n")
        old, new, finding = ("\n".join(line[2:] for line in lines if line[:1] == sign) for sign in "-+=")
        yield name, kind, old, new, finding


MUTATIONS = [pytest.param(*each[1:], id=each[0]) for each in mutations()]


@pytest.mark.parametrize(("kind", "old", "new", "finding"), MUTATIONS)
def test_each_thing_wrong_is_found(kind: str, old: str, new: str, finding: str, tmp_path: Path) -> None:
    assert old in GOOD[kind]
    report = proved(tmp_path, GOOD[kind].replace(old, new, 1), known=(expected(kind),))
    assert any(finding in line for line in report.findings), report.findings


# Kind, old text, new text and finding: what needs no expected item to be found.
ALONE = [
    ("choice", '<qti-correct identifier="RESPONSE"/>', word("A"), "the right answer B scores 0, 1 expected"),
    ("choice", tell("C", "One is right."), "", "option C brings no feedback"),
    ("several", 'map-key="B" mapped-value="-0.5"', 'map-key="B" mapped-value="1"', "the choice of A, B scores 2.5, 2"),
    (
        "several",
        'map-key="D" mapped-value="-0.5"',
        'map-key="D" mapped-value="1"',
        "D is all wrong and earns all marks",
    ),
    ("order", "0.5", "1", "the order A, C, B earns all marks, but C, A, B is right"),
    ("match", '<qti-mapping default-value="0">', '<qti-mapping default-value="1">', "earns all marks, but R1 C2"),
    ("number", "6.28", "3.2", "the wrong number 3.2, recognised from 3.15 to 3.25, overlaps the right answers"),
    ("number", 'SCORE"><qti-base-value base-type="float">0', 'SCORE"><qti-base-value base-type="float">1', "an empty"),
    ("stepwise", var("SCORE_1") + var("SCORE_2"), var("SCORE_1") * 2 + var("SCORE_2"), "SCORE_1 scores 1, 2 expected"),
]


@pytest.mark.parametrize(("kind", "old", "new", "finding"), ALONE)
def test_the_file_alone_tells_what_cannot_be_right(kind: str, old: str, new: str, finding: str, tmp_path: Path) -> None:
    assert old in GOOD[kind]
    report = proved(tmp_path, GOOD[kind].replace(old, new))
    findings = (*report.findings, *report.warnings)
    assert any(finding in line for line in findings), findings


@pytest.mark.parametrize("kind", [each for each in GOOD if each != "stepwise"])
def test_an_exam_needs_no_feedback(kind: str, tmp_path: Path) -> None:
    silent = re.sub("<qti-modal-feedback.*</qti-modal-feedback>", "", GOOD[kind])
    report = proved(tmp_path, silent, known=(expected(kind),), exam=True)
    assert (report.findings, report.marked) == ((), 1)
    assert proved(tmp_path, GOOD[kind], known=(expected(kind),), exam=True).findings != ()


def test_an_exam_has_no_hints(tmp_path: Path) -> None:
    silent = re.sub("<qti-(modal-feedback|feedback-block).*</qti-\\1>", "", GOOD["stepwise"])
    report = proved(tmp_path, silent, known=(expected("stepwise"),), exam=True)
    assert [each for each in report.findings if "hint" in each] == ["0.xml: line 6: a hint in an exam"]


def test_another_kind_or_number_of_entries_is_found(tmp_path: Path) -> None:
    report = proved(tmp_path, GOOD["choice"], known=(replace(expected("several"), hints=()),))
    assert report.findings == (
        "0.xml: entry 1 is of the kind 'choice', 'several' expected",
        "0.xml: full marks are 1, 2 expected",
    )
    report = proved(tmp_path, GOOD["choice"], known=(replace(expected("stepwise"), hints=()),))
    assert report.findings[0] == "0.xml: entries to answer: 1, 2 expected"


def test_all_items_of_one_draw_have_the_same_full_marks(tmp_path: Path) -> None:
    dearer = (
        GOOD["choice"].replace('normal-maximum="1"', 'normal-maximum="2"').replace("<qti-value>1<", "<qti-value>2<")
    )
    dearer = dearer.replace('identifier="lantern"', 'identifier="dearer"')
    report = proved(tmp_path, GOOD["choice"], dearer, drawn=True)
    assert report.findings == ("1.xml: full marks are 2, but 1 for 0.xml, drawn alike",)
    assert report.marked_by_kind == {"choice": 2}


def test_many_options_are_tried_in_part_and_too_many_are_refused(tmp_path: Path) -> None:
    names = [f"O{place}" for place in range(9)]
    options = "".join(f'<qti-simple-choice identifier="{each}">force {each}</qti-simple-choice>' for each in names)
    shares = {each: "1" if each == "O4" else "-1" for each in names}
    text = item(
        response("RESPONSE", "multiple", "identifier", "O4", mapping=shares),
        f'<qti-choice-interaction response-identifier="RESPONSE" max-choices="0">{options}</qti-choice-interaction>',
        put("SCORE", '<qti-map-response identifier="RESPONSE"/>'),
    )
    assert proved(tmp_path, text).findings == ()
    lenient = text.replace('map-key="O7" mapped-value="-1"', 'map-key="O7" mapped-value="1"')
    assert "0.xml: the choice of O7 is all wrong and earns all marks" in proved(tmp_path, lenient).findings
    report = proved(tmp_path, text.replace("</qti-choice-interaction>", f"{options * 2}</qti-choice-interaction>"))
    assert "cannot be marked: qti-choice-interaction has 27 options, at most 26 are tried" in report.findings[-1]


ADAPTIVE = item(
    response("RESPONSE", "single", "identifier", "A")
    + response("ASK", "single", "boolean")
    + outcome("SHOW", "multiple"),
    '<qti-choice-interaction response-identifier="RESPONSE" max-choices="1">'
    + choices("inward", "forward")
    + "</qti-choice-interaction>"
    + BUTTON.format("ASK")
    + BLOCK.format("H1", HINTS[0], "")
    + BLOCK.format("H2", HINTS[1], "")
    + BLOCK.format("B", "It turns.", ""),
    first(
        (
            f"<qti-and>{var('ASK')}<qti-member>{word('H1')}{var('SHOW')}</qti-member></qti-and>",
            put("SHOW", f"<qti-multiple>{var('SHOW')}{word('H2')}</qti-multiple>"),
        ),
        (var("ASK"), put("SHOW", f"<qti-multiple>{var('SHOW')}{word('H1')}</qti-multiple>")),
        (right("RESPONSE"), put("SCORE", number("1")) + put("completionStatus", word("completed"))),
        ("", put("SHOW", f"<qti-multiple>{var('SHOW')}{var('RESPONSE')}</qti-multiple>")),
    ),
).replace('adaptive="false"', 'adaptive="true"')


def test_an_adaptive_item_keeps_its_hints_from_one_press_to_the_next(tmp_path: Path) -> None:
    entry = ChoiceEntry((), (Option(words("inward"), True), Option(words("forward"), False, "It turns.")))
    known = replace(expected("choice"), entries=(entry,), hints=(words(HINTS[0]), words(HINTS[1])))
    assert proved(tmp_path, ADAPTIVE, known=(known,)).findings == ()
    forgetful = proved(tmp_path, ADAPTIVE.replace('adaptive="true"', 'adaptive="false"'), known=(known,))
    assert "0.xml: the button 'ASK' shows 0 new pieces of feedback, 1 expected" in forgetful.findings
    endless = proved(tmp_path, ADAPTIVE.replace(put("completionStatus", word("completed")), ""), known=(known,))
    assert endless.findings == ("0.xml: right answers do not complete the item, though it is adaptive",)


RESPONSES = (
    response("P", "multiple", "directedPair", mapping={"A B": "2", "B A": "1"})
    + response("O", "ordered", "identifier", "A", "B")
    + response("B", "single", "boolean")
    + outcome("OUT", base="float")
)


@pytest.mark.parametrize(
    ("answer", "mapped"),
    [((), 0), (("A  B",), 2), (("A B", "A B"), 2), (("A B", "B A"), 3), (("A B", "A C", "C C"), 2)],
)
def test_each_different_pair_is_mapped_once_and_an_empty_set_is_worth_nothing(
    answer: tuple[str, ...], mapped: int
) -> None:
    assert out(put("OUT", '<qti-map-response identifier="P"/>'), P=answer) == mapped


@pytest.mark.parametrize(("answer", "matches"), [(("A", "B"), True), (("B", "A"), False), (("A",), False), ((), None)])
def test_the_order_of_an_ordered_answer_counts(answer: tuple[str, ...], matches: bool | None) -> None:
    assert out(put("OUT", right("O")), "boolean", O=answer) is matches


def test_a_button_that_is_not_pressed_is_false() -> None:
    body = BUTTON.format("B")
    rule = put("OUT", f"<qti-not>{var('B')}</qti-not>")
    assert [out(rule, "boolean", body), out(rule, "boolean", body, B="true")] == [True, False]


def out(rules: str, base: str = "float", body: str = "", **answers: str | tuple[str, ...]) -> object:
    declared = RESPONSES.replace(outcome("OUT", base="float"), outcome("OUT", base=base))
    root = read_document(
        f"<item>{declared}{body}<qti-response-processing>{rules}</qti-response-processing></item>".encode(), str
    )
    buttons = [each.get("response-identifier") for each in root.walk() if each.name == "qti-end-attempt-interaction"]
    return Marking(root, read_declarations(root), Decimal, buttons).mark(answers)["OUT"]
