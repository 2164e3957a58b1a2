"""A problem file aligned to a curriculum, as each version of QTI tells it; and an exam, which does not."""

from __future__ import annotations

import re
import zipfile
from contextlib import nullcontext
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from turnwright.bank.item.sitting import Purpose
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.reading.files import read_bank, shipped_files
from turnwright.exporters.markup.elements import Element
from turnwright.exporters.proof import Agreed, prove
from turnwright.exporters.running.packing import Order, write_pack
from turnwright.schemas import grammar

ADDRESS = "https://frameworks.example/ims/case/v1p0/CFItems/"
GUID, OTHER = "3f2504e0-4f89-11d3-9a0c-0305e82c3301", "3f2504e0-4f89-11d3-9a0c-0305e82c3302"
ALIGNMENT = f"""
alignment:
  - {{framework: "https://frameworks.example/fair", code: PHY.3.2, case: "{ADDRESS}{GUID}", label: Circles & forces}}
  - {{framework: "https://frameworks.example/fair", case: "{OTHER.upper()}", label: Energy}}
  - {{framework: Syllabus of the school beside the fair, code: C4, label: "Circular motion, vertical"}}
licence:"""
WORDS = {
    "lom": "http://ltsc.ieee.org/xsd/LOM",
    "csm": "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscsmd_v1p1",
}
VERSIONS = ("qti-3.0", "qti-2.2", "qti-2.1")


@pytest.fixture(scope="module")
def bank(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shipped problem with an alignment in its file."""
    (shipped,) = (each for each in shipped_files() if each.name == "over-the-top.yaml")
    file = tmp_path_factory.mktemp("bank") / shipped.name
    file.write_text(re.sub(r"\nlicence:", ALIGNMENT, shipped.read_text("utf-8"), count=1), "utf-8")
    return file


def packed(bank: Path, folder: Path, name: str, purpose: Purpose = "practice") -> Path:
    settings = Settings(purpose=purpose, variants=1, kinds=("number", "direction"))
    target = folder / "fair.zip"
    write_pack(
        read_bank([bank]), (), target, settings, lambda what, total: nullcontext(lambda steps: None), Order((name,))
    )
    return target


def manifest(pack: Path) -> Element:
    with zipfile.ZipFile(pack) as archive:
        return etree.fromstring(archive.read("imsmanifest.xml"))


def texts(element: Element, path: str) -> list[str]:
    return ["".join(str(part) for part in found.itertext()) for found in element.findall(path, WORDS)]


@pytest.mark.parametrize("name", VERSIONS)
def test_standards_are_named_in_every_version(name: str, bank: Path, tmp_path: Path, standards: ModuleType) -> None:
    pack = packed(bank, tmp_path, name)
    notes: list[str] = []
    assert (standards.validate_package(pack, notes), notes) == ([], [])
    root = manifest(pack)
    sources = texts(root, ".//lom:taxonPath/lom:source")
    assert "Syllabus of the school beside the fair" in sources
    named = texts(root, ".//csm:GUID") if name == "qti-3.0" else texts(root, ".//lom:taxon/lom:id")
    assert {GUID, OTHER} <= set(named)
    assert {"PHY.3.2", "C4"} <= set(texts(root, ".//lom:taxon/lom:id"))
    assert (GUID in texts(root, ".//lom:taxon/lom:id")) == (name != "qti-3.0")


@pytest.mark.parametrize("name", ["qti-1.2.1", "common-cartridge-1.3", "common-cartridge-1.3-bank"])
def test_the_oldest_formats_name_standards_for_the_whole_pack(
    name: str, bank: Path, tmp_path: Path, standards: ModuleType, grammars_of_1: ModuleType
) -> None:
    pack = packed(bank, tmp_path, name)
    assert standards.validate_package(pack) == []
    assert grammars_of_1.check(pack) == []
    root = manifest(pack)
    if name != "qti-1.2.1":
        assert grammar("cartridge-manifest").validate(root)
    ids = {str(each.text) for each in root.iter("{*}id")}
    assert ids >= {"PHY.3.2", "C4", GUID, OTHER}
    exam = manifest(packed(bank, tmp_path, name, "exam"))
    assert not list(exam.iter("{*}id"))


def test_in_3_0_a_standard_has_its_label_its_address_and_its_identifier(bank: Path, tmp_path: Path) -> None:
    root = manifest(packed(bank, tmp_path, "qti-3.0"))
    (provided, *_) = root.findall(".//csm:curriculumStandardsMetadata", WORDS)
    assert provided.get("providerId") == "https://frameworks.example/fair"
    told = [[child.text for child in each] for each in provided.findall("csm:setOfGUIDs/csm:labelledGUID", WORDS)]
    assert told == [["Circles & forces", f"{ADDRESS}{GUID}", GUID], ["Energy", OTHER]]


def test_an_exam_names_no_standard(bank: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(packed(bank, tmp_path, "qti-3.0", "exam")) as archive:
        everything = b"".join(archive.read(each) for each in archive.namelist())
    for secret in (b"csm", GUID.encode(), b"PHY.3.2", b"taxon", b"frameworks.example"):
        assert secret not in everything


def test_a_standard_that_the_manifest_leaves_out_is_found(bank: Path, tmp_path: Path) -> None:
    from turnwright.bank.questions.selection import pack
    from turnwright.bank.reading.mistakes import shipped_mistakes
    from turnwright.bank.solving.cache import solved_question

    path = packed(bank, tmp_path, "qti-2.2")
    (problem,) = read_bank([bank])
    solved = [solved_question(problem, question) for question in problem.questions]
    made = pack(solved, shipped_mistakes(), Settings(variants=1, kinds=("number", "direction")))
    with zipfile.ZipFile(path) as archive:
        files = {each: archive.read(each) for each in archive.namelist()}
    files["imsmanifest.xml"] = files["imsmanifest.xml"].replace(b">PHY.3.2<", b">PHY.3.3<")
    with zipfile.ZipFile(path, "w") as archive:
        for each, data in files.items():
            archive.writestr(each, data)
    items = (item for section in made.sections for item in section.items())
    findings = prove(path, items, agreed=Agreed(made.sitting)).findings
    assert findings == ("imsmanifest.xml: names no standard 'PHY.3.2', which is expected",)
