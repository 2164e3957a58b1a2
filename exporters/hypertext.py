"""Paragraphs, formulas and pictures as HTML text, for formats that carry HTML as a string.

Formulas are set in one line with ``sub``, ``sup``, ``i`` and Unicode signs. Where brackets stand follows
``formula.text``, so that a formula reads alike in a text alternative and on such a page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from html import escape

from turnwright.bank import formula
from turnwright.bank.item import Given, Math, Paragraph, Step, Words
from turnwright.exporters.elements import clean

NO_BREAK_SPACE = "\u00a0"


def paragraph(content: Paragraph) -> str:
    """A paragraph in its tags."""
    return f"<p>{inline(content)}</p>"


def inline(content: Paragraph) -> str:
    """The parts of a paragraph, one after the other."""
    return "".join(math(part.node) if isinstance(part, Math) else text(part.text) for part in _parts(content))


def _parts(content: Paragraph) -> Iterable[Words | Math | Given]:
    return content


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


@lru_cache(maxsize=2048)
def math(node: formula.Node) -> str:
    """A formula in the line."""
    return _SETTERS[type(node)](node)


def _symbol(node: formula.Symbol) -> str:
    base = f"<i>{text(node.base)}</i>"
    return f"{base}<sub>{text(node.subscript)}</sub>" if node.subscript else base


def _row(node: formula.Row) -> str:
    pieces: list[str] = []
    before: formula.Node | None = None
    for part in node.parts:
        sign = isinstance(part, formula.Operator)
        alone = before is None or isinstance(before, formula.Operator)
        if sign and not (alone and part in _SIGNS):
            pieces.append(f" {math(part)} ")
        elif before is None or isinstance(before, formula.Operator) or sign:
            pieces.append(math(part))
        else:
            pieces.append(NO_BREAK_SPACE + math(part))
        before = part
    return "".join(pieces).strip(" ")


_SIGNS = (formula.Operator("−"), formula.Operator("+"))


def _fraction(node: formula.Fraction) -> str:
    is_sum = isinstance(node.above, formula.Row) and any(
        isinstance(part, formula.Operator) and part.text in "+−" for part in node.above.parts
    )
    above = _bracketed(node.above, is_sum)
    whole = isinstance(node.below, formula.Number | formula.Symbol | formula.Group | formula.Power | formula.Call)
    return f"{above}/{_bracketed(node.below, not whole)}"


def _bracketed(node: formula.Node, brackets: bool) -> str:
    return f"({math(node)})" if brackets else math(node)


def _power(node: formula.Power) -> str:
    whole = isinstance(node.base, formula.Number | formula.Symbol | formula.Group)
    return f"{_bracketed(node.base, not whole)}<sup>{math(node.exponent)}</sup>"


def _root(node: formula.Root) -> str:
    sign = {2: "√", 3: "∛", 4: "∜"}.get(node.index, f"<sup>{node.index}</sup>√")
    return sign + _bracketed(node.body, not isinstance(node.body, formula.Number | formula.Symbol | formula.Group))


def _call(node: formula.Call) -> str:
    name = f"{text(node.name)}<sup>−1</sup>" if node.inverse else text(node.name)
    if isinstance(node.argument, formula.Symbol | formula.Number):
        return f"{name}{NO_BREAK_SPACE}{math(node.argument)}"
    argument = node.argument.body if isinstance(node.argument, formula.Group) else node.argument
    return f"{name}({math(argument)})"


_SETTERS: dict[type, Callable[..., str]] = {
    formula.Number: lambda node: text(node.text),
    formula.Symbol: _symbol,
    formula.Operator: lambda node: text(node.text),
    formula.Unit: lambda node: text(node.text),
    formula.Row: _row,
    formula.Fraction: _fraction,
    formula.Root: _root,
    formula.Power: _power,
    formula.Call: _call,
    formula.Group: lambda node: f"({math(node.body)})",
}
