"""The papers as editable documents (ISO/IEC 29500): the same data as the PDF, with real formulas and headings.

python-docx makes the document; only formulas and text alternatives are put in by hand, since it has no way for them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from io import BytesIO
from typing import TYPE_CHECKING, Any, cast
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from ..markup.png import png
from .content import Data
from .office_math import office_math

if TYPE_CHECKING:
    from docx.document import Document
    from docx.text.paragraph import Paragraph

DATE = (1980, 1, 1, 0, 0, 0)
SHEETS = {"a4": (210, 297), "letter": (215.9, 279.4)}  # millimetres
MARGIN = 21  # millimetres
CELL_PADDING = 4  # millimetres, on both sides of what a cell holds
PIXELS_WIDE = 800
BLANK = "_" * 14


def editable_questions(data: Mapping[str, Any]) -> bytes:
    """The question papers, each version on a fresh page."""
    made = _Document(data)
    for place, version in enumerate(data["versions"]):
        if place:
            made.document.add_page_break()  # type: ignore[no-untyped-call]
        made.version(version)
    return made.content()


def editable_marking(data: Mapping[str, Any]) -> bytes:
    """Keys and marking guide."""
    made = _Document(data)
    made.marking()
    return made.content()


class _Document:
    """One document in the making; ``data`` is what the typesetter of the PDF gets as well."""

    def __init__(self, data: Mapping[str, Any]) -> None:
        import docx
        from docx.shared import Mm, Pt

        self.data = data
        self.document: Document = docx.Document()
        section = self.document.sections[0]
        width, height = SHEETS[data["size"]]
        section.page_width, section.page_height = Mm(width), Mm(height)
        section.left_margin = section.right_margin = section.top_margin = section.bottom_margin = Mm(MARGIN)
        self.document.styles["Normal"].font.size = Pt(11)
        self.document.core_properties.title = data["document"]
        self.document.core_properties.author = ""
        self.document.core_properties.language = data["language"]

    def content(self) -> bytes:
        """The file, the same bytes on every run."""
        made, packed = BytesIO(), BytesIO()
        self.document.save(made)
        with ZipFile(made) as old, ZipFile(packed, "w") as new:
            for name in old.namelist():
                new.writestr(ZipInfo(name, DATE), old.read(name), ZIP_DEFLATED)
        return packed.getvalue()

    # --- question papers ---

    def version(self, version: Data) -> None:
        heading = self.data["heading"]
        if heading["above"]:
            self.words(" · ".join(heading["above"]))
        self.document.add_heading(f"{self.data['title']}: version {version['name']}", 1)
        self.words(version["summary"])
        fields = "  ".join(f"{name} {BLANK}" for name in heading["fields"])
        self.words(f"{fields}  Marks ____ / {version['marks']}")
        for each in self.data["instructions"]:
            self.paragraph(each, "List Bullet")
        for question in version["questions"]:
            self.question(question)
        if version["formulas"]:
            self.formulas(version["formulas"])

    def question(self, question: Data) -> None:
        self.document.add_heading(f"Question {question['number']}", 2)
        if question["figure"]:
            self.stem_beside(question["stem"], question["figure"])
        else:
            for each in question["stem"]:
                self.paragraph(each)
        for part in question["parts"]:
            self.part(part)

    def stem_beside(self, stem: Sequence[Iterable[Data]], figure: str) -> None:
        """The words with the figure on their right, as on the printed paper: two cells of a table without lines."""
        from docx.shared import Mm

        wide = SHEETS[self.data["size"]][0] - 2 * MARGIN
        drawn = self.data["figures"][figure]["width"] + CELL_PADDING
        table = self.document.add_table(1, 2)
        table.autofit = False
        for column, width in enumerate((wide - drawn, drawn)):
            table.columns[column].width = table.cell(0, column).width = Mm(width)
        words, picture = table.rows[0].cells
        for place, each in enumerate(stem):
            self.fill(words.add_paragraph() if place else words.paragraphs[0], each)
        self.draw(figure, picture.paragraphs[0])

    def part(self, part: Data) -> None:
        label = f"({part['label']}) " if part["label"] else ""
        if label or part["prompt"]:
            self.paragraph([{"text": label}, *part["prompt"]])
        {"number": self.number, "choice": self.choice, "order": self.order, "match": self.match}[part["kind"]](part)

    def number(self, part: Data) -> None:
        self.words(part["told"])
        for _ in range(part["lines"]):
            self.words("")
        unit = f"\u00a0{part['unit']}" if part["unit"] else ""
        self.paragraph([*part["symbol"], {"text": f" = {BLANK}{unit}   [{part['marks']}]"}])

    def choice(self, part: Data) -> None:
        self.words(part["told"])
        for option in part["options"]:
            if "figure" in option:
                self.words(f"☐ {option['letter']}")
                self.picture(option["figure"])
            else:
                self.paragraph([{"text": f"☐ {option['letter']}  "}, *option["content"]])
        self.words(f"[{part['marks']}]")

    def order(self, part: Data) -> None:
        self.words(part["told"])
        self.lettered(part["options"])
        places = "   ".join(f"{place}. ______" for place in range(1, len(part["options"]) + 1))
        self.words(f"{places}   [{part['marks']}]")

    def match(self, part: Data) -> None:
        self.words(part["told"])
        for place, row in enumerate(part["rows"], 1):
            self.paragraph([{"text": f"{place}  "}, *row, {"text": "  ______"}])
        self.lettered(part["columns"])
        self.words(f"[{part['marks']}]")

    def lettered(self, options: Iterable[Data]) -> None:
        for each in options:
            self.paragraph([{"text": f"{each['letter']}  "}, *each["content"]])

    def formulas(self, lines: Sequence[Data]) -> None:
        self.document.add_heading("Formulas", 2)
        for each in lines:
            self.paragraph([{"text": f"{each['name']}: "}, *each["formula"]])

    # --- keys and guide ---

    def marking(self) -> None:
        self.document.add_heading(self.data["document"], 1)
        self.bullets(self.data["notes"])
        if self.data["cautions"]:
            self.document.add_heading("Caution", 2)
            self.bullets(self.data["cautions"])
        for version in self.data["versions"] if self.data["key"] else ():
            self.key(version)
        for question in self.data["guide"]:
            self.guided(question)

    def bullets(self, told: Iterable[str]) -> None:
        for each in told:
            self.words(each, "List Bullet")

    def key(self, version: Data) -> None:
        self.document.add_heading(f"Key, version {version['name']}", 2)
        table = self.document.add_table(1, 4, "Table Grid")
        for cell, name in zip(table.rows[0].cells, ("Question", "Answer", "Accept from … to", "Marks"), strict=True):
            cell.text = name
        for row in version["key"]:
            cells = table.add_row().cells
            cells[0].text, cells[2].text, cells[3].text = row["question"], row["within"], row["marks"]
            self.fill(cells[1].paragraphs[0], row["answer"])
        self.words(f"Total {version['marks']}")

    def guided(self, question: Data) -> None:
        self.document.add_heading(f"{question['places']}: {question['title']} [{question['marks']}]", 2)
        for step in question["steps"]:
            marks = f"   [{step['marks']}]" if step["marks"] else ""
            self.document.add_heading(f"{step['number']}  {step['heading']}{marks}", 3)
            for paragraph in _told(step["told"]):
                self.paragraph(paragraph)
        for wrong in question["wrong"]:
            answers = [
                part for each in wrong["answers"] for part in (*_versions(each), *each["answer"], {"text": "; "})
            ]
            self.paragraph([*answers, {"text": wrong["told"]}], "List Bullet")

    # --- paragraphs ---

    def words(self, text: str, style: str = "Normal") -> None:
        self.document.add_paragraph(text, style)

    def paragraph(self, parts: Iterable[Data], style: str = "Normal") -> None:
        parts = list(parts)
        if len(parts) == 1 and "table" in parts[0]:
            self.table(parts[0]["table"])
            return
        self.fill(self.document.add_paragraph(style=style), parts)

    def fill(self, paragraph: Paragraph, parts: Iterable[Data]) -> None:
        """Texts as runs, formulas as formulas."""
        for part in parts:
            if "figure" in part:
                self.draw(part["figure"], paragraph)
            elif "math" in part:
                paragraph._p.append(cast("Any", office_math(part["math"])))
            elif part["text"]:
                paragraph.add_run(part["text"])

    def table(self, measured: Data) -> None:
        """A table of measured values, whose first row is its head."""
        table = self.document.add_table(1, len(measured["heads"]), style="Table Grid")
        for cell, head in zip(table.rows[0].cells, measured["heads"], strict=True):
            self.fill(cell.paragraphs[0], head)
        for row in measured["rows"]:
            for cell, text in zip(table.add_row().cells, row, strict=True):
                cell.text = text

    def picture(self, name: str) -> None:
        """A drawing on a line of its own."""
        self.draw(name, self.document.add_paragraph())

    def draw(self, name: str, paragraph: Paragraph) -> None:
        """A drawing with its text alternative."""
        from docx.shared import Mm

        drawn = self.data["figures"][name]
        shape = paragraph.add_run().add_picture(BytesIO(png(drawn["svg"].encode(), PIXELS_WIDE)), Mm(drawn["width"]))
        shape._inline.docPr.set("descr", drawn["alt"])


def _told(told: Iterable[Data]) -> Iterator[list[Data]]:
    """The paragraphs of a step, those of some versions with the names of these before them."""
    for each in told:
        for place, paragraph in enumerate(each["paragraphs"]):
            yield [*(_versions(each) if place == 0 else ()), *paragraph]


def _versions(each: Data) -> tuple[Data, ...]:
    return ({"text": f"Version {each['versions']}: "},) if each["versions"] else ()
