"""A pack written by hand, and the same pack with one thing wrong at a time."""

from __future__ import annotations

import math
import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.bank.errors import ProofError
from turnwright.bank.item.formula import Symbol
from turnwright.bank.item.item import Given, Item, Metadata, NumberEntry, Step, Words
from turnwright.exporters.proof import prove
from turnwright.exporters.proof.words.leaks import Secret, numbers_in
from turnwright.exporters.proof.words.printing import has_figures

Members = dict[str, str]

MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<manifest xmlns="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1" identifier="MAN-fair">
 <metadata><schema>QTI Package</schema><schemaversion>3.0.0</schemaversion></metadata>
 <organizations/>
 <resources>
  <resource identifier="T-fair" type="imsqti_test_xmlv3p0" href="fair-test.xml"><file href="fair-test.xml"/>
   <dependency identifierref="I-a1"/><dependency identifierref="I-a2"/>
   <dependency identifierref="I-b1"/><dependency identifierref="I-b2"/></resource>
  {items}
  <resource identifier="M-swing" type="webcontent" href="media/figure1.svg"><file href="media/figure1.svg"/></resource>
 </resources></manifest>"""
ITEM_RESOURCE = """<resource identifier="I-{id}" type="imsqti_item_xmlv3p0" href="items/{id}.xml">
   <file href="items/{id}.xml"/><dependency identifierref="M-swing"/></resource>"""

TEST = """<?xml version="1.0" encoding="UTF-8"?>
<qti-assessment-test xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="fair-test" title="At the fair">
 <qti-outcome-declaration identifier="SCORE" cardinality="single" base-type="float">
  <qti-default-value><qti-value>0</qti-value></qti-default-value></qti-outcome-declaration>
 <qti-test-part identifier="P1" navigation-mode="nonlinear" submission-mode="individual">
  <qti-item-session-control show-feedback="true" show-solution="false"/>
  <qti-assessment-section identifier="ALL" title="All" visible="false">
   <qti-assessment-section identifier="PULL" title="Pull" visible="false"><qti-selection select="1"/>
    <qti-assessment-item-ref identifier="pull_1" href="items/a1.xml"/>
    <qti-assessment-item-ref identifier="pull_2" href="items/a2.xml"/>
   </qti-assessment-section>
   <qti-assessment-section identifier="LAP" title="Lap" visible="false"><qti-selection select="1"/>
    <qti-assessment-item-ref identifier="lap_1" href="items/b1.xml"/>
    <qti-assessment-item-ref identifier="lap_2" href="items/b2.xml"/>
   </qti-assessment-section></qti-assessment-section></qti-test-part>
 <qti-outcome-processing><qti-set-outcome-value identifier="SCORE"><qti-sum>
  <qti-test-variables variable-identifier="SCORE"/></qti-sum></qti-set-outcome-value></qti-outcome-processing>
