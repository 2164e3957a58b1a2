"""The manifest lists every file once and tells a catalogue what it may know."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from types import ModuleType

import pytest
from lxml import etree
from turnwright.bank.item.item import Item
from turnwright.bank.item.pack import Pack, Section
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.markup.elements import CONTENT_PACKAGING, LOM, QTI_METADATA, Element
from turnwright.exporters.packages.metadata import difficulty_word
from turnwright.exporters.packages.naming import contents
from turnwright.exporters.qti.manifest import write_manifest
from turnwright.exporters.qti.qti30 import VERSION

from tests.exporters import samples

EVERY_INTERACTION = [
    "choiceInteraction",
    "textEntryInteraction",
    "orderInteraction",
    "matchInteraction",
    "endAttemptInteraction",
]
WORDS = {"cp": CONTENT_PACKAGING, "lom": LOM, "qti": QTI_METADATA}


def manifest(pack: Pack) -> bytes:
    file = io.BytesIO()
    write_manifest(contents(pack), file, VERSION)
    return file.getvalue()


def mark(pack: Pack) -> str:
    return contents(pack).mark


def resource(pack: Pack, identifier: str) -> Element:
    found = etree.fromstring(manifest(pack)).xpath(f"//cp:resource[@identifier='{identifier}']", namespaces=WORDS)
    assert isinstance(found, list)
    (element,) = found
    assert isinstance(element, etree._Element)
    return element


def texts(element: Element, path: str) -> list[str]:
    return [found.text or "" for found in element.findall(path, WORDS)]


@pytest.mark.parametrize("purpose", ["practice", "exam"])
def test_a_manifest_is_valid(standards: ModuleType, purpose: Purpose) -> None:
    notes: list[str] = []
    assert standards.validate_manifest(manifest(samples.pack(purpose)), notes) == []
    assert notes == []


def test_a_manifest_needs_the_first_item_of_each_question_and_no_other() -> None:
    def only_the_first(section: Section) -> Iterator[Item]:
        yield next(section.items())
        raise AssertionError("a second item was asked for")

    pack = samples.pack()
    sections = tuple(replace(each, items=partial(only_the_first, each)) for each in pack.sections)
    assert manifest(replace(pack, sections=sections)) == manifest(pack)


def test_the_test_leans_on_every_item_and_an_item_on_its_figure() -> None:
    pack = samples.pack(size=samples.Size(least_speed=2, pull=1))
    names = {name: f"{mark(pack)}_{name}" for name in ("test", "q01_v001", "q02_v001")}
    needs = {
        name: [each.removeprefix(f"{mark(pack)}_") for each in _dependencies(pack, marked)]
        for name, marked in names.items()
    }
    assert needs == {"test": ["q01_v001", "q01_v002", "q02_v001"], "q01_v001": [_figure(pack)], "q02_v001": []}


def _figure(pack: Pack) -> str:
    """The name of the first figure of its first question, without the mark."""
    return contents(pack).questions[0].figure(0).removeprefix(f"{mark(pack)}_")


def _dependencies(pack: Pack, name: str) -> list[str]:
    return [each.get("identifierref", "") for each in resource(pack, name).findall("cp:dependency", WORDS)]


def test_packs_that_differ_share_no_identifier() -> None:
    marks = {mark(each) for each in (samples.pack(), samples.pack("exam"), replace(samples.pack(), seed=99))}
    assert len(marks) == 3
    assert mark(samples.pack()) == mark(samples.pack())


def test_a_practice_item_is_described_for_the_catalogue() -> None:
    item = resource(samples.pack(), f"{mark(samples.pack())}_q01_v002")
    assert texts(item, ".//lom:identifier/lom:entry") == ["lantern-over-the-top.least-speed.v2"]
    assert texts(item, ".//lom:keyword/lom:string") == [
        "vertical circle",
        "vertical-circle.least-speed",
        "contact-force.vanishes",
    ]
    assert texts(item, ".//lom:typicalLearningTime/lom:duration") == ["PT4M"]
    assert texts(item, ".//lom:rights/lom:description/lom:string") == ["CC-BY-4.0"]
    assert texts(item, ".//lom:general/lom:description/lom:string") == [
        "Asks for a number with its tolerance; with feedback and a worked solution."
    ]
    assert texts(item, ".//lom:context/lom:value") == ["school", "higher education"]
    assert texts(item, ".//lom:difficulty/lom:value") == ["easy"]
    assert texts(item, ".//lom:classification/lom:description/lom:string") == ["algebra-based physics"]
    assert texts(item, ".//lom:taxon/lom:id") == ["vertical-circle.least-speed", "contact-force.vanishes"]
    assert texts(item, ".//qti:feedbackType") + texts(item, ".//qti:solutionAvailable") == ["nonadaptive", "true"]


def test_an_exam_item_is_described_by_numbers_only() -> None:
    item = resource(samples.pack("exam"), f"{mark(samples.pack('exam'))}_q01_v002")
    assert texts(item, ".//lom:identifier/lom:entry") == [f"{mark(samples.pack('exam'))}_q01_v002"]
    assert texts(item, ".//lom:title/lom:string") == ["Question 1"]
    for told in ("keyword", "classification", "context", "difficulty"):
        assert item.findall(f".//lom:{told}", WORDS) == []
    assert texts(item, ".//lom:learningResourceType/lom:value") == ["exam"]
    assert texts(item, ".//qti:feedbackType") + texts(item, ".//qti:solutionAvailable") == ["none", "false"]


def test_the_test_and_the_drawings_have_records_too() -> None:
    pack = samples.pack()
    test, drawing = resource(pack, f"{mark(pack)}_test"), resource(pack, f"{mark(pack)}_{_figure(pack)}")
    assert texts(test, ".//lom:title/lom:string") == ["The lantern at the fair"]
    assert texts(test, ".//lom:general/lom:description/lom:string")[0].startswith("2 questions on circular motion")
    assert texts(test, ".//lom:typicalLearningTime/lom:duration") == ["PT7M"]
    assert texts(drawing, ".//lom:title/lom:string") == ["Lantern at the top"]
    quiet = samples.pack("exam")
    drawing = resource(quiet, f"{mark(quiet)}_{_figure(quiet)}")
    assert texts(drawing, ".//lom:title/lom:string") == []
    assert texts(drawing, ".//lom:rights/lom:description/lom:string") == ["CC-BY-4.0"]


def test_the_words_for_difficulty_grow_with_the_index() -> None:
    words = [difficulty_word(index) for index in range(12)]
    assert list(dict.fromkeys(words)) == ["very easy", "easy", "medium", "difficult", "very difficult"]


@pytest.mark.parametrize(
    ("kind", "answered_by", "composite"),
    [
        ("number", ["textEntryInteraction", "endAttemptInteraction"], "false"),
        ("several", ["choiceInteraction"], "false"),
        ("stepwise", EVERY_INTERACTION, "true"),
    ],
)
def test_the_catalogue_learns_how_an_item_is_answered(kind: str, answered_by: list[str], composite: str) -> None:
    practice, exam = _only(kind, "practice"), _only(kind, "exam")
    assert texts(practice, ".//qti:interactionType") == answered_by
    assert texts(exam, ".//qti:interactionType") == [each for each in answered_by if each != "endAttemptInteraction"]
    assert texts(practice, ".//qti:composite") == texts(exam, ".//qti:composite") == [composite]


def _only(kind: str, purpose: Purpose) -> Element:
    pack = replace(samples.every_kind(purpose), sections=(samples.kind(kind),))
    return resource(pack, f"{mark(pack)}_q01_v001")


def test_an_item_leans_on_the_drawings_of_its_options_and_each_is_listed_once() -> None:
    pack = replace(samples.every_kind(), sections=(samples.kind("pictures"),))
    needs = [each.removeprefix(f"{mark(pack)}_") for each in _dependencies(pack, f"{mark(pack)}_q01_v002")]
    question = contents(pack).questions[0]
    offered = [question.picture_name(each).removeprefix(f"{mark(pack)}_") for each in question.pictures]
    assert needs == [_figure(pack), *offered]
    assert len(set(needs)) == 3
    assert manifest(pack).count(f'type="webcontent" href="media/{offered[0]}.svg"'.encode()) == 1


@pytest.mark.parametrize("purpose", ["practice", "exam"])
def test_a_drawing_that_two_questions_show_is_one_file_but_in_an_exam(purpose: Purpose) -> None:
    section = samples.kind("pictures")
    pack = replace(samples.every_kind(purpose), sections=(section, section))
    needs = [set(_dependencies(pack, f"{mark(pack)}_q0{number}_v001")) for number in (1, 2)]
    shared = needs[0] & needs[1]
    assert len(shared) == (3 if purpose == "practice" else 0)
    written = manifest(pack)
    for name in needs[0] | needs[1]:
        assert written.count(f'<resource identifier="{name}"'.encode()) == 1
