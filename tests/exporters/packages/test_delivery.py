"""What a user decides about formulas and drawings: plain HTML and PNG in every version of QTI, proved as such."""

from __future__ import annotations

import sys
import zipfile
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st
from turnwright.bank.item.formula import (
    Call,
    Fraction,
    Group,
    Node,
    Number,
    Operator,
    Power,
    Root,
    Row,
    Symbol,
    UnitNode,
)
from turnwright.exporters import exporter
from turnwright.exporters.markup.elements import Vocabulary, document
from turnwright.exporters.markup.htmlmath import add_html, inline_html
from turnwright.exporters.packages.delivery import PLAIN, Delivery
from turnwright.exporters.proof import Agreed, Report, prove
from turnwright.exporters.proof.words.wording import on_a_line, plain_words, said_by
from turnwright.exporters.strangers.documents import read_document

from tests.exporters import samples

VERSIONS = ("qti-3.0", "qti-2.2", "qti-2.1")
HTML, DRAWN = Delivery(mathematics="html"), Delivery(figures="png")
SMALLEST = bytes.fromhex("89504e470d0a1a0a") + b"the rest of a picture"


def written(name: str, delivery: Delivery, folder: Path) -> Path:
    format_, target = exporter(name), folder / "fair.zip"
    format_.write(format_.adapt(samples.every_kind(), delivery), target, lambda _: None)
    return target


def proved(path: Path, delivery: Delivery) -> Report:
    pack = samples.every_kind()
    items = (item for section in pack.sections for item in section.items())
    return prove(path, items, agreed=Agreed(pack.sitting, delivery))


@pytest.fixture
def painter(monkeypatch: pytest.MonkeyPatch) -> None:
    """A painter of pictures that only notes that it was asked."""
    module = ModuleType("turnwright.exporters.markup.png")
    module.png = lambda svg, pixels_wide: SMALLEST  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "turnwright.exporters.markup.png", module)


@pytest.mark.parametrize("name", VERSIONS)
def test_formulas_as_plain_html_are_valid_and_say_the_same(name: str, tmp_path: Path, standards: ModuleType) -> None:
    path = written(name, HTML, tmp_path)
    notes: list[str] = []
    assert (standards.validate_package(path, notes), notes) == ([], [])
    report = proved(path, HTML)
    assert (report.findings, report.marked) == ((), 14)
    with zipfile.ZipFile(path) as archive:
        everything = b"".join(archive.read(each) for each in archive.namelist())
    assert b"MathML" not in everything
    assert "√(<i>g</i>\u00a0<i>r</i>)".encode() in everything


@pytest.mark.parametrize("name", VERSIONS)
def test_drawings_as_png_are_named_so_wherever_they_are_named(
    name: str, tmp_path: Path, standards: ModuleType, painter: None
) -> None:
    path = written(name, DRAWN, tmp_path)
    notes: list[str] = []
    assert (standards.validate_package(path, notes), notes) == ([], [])
    assert proved(path, DRAWN).findings == ()
    with zipfile.ZipFile(path) as archive:
        drawings = [each for each in archive.namelist() if each.startswith("media/")]
        assert {archive.read(each) for each in drawings} == {SMALLEST}
    assert {each.rpartition(".")[2] for each in drawings} == {"png"}


def test_another_form_than_was_agreed_is_found(tmp_path: Path) -> None:
    assert "formulas are MathML, plain HTML expected" in proved(written("qti-3.0", PLAIN, tmp_path), HTML).findings[0]
    assert "no formula is MathML, which is" in proved(written("qti-3.0", HTML, tmp_path), PLAIN).findings[0]
    assert "is no PNG, which is expected" in proved(written("qti-3.0", PLAIN, tmp_path), DRAWN).findings[0]


CHANGED = [
    ("items/q04_v001.xml", "<i>T</i>", "<i>N</i>", "option C says"),
    ("items/q02_v001.xml", "<sub>top</sub>", "<sup>top</sup>", "the page does not say"),
]


@pytest.mark.parametrize(("name", "old", "new", "finding"), CHANGED)
def test_a_changed_formula_is_found_in_html_too(name: str, old: str, new: str, finding: str, tmp_path: Path) -> None:
    path = written("qti-2.2", HTML, tmp_path)
    with zipfile.ZipFile(path) as archive:
        files = {each: archive.read(each) for each in archive.namelist()}
    assert old.encode() in files[name]
    files[name] = files[name].replace(old.encode(), new.encode())
    with zipfile.ZipFile(path, "w") as archive:
        for each, data in files.items():
            archive.writestr(each, data)
    assert any(finding in line for line in proved(path, HTML).findings)


def test_a_formula_without_a_reading_is_found(tmp_path: Path) -> None:
    path = written("qti-3.0", PLAIN, tmp_path)
    with zipfile.ZipFile(path) as archive:
        files = {each: archive.read(each) for each in archive.namelist()}
    files["items/q01_v001.xml"] = files["items/q01_v001.xml"].replace(b' alttext="v top"', b"", 1)
    with zipfile.ZipFile(path, "w") as archive:
        for each, data in files.items():
            archive.writestr(each, data)
    assert "a formula has no reading in words" in proved(path, PLAIN).findings[0]


SYMBOLS = [Symbol("v", "top"), Symbol("θ"), UnitNode("m/s²"), UnitNode("°"), Operator("≤"), Operator("−")]
LEAVES = st.sampled_from([Number("2"), Number("-0.5"), *SYMBOLS])


def _branches(nodes: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    return st.one_of(
        st.builds(Row, st.lists(nodes, min_size=1, max_size=4).map(tuple)),
        st.builds(Fraction, nodes, nodes),
        st.builds(Root, nodes, st.sampled_from([2, 3, 5])),
        st.builds(Power, nodes, nodes),
        st.builds(Call, st.sampled_from(["sin", "tan"]), nodes, st.booleans()),
        st.builds(Group, nodes),
    )


@given(node=st.recursive(LEAVES, _branches, max_leaves=20))
def test_the_reader_expects_of_any_formula_what_the_writer_sets(node: Node) -> None:
    """Two pieces of code that share nothing but the tree agree on what stands on the line."""
    words = Vocabulary("http://www.w3.org/1999/xhtml")
    paragraph = words.root("p")
    add_html(paragraph, inline_html(node), words)
    read = read_document(document(paragraph), lambda name: name.rpartition("}")[2])
    assert said_by(read) == plain_words(on_a_line(node))