</qti-assessment-test>"""

ITEM = """<?xml version="1.0" encoding="UTF-8"?>
<qti-assessment-item xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="{id}" title="The swing boat ride"
  adaptive="false" time-dependent="false" xml:lang="en">
 <qti-response-declaration identifier="ANS" cardinality="single" base-type="float">
  <qti-correct-response><qti-value>{key}</qti-value></qti-correct-response></qti-response-declaration>
 <qti-outcome-declaration identifier="SCORE" cardinality="single" base-type="float" normal-maximum="1">
  <qti-default-value><qti-value>0</qti-value></qti-default-value></qti-outcome-declaration>
 <qti-outcome-declaration identifier="MAXSCORE" cardinality="single" base-type="float">
  <qti-default-value><qti-value>1</qti-value></qti-default-value></qti-outcome-declaration>
 <qti-outcome-declaration identifier="FEEDBACK" cardinality="single" base-type="identifier"/>
 <qti-item-body>
  <p id="story">A seat hangs {radius} m from the mast and takes {lap} s for one lap.</p>
  <p><img src="../media/figure1.svg" alt="A seat on a level circle, seen from above" aria-describedby="story"/></p>
  <p>a = <qti-text-entry-interaction response-identifier="ANS" expected-length="10"/> {unit}</p>
 </qti-item-body>
 <qti-response-processing><qti-response-condition>
  <qti-response-if><qti-is-null><qti-variable identifier="ANS"/></qti-is-null>
   <qti-set-outcome-value identifier="FEEDBACK"><qti-base-value base-type="identifier">EMPTY</qti-base-value>
   </qti-set-outcome-value></qti-response-if>
  <qti-response-else-if>
   <qti-equal tolerance-mode="absolute" tolerance="{w} {w}" include-lower-bound="true" include-upper-bound="true">
    <qti-correct identifier="ANS"/><qti-variable identifier="ANS"/></qti-equal>
   <qti-set-outcome-value identifier="SCORE"><qti-variable identifier="MAXSCORE"/></qti-set-outcome-value>
  </qti-response-else-if>
  <qti-response-else>
   <qti-set-outcome-value identifier="FEEDBACK"><qti-base-value base-type="identifier">OTHER</qti-base-value>
   </qti-set-outcome-value></qti-response-else></qti-response-condition></qti-response-processing>
 <qti-modal-feedback outcome-identifier="FEEDBACK" show-hide="show" identifier="EMPTY">
  <qti-content-body><p>Type a number.</p></qti-content-body></qti-modal-feedback>
 <qti-modal-feedback outcome-identifier="FEEDBACK" show-hide="show" identifier="OTHER">
  <qti-content-body><p>Square the speed, then divide by the radius.</p></qti-content-body></qti-modal-feedback>
</qti-assessment-item>"""

PICTURE = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 90"><title>The ride</title>
<desc>A seat on a level circle.</desc><circle cx="45" cy="45" r="40"/></svg>"""

# id, radius, lap time, key and half-width as printed, unit
ROWS = (
    ("a1", "0.80", "1.60", "12.3", "0.25", "m/s²"),
    ("a2", "0.50", "1.20", "13.7", "0.28", "m/s²"),
    ("b1", "6.0", "5.0", "7.54", "0.15", "m/s"),
    ("b2", "4.5", "6.0", "4.71", "0.095", "m/s"),
)


def exact(name: str, radius: float, lap: float) -> float:
    """The acceleration 4π²r/T² for the items a, the speed 2πr/T for the items b."""
    return 4 * math.pi**2 * radius / lap**2 if name.startswith("a") else 2 * math.pi * radius / lap


def members(*, exam: bool = False) -> Members:
    found = {"imsmanifest.xml": MANIFEST.format(items="".join(ITEM_RESOURCE.format(id=row[0]) for row in ROWS))}
    found["fair-test.xml"] = TEST.replace('show-feedback="true"', 'show-feedback="false"') if exam else TEST
    for name, radius, lap, key, half_width, unit in ROWS:
        text = ITEM.format(id=name, radius=radius, lap=lap, key=key, w=half_width, unit=unit)
        found[f"items/{name}.xml"] = without_feedback(text) if exam else text
    return {**found, "media/figure1.svg": PICTURE}


def without_feedback(text: str) -> str:
    return text[: text.index(" <qti-modal-feedback")] + "</qti-assessment-item>"


def expectations() -> Iterator[Item]:
    for name, radius, lap, key, half_width, unit in ROWS:
        value = exact(name, float(radius), float(lap))
        entry = NumberEntry(Symbol("a"), "the answer", Decimal(key), value, Decimal(half_width), unit, 3)
        parts = (
            Words("A seat hangs "),
            Given("r", radius, "m"),
            Words(" from the mast and takes "),
            Given("T", lap, "s"),
        )
        stem = ((*parts, Words(" for one lap.")),)
        facts = Metadata("mast-and-seat", name[0], 1, "The ride", "circle", (), "basic", "market", "CC-BY-4.0", 3)
        yield Item(int(name[1]), stem, None, (entry,), (), facts)


