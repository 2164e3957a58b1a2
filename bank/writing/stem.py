"""Whole sentences with named gaps, and what fills them: words, formulas and printed quantities.

A sentence stands in this room as one text, such as ``"Which forces act on {body} {place}?"``, so that it can be read,
edited and translated as one. Other rooms say what goes into its gaps.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from decimal import Decimal
from string import Formatter

from ..item.formula import Node, Operator, Row
from ..item.item import Given, Inline, Math, Paragraph, Words
from ..model import wording
from ..model.once import once
from ..model.problem import Problem, Question, Scene
from ..model.wording import Slot, pieces, word
from ..quantities.quantity import Quantity, from_float
from ..quantities.units import Unit, unit
from .notation import Notation, amount

_FIGURES = 5  # of one electronvolt in joules: as many as a converted quantity of three figures is worked with
_SENTENCES = re.compile(r"(?<=[.?!])\s+(?=[A-Z{])")


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


def sentences(stem: str) -> list[str]:
    """The sentences of a question's stem, of which the last one asks."""
    return _SENTENCES.split(stem)


def stem(
    problem: Problem,
    question: Question,
    scene: Scene,
    given: Mapping[str, Quantity],
    notation: Notation,
    uses_g: bool,
    closing: Paragraph | str | None = None,
) -> tuple[Paragraph, ...]:
    """The paragraphs of a stem. ``given`` holds the printed quantities, g among them.

    ``closing`` is what it says in place of its asking: as it is printed, or with slots.
    """
    names = tuple(given)
    blank = once(
        question,
        ("stem", uses_g, names, closing),
        lambda: _blank(problem, question, scene, names, notation, uses_g, closing),
        scene,
        notation,
    )
    return tuple(
        tuple([_printed(part.symbol, given[part.symbol]) if isinstance(part, Given) else part for part in paragraph])
        for paragraph in blank
    )


def _blank(
    problem: Problem,
    question: Question,
    scene: Scene,
    names: Collection[str],
    notation: Notation,
    uses_g: bool,
    closing: Paragraph | str | None,
) -> tuple[Paragraph, ...]:
    """The paragraphs with no number yet, which are the same for all variants of a scene."""
    opening: list[Inline] = [Words(wording.sentence(scene.story, scene))]
    *told, asking = sentences(question.stem)
    said = asking if closing is None else closing if isinstance(closing, str) else ""
    for each in (*told, said):
        opening += [Words(" "), *_filled(each, scene, names, notation)] if each else []
    opening += [Words(" "), *closing] if closing and not isinstance(closing, str) else []
    paragraphs = [tuple(joined(opening))]
    if uses_g:
        paragraphs.append((Words("Take "), Math(notation.symbol("g")), Words(" = "), Given("g", "", ""), Words(".")))
    printed = [problem.spec(name, scene).unit for name in names if name in problem.quantities]
    if question.ask in problem.quantities:
        printed.append(problem.answer_spec(question, scene).unit)
    paragraphs += [(Math(each), Words(".")) for each in electronvolts(printed)]
    return tuple(paragraphs)


def electronvolts(printed: Iterable[Unit]) -> Iterator[Node]:
    """What one of each unit made of electronvolts is in joules: no SI prefix tells, so whoever prints one says it."""
    for each in dict.fromkeys(printed):
        if each.symbol.endswith("eV"):
            joules = Quantity(from_float(each.factor), unit("J"), _FIGURES)
            yield Row((amount(Quantity(Decimal(1), each, 1)), Operator("="), amount(joules)))


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
            if question.ask in (force.symbol, force.size) and (shown := wording.force_words(scene, force.role)):
                return shown.name
    means = problem.quantities[question.ask].means
    bodies = {diagram.body for diagram in problem.diagrams if diagram.mass == question.ask}
    if means == "mass" and len(bodies) == 1:
        return f"mass of {wording.with_article(scene.words[bodies.pop()], 'the')}"
    return wording.sentence(means or question.ask, scene)


def _filled(template: str, scene: Scene, given: Collection[str], notation: Notation) -> Iterator[Inline]:
    for piece in pieces(template):
        if isinstance(piece, str):
            yield Words(piece)
        elif not piece.mode and piece.name in given:
            yield Given(piece.name, "", "")
        elif piece.mode == "symbol":
            yield Math(notation.symbol(piece.name))
        else:
            yield Words(_word(piece, scene))


def _word(slot: Slot, scene: Scene) -> str:
    return word(slot, scene) or ""


def _printed(symbol: str, quantity: Quantity) -> Given:
    return Given(symbol, quantity.number, quantity.unit.in_text)
