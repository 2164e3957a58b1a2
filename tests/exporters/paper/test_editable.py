"""Papers to be edited: opened again by python-docx, every word and formula is that of the data, and nothing else."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any

import docx
import pytest
from docx.document import Document
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from turnwright.bank.errors import BankFaultsError
from turnwright.bank.item.drawing import Curve, Disc, Drawing, Label, Shape, Stroke
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.selection import pack_of, select
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.paper import Heading, PaperLayout, Papers, papers, read_heading
from turnwright.exporters.paper.figures import EDGE, MILLIMETRES, trimmed
from turnwright.exporters.paper.office_math import MATH, office_math

from tests.exporters.paper.reading import text_of

NAMES = (
    "over-the-top.least-speed",
    "rough-bank-fast.greatest-speed/expression",
    "big-wheel.top/diagram",
    "level-with-the-centre.contact-force/rank",
)
HEADING = Heading("Hillside School", "Year 12", "", ("Name", "Group"), ("Use a pen.",), 2)


@pytest.fixture(scope="module")
def made() -> Papers:
    settings = Settings(purpose="exam", variants=2)
    pack = pack_of(select(read_bank(), NAMES, settings).models, settings)
    return papers(pack, PaperLayout(versions=2, editable=True, heading=HEADING), lambda items: ())


def opened(content: bytes | None) -> Document:
    assert content
    return docx.Document(BytesIO(content))


# --- formulas: back from the document to the shapes that they came from -----------------------------------


def shape_of(element: etree._Element) -> list[Any]:
    """The shape of a formula in a document, read by the names of the standard alone."""
    kind = etree.QName(element).localname
    part = {etree.QName(each).localname: each for each in element}
    if kind == "r":
        (style,) = element.iter(f"{{{MATH}}}sty")
        return ["italic" if style.get(f"{{{MATH}}}val") == "i" else "text", part["t"].text]
    if kind == "f":
        return ["fraction", row_of(part["num"]), row_of(part["den"])]
    if kind == "rad":
        return ["root", row_of(part["deg"]), row_of(part["e"])]
    if kind == "d":
        return ["brackets", row_of(part["e"])]
    assert kind in ("sSub", "sSup", "sSubSup"), kind
    return ["script", row_of(part["e"]), *(row_of(part[each]) if each in part else None for each in ("sub", "sup"))]


def row_of(element: etree._Element) -> list[Any]:
    return [shape_of(each) for each in element]


def plain(shape: Any) -> list[Any]:
    """A shape as rows of rows, where kinds of upright letters are one."""
    kind, *rest = shape
    if kind == "row":
        return [each for part in rest for each in plain(part)]
    if kind == "space":
        return [["text", "\u2009"]]
    if kind in ("text", "sign"):
        return [["text", rest[0]]]
    if kind == "function":
        return [["text", f"{rest[0]}\u2009"]]
    if kind == "italic":
        return [list(shape)]
    if kind == "root":
        return [["root", [["text", rest[0]]] if rest[0] else [], plain(rest[1])]]
    return [[kind, *(None if part is None else plain(part) for part in rest)]]


LETTERS = st.text("abcxyzθμ0123456789", min_size=1, max_size=4)
LEAVES = st.one_of(
    LETTERS.map(lambda each: ["text", each]),
    LETTERS.map(lambda each: ["italic", each]),
    st.sampled_from("+−=×").map(lambda each: ["sign", each]),
    st.sampled_from(["sin", "tan"]).map(lambda each: ["function", each]),
    st.just(["space"]),
)
SHAPES = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda parts: ["row", *parts]),
        st.tuples(inner, inner).map(lambda each: ["fraction", *each]),
        st.tuples(st.sampled_from([None, "3"]), inner).map(lambda each: ["root", *each]),
        st.tuples(inner, inner, inner).map(lambda each: ["script", *each]),
        st.tuples(inner, inner).map(lambda each: ["script", each[0], None, each[1]]),
        st.tuples(inner, inner).map(lambda each: ["script", *each, None]),
        inner.map(lambda each: ["brackets", each]),
    ),
    max_leaves=8,
)


@given(SHAPES)
def test_a_formula_of_a_document_is_the_formula_of_the_data(shape: list[Any]) -> None:
    assert row_of(office_math(shape)) == plain(shape)


# --- documents -------------------------------------------------------------------------------------------


def words_of(document: Document) -> str:
    cells = [cell for table in document.tables for row in table.rows for cell in row.cells]
    return "\n".join(
        each.text for each in (*document.paragraphs, *(part for cell in cells for part in cell.paragraphs))
    )


def formulas_of(document: Document) -> list[etree._Element]:
    return list(document.element.body.iter(f"{{{MATH}}}oMath"))


def test_the_document_has_heading_questions_pictures_and_formulas(made: Papers) -> None:
    document = opened(made.editable_questions)
    words = words_of(document)
    assert words.count("Hillside School · Year 12") == 2  # once a version
    assert words.count("Use a pen.") == 2
    headings = [each.text for each in document.paragraphs if each.style and each.style.name == "Heading 2"]
    assert headings == [f"Question {number}" for number in range(1, 5)] * 2
    assert len(formulas_of(document)) > 20
    assert "Take" not in words  # what g is stands once, on top
    pictures = [each for each in document.element.body.iter() if etree.QName(each).localname == "docPr"]
    assert len(pictures) >= 8
    assert all(each.get("descr") for each in pictures)
    for words, picture in (table.rows[0].cells for table in document.tables):  # the stem, and its figure beside it
        assert words.text
        assert not picture.text
        assert len(list(picture._tc.iter("{*}docPr"))) == 1
    assert len(document.tables) == 8  # of four questions in two versions


def test_key_and_guide_of_the_document_are_those_of_the_pdf(made: Papers) -> None:
    document = opened(made.editable_marking)
    asked = text_of(made.marking or b"")
    for table, version in zip(document.tables, made.versions, strict=True):
        assert [row.cells[0].text for row in table.rows][1:] == [str(each.number) for each in version.questions]
        for row in list(table.rows)[1:]:
            assert row.cells[2].text.replace(" ", "").replace("\u00a0", "") in asked
    for each in document.paragraphs:
        if each.style and each.style.name == "Heading 3":
            assert each.text.partition("   [")[0].partition("  ")[2].replace(" ", "") in asked


def test_the_same_bytes_come_on_every_run(made: Papers) -> None:
    settings = Settings(purpose="exam", variants=2)
    pack = pack_of(select(read_bank(), NAMES, settings).models, settings)
    again = papers(pack, PaperLayout(versions=2, editable=True, heading=HEADING), lambda items: ())
    assert (again.editable_questions, again.editable_marking) == (made.editable_questions, made.editable_marking)


# --- heading ---------------------------------------------------------------------------------------------


def test_the_heading_stands_on_the_paper_too(made: Papers) -> None:
    asked = text_of(made.questions or b"")
    assert asked.count("HillsideSchool") == 2
    assert asked.count("Group") == 2
    assert "Class" not in asked


def test_a_heading_is_read_and_its_faults_are_told_at_their_places(tmp_path: Path) -> None:
    path = tmp_path / "heading.yaml"
    path.write_text(
        "school: Hillside School\ncourse: Year 12\nfields: [Name, Group]\ninstructions: [Use a pen.]\nlines: 2\n"
    )
    assert read_heading(path) == HEADING
    path.write_text("school: Hillside School\nlines: many\ncolour: red\n")
    with pytest.raises(BankFaultsError) as told:
        read_heading(path)
    assert [each.place.line for each in told.value.faults] == [2, 3]


# --- drawings --------------------------------------------------------------------------------------------


def test_a_drawing_is_trimmed_to_what_is_drawn_and_keeps_its_shape() -> None:
    marks = (
        Stroke(100, 50, 100, 150), Disc(100, 50, 10), Label(130, 100, "m", 15.0),
        Curve(100, 150, 40, 40, 0, 90), Shape(((90, 60), (110, 60), (100, 40))),
    )  # fmt: skip
    small = trimmed(Drawing(320, 300, marks, "t", "a"))
    assert small.width == pytest.approx(140 - 90 + 2 * EDGE)  # from the disc to the end of the arc
    assert small.height == pytest.approx(150 - 40 + 2 * EDGE)
    assert small.marks[0] == Stroke(10 + EDGE, 10 + EDGE, 10 + EDGE, 110 + EDGE)
    assert pytest.approx(8.0, rel=1e-3) == 14 * MILLIMETRES / 25.4 * 72  # the smallest type of a figure, in points