def pack(folder: Path, content: Mapping[str, str | bytes]) -> Path:
    path = folder / "fair.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, text in content.items():
            zipped.writestr(name, text)
    return path


def test_a_good_pack_passes_with_exact_counts(tmp_path: Path) -> None:
    report = prove(pack(tmp_path, members()), expectations())
    assert report.findings == ()
    assert report.ok
    assert (report.format, report.items, report.tests, report.figures, report.marked) == ("qti-3.0", 4, 1, 1, 4)
    assert report.unmarked == ()
    assert report.bands == ()
    assert report.answers_tried == 4 * 15
    report.raise_if_failed()


def test_without_expectations_the_accepted_band_is_read_from_the_marking(tmp_path: Path) -> None:
    report = prove(pack(tmp_path, members()))
    assert report.findings == ()
    assert report.as_json()["accepted"] == {
        "items/a1.xml": "12.05 to 12.55",
        "items/a2.xml": "13.42 to 13.98",
        "items/b1.xml": "7.39 to 7.69",
        "items/b2.xml": "4.615 to 4.805",
    }


def test_a_good_exam_passes_and_is_recognised_by_its_switched_off_feedback(tmp_path: Path) -> None:
    content = members(exam=True)
    report = prove(pack(tmp_path, content), expectations())
    assert (report.ok, report.exam) == (True, True)


A1, A2 = "items/a1.xml", "items/a2.xml"


def mutations() -> Iterator[tuple[str, str, str, str, str]]:
    """Name, member, old text, new text and finding of each block of the file beside this one."""
    blocks = Path(__file__).with_name("test_proof_mutations.txt").read_text("utf-8").split("\n# ")[1:]
    for block in blocks:
        name, member, *lines = block.strip().split("\n")
        old, new, finding = ("\n".join(line[2:] for line in lines if line[0] == sign) for sign in "-+=")
        yield name, member, old, new, finding


MUTATIONS = [pytest.param(*each[1:], id=each[0]) for each in mutations()]


@pytest.mark.parametrize(("member", "old", "new", "finding"), MUTATIONS)
def test_each_thing_wrong_is_found(member: str, old: str, new: str, finding: str, tmp_path: Path) -> None:
    content = members()
    assert old in content.setdefault(member, "")
    everywhere = -1 if old == "qti-assessment-item" else 1
    content[member] = content[member].replace(old, new, everywhere) or new
    report = prove(pack(tmp_path, content), expectations())
    assert any(finding in line for line in report.findings), report.findings
    with pytest.raises(ProofError):
        report.raise_if_failed()


def test_a_pack_with_too_few_or_too_many_items_is_found(tmp_path: Path) -> None:
    path = pack(tmp_path, members())
    items = list(expectations())
    assert prove(path, items[:3]).findings == ("the pack holds 4 items, 3 expected",)
    assert prove(path, [*items, items[0]]).findings == ("the pack holds 4 items, 5 expected",)


@pytest.mark.parametrize(
    ("text", "digits"),
    [
        ("about 1.59 × 10⁻⁷ m", "0.000000159"),
        ("1.59e-7 m", "0.000000159"),
        ("2.50·10^3 N", "2500"),
        ("2.5 × 103 N", "2500"),  # markup that raised the exponent is gone
    ],
)
def test_a_key_with_a_power_of_ten_is_recognised_where_it_leaks(text: str, digits: str) -> None:
    """Planted: a key that is nowhere in plain digits; without its power the text is none."""
    assert digits in numbers_in(text)
    assert Secret(digits, frozenset()).is_in(numbers_in(text))
    assert not Secret(digits, frozenset()).is_in(numbers_in(text.replace("10", "").replace("e", " ")))


