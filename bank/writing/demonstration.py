"""The card of a demonstration: what to do, what the class predicts, what is then seen and why, what to watch for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..item.formula import Node
from ..item.item import Inline, Math, Paragraph, Words
from ..model.expression import parse, parse_relation
from ..model.problem import Problem
from ..model.wording import pieces
from .notation import Notation
from .stem import joined


@dataclass(frozen=True)
class Card:
    """A demonstration in words and formulas."""

    do: str
    predict: str
    seen: Paragraph
    caution: str


def card(problem: Problem) -> Card | None:
    """The card of a problem, None where it has none to show."""
    told = problem.demonstration
    if "do" not in told:
        return None
    return Card(told["do"], told["predict"], tuple(joined(_parts(told["seen"]))), told["caution"])


def _parts(template: str) -> Iterator[Inline]:
    for piece in pieces(template):
        yield Words(piece) if isinstance(piece, str) else Math(_formula(piece.name))


def _formula(text: str) -> Node:
    notation = Notation()
    if not set(text) & set("=<>"):
        return notation.node(parse(text))
    relation = parse_relation(text)
    return notation.equation(relation.left, relation.right, _SIGNS.get(relation.sign, relation.sign))


_SIGNS = {"<=": "≤", ">=": "≥"}
