"""Paragraphs, formulas, drawings and worked solutions as the XHTML-like elements that stand in an item's body."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeAlias

from turnwright.bank import formula
from turnwright.bank.drawing import Drawing
from turnwright.bank.item import Given, Math, Paragraph, Step, Words
from turnwright.exporters.delivery import Mathematics
from turnwright.exporters.elements import Element, say
from turnwright.exporters.htmlmath import add_html, inline_html
from turnwright.exporters.mathml import math, math_once
from turnwright.exporters.pieces import Pieces, Set
from turnwright.exporters.qti import QTI
from turnwright.exporters.template import Drawn

Source: TypeAlias = Callable[[Drawing], str]


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
                case Drawn(variable=variable):
                    QTI.add(parent, "qti-printed-variable", identifier=variable)
                    say(parent, part.text.removeprefix(part.number))
                case Words(text=text) | Given(text=text):
                    say(parent, text)
                case Math(node=node):
                    self.add_formula(parent, node, block=block)

    def add_paragraph(self, parent: Element, paragraph: Paragraph) -> Element:
        """A new paragraph; a formula that is all of it gets a line of its own."""
        element = QTI.add(parent, "p")
        self.add_inline(element, paragraph, block=len(paragraph) == 1)
        return element

    def add_content(self, parent: Element, content: Paragraph | Drawing) -> None:
        """What an option shows, as the content of ``parent``."""
        if isinstance(content, Drawing):
            assert self.source is not None
            QTI.add(parent, "img", src=self.source(content), alt=content.alternative)
        else:
            self.add_inline(parent, content)

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
