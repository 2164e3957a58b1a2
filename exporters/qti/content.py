"""Paragraphs, formulas, drawings and worked solutions as the XHTML-like elements that stand in an item's body.

What many items of a question say alike is set into XML once, and put into the file of each as bytes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeAlias

from lxml import etree

from ...bank.item import formula
from ...bank.item.drawing import Drawing
from ...bank.item.item import Given, Math, Paragraph, SolutionDrawing, Step, ValueTable, Words
from ..adapting.template import DrawnNumber
from ..markup.elements import Element, document, say
from ..markup.htmlmath import add_html, inline_html
from ..markup.mathml import math, math_once
from ..packages.delivery import Mathematics
from .vocabulary import QTI

Source: TypeAlias = Callable[[Drawing], str]
Set: TypeAlias = Callable[[Element], object]
MOST_KEPT = 256
_TARGET = "piece"
_INSTRUCTION = re.compile(rb"<\?piece (\d+)\?>")


@dataclass(frozen=True)
class Page:
    """Sets what is read, formulas as the user wants; ``source`` tells where the file of an option's drawing lies.

    ``shuffle``: options come to each candidate in another order, where that order means nothing. ``pieces`` are those
    of the file that the page is in, where it has any; ``once``: no formula is expected to come again.
    """

    mathematics: Mathematics
    source: Source | None = None
    shuffle: bool = False
    pieces: Pieces | None = None
    once: bool = False

    def add_piece(self, parent: Element, key: Hashable, make: Set, of: object = None) -> None:
        """What ``make`` adds to ``parent`` is added, if may be as a piece that is known by ``key`` and ``of``."""
        if self.pieces:
            self.pieces.add(parent, key, of, make)
        else:
            make(parent)

    def add_formula(self, parent: Element, node: formula.Node, *, block: bool = False) -> None:
        """A formula joins ``parent`` after all that it holds; ``block`` sets it on a line of its own."""
        if self.mathematics == "html":
            add_html(parent, inline_html(node), QTI)
        else:
            parent.append(math_once(node, block) if self.once else math(node, block=block))

    def add_inline(self, parent: Element, paragraph: Paragraph, *, block: bool = False) -> None:
        """The parts of a paragraph join ``parent`` after all that it holds."""
        for part in paragraph:
            match part:
                case DrawnNumber(variable=variable):
                    QTI.add(parent, "qti-printed-variable", identifier=variable)
                    say(parent, part.text.removeprefix(part.number))
                case Words(text=text) | Given(text=text):
                    say(parent, text)
                case Math(node=node):
                    self.add_formula(parent, node, block=block)
                case SolutionDrawing(drawing=drawing):
                    self.add_content(parent, drawing)

    def add_paragraph(self, parent: Element, paragraph: Paragraph) -> Element:
        """A new paragraph; a formula that is all of it gets a line of its own, and a table stands for itself."""
        if len(paragraph) == 1 and isinstance(paragraph[0], ValueTable):
            return self._add_table(parent, paragraph[0])
        element = QTI.add(parent, "p")
        self.add_inline(element, paragraph, block=len(paragraph) == 1)
        return element

    def _add_table(self, parent: Element, table: ValueTable) -> Element:
        """A new table with a head for each column, which a screen reader says before each cell."""
        element = QTI.add(parent, "table")
        line = QTI.add(QTI.add(element, "thead"), "tr")
        for head in table.heads:
            self.add_inline(QTI.add(line, "th", scope="col"), head)
        body = QTI.add(element, "tbody")
        for row in table.rows:
            line = QTI.add(body, "tr")
            for cell in row:
                self.add_inline(QTI.add(line, "td"), (cell,))
        return element

    def add_content(self, parent: Element, content: Paragraph | Drawing) -> None:
        """What an option shows, as the content of ``parent``."""
        if isinstance(content, Drawing):
            assert self.source is not None
            self.add_drawing(parent, content, self.source(content))
        else:
            self.add_inline(parent, content)

    def add_drawing(self, parent: Element, drawing: Drawing, href: str) -> None:
        """A drawing by its text alternative; where there is more to be told of it, its own file has the description."""
        more = {"longdesc": href} if drawing.more and href.endswith(".svg") else {}
        QTI.add(parent, "img", src=href, alt=drawing.alternative, **more)

    def add_steps(self, parent: Element, steps: Sequence[Step]) -> None:
        """A worked solution under its heading, each step under its own."""
        QTI.add(parent, "h3", "Worked solution")
        for step in steps:
            page = replace(self, once=True) if self.pieces else self
            self.add_piece(parent, "step", partial(page._add_step, step), step)

    def _add_step(self, step: Step, parent: Element) -> None:
        QTI.add(parent, "h4", f"{step.number}. {step.heading}")
        for paragraph in step.paragraphs:
            self.add_paragraph(parent, paragraph)


class Pieces:
    """The pieces of one question in one version, whose names ``form`` gives; those not used for long are let go."""

    def __init__(self, form: Callable[[Element], Element]) -> None:
        self._form = form
        self._known: dict[Hashable, tuple[object, bytes]] = {}
        self._content: dict[bytes, bytes] = {}
        self._count = 0

    def add(self, parent: Element, key: Hashable, of: object, make: Set) -> None:
        """What ``make`` adds to an element joins ``parent`` after all that it holds.

        A piece is known by its ``key`` and, where that is not enough, by the very object ``of`` which it is written.
        """
        place = (key, id(of))  # which no other object can have, as long as this one is kept
        known = self._known.pop(place, None) or (of, self._set(make))
        self._known[place] = known
        parent.append(etree.ProcessingInstruction(_TARGET, known[1].decode()))

    def _set(self, make: Set) -> bytes:
        """The number of a new piece."""
        holder = QTI.root("qti-item-body")
        make(holder)
        written = etree.tostring(self._form(holder), encoding="UTF-8", xml_declaration=False)
        self._count += 1
        number = b"%d" % self._count
        inside = written[written.index(b">") + 1 : max(written.rfind(b"</"), 0)]
        self._content[number] = self._filled(inside)
        return number

    def document(self, root: Element) -> bytes:
        """The file of an item whose tree this is."""
        made = self._filled(document(self._form(root)))
        while len(self._known) > MOST_KEPT:
            _, number = self._known.pop(next(iter(self._known)))
            del self._content[number]
        return made

    def _filled(self, written: bytes) -> bytes:
        return _INSTRUCTION.sub(lambda found: self._content[found[1]], written)
