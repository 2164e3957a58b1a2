"""Pieces of the page that are more than escaped words: formulas, paragraphs, drawings."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from functools import lru_cache

from lxml import etree
from markupsafe import Markup, escape

from ...bank.item import formula
from ...bank.item.drawing import Drawing
from ...bank.item.item import Inline, Math, Paragraph, SolutionDrawing, ValueTable
from ..markup import elements
from ..markup.elements import Element
from ..markup.mathml import FUNCTION_APPLICATION, INVISIBLE_TIMES, math
from ..markup.svg import PAPER, TONES, svg

THIN = "0.17em"
LONG = 26  # letters of a formula that may be wider than a narrow page leaves it inside a line

# what can't be seen, or turns the order of what can be: shown by its number, so that a reviewer meets it
_UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060\u2065-\u206f\ud800-\udfff\ufeff\ufff9-\uffff]"
)
_CLASSES = {PAPER: "paper", **{colour: tone for tone, colour in TONES.items()}}


def seen(text: str) -> str:
    """The text with every letter in it that can't be seen replaced by its number, as in ``⟨U+202E⟩``."""
    return _UNSEEN.sub(lambda found: f"⟨U+{ord(found[0]):04X}⟩", text)


@lru_cache(maxsize=4096)
def formula_html(node: formula.Node, block: bool = False) -> Markup:
    """A formula as MathML; a wide one stands in a box of its own that scrolls."""
    shown = _serialised(_with_spaces(math(node, block=block)))
    if block:
        return Markup(f'<div class="formula">{shown}</div>')  # noqa: S704
    if len(formula.text(node)) > LONG:
        return Markup(f'<span class="wide">{shown}</span>')  # noqa: S704
    return Markup(shown)  # noqa: S704


def _with_spaces(element: Element) -> Element:
    """The formula with a thin space on both sides of a function's name, which browsers leave out."""
    for sign in element.iter(f"{{{elements.MATHML}}}mo"):
        follower = sign.getnext()
        before_name = sign.text == INVISIBLE_TIMES and follower is not None and _starts_with_name(follower)
        if before_name or sign.text == FUNCTION_APPLICATION:
            sign.set("rspace", THIN)
    return element


def _starts_with_name(element: Element) -> bool:
    first = next(each for each in element.iter() if not len(each))
    return len(first.text or "") > 1 and etree.QName(first).localname == "mi"


def inline_html(paragraph: Paragraph) -> Markup:
    """The parts of a paragraph in one line."""
    return Markup("").join(_part(part) for part in paragraph)


def _part(part: Inline) -> Markup:
    if isinstance(part, SolutionDrawing):
        return drawing_html(part.drawing)
    return formula_html(part.node) if isinstance(part, Math) else escape(part.text)


def symbol_html(symbol: formula.Symbol) -> Markup:
    """A symbol as text, for the head of a column: not every reader of tables knows MathML."""
    lowered = Markup("<sub>{}</sub>").format(symbol.subscript) if symbol.subscript else ""
    return Markup("<var>{}</var>{}").format(symbol.base, lowered)


def paragraph_html(paragraph: Paragraph) -> Markup:
    """A paragraph; a formula that is all of it gets a line of its own."""
    if len(paragraph) == 1 and isinstance(paragraph[0], Math):
        return formula_html(paragraph[0].node, block=True)
    if len(paragraph) == 1 and isinstance(paragraph[0], ValueTable):
        return _table_html(paragraph[0])
    return Markup("<p>{}</p>").format(inline_html(paragraph))


def _table_html(table: ValueTable) -> Markup:
    """A table with a head for each column."""
    heads = Markup("").join(Markup('<th scope="col">{}</th>').format(inline_html(each)) for each in table.heads)
    rows = (Markup("").join(Markup("<td>{}</td>").format(cell.text) for cell in row) for row in table.rows)
    body = Markup("").join(Markup("<tr>{}</tr>").format(row) for row in rows)
    return Markup('<table class="measured"><thead><tr>{}</tr></thead><tbody>{}</tbody></table>').format(heads, body)


def _serialised(element: Element) -> str:
    """The element as HTML has it, where namespaces go without saying. lxml has escaped what is in it."""
    for each in element.iter():
        each.tag = etree.QName(each).localname
    etree.cleanup_namespaces(element)
    return etree.tostring(element, encoding="unicode", with_tail=False)


def drawing_id(drawing: Drawing) -> str:
    """The id of a drawing on the page: it comes from what is drawn, whatever else the page holds."""
    return f"drawing-{_digest(drawing)}"


@lru_cache(maxsize=4096)
def _digest(drawing: Drawing) -> str:
    return hashlib.sha256(svg(drawing)).hexdigest()[:16]


def drawing_html(drawing: Drawing, name: str = "") -> Markup:
    """A place where a drawing is shown; it is named by its text alternative, or by a ``name`` where that stands near.

    A folded part of the page names nothing, so the alternative of each drawing stands hidden beside the drawing itself.
    """
    id_ = drawing_id(drawing)
    named = Markup('aria-label="{}"').format(name) if name else Markup('aria-labelledby="{}:words"').format(id_)
    return Markup(
        '<svg class="drawing" width="{0:g}" height="{1:g}" viewBox="0 0 {0:g} {1:g}" role="img" {2}>'
        '<use href="#{3}"></use></svg>'
    ).format(drawing.width, drawing.height, named, id_)


def words_html(drawings: Iterable[Drawing]) -> Markup:
    """The text alternatives of drawings, where their places find them."""
    known = {drawing_id(each): each.alternative for each in drawings}
    return Markup("\n").join(Markup('<p id="{}:words">{}</p>').format(each, known[each]) for each in sorted(known))


def symbols_html(drawings: Iterable[Drawing]) -> Markup:
    """The drawings themselves, each once, in the order of their ids; they are shown elsewhere."""
    known = {drawing_id(each): each for each in drawings}
    return Markup("\n").join(_symbol(known[each], each) for each in sorted(known))


def _symbol(drawing: Drawing, id_: str) -> Markup:
    root = etree.fromstring(svg(drawing))
    symbol = etree.Element("symbol", id=id_, viewBox=str(root.get("viewBox")))
    for child in root:
        if etree.QName(child).localname not in ("title", "desc"):
            symbol.append(child)
    for element in symbol.iter():
        _colour_by_class(element)
    return Markup(_serialised(symbol))  # noqa: S704


def _colour_by_class(element: Element) -> None:
    """Colours become classes, so that a dark page has its own."""
    classes = []
    for kind in ("fill", "stroke"):
        name = _CLASSES.get(element.get(kind) or "")
        if name:
            del element.attrib[kind]
            classes.append(f"{kind}-{name}")
    if classes:
        element.set("class", " ".join(classes))
    if elements.SPACE_ATTRIBUTE in element.attrib:
        del element.attrib[elements.SPACE_ATTRIBUTE]
