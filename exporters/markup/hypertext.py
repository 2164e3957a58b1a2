"""Paragraphs, formulas and pictures as HTML text, for formats that carry HTML as a string."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from ...bank.item import formula
from ...bank.item.item import Math, Paragraph, Step
from .elements import clean
from .htmlmath import inline_html, markup


def paragraph(content: Paragraph) -> str:
    """A paragraph in its tags."""
    return f"<p>{inline(content)}</p>"


def inline(content: Paragraph) -> str:
    """The parts of a paragraph, one after the other."""
    return "".join(math(part.node) if isinstance(part, Math) else text(part.text) for part in content)


def text(words: str) -> str:
    """Plain words, with what HTML would act on escaped."""
    return escape(clean(words), quote=False)


def picture(source: str, alternative: str) -> str:
    """A picture with its text alternative."""
    return f'<img src="{escape(source)}" alt="{escape(clean(alternative))}" />'


def steps(solution: Sequence[Step]) -> str:
    """A worked solution, each step under its heading."""
    parts = ["<p><b>Worked solution</b></p>"]
    for step in solution:
        parts.append(f"<p><b>{step.number}. {text(step.heading)}</b></p>")
        parts += map(paragraph, step.paragraphs)
    return "".join(parts)


def math(node: formula.Node) -> str:
    """A formula in the line."""
    return markup(inline_html(node))
