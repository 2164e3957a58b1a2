"""What a candidate is told of how to answer: by each item, and before the first question, as far as it is needed."""

from __future__ import annotations

from collections.abc import Iterator

from ...bank.item.item import ChoiceEntry, Math, NumberEntry, Paragraph, Words
from ...bank.item.sitting import Sitting
from ...bank.language import count
from .naming import Kind, PackNames

SEVERAL = "Choose every option that is right; there may be more than one."
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


def how_exact(entry: NumberEntry) -> str:
    """How exact a number is to be, where symbol and unit stand around its box."""
    return f"Give the answer to {_figures(entry)}, with a decimal point where one is needed."


def asked(entry: NumberEntry | ChoiceEntry) -> Iterator[Paragraph]:
    """The whole task, where nothing can stand around the place for the answer."""
    if isinstance(entry, NumberEntry):
        unit = "degrees (°)" if entry.unit == "°" else entry.unit
        end = f", in {unit}, without the unit." if unit else "."
        yield Words(f"Type the {entry.name}, "), Math(entry.symbol), Words(end)
        yield (Words(_how_to_type(entry)),)
        return
    if entry.prompt:
        yield entry.prompt
    if entry.several:
        yield (Words(SEVERAL),)


def _how_to_type(entry: NumberEntry) -> str:
    figures = f"Give {_figures(entry)}"
    if not entry.spellings:
        return f"{figures}, with a decimal point where one is needed. A power of ten may be typed as in 1.2e3."
    power = any("e" in each for each in entry.spellings)
    more = " A power of ten is typed as in 1.2e3, without spaces." if power else ""
    return f"{figures}, no more and no fewer: digits only, with a decimal point where one is needed.{more}"


def _figures(entry: NumberEntry) -> str:
    return "1 significant figure" if entry.figures == 1 else f"{entry.figures} significant figures"


def sentences(contents: PackNames) -> Iterator[str]:
    """The instructions, one sentence or two each."""
    shapes = [question.shape for question in contents.questions]
    asked = {kind for shape in shapes for kind in shape.kinds}
    for kind, words in HOW_TO_ANSWER.items():
        if kind in asked:
            yield from words
    parts, hinted = any(len(shape.kinds) > 1 for shape in shapes), any(shape.hinted for shape in shapes)
    yield from of_sitting(contents.pack.sitting, parts=parts, hinted=hinted)


def cautions(contents: PackNames) -> Iterator[str]:
    """The cautions of all stories, each once, for candidates who are told more than their score."""
    if contents.pack.sitting.feedback and contents.pack.sitting.solution:
        yield from (f"Caution: {each}" for question in contents.questions for each in question.cautions)


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
