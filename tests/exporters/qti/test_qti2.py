"""Packs in QTI 2.2 and 2.1: valid, proved, and said in the names of their version."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters import exporter
from turnwright.exporters.markup.elements import QTI_21, Vocabulary, document
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Agreed, Report, prove
from turnwright.exporters.qti import qti22
from turnwright.exporters.qti.number import MASK
from turnwright.exporters.qti.renaming import camel

from tests.exporters import samples

VERSIONS = ("qti-2.2", "qti-2.1")
PURPOSES = ("practice", "exam")


def written(name: str, folder: Path, purpose: Purpose = "practice") -> Path:
    format_, target = exporter(name), folder / "fair.zip"
    format_.write(format_.adapt(samples.every_kind(purpose), PLAIN), target, lambda _: None)
    return target


def proved(path: Path, purpose: Purpose = "practice") -> Report:
    pack = samples.every_kind(purpose)
    items = (item for section in pack.sections for item in section.items())
    return prove(path, items, exam=purpose == "exam", agreed=Agreed(pack.sitting, gravity=pack.gravity))


@pytest.mark.parametrize("purpose", PURPOSES)
@pytest.mark.parametrize("name", VERSIONS)
def test_a_pack_of_every_kind_is_valid_and_proved(
    name: str, purpose: Purpose, standards: ModuleType, tmp_path: Path
) -> None:
    notes: list[str] = []
    path = written(name, tmp_path, purpose)
    assert (standards.validate_package(path, notes), notes) == ([], [])
    report = proved(path, purpose)
    assert (report.findings, report.format, report.marked) == ((), name, 14)
    # all that is tried in 3.0 is tried here
    assert report.answers_tried == proved(written("qti-3.0", tmp_path, purpose), purpose).answers_tried


def mutations() -> Iterator[tuple[str, str, str, str, str]]:
    """Name, member, old text, new text and finding of each block of the file beside this one."""
    blocks = Path(__file__).with_name("test_qti2_mutations.txt").read_text("utf-8").split("\n# ")[1:]
    for block in blocks:
        name, member, *lines = block.strip().split("\n")
        old, new, finding = ("\n".join(line[2:] for line in lines if line[0] == sign) for sign in "-+=")
        yield name, member, old, new, finding


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, bytes]]:
    """The members of a good pack in each version."""
    found = {}
    for name in VERSIONS:
        with zipfile.ZipFile(written(name, tmp_path_factory.mktemp(name))) as archive:
            found[name] = {each: archive.read(each) for each in archive.namelist()}
    return found


def changed(files: dict[str, bytes], folder: Path, member: str, old: str, new: str) -> Path:
    """The pack with one thing changed, everywhere in its member where that is a name."""
    assert old.encode() in files[member]
    text = files[member].replace(old.encode(), new.encode(), 1 if " " in old or "<" in old else -1)
    with zipfile.ZipFile(folder / "fair.zip", "w") as archive:
        for name, data in {**files, member: text}.items():
            archive.writestr(name, data)
    return folder / "fair.zip"


@pytest.mark.parametrize("name", VERSIONS)
@pytest.mark.parametrize(
    ("member", "old", "new", "finding"), [pytest.param(*each[1:], id=each[0]) for each in mutations()]
)
def test_each_thing_wrong_is_found(
    member: str, old: str, new: str, finding: str, name: str, packs: dict[str, dict[str, bytes]], tmp_path: Path
) -> None:
    findings = proved(changed(packs[name], tmp_path, member, old, new)).findings
    assert any(finding in line for line in findings), findings


def test_what_only_2_2_has_is_found_in_2_1(packs: dict[str, dict[str, bytes]], tmp_path: Path) -> None:
    old = '<endAttemptInteraction responseIdentifier="HINT_1"'
    path = changed(packs["qti-2.1"], tmp_path, "items/q01_v001.xml", old, f'{old} countAttempt="false"')
    (finding,) = proved(path).findings
    assert "countAttempt of qti-end-attempt-interaction is nothing that qti-2.1 has" in finding


@pytest.mark.parametrize("name", VERSIONS)
def test_no_name_of_3_0_is_left(name: str, tmp_path: Path) -> None:
    with zipfile.ZipFile(written(name, tmp_path)) as archive:
        for each in archive.namelist():
            assert b"qti-" not in archive.read(each)
            assert b"v3p0" not in archive.read(each)


def test_what_2_1_does_not_have_is_left_out_and_the_box_keeps_its_name(tmp_path: Path) -> None:
    with zipfile.ZipFile(written("qti-2.1", tmp_path)) as archive:
        item = etree.fromstring(archive.read("items/q01_v001.xml"))
    (box,) = item.iter(f"{{{QTI_21}}}textEntryInteraction")
    assert dict(box.attrib) == {
        "responseIdentifier": "RESPONSE",
        "expectedLength": "10",
        "patternMask": MASK,
        "label": "least speed at the top in m/s",
    }
    (first, *_) = item.iter(f"{{{QTI_21}}}endAttemptInteraction")
    assert dict(first.attrib) == {"responseIdentifier": "HINT_1", "title": "Hint 1"}


@pytest.mark.parametrize(
    ("name", "own"), [("response-else-if", "responseElseIf"), ("is-null", "isNull"), ("shuffle", "shuffle")]
)
def test_hyphens_become_capitals(name: str, own: str) -> None:
    assert camel(name) == own


def test_what_a_content_body_holds_takes_its_place_with_the_text_around_it() -> None:
    words = Vocabulary("http://www.imsglobal.org/xsd/imsqtiasi_v3p0")
    block = words.root("qti-feedback-block", outcome_identifier="HINT", class_="qti-well own")
    block.text = "a"
    words.add(words.add(block, "qti-content-body", "b"), "p", "c")[:] = []
    block[0].tail = "d"
    form = document(qti22.VERSION.form(block)).decode().partition("?>\n")[2]
    assert form == (
        '<feedbackBlock xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2" outcomeIdentifier="HINT" class="own">'
        "ab<p>c</p>d</feedbackBlock>"
    )
