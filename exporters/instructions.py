"""What a candidate must know before the first question; only what some question of the pack needs."""

from __future__ import annotations

from collections.abc import Iterator

from turnwright.bank.prose import count
from turnwright.bank.sitting import Sitting
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
ENDLESS = "Answer as often as you like."
SOLUTION = "Once you have answered, the worked solution appears."
PARTS = "In a question of several parts, it appears once each part has an answer."
HINTS = "Asking for a hint costs no marks."
HINTS_UNCOUNTED = "Asking for a hint costs no marks and counts as no attempt."


def sentences(contents: Contents) -> Iterator[str]:
    """The instructions, one sentence or two each."""
    shapes = [question.shape for question in contents.questions]
    asked = {kind for shape in shapes for kind in shape.kinds}
    for kind, words in HOW_TO_ANSWER.items():
        if kind in asked:
            yield from words
    parts, hinted = any(len(shape.kinds) > 1 for shape in shapes), any(shape.hinted for shape in shapes)
    yield from of_sitting(contents.pack.sitting, parts=parts, hinted=hinted)


def of_sitting(rules: Sitting, *, parts: bool, hinted: bool) -> Iterator[str]:
    """How long it may take, how often a question may be answered, and what will be told.

    ``parts``: some questions have several; ``hinted``: hints can be asked for.
    """
    if rules.minutes:
        yield f"You have {count(rules.minutes, 'minute')} for all questions together."
    yield f"You have {count(rules.attempts, 'attempt')} at each question." if rules.attempts else ENDLESS
    if rules.solution:
        yield SOLUTION
        if parts:
            yield PARTS
    if rules.hints and hinted:
        yield HINTS_UNCOUNTED if rules.attempts else HINTS
