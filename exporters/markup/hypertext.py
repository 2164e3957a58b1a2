"""Paragraphs, formulas and pictures as HTML text, for formats that carry HTML as a string."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape

from ...bank.item import formula
from ...bank.item.drawing import Drawing
from ...bank.item.item import Math, Paragraph, SolutionDrawing, Step, ValueTable
from .elements import clean
from .htmlmath import inline_html, markup


def paragraph(content: Paragraph) -> str:
    """A paragraph in its tags; a table stands for itself."""
    if len(content) == 1 and isinstance(content[0], ValueTable):
        return _table(content[0])
    return f"<p>{inline(content)}</p>"


def _table(content: ValueTable) -> str:
    """A table with a head for each column, which a screen reader says before each cell."""
    heads = "".join(f'<th scope="col">{inline(head)}</th>' for head in content.heads)
    rows = ("".join(f"<td>{inline((cell,))}</td>" for cell in row) for row in content.rows)
    body = "".join(f"<tr>{row}</tr>" for row in rows)
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"


def inline(content: Paragraph) -> str:
    """The parts of a paragraph, one after the other."""
    return "".join(math(part.node) if isinstance(part, Math) else text(part.text) for part in content)


def text(words: str) -> str:
    """Plain words, with what HTML would act on escaped."""
    return escape(clean(words), quote=False)


def picture(source: str, alternative: str) -> str:
    """A picture with its text alternative."""
    return f'<img src="{escape(source)}" alt="{escape(clean(alternative))}" />'


def steps(solution: Sequence[Step], source: Callable[[Drawing], str]) -> str:
    """A worked solution, each step under its heading; ``source`` tells where the file of a drawing lies."""
    parts = ["<p><b>Worked solution</b></p>"]
    for step in solution:
        parts.append(f"<p><b>{step.number}. {text(step.heading)}</b></p>")
        parts += (_in_solution(each, source) for each in step.paragraphs)
    return "".join(parts)


def _in_solution(content: Paragraph, source: Callable[[Drawing], str]) -> str:
    """A paragraph of a solution, which may be a picture."""
    if len(content) == 1 and isinstance(content[0], SolutionDrawing):
        return f"<p>{picture(source(content[0].drawing), content[0].text)}</p>"
    return paragraph(content)


def math(node: formula.Node) -> str:
    """A formula in the line."""
    return markup(inline_html(node))
