"""Whole sentences with named gaps, and what fills them: words, formulas and printed quantities.

A sentence stands in this room as one text, such as ``"Which forces act on {body} {place}?"``, so that it can be read,
edited and translated as one. Other rooms say what goes into its gaps.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from string import Formatter

from ..item.formula import Node
from ..item.item import Given, Inline, Math, Paragraph, Words
from ..model import wording
from ..model.problem import Problem, Question, Scene
from ..model.wording import Slot, pieces, word
from ..quantities.quantity import Quantity
from .notation import Notation

__all__ = ["filled", "joined"]


def filled(sentence: str, **gaps: str | int | Node | Given) -> Paragraph:
    """The sentence with its gaps filled. Raises KeyError for a gap that nothing is given for."""
    return tuple(joined(_parts(sentence, gaps)))


def _parts(sentence: str, gaps: dict[str, str | int | Node | Given]) -> Iterator[Inline]:
    for text, name, _, _ in Formatter().parse(sentence):
        if text:
            yield Words(text)
        if name is not None:
            yield _part(gaps[name])


def _part(gap: str | int | Node | Given) -> Inline:
    if isinstance(gap, str | int):
        return Words(str(gap))
    return gap if isinstance(gap, Given) else Math(gap)


def joined(parts: Iterable[Inline]) -> Iterator[Inline]:
    """The parts with neighbouring words run together."""
    words = ""
    for part in parts:
        if isinstance(part, Words):
            words += part.text
            continue
        if words:
            yield Words(words)
            words = ""
        yield part
    if words:
        yield Words(words)


def stem(
    problem: Problem, question: Question, scene: Scene, given: Mapping[str, Quantity], notation: Notation, uses_g: bool
) -> tuple[Paragraph, ...]:
    """The paragraphs of a stem. ``given`` holds the printed quantities, g among them."""
    opening: list[Inline] = [Words(wording.sentence(scene.story, scene) + " ")]
    opening += _filled(question.stem, scene, given, notation)
    paragraphs = [tuple(joined(opening))]
    if uses_g:
        gravity = given["g"]
        paragraphs.append(
            (Words("Take "), Math(notation.symbol("g")), Words(" = "), _printed("g", gravity), Words("."))
        )
    return tuple(paragraphs)


def answer_instruction(unit: str, figures: int) -> str:
    """How the answer is to be given, for the line with the box."""
    asked = f"to {wording.count(figures, 'significant figure')}"
    return f"Give the answer in {unit}, {asked}." if unit else f"Give the answer {asked}."


def asked_name(problem: Problem, question: Question, scene: Scene) -> str:
    """What is asked, in words: the question's own name, or that of the force in this scene, or of the quantity."""
    if question.asked_name:
        return wording.sentence(question.asked_name, scene)
    for diagram in problem.diagrams:
        for force in diagram.forces:
            shown = scene.forces.get(force.role)
            if force.symbol == question.ask and shown:
                return shown.name
    means = problem.quantities[question.ask].means
    bodies = {diagram.body for diagram in problem.diagrams if diagram.mass == question.ask}
    if means == "mass" and len(bodies) == 1:
        return f"mass of {wording.with_article(scene.words[bodies.pop()], 'the')}"
    return wording.sentence(means or question.ask, scene)


def _filled(template: str, scene: Scene, given: Mapping[str, Quantity], notation: Notation) -> Iterator[Inline]:
    for piece in pieces(template):
        if isinstance(piece, str):
            yield Words(piece)
        elif not piece.mode and piece.name in given:
            yield _printed(piece.name, given[piece.name])
        elif piece.mode == "symbol":
            yield Math(notation.symbol(piece.name))
        else:
            yield Words(_word(piece, scene))


def _word(slot: Slot, scene: Scene) -> str:
    return word(slot, scene) or ""


def _printed(symbol: str, quantity: Quantity) -> Given:
    return Given(symbol, quantity.number, quantity.unit.in_text)
