"""The words of a question: the scene's story, the question with its printed numbers, g, and how to give the answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..item.item import Given, Inline, Math, Paragraph, Words
from ..model import wording
from ..model.problem import Problem, Question, Scene
from ..model.wording import Slot, pieces, word
from ..quantities.quantity import Quantity
from .notation import Notation
from .sentences import joined


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
    return problem.quantities[question.ask].means or question.ask


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
    return Given(symbol, quantity.number, quantity.unit.printed)
