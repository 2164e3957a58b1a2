"""What a candidate must know before the first question; only what some question of the pack needs."""

from __future__ import annotations

from collections.abc import Iterator

from turnwright.exporters.naming import Contents
from turnwright.exporters.shape import Kind

HOW_TO_ANSWER: dict[Kind, tuple[str, ...]] = {
    "number": (
        "Type each answer as a number in the unit that stands after its box, and leave the unit out.",
        "A number needs only digits and a decimal point. A decimal comma is not read.",
        "A power of ten may be typed with the letter e: 1.2e3 means 1200.",
    ),
    "choice": (),
    "several": (
        "Where you may choose several options, each option that is rightly chosen or rightly left out earns an equal "
        "share of the marks. Choose at least one.",
    ),
    "order": ("A right order earns all marks; one in which just two neighbours are exchanged earns half of them.",),
    "match": (
        "Where you match pairs, each right pair earns an equal share of the marks. A partner may serve more than once.",
    ),
}
ATTEMPTS = {
    "practice": "Answer as often as you like. Once you have answered, the worked solution appears.",
    "exam": "You have one attempt at each question.",
}
PARTS = "In a question of several parts, it appears once each part has an answer."
HINTS = "Asking for a hint costs no marks."


def sentences(contents: Contents) -> Iterator[str]:
    """The instructions, one sentence or two each."""
    shapes = [question.shape for question in contents.questions]
    asked = {kind for shape in shapes for kind in shape.kinds}
    for kind, words in HOW_TO_ANSWER.items():
        if kind in asked:
            yield from words
    yield ATTEMPTS[contents.pack.purpose]
    if contents.pack.purpose == "practice":
        if any(len(shape.kinds) > 1 for shape in shapes):
            yield PARTS
        if any(shape.hinted for shape in shapes):
            yield HINTS
