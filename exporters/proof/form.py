"""Whether formulas and drawings come in the form that was agreed on."""

from __future__ import annotations

from collections.abc import Iterator

from turnwright.bank.item import ChoiceEntry, Item, Math, NumberEntry
from turnwright.exporters.delivery import Delivery
from turnwright.exporters.proof.dialect import MATHML
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import ItemFile

MATHML_NAMESPACE = MATHML.strip("{}").encode()


def check_form(item: ItemFile, expected: Item | None, delivery: Delivery) -> Iterator[str]:
    """Formulas that are MathML though plain HTML was agreed on, or the other way round; drawings of another kind."""
    written = MATHML_NAMESPACE in item.data
    if delivery.mathematics == "html" and written:
        yield "formulas are MathML, plain HTML expected"
    if delivery.mathematics == "mathml" and not written and expected and _asks_with_formulas(expected):
        yield "no formula is MathML, which is expected"
    if item.data.count(b"<math") > item.data.count(b" alttext="):  # which takes a tenth of the time of a walk
        for silent in item.root.lacking("math", "alttext"):
            yield f"line {silent.line}: a formula has no reading in words"
    for link in item.links():
        if link.is_image and not link.href.endswith(f".{delivery.figures}"):
            yield f"the drawing '{shown(link.href)}' is no {delivery.figures.upper()}, which is expected"


def _asks_with_formulas(item: Item) -> bool:
    """Whether a formula stands where a candidate reads it before answering."""
    paragraphs = list(item.stem)
    for entry in item.entries:
        if isinstance(entry, NumberEntry):
            return True
        paragraphs.append(entry.prompt)
        if isinstance(entry, ChoiceEntry):
            paragraphs.extend(each.content for each in entry.options if isinstance(each.content, tuple))
    return any(isinstance(part, Math) for paragraph in paragraphs for part in paragraph)