@pytest.mark.parametrize(("told", "lost"), [("12.30", False), ("12.3", True), ("1.230 × 10¹", False)])
def test_zeros_that_a_printed_key_lost_are_seen(told: str, lost: bool) -> None:
    """A key of four figures in the rubric of those who mark."""
    assert has_figures(f"a = {told} m. Answers within 0.25 m of it are right.", Decimal("12.30"), 4) is not lost


def test_items_of_one_section_must_have_the_same_full_marks(tmp_path: Path) -> None:
    content = members()
    content[A2] = content[A2].replace("<qti-value>1<", "<qti-value>2<").replace('maximum="1"', 'maximum="2"')
    findings = prove(pack(tmp_path, content), expectations()).findings
    assert findings == ("items/a2.xml: full marks are 2, but 1 for items/a1.xml, drawn alike",)


def test_a_member_that_is_missing_is_found_wherever_it_is_named(tmp_path: Path) -> None:
    content = members()
    del content["media/figure1.svg"]
    findings = prove(pack(tmp_path, content), expectations()).findings
    assert len(findings) == 1 + len(ROWS)


EXAM_LEAKS: Mapping[str, tuple[str, str, str]] = {
    "feedback": (
        "</qti-assessment-item>",
        '<qti-modal-feedback outcome-identifier="FEEDBACK" show-hide="hide" identifier="X"/></qti-assessment-item>',
        "qti-modal-feedback in an exam",
    ),
    "a solution": (
        "<qti-item-body>",
        '<qti-item-body><qti-rubric-block view="scorer" use="solution"><qti-content-body/></qti-rubric-block>',
        "a solution in an exam",
    ),
    "a rubric with the key": (
        "<qti-item-body>",
        '<qti-item-body><qti-rubric-block view="candidate"><qti-content-body><p>It is 12.3.</p></qti-content-body>'
        "</qti-rubric-block>",
        "qti-rubric-block holds the key",
    ),
}


# Member, old text, new text and finding: what only the authors of an exam should see.
AUTHORING = [
    (A1, "A seat hangs", "At mast-and-seat a seat hangs", "the id 'mast-and-seat' of the bank stands in an exam"),
    (A1, "seen from above", "seen from above, mast-and-seat.a", "the id 'mast-and-seat.a' of the bank"),
    (A1, 'identifier="a1"', 'identifier="market1" id="Market"', "the id 'market' of the bank stands in a name"),
    (A1, "from the mast", "from the mast. It turns, so the seat is pulled to the mast", "the solution of the item"),
    (A2, "from the mast", "from the mast. Swing it over open ground only", "the caution of the item stands in an exam"),
    (
        "imsmanifest.xml",
        "<organizations/>",
        "<organizations/><!-- mast-and-seat -->",
        "the id 'mast-and-seat' of the bank",
    ),
    ("fair-test.xml", 'title="Pull"', 'title="Pull" class="mast-and-seat"', "fair-test.xml: the id 'mast-and-seat'"),
    ("media/figure1.svg", "The ride", "mast-and-seat.b", "media/figure1.svg: the id 'mast-and-seat.b' of the bank"),
]


def authored() -> Iterator[Item]:
    """What the exam was written from, with what only its authors should see."""
    solution = (Step(1, "Which way", ((Words("It turns, so the seat is pulled to the mast"),),)),)
    for each in expectations():
        facts = replace(each.metadata, caution="Swing it over open ground only", question=each.metadata.question)
        yield replace(each, solution=solution, metadata=facts)


@pytest.mark.parametrize(("member", "old", "new", "finding"), AUTHORING)
def test_an_exam_tells_nothing_of_its_making(member: str, old: str, new: str, finding: str, tmp_path: Path) -> None:
    content = members(exam=True)
    assert prove(pack(tmp_path, content), authored()).ok
    assert old in content[member]
    content[member] = content[member].replace(old, new, 1)
    findings = prove(pack(tmp_path, content), authored()).findings
    assert any(finding in line for line in findings), findings


