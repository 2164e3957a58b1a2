"""The reader of QTI 1.2.1 and cartridges: honest packs pass, each of them fails with one thing wrong at a time."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.proof import Limits, prove
from turnwright.exporters.proof.qti1 import number
from turnwright.exporters.proof.qti1.html import read_html

from tests.exporters.changes import Change
from tests.exporters.qti1_packs import (
    BANK,
    CARTRIDGE,
    FORMATS,
    PLAIN_QTI,
    proved,
    questions_in,
    replaced,
    zipped,
)


@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("name", FORMATS)
def test_an_honest_pack_is_proved(name: str, purpose: Purpose, tmp_path: Path) -> None:
    report = proved(name, tmp_path, purpose=purpose)
    assert report.findings == ()
    assert (report.format, report.items, report.marked) == (name, 28, 28)
    alone = prove(tmp_path / "fair.zip")
    assert alone.findings == ()
    assert alone.marked == 28
    # nothing in a bank tells what it is for
    assert alone.exam == (purpose == "exam" and name != BANK)


def matched(pattern: str, new: str = "") -> Change:
    """A change of the first match in the file of questions."""

    def change(held: dict[str, bytes]) -> None:
        name = questions_in(held)
        held[name] = re.sub(pattern, new, held[name].decode(), count=1, flags=re.S).encode()

    return change


def swapped(first: str, second: str) -> Change:
    """A change that exchanges the first places of two texts."""

    def change(held: dict[str, bytes]) -> None:
        name = questions_in(held)
        text = held[name].decode()
        assert first in text
        assert second in text
        held[name] = text.replace(first, "\0", 1).replace(second, first, 1).replace("\0", second, 1).encode()

    return change


def dropped(member: str) -> Change:
    """A change that takes a member out."""
    return lambda held: held.pop(member) and None


def a_picture_dropped(held: dict[str, bytes]) -> None:
    del held[next(each for each in held if each.startswith("media/"))]


def test_what_html_holds_for_no_reader_is_read_as_html() -> None:
    """Attributes as a parser finds them: behind others, of any length, without quotes; never in a text."""
    held = f"""<p lang="en>" data-key=B>1 &lt; 2</p><i ID="{"x" * 90}" class='a b'>a class="c"</i>"""
    assert read_html(held).unseen == ("the data-key 'B'", f"the id '{'x' * 90}'", "the class 'a b'")


def test_numbers_that_are_not_tried_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(number, "MOST_TRIED", 3)
    found = "\n".join(proved(CARTRIDGE, tmp_path).findings)
    assert "only the first 3 numbers above the key were tried, and more are right" in found
    assert "only the first 3 numbers below the key" in found


SHOW = '<displayfeedback feedbacktype="Response" linkrefid="{}"/>'
B_RIGHT = '<varequal respident="RESPONSE">B</varequal></conditionvar><setvar action="Set" varname="SCORE">{}</setvar>'
A_RIGHT = B_RIGHT.replace(">B<", ">A<")
MANIFEST = "imsmanifest.xml"

MUTATIONS: dict[str, tuple[str, Change, str]] = {
    "a tampered key": (PLAIN_QTI, replaced(">2.945<", ">3.945<"), "the right answer 2.97 scores 0"),
    "a tolerance widened a little": (PLAIN_QTI, replaced(">2.995<", ">2.996<"), "wrong answer 2.995"),
    "a tolerance narrowed": (PLAIN_QTI, replaced(">2.995<", ">2.994<"), "the right answer 2.995 scores 0"),
    "an edge left out": (
        PLAIN_QTI,
        replaced('<varlte respident="RESPONSE">2.995</varlte>', ""),
        "is no edge|wrong answer",
    ),
    "a wrong number wider than it is": (PLAIN_QTI, replaced(">8.9109<", ">8.9209<"), "past its edge|no edge of a band"),
    "a wrong number that earns marks": (
        PLAIN_QTI,
        replaced(SHOW.format("slip1_fb"), f'<setvar action="Set" varname="SCORE">1</setvar>{SHOW.format("slip1_fb")}'),
        "the wrong answer 8.8209 scores 1",
    ),
    "the chain goes on after a right answer": (
        PLAIN_QTI,
        replaced('continue="No"', 'continue="Yes"'),
        "'other' stands behind",
    ),
    "feedback that is not there": (
        PLAIN_QTI,
        replaced('linkrefid="slip1_fb"', 'linkrefid="slip9_fb"'),
        "'slip9_fb', which is not",
    ),
    "feedback of another answer": (
        PLAIN_QTI,
        replaced("You stopped at the square of the speed.", "You left the weight out."),
        "brings the feedback",
    ),
    "no worked solution": (
        PLAIN_QTI,
        replaced('feedbacktype="Solution"', 'feedbacktype="Response"'),
        "another kind|solution",
    ),
    "a step of the solution missing": (PLAIN_QTI, replaced("4. Limiting case", "4. Another case"), "worked solution"),
    "a hint missing": (PLAIN_QTI, replaced("There the cord may just go slack.", ""), "the hints"),
    "a share of a mark that is too large": (PLAIN_QTI, replaced(">0.666667<", ">0.766667<"), "the choice of"),
    "a given number changed": (PLAIN_QTI, replaced("radius 0.90", "radius 0.95"), "circleofradius0.95m.*should stand"),
    "a dropped item": (PLAIN_QTI, matched("<item .*?</item>"), "1 expected|28 expected"),
    "an item twice": (PLAIN_QTI, replaced("</item><item", "</item>ITEM<item"), ""),
    "two items drawn": (PLAIN_QTI, replaced("<selection_number>1<", "<selection_number>2<"), "draws '2' items"),
    "two items with one name": (PLAIN_QTI, replaced("q01_v002", "q01_v001"), "the same ident"),
    "a response of another name": (PLAIN_QTI, replaced('ident="RESPONSE"', 'ident="ANSWER"'), "which is none"),
    "a rule that is not known": (PLAIN_QTI, replaced("<other/>", "<durequal/>"), "cannot be marked"),
    "a missing picture": (PLAIN_QTI, a_picture_dropped, "not in the archive"),
    "other words for a picture": (
        PLAIN_QTI,
        replaced("One arrow, down", "One arrow, up"),
        "text alternative|described",
    ),
    "a program in a page": (
        PLAIN_QTI,
        replaced("&lt;i&gt;v&lt;/i&gt;", "&lt;script&gt;v&lt;/script&gt;"),
        "holds a script",
    ),
    "full marks of another size": (PLAIN_QTI, replaced('maxvalue="1"', 'maxvalue="3"'), "goes up to 3"),
    # cartridges
    "another key": (
        CARTRIDGE,
        replaced(">2.97</varequal>", ">2.99</varequal>"),
        "lies within the tolerance, but|'2.97' scores",
    ),
    "one more string": (CARTRIDGE, replaced('case="No">2.97<', 'case="No">3.97<'), "'3.97' scores 100"),
    "a decimal comma that does not count": (CARTRIDGE, replaced(">2,97<", ">2,971<"), "but '2,97' is not right"),
    "a unit that does not count": (CARTRIDGE, replaced(">2.97 m/s<", ">2.971 m/s<"), "but '2.97 m/s' is not right"),
    "a sign that does not count": (CARTRIDGE, replaced(">+2.97<", ">+2.9711<"), r"right answer '\+2\.97' scores 0"),
    "another unit that counts": (CARTRIDGE, replaced(">2.97m/s<", ">2.97km/s<"), "'2.97km/s' scores 100"),
    "a number of one figure more that does not count": (
        CARTRIDGE,
        replaced(">2.971<", ">2.9711<"),
        "number 2.971 lies within the tolerance, but",
    ),
    "the unrounded answer does not count": (
        CARTRIDGE,
        replaced(">2.96985<", ">2.9699<"),
        "unrounded answer, 2.96985, is not right",
    ),
    "a string as part of an answer": (
        CARTRIDGE,
        matched(r"<varequal( [^>]*case[^>]*>2\.97</)varequal", r"<varsubstring\1varsubstring"),
        "'12.97' scores 100",
    ),
    "a second right answer": (
        CARTRIDGE,
        replaced(
            '">A</varequal></conditionvar><dis',
            '">A</varequal></conditionvar><setvar action="Set" varname="SCORE">100</setvar><dis',
        ),
        "2 options earn all marks",
    ),
    "swapped feedback": (
        CARTRIDGE,
        swapped("At this speed the cord goes slack.", "You stopped at the square of the speed."),
        "brings the feedback",
    ),
    "another option": (CARTRIDGE, replaced(">1.485 m/s<", ">1.495 m/s<"), "says '1.495m/s'"),
    "options alike": (CARTRIDGE, replaced(">1.485 m/s<", ">2.97 m/s<"), "say the same"),
    "a profile that does not fit": (CARTRIDGE, replaced("cc.fib.v0p1", "cc.multiple_choice.v0p1"), "does not fit"),
    "a set that is not all of the right one": (
        CARTRIDGE,
        replaced('<not><varequal respident="RESPONSE">B</varequal></not>', ""),
        "the choice of",
    ),
    "a picture by another token": (CARTRIDGE, replaced("$IMS-CC-FILEBASE$", "$FILEBASE$"), "not in the archive"),
    "an assessment that nothing links to": (
        CARTRIDGE,
        replaced('identifierref="', 'identifierref="x', MANIFEST),
        "does not link|which is no resource",
    ),
    "a manifest of another structure": (
        CARTRIDGE,
        replaced("rooted-hierarchy", "flat", MANIFEST),
        "rooted-hierarchy expected",
    ),
    "another number of figures asked for": (
        CARTRIDGE,
        replaced("to 3 or 4 significant", "to 2 or 3 significant"),
        "page says .*to2or3significant.* where .*to3or4significant",
    ),
    "another g in the instructions": (PLAIN_QTI, replaced("= 9.8", "= 1.6"), "not told that g = 9.8"),
    "a sentence more": (
        BANK,
        replaced("&lt;p&gt;Type the", "&lt;p&gt;Round.&lt;/p&gt;&lt;p&gt;Type the"),
        "page says .Round.Typethe",
    ),
    "another unit": (
        CARTRIDGE,
        replaced("in m/s, without", "in km/h, without"),
        "inkm/h,without.* where .*inm/s,without",
    ),
    "a dropped item of a bank": (BANK, matched("<item .*?</item>(?=</objectbank>)"), "28 expected"),
    "a bank with a section": (
        BANK,
        replaced("</objectbank>", '<section ident="s"></section></objectbank>'),
        "objectbank expected",
    ),
}


@pytest.mark.parametrize("what", list(MUTATIONS))
def test_a_pack_with_one_thing_wrong_is_refused(what: str, tmp_path: Path) -> None:
    name, change, told = MUTATIONS[what]
    report = proved(name, tmp_path, change)
    assert re.search(told, "\n".join(report.findings)), report.findings


@pytest.mark.parametrize(
    ("name", "change", "told"),
    [
        (
            PLAIN_QTI,
            replaced("</resprocessing>", '</resprocessing><itemfeedback ident="x"></itemfeedback>'),
            "in an exam",
        ),
        (CARTRIDGE, replaced('title="Question 1"', 'title="Question 1: 2.97"', times=2), "the key stands in the title"),
        (BANK, replaced('title="Question 1, variant 1"', 'title="2.97"'), "the key stands in the title"),
        (PLAIN_QTI, replaced('feedbackswitch="No"', 'feedbackswitch="Yes"'), "switches feedback on"),
        (CARTRIDGE, replaced("<fieldentry>No<", "<fieldentry>Yes<"), "switches feedback on"),
        (CARTRIDGE, replaced("</setvar>", f"</setvar>{SHOW.format('right_fb')}"), "displayfeedback in an exam"),
    ],
)
def test_an_exam_that_tells_is_refused(name: str, change: Change, told: str, tmp_path: Path) -> None:
    report = proved(name, tmp_path, change, "exam")
    assert re.search(told, "\n".join(report.findings)), report.findings


# --- packs of strangers -----------------------------------------------------------------------------

FOREIGN_MANIFEST = """<manifest xmlns="http://www.imsglobal.org/xsd/imscp_v1p1" identifier="M"><organizations/>
<resources><resource identifier="R" type="imsqti_xmlv1p2" href="quiz.xml">
<file href="quiz.xml"/></resource></resources></manifest>"""
FOREIGN = """<questestinterop><assessment ident="A" title="At the fair"><section ident="S">
<item ident="pull" title="The pull"><presentation><flow>
<material><mattext>How hard does the cord pull?</mattext></material>
<response_num ident="N" rcardinality="Single"><render_fib/></response_num></flow></presentation>
<resprocessing><outcomes><decvar/></outcomes>
<respcondition><conditionvar><vargte respident="N">3</vargte><varlte respident="N">3.4</varlte></conditionvar>
<setvar>1</setvar></respcondition></resprocessing></item>
<item ident="way" title="Which way"><presentation><material>
<mattext texttype="text/html">&lt;p&gt;Which way?&lt;/p&gt;</mattext>
</material><response_lid ident="L"><render_choice>
<response_label ident="in"><material><mattext>inward</mattext></material></response_label>
<response_label ident="out"><material><mattext>outward</mattext></material></response_label>
</render_choice></response_lid></presentation>
<resprocessing><outcomes><decvar maxvalue="2"/></outcomes>
<respcondition continue="Yes"><conditionvar><or><varequal respident="L">in</varequal></or></conditionvar>
<setvar action="Add">1</setvar></respcondition>
<respcondition><conditionvar><not><varequal respident="L">out</varequal></not>
<not><unanswered respident="L"/></not></conditionvar>
<setvar action="Add">1</setvar></respcondition></resprocessing></item>
<item ident="why" title="Why"><presentation><material><mattext>Why?</mattext></material>
<response_str ident="T"><render_fib/></response_str></presentation></item>
</section></assessment></questestinterop>"""


def foreign(folder: Path, text: str = FOREIGN) -> Path:
    return zipped({"imsmanifest.xml": FOREIGN_MANIFEST.encode(), "quiz.xml": text.encode()}, folder / "quiz.zip")


def test_a_pack_of_a_stranger_is_marked_as_far_as_it_can_be(tmp_path: Path) -> None:
    report = prove(foreign(tmp_path))
    assert report.findings == ()
    assert (report.items, report.marked, report.tests) == (3, 2, 1)
    assert report.unmarked == ("1 item: it has no rules to mark it by",)
    assert [str(band) for _, band in report.bands] == ["3 to 3.4"]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("<or><varequal", "<or><varinside", "not well-formed"),
        ('respident="L">out<', 'respident="L">up<', "which is not there"),
        ("<setvar>1</setvar>", "<setvar>one</setvar>", "is no number"),
        ("<setvar>1</setvar>", '<setvar action="Divide">0</setvar>', "has no result"),
        ("<setvar>1</setvar>", "", "earns all marks"),
        ("<questestinterop>", '<!DOCTYPE questestinterop SYSTEM "q.dtd"><questestinterop>', "DOCTYPE"),
        (">inward<", ">outward<", "say the same"),
        ('ident="way"', 'ident="pull"', "same ident"),
    ],
)
def test_what_is_wrong_with_a_stranger_is_told(old: str, new: str, told: str, tmp_path: Path) -> None:
    assert old in FOREIGN
    report = prove(foreign(tmp_path, FOREIGN.replace(old, new, 1)))
    found = (*report.findings, *report.warnings)
    assert re.search(told, "\n".join(found)), found


def test_an_item_without_end_costs_no_memory(tmp_path: Path) -> None:
    """Two megabytes without the end of an item are refused, however long the file is."""
    endless = FOREIGN.replace("How hard", "How hard " * 1_000_000, 1)
    report = prove(foreign(tmp_path, endless), limits=Limits(ratio=10_000))
    assert any("without the end of an item" in each for each in report.findings)


def test_elements_nested_deep_are_refused(tmp_path: Path) -> None:
    deep = FOREIGN.replace("<conditionvar><vargte", "<conditionvar>" + "<not>" * 5000 + "<vargte", 1)
    report = prove(foreign(tmp_path, deep))
    assert not report.ok


@pytest.mark.parametrize(
    "hostile",
    [
        "&lt;a " * 10_000,
        "&lt;!--" * 10_000,
        "&lt;p&gt;&lt;b&gt;" * 4_000,
        "&lt;a " + " ".join(f"b{place}=1" for place in range(6_000)),
        "&lt;p&gt;" * 60_000,
        "&#60;script" * 5_000,
    ],
)
def test_html_made_to_take_long_is_read_or_refused_at_once(hostile: str, tmp_path: Path) -> None:
    started = time.process_time()
    prove(foreign(tmp_path, FOREIGN.replace("&lt;p&gt;Which way?&lt;/p&gt;", hostile, 1)), limits=Limits(ratio=10_000))
    assert time.process_time() - started < 5


def test_a_tag_without_end_is_refused(tmp_path: Path) -> None:
    attributes = " ".join(f'a{place}="1"' for place in range(60_000))
    started = time.process_time()
    report = prove(foreign(tmp_path, FOREIGN.replace("<flow>", f"<flow {attributes}>", 1)), limits=Limits(ratio=10_000))
    assert any("has a tag of more than" in each for each in report.findings)
    assert time.process_time() - started < 5
