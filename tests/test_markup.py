"""Markup of any kind in any text of a problem comes out as text, wherever it comes out."""

from __future__ import annotations

import json
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from lxml import etree, html
from turnwright.bank.command.main import run

from tests import hostile_files

MARK = re.compile(r"<zz([a-z]+) on")
TOLD = {"practice": {"title", "story", "words", "stem", "name", "by", "caution", "because", "thinking", "feedback"}}


def problem() -> dict[str, Any]:
    """A problem with every kind of text in it, each with markup that carries the name of its field."""
    told = {"thinking": "I think so.", "feedback": "Look again.", "source": "common practice, no source"}
    data = hostile_files.problem(["N = 3*k"], "N", "mrv", values=9)
    data |= {
        "family": "vertical-circle",
        "objectives": ["vertical-circle.contact-force"],
        "motion": {"plane": "vertical", "radius": "r", "speed": "v"},
        "caution": "Mind your head.",
        "diagrams": {"top": {"body": "load", "mass": "m", "at": "top", "place": "up there",
                             "forces": {"weight": {},
                                        "contact": {"kind": "normal", "symbol": "N", "toward": "inward"}}}},
        "holds": [{"that": "N >= 0", "because": "it can only push"}],
        "mistakes": {"own": {**told, "edit": {"answer": "2*x"}}},
        "alignment": [{"framework": "Frame", "code": "A.1", "label": "Label"}],
        "demonstration": {"do": "Swing it.", "predict": "Does it stay?", "seen": "Yes.", "caution": "Mind your head."},
    }  # fmt: skip
    del data["relations"]
    draw = {"from": 1, "to": 9, "step": 1}
    units = {"m": "kg", "r": "m", "v": "m/s"}
    data["quantities"] = {name: {"means": "a size", "unit": unit, "draw": draw} for name, unit in units.items()}
    data["quantities"]["N"] = {"unit": "N", "plausible": {"from": 1, "to": 300}}
    force = {"name": "push", "by": "the track", "acts": "pushes"}
    data["scenes"]["scene-0"]["forces"] = {"contact": force}
    data["questions"]["question-0"]["name"] = "force there"
    list(hostile_files.texts(data, lambda key, text: f"{text} <zz{key} on=z>]]>#[$x$]`c`*b*"))
    return data


def elements(root: Any) -> Iterator[Any]:
    """The elements of a tree, and those of HTML that stands in it as text."""
    for element in root.iter(etree.Element):
        yield element
        if "html" in element.get("texttype", ""):
            yield from html.fragment_fromstring(element.text or "", create_parent=True).iter(etree.Element)


def trees(path: Path) -> Iterator[Any]:
    """All trees of markup in a file."""
    if path.suffix == ".html":
        yield html.fromstring(path.read_bytes())
        return
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            if name.endswith((".xml", ".svg", ".html")):
                yield etree.fromstring(archive.read(name))


@pytest.mark.parametrize(
    ("arguments", "target"),
    [
        (("pack", "--every", "--variants", "1"), "a.zip"),
        (("pack", "--format", "common-cartridge-1.3", "--kind", "number,choice,forces", "--variants", "1"), "a.imscc"),
        (("book", "--kind", "number,forces", "--variants", "1"), "a.html"),
    ],
)
def test_no_text_becomes_an_element_or_an_attribute(
    arguments: tuple[str, ...], target: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bank, path = tmp_path / "stranger.yaml", tmp_path / target
    bank.write_text(json.dumps(problem()))
    assert run([*arguments, "--bank", str(bank), "--out", str(path)]) == 0, capsys.readouterr().err
    seen: set[str] = set()
    for tree in trees(path):
        for element in elements(tree):
            assert not etree.QName(element).localname.startswith("zz")
            assert not any(name.startswith("on") for name in element.attrib)
            for text in (element.text, element.tail, *element.attrib.values()):
                seen.update(MARK.findall(text or ""))
    assert seen >= {"title", "story", "load", "stem", "name", "by", "place"}


def test_markup_on_paper_is_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from pypdf import PdfReader

    bank, path = tmp_path / "stranger.yaml", tmp_path / "a.pdf"
    bank.write_text(json.dumps(problem()))
    assert run(["paper", "--bank", str(bank), "--kind", "number", "--out", str(path)]) == 0, capsys.readouterr().err
    words = "".join("".join(page.extract_text() for page in PdfReader(path).pages).split())
    assert "<zzstoryon=z>]]>#[$x$]`c`*b*" in words