def test_a_name_from_the_bank_that_the_page_says_anyway_is_no_leak(tmp_path: Path) -> None:
    words = "On a mast-and-seat ride "
    content = {name: text.replace("A seat hangs", f"{words}A seat hangs") for name, text in members(exam=True).items()}
    told = (replace(each, stem=((Words(words), *each.stem[0]),)) for each in authored())
    assert prove(pack(tmp_path, content), told).ok


@pytest.mark.parametrize("name", EXAM_LEAKS)
def test_an_exam_gives_nothing_away(name: str, tmp_path: Path) -> None:
    old, new, finding = EXAM_LEAKS[name]
    content = members(exam=True)
    content[A1] = content[A1].replace(old, new)
    findings = prove(pack(tmp_path, content), expectations()).findings
    assert len(findings) == 1
    assert finding in findings[0]


def test_a_practice_pack_given_as_an_exam_is_refused(tmp_path: Path) -> None:
    report = prove(pack(tmp_path, members()), expectations(), exam=True)
    assert len(report.findings) == 2 * len(ROWS)


@pytest.mark.parametrize(("words", "leaks"), [("It reads 12.3.", False), ("It reads 12.3 and 13.7.", True)])
def test_a_shared_picture_gives_keys_away_only_if_it_holds_them_all(words: str, leaks: bool, tmp_path: Path) -> None:
    content = members()
    content["media/figure1.svg"] = PICTURE.replace("A seat on a level circle.", words)
    for name in ("b1", "b2"):
        content[f"items/{name}.xml"] = content[f"items/{name}.xml"].replace(
            "../media/figure1.svg", "../media/figure2.svg"
        )
    content["media/figure2.svg"] = PICTURE
    content["imsmanifest.xml"] = content["imsmanifest.xml"].replace(
        '<file href="media/figure1.svg"/>', '<file href="media/figure1.svg"/><file href="media/figure2.svg"/>'
    )
    assert bool(prove(pack(tmp_path, content), expectations()).findings) == leaks


def test_a_file_name_may_count_but_not_tell(tmp_path: Path) -> None:
    content = {name: text.replace("a1.xml", "swing-12.3.xml") for name, text in members().items()}
    content["items/swing-12.3.xml"] = content.pop(A1)
    findings = prove(pack(tmp_path, content), expectations()).findings
    assert findings == ("the key stands in the name 'items/swing-12.3'",)


def test_other_kinds_of_item_are_named_and_do_not_fail_the_proof(tmp_path: Path) -> None:
    content = members()
    content[A1] = content[A1].replace('base-type="float">\n  <qti-correct', 'base-type="string">\n  <qti-correct')
    content[A1] = content[A1].replace("</qti-equal", "</qti-string-match")
    content[A1] = re.sub("<qti-equal [^>]*", '<qti-string-match case-sensitive="true"', content[A1])
    report = prove(pack(tmp_path, content))
    assert report.ok
    assert (report.items, report.marked) == (4, 3)
    assert report.unmarked == ("1 item: its answer is a single string, no number",)


def test_memory_stays_flat_because_expected_items_are_let_go(tmp_path: Path) -> None:
    import weakref

    alive: list[weakref.ref[Item]] = []

    def watched() -> Iterator[Item]:
        for item in expectations():
            assert sum(each() is not None for each in alive) <= 1
            alive.append(weakref.ref(item))
            yield item
            del item

    assert prove(pack(tmp_path, members()), watched()).ok


def test_where_whole_numbers_are_asked_the_edges_are_whole(tmp_path: Path) -> None:
    content = members()
    content[A1] = content[A1].replace('base-type="float">\n  <qti-correct', 'base-type="integer">\n  <qti-correct')
    content[A1] = content[A1].replace(">12.3<", ">12<").replace("0.25 0.25", "1.5 2")
    told = prove(pack(tmp_path, content)).as_json()
    assert (told["ok"], told["purpose"], told["accepted"][A1]) == (True, "practice", "11 to 14")
