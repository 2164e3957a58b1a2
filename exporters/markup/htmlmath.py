"""A formula as plain HTML on one line: italic symbols, raised and lowered parts, Unicode signs, and nothing else.

A fraction is ``a/b`` and a root ``√(a)``; brackets stand wherever the line would else be read another way. The result
is a tree of plain values, which ``markup`` writes as text for a format that carries HTML escaped, and ``add_html`` as
elements for one that holds them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from typing import Literal, TypeAlias

from ...bank.item import formula
from .elements import Element, Vocabulary, say

NO_BREAK_SPACE = "\u00a0"
ROOTS = {2: "√", 3: "∛", 4: "∜"}


@dataclass(frozen=True)
class Tag:
    """Part of a formula inside an element of HTML."""

    name: Literal["i", "sub", "sup"]
    inside: Html


Html: TypeAlias = tuple[str | Tag, ...]


# Most formulas of a worked solution come again in every variant.
@lru_cache(maxsize=1024)
def inline_html(node: formula.Node) -> Html:
    """The formula as pieces of text and elements, from left to right."""
    return _WRITERS[type(node)](node)


def markup(html: Html) -> str:
    """The pieces as HTML text."""
    return "".join(
        escape(piece, quote=False) if isinstance(piece, str) else f"<{piece.name}>{markup(piece.inside)}</{piece.name}>"
        for piece in html
    )


def add_html(parent: Element, html: Html, words: Vocabulary) -> None:
    """The pieces join ``parent`` after all that it holds."""
    for piece in html:
        if isinstance(piece, str):
            say(parent, piece)
        else:
            add_html(words.add(parent, piece.name), piece.inside, words)


def _number(node: formula.Number) -> Html:
    return (node.text.replace("-", "−"),)


def _symbol(node: formula.Symbol) -> Html:
    base = Tag("i", (node.base,))
    return (base, Tag("sub", (node.subscript,))) if node.subscript else (base,)


def _sign(node: formula.Operator | formula.UnitNode) -> Html:
    return (node.text,)


def _row(node: formula.Row) -> Html:
    """Signs between two parts have spaces around them; a line may break there, but not inside a product."""
    pieces: list[str | Tag] = []
    before: formula.Node | None = None
    for place, part in enumerate(node.parts):
        leads = before is None or isinstance(before, formula.Operator)
        if isinstance(part, formula.Operator):
            pieces.append(part.text if leads else f" {part.text} ")
        else:
            followed = place + 1 < len(node.parts) and not isinstance(node.parts[place + 1], formula.Operator)
            html = _bracketed(part) if followed and isinstance(part, formula.Fraction) else inline_html(part)
            pieces.extend(html if leads else (_between(part, html), *html))
        before = part
    return tuple(piece for piece in pieces if piece)


def _between(part: formula.Node, html: Html) -> str:
    """What stands between a factor and the part that follows it, which would else be one number with it."""
    if isinstance(part, formula.UnitNode):
        return "" if part.text == "°" else NO_BREAK_SPACE
    number = isinstance(html[0], str) and html[0][:1] in "0123456789−"
    return f"{NO_BREAK_SPACE}×{NO_BREAK_SPACE}" if number else NO_BREAK_SPACE


def _bracketed(node: formula.Node) -> Html:
    """The node in brackets, unless it has them."""
    html = inline_html(node)
    return html if isinstance(node, formula.Group) else ("(", *html, ")")


def _fraction(node: formula.Fraction) -> Html:
    above = inline_html(node.above) if _is_product(node.above) else _bracketed(node.above)
    below = inline_html(node.below) if _holds(node.below) else _bracketed(node.below)
    return (*above, "/", *below)


def _is_product(node: formula.Node) -> bool:
    """Whether a stroke after the node divides all of it."""
    if isinstance(node, formula.Row):
        units = (part.text for part in node.parts if isinstance(part, formula.UnitNode))
        return all(_holds(part) or isinstance(part, formula.UnitNode) for part in node.parts) and "/" not in "".join(
            units
        )
    return _holds(node)


def _holds(node: formula.Node) -> bool:
    """Whether the node stays one thing beside a stroke."""
    kinds = formula.Number | formula.Symbol | formula.Group | formula.Power | formula.Root | formula.Call
    return isinstance(node, kinds) and not _is_negative(node)


def _is_negative(node: formula.Node) -> bool:
    return isinstance(node, formula.Number) and node.text[:1] in ("-", "−")


def _root(node: formula.Root) -> Html:
    sign: Html = (ROOTS[node.index],) if node.index in ROOTS else (Tag("sup", (str(node.index),)), "√")
    return (*sign, *_bracketed(node.body))


def _power(node: formula.Power) -> Html:
    bare = isinstance(node.base, formula.Number | formula.Symbol | formula.Group) and not _is_negative(node.base)
    base = inline_html(node.base) if bare else _bracketed(node.base)
    return (*base, Tag("sup", inline_html(node.exponent)))


def _call(node: formula.Call) -> Html:
    name: Html = (node.name, Tag("sup", ("−1",))) if node.inverse else (node.name,)
    if isinstance(node.argument, formula.Number | formula.Symbol):
        return (*name, NO_BREAK_SPACE, *inline_html(node.argument))
    return (*name, *_bracketed(node.argument))


def _group(node: formula.Group) -> Html:
    return ("(", *inline_html(node.body), ")")


_WRITERS: dict[type, Callable[..., Html]] = {
    formula.Number: _number,
    formula.Symbol: _symbol,
    formula.Operator: _sign,
    formula.UnitNode: _sign,
    formula.Row: _row,
    formula.Fraction: _fraction,
    formula.Root: _root,
    formula.Power: _power,
    formula.Call: _call,
    formula.Group: _group,
}
