"""What is true at the edge, and what must hold: the lines of a worked solution that come before the algebra."""

from __future__ import annotations

from collections.abc import Iterator

import sympy

from ..item.item import Math, Paragraph, Words
from ..model.problem import Scene
from ..model.wording import capital, force_words, sentence
from ..solving.solution import SolvedQuestion
from .notation import Notation


def limiting_case(solved: SolvedQuestion, scene: Scene, notation: Notation) -> Iterator[Paragraph]:
    """What has happened at the limit, with its equation; nothing where the question has no limiting case."""
    limiting = solved.question.limiting
    if limiting:
        row = notation.equation(limiting.left, limiting.right)
        yield (Words(_limit_words(solved, scene) + " "), Math(row), Words("."))


def what_holds(solved: SolvedQuestion, scene: Scene, notation: Notation, seen: frozenset[str]) -> Iterator[Paragraph]:
    """What holds of the forces that the solution has ``seen``, each with its reason."""
    for kept in solved.kept:
        relation = kept.reason.relation
        if kept.expression is None or not relation.symbols & solved.system.forces <= seen:
            continue
        sign = {"<=": "≤", ">=": "≥"}.get(relation.sign, relation.sign)
        because = capital(sentence(kept.reason.because, scene))
        row = notation.equation(relation.left, relation.right, sign)
        yield (Words(f"{because}: "), Math(row), Words(". The numbers of this question keep to it."))


def _limit_words(solved: SolvedQuestion, scene: Scene) -> str:
    """What has happened at the limit, in the scene's name for the force that is at its edge."""
    limiting = solved.question.limiting
    assert limiting is not None
    for diagram in solved.problem.diagrams:
        for force in diagram.forces:
            shown = force_words(scene, force.role)
            symbol = sympy.Symbol(force.symbol or "")
            if not force.symbol or not shown or symbol not in (limiting.left, limiting.right):
                continue
            if sympy.Integer(0) in (limiting.left, limiting.right):
                return f"At the limit the {shown.name} has just reached zero:"
            return f"At the limit the {shown.name} has its {_extreme(solved, symbol)} value:"
    return "At the limit:"


def _extreme(solved: SolvedQuestion, symbol: sympy.Symbol) -> str:
    """Whether what holds keeps a force below its limit or above it."""
    limiting = solved.question.limiting
    assert limiting is not None
    for reason in solved.problem.holds:
        relation = reason.relation
        if {relation.left, relation.right} == {limiting.left, limiting.right}:
            below = relation.sign.startswith("<") == (symbol == relation.left)
            return "maximum" if below else "minimum"
    return "maximum"
