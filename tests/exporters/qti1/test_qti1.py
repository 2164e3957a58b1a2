"""Packs in QTI 1.2.1 and cartridges: packages that hold together, the same every time, silent in an exam."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from types import ModuleType

import pytest
from turnwright.bank.item import formula
from turnwright.bank.item.formula import Call, Fraction, Group, Number, Operator, Power, Root, Row, Symbol, UnitNode
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters import exporter
from turnwright.exporters.markup import hypertext
from turnwright.exporters.packages.delivery import Delivery
from turnwright.exporters.proof.qti1.html import one_form, read_html
from turnwright.exporters.proof.words.wording import on_a_line
from turnwright.exporters.qti1.item import add_answer
from turnwright.exporters.qti1.vocabulary import QTI1

from tests.exporters import samples
from tests.exporters.qti1_packs import FORMATS, QUESTIONS, adapted, members, zipped


@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("name", FORMATS)
def test_the_package_is_valid_by_the_validation_kit(
    name: str, purpose: Purpose, tmp_path: Path, standards: ModuleType
) -> None:
    """A cartridge's manifest is judged as plain Content Packaging there; QTI 1.2.1 itself has no schema in the kit."""
    assert standards.validate_package(zipped(members(name, purpose), tmp_path / "fair.zip")) == []


@pytest.mark.parametrize("name", FORMATS)
def test_the_same_pack_is_the_same_bytes(name: str, tmp_path: Path) -> None:
    for file in ("a", "b"):
        exporter(name).write(adapted(name), tmp_path / file, lambda _: None)
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()
    assert next(iter(members(name))) == "imsmanifest.xml"


@pytest.mark.parametrize("name", FORMATS)
def test_an_exam_tells_no_feedback_and_no_origin(name: str) -> None:
    everything = b"".join(members(name, "exam").values())
    for secret in (
        "feedback ident",
        "displayfeedback",
        "least-speed",
        "over-the-top",
        samples.ROOT_FORGOTTEN,
        "Algebra",
    ):
        assert secret.encode() not in everything


@pytest.mark.parametrize("name", FORMATS)
def test_items_are_written_one_at_a_time(name: str, tmp_path: Path) -> None:
    heard: list[int] = []
    exporter(name).write(adapted(name), tmp_path / "fair", lambda _: None, heard.append)
    assert heard == list(range(1, 29))


def test_png_is_refused_in_words_or_written(tmp_path: Path) -> None:
    """The module that draws PNG may not be installed; then the user hears so, and no file is left."""
    from turnwright.bank.errors import UsageError

    made = adapted(FORMATS[1], delivery=Delivery(figures="png"))
    try:
        exporter(FORMATS[1]).write(made, tmp_path / "fair.imscc", lambda _: None)
    except UsageError as error:
        assert "PNG" in str(error)
        assert list(tmp_path.iterdir()) == []
    else:
        assert (tmp_path / "fair.imscc").exists()


V, R = Symbol("v", "top"), Symbol("r")
FORMULAS = {
    Fraction(Row((Symbol("m"), Power(V, Number("2")))), R): "<i>m</i>\u00a0<i>v</i><sub>top</sub><sup>2</sup>/<i>r</i>",
    Root(Row((Symbol("g"), R))): "√(<i>g</i>\u00a0<i>r</i>)",
    Fraction(
        Row((R, Operator("−"), Number("1"))), Row((R, V))
    ): "(<i>r</i> − 1)/(<i>r</i>\u00a0<i>v</i><sub>top</sub>)",
    Call("tan", Group(Row((R, Operator("+"), V)))): "tan(<i>r</i> + <i>v</i><sub>top</sub>)",
    Row((Fraction(Number("1"), Number("2")), Symbol("m"))): "(1/2)\u00a0<i>m</i>",
    Fraction(Row((Number("2"), UnitNode("m/s"))), R): "(2\u00a0m/s)/<i>r</i>",
    Call("tan", Symbol("θ"), inverse=True): "tan<sup>−1</sup>\u00a0<i>θ</i>",
    Row((Operator("−"), R, Operator("<"), Number("2"))): "−<i>r</i> &lt; 2",
}


@pytest.mark.parametrize("node", FORMULAS, ids=formula.text)
def test_a_formula_is_set_in_one_line_and_read_back(node: formula.Node) -> None:
    assert hypertext.math(node) == FORMULAS[node]
    assert read_html(hypertext.math(node)).said == one_form(on_a_line(node))


@pytest.mark.parametrize("name", FORMATS)
def test_no_file_holds_mathml_or_an_unknown_token(name: str) -> None:
    text = members(name)[QUESTIONS[name]].decode()
    assert "MathML" not in text
    assert ("$IMS-CC-FILEBASE$/media/" in text) == name.startswith("common-cartridge")


@pytest.mark.parametrize(("key", "kind"), [("2.97", "Decimal"), ("297", "Decimal"), ("2970", "Scientific")])
def test_a_box_takes_a_power_of_ten_where_one_is_printed(key: str, kind: str) -> None:
    presentation = QTI1.root("presentation")
    add_answer(presentation, replace(samples.number(), key=Decimal(key)), lambda drawing: "", shuffle=False)
    (box,) = presentation
    assert (box.get("numtype"), box[0].get("fibtype")) == (kind, kind)
