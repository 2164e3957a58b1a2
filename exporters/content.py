"""Paragraphs and worked solutions as the XHTML-like elements that stand in an item's body."""

from __future__ import annotations

from collections.abc import Sequence

from turnwright.bank.item import Given, Math, Paragraph, Step, Words
from turnwright.exporters.elements import Element, Vocabulary, say
from turnwright.exporters.mathml import math
from turnwright.exporters.qti import QTI
from turnwright.exporters.template import Drawn


def add_paragraph(parent: Element, paragraph: Paragraph, words: Vocabulary) -> Element:
    """A new paragraph; a formula that is all of it gets a line of its own."""
    element = words.add(parent, "p")
    add_inline(element, paragraph, block=len(paragraph) == 1)
    return element


def add_inline(element: Element, paragraph: Paragraph, *, block: bool = False) -> None:
    """The parts of a paragraph join ``element`` after all that it holds; ``block`` sets formulas on their own lines."""
    for part in paragraph:
        match part:
            case Drawn(variable=variable):
                QTI.add(element, "qti-printed-variable", identifier=variable)
                say(element, part.text.removeprefix(part.number))
            case Words(text=text) | Given(text=text):
                say(element, text)
            case Math(node=node):
                element.append(math(node, block=block))


def add_steps(parent: Element, steps: Sequence[Step], words: Vocabulary) -> None:
    """A worked solution under its heading, each step under its own."""
    words.add(parent, "h3", "Worked solution")
    for step in steps:
        words.add(parent, "h4", f"{step.number}. {step.heading}")
        for paragraph in step.paragraphs:
            add_paragraph(parent, paragraph, words)
