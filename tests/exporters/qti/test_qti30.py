"""A pack in QTI 3.0: valid, streamed, the same every time, and silent about keys where it must be."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from turnwright.bank.errors import FileError, UnknownNameError
from turnwright.bank.item.item import Item, Words
from turnwright.bank.item.pack import ItemSeries, Pack
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters import available, exporter
from turnwright.exporters.adapting.adaptation import as_is
from turnwright.exporters.markup.elements import QTI, Element
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.qti import package, qti30
from turnwright.exporters.qti.vocabulary import number_text

from tests.exporters import samples

PURPOSES = ("practice", "exam")


def accept(_: Path) -> None:
    """Every file is good enough."""


def members(pack: Pack, folder: Path) -> dict[str, bytes]:
    """What the written package holds, in its order."""
    target = folder / "fair.zip"
    qti30.write(as_is(pack, PLAIN), target, accept)
    with zipfile.ZipFile(target) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def root(pack: Pack, folder: Path, name: str) -> Element:
    return etree.fromstring(members(pack, folder)[name])


def found(element: Element, path: str) -> list[Element]:
    return element.findall(path, {"": QTI})


@pytest.mark.parametrize("purpose", PURPOSES)
def test_a_pack_is_valid_with_all_its_references(standards: ModuleType, tmp_path: Path, purpose: Purpose) -> None:
    target = tmp_path / "fair.zip"
    notes: list[str] = []
    qti30.write(as_is(samples.pack(purpose), PLAIN), target, accept)
    assert standards.validate_package(target, notes) == []
    assert notes == []


@pytest.mark.parametrize("purpose", PURPOSES)
def test_two_runs_give_the_same_bytes(tmp_path: Path, purpose: Purpose) -> None:
    paths = [tmp_path / "one.zip", tmp_path / "two.zip"]
    for path in paths:
        qti30.write(as_is(samples.pack(purpose), PLAIN), path, accept)
    assert paths[0].read_bytes() == paths[1].read_bytes()


def test_the_manifest_comes_first_and_names_tell_nothing(tmp_path: Path) -> None:
    names = list(members(samples.pack(size=samples.Size(2, 1)), tmp_path))
    assert [re.sub("d[a-v]{12}", "drawing", each) for each in names] == [
        "imsmanifest.xml",
        "test.xml",
        "media/drawing.svg",
        "items/q01_v001.xml",
        "items/q01_v002.xml",
        "items/q02_v001.xml",
    ]


def test_an_exam_says_nothing_of_solutions_feedback_or_the_bank(tmp_path: Path) -> None:
    files = members(samples.pack("exam"), tmp_path)
    told = b"\n".join(files.values())
    practice = b"\n".join(members(samples.pack(), tmp_path).values())
    secrets = [samples.SOLUTION_WORDS, samples.CAUTION, "Worked solution", "lantern-", "least-speed", "contact-force"]
    for secret in secrets:
        assert secret.encode() in practice
        assert secret.encode() not in told
    for name, content in files.items():
        if name.startswith("items/"):
            assert not re.search(rb"(?i)feedback|rubric|scorer|tutor", content)
            title = re.search(rb' title="([^"]*)"', content)
            assert title is not None
            assert title[1] == f"Question {int(name[7:9])}".encode()


def test_a_caution_stands_once_in_a_pack_before_its_first_question(tmp_path: Path) -> None:
    files = members(samples.pack(), tmp_path)
    assert {name: each.count(samples.CAUTION.encode()) for name, each in files.items() if b"Caution" in each} == {
        "test.xml": 1
    }


def test_the_key_stands_once_in_an_exam_item(tmp_path: Path) -> None:
    content = members(samples.pack("exam"), tmp_path)["items/q01_v001.xml"]
    assert content.count(str(samples.least_speed().entry.key).encode()) == 1


@pytest.mark.parametrize("purpose", PURPOSES)
def test_the_marking_asks_for_silence_first_and_then_compares_about_the_key(tmp_path: Path, purpose: Purpose) -> None:
    item = root(samples.pack(purpose), tmp_path, "items/q01_v001.xml")
    branches = found(item, "qti-response-processing/qti-response-condition/*")
    tests = [etree.QName(branch[0]).localname for branch in branches]
    assert tests == ["qti-is-null", "qti-equal", "qti-set-outcome-value"]
    equal = branches[1][0]
    assert [etree.QName(side).localname for side in equal] == ["qti-correct", "qti-variable"]
    assert (equal.get("tolerance-mode"), equal.get("tolerance")) == ("absolute", "0.025 0.025")
    scores = [rule[0].text for rule in found(item, ".//qti-set-outcome-value") if rule.get("identifier") == "SCORE"]
    assert scores == (["1"] if purpose == "practice" else ["0", "1", "0"])


def test_each_answer_in_practice_brings_its_feedback_and_a_number_brings_the_solution(tmp_path: Path) -> None:
    item = root(samples.pack(), tmp_path, "items/q01_v001.xml")
    set_by_branch = [
        [rule[0].text for rule in found(branch, "qti-set-outcome-value")]
        for branch in found(item, "qti-response-processing/qti-response-condition/*")
    ]
    assert set_by_branch == [["NO_ANSWER"], ["1", "RIGHT", "SHOWN"], ["OUTSIDE", "SHOWN"]]
    assert [modal.get("identifier") for modal in found(item, "qti-modal-feedback")] == ["NO_ANSWER", "RIGHT", "OUTSIDE"]
    (block,) = found(item, "qti-item-body/qti-feedback-block")
    assert len(found(block, "qti-content-body/h4")) == 7


def test_a_candidate_meets_one_variant_of_each_question(tmp_path: Path) -> None:
    test = root(samples.pack(), tmp_path, "test.xml")
    sections = found(test, "qti-test-part/qti-assessment-section/qti-assessment-section")
    assert [section[0].get("select") for section in sections] == ["1", "1"]
    assert [len(found(section, "qti-assessment-item-ref")) for section in sections] == [3, 2]


@pytest.mark.parametrize(("purpose", "attempts", "feedback"), [("practice", "0", "true"), ("exam", "1", "false")])
def test_attempts_and_feedback_fit_the_purpose(tmp_path: Path, purpose: Purpose, attempts: str, feedback: str) -> None:
    (control,) = found(root(samples.pack(purpose), tmp_path, "test.xml"), ".//qti-item-session-control")
    assert (control.get("max-attempts"), control.get("show-feedback")) == (attempts, feedback)


def test_the_candidate_is_told_the_value_of_g_and_how_to_type_a_number(tmp_path: Path) -> None:
    (rubric,) = found(root(samples.pack("exam"), tmp_path, "test.xml"), ".//qti-rubric-block")
    assert str(rubric.xpath("string()")).startswith("Take g= 9.8\u00a0N/kg.Type each answer as a number")


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("2.970", "2.970"),
        ("-0.50", "-0.50"),
        ("6.0E+7", "60000000"),
        ("6.67E-11", "0.0000000000667"),
        ("7.35E+22", "7.35E+22"),
        ("1.60E-19", "1.60E-19"),
    ],
)
def test_numbers_are_plain_while_they_are_short_and_keep_their_zeros(value: str, text: str) -> None:
    assert number_text(Decimal(value)) == text


def test_words_that_look_like_markup_stay_words_and_control_characters_go(
    standards: ModuleType, tmp_path: Path
) -> None:
    stem = ((Words("If v < 3 & r > 1]]> \x00\x1b\ud800\ufffe<script>alert(1)</script>\u0085"),),)
    item = samples.with_stem(samples.least_speed(), stem)
    pack = samples.pack(size=samples.Size(1, 1))
    first = replace(pack.sections[0], items=lambda: iter([item]))
    hostile = replace(pack, sections=(first, *pack.sections[1:]), title='"<&\x01>')
    content = members(hostile, tmp_path)["items/q01_v001.xml"]
    paragraph = found(etree.fromstring(content), "qti-item-body/p")[0]
    assert str(paragraph.xpath("string()")) == "If v < 3 & r > 1]]> <script>alert(1)</script>"
    assert standards.validate_package(tmp_path / "fair.zip") == []


def test_a_block_of_items_is_written_before_the_next_is_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    events: list[str] = []

    def watched_item(place: int) -> Item:
        events.append(f"asked for {place + 1}")
        return samples.least_speed(place + 1)

    monkeypatch.setattr(package, "ITEMS", 1)
    pack = samples.pack()
    watched = replace(pack, sections=(replace(pack.sections[0], items=ItemSeries(("fair",) * 3, watched_item)),))
    qti30.write(
        as_is(watched, PLAIN), tmp_path / "fair.zip", accept, progress=lambda done: events.append(f"wrote {done}")
    )
    # The first is asked for twice: the manifest and the test come before all items, and tell of their kind and marks.
    assert events == ["asked for 1", "asked for 1", "wrote 1", "asked for 2", "wrote 2", "asked for 3", "wrote 3"]


def test_a_section_that_breaks_its_promise_of_items_writes_nothing(tmp_path: Path) -> None:
    pack = samples.pack()
    short = replace(pack.sections[0], items=lambda: iter([samples.least_speed()]))
    with pytest.raises(ValueError, match="shorter"):
        qti30.write(as_is(replace(pack, sections=(short,)), PLAIN), tmp_path / "fair.zip", accept)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_missing_is_told_before_any_item_is_made(tmp_path: Path) -> None:
    def items() -> Iterator[Item]:
        raise AssertionError("an item was asked for")

    pack = samples.pack()
    lazy = replace(pack, sections=(replace(pack.sections[0], items=items),))
    with pytest.raises(FileError):
        qti30.write(as_is(lazy, PLAIN), tmp_path / "missing" / "fair.zip", accept)


def test_the_format_is_found_by_its_name() -> None:
    assert qti30.NAME in available()
    assert exporter(qti30.NAME).NAME == qti30.NAME


def test_a_format_that_is_not_there_brings_the_names_of_those_that_are() -> None:
    with pytest.raises(UnknownNameError, match=r"no format is called 'qti3\.0'; known are qti-3\.0, qti-2\.2"):
        exporter("qti3.0")
