"""The right answer of an entry as a marker looks it up, and what wrong answers tell."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.item import (
    Cause,
    ChoiceEntry,
    Entry,
    Given,
    MatchEntry,
    Math,
    NumberEntry,
    OrderEntry,
    Paragraph,
    Words,
)
from ...bank.quantities.quantity import print_exact, print_range
from ..qti.options import letter

ANY_OTHER = "any other"
OR, TOGETHER = " or ", " together with "
THOUGHT = "“{thought}”"
ADVICE = "Advice for the candidate: {advice}"


@dataclass(frozen=True)
class ToldWrong:
    """A wrong answer that is known, and what a marker is told of the thinking that leads to it."""

    answer: Paragraph
    thinking: str


def right_answer(entry: Entry) -> Paragraph:
    """The key: a number with its unit, or the letters to be written."""
    if isinstance(entry, NumberEntry):
        return (Math(entry.symbol), Words(" = "), _amount(entry.key, entry))
    return (Words(_letters(entry)),)


def _letters(entry: ChoiceEntry | OrderEntry | MatchEntry) -> str:
    match entry:
        case ChoiceEntry():
            return ", ".join(letter(place) for place, option in enumerate(entry.options) if option.right)
        case OrderEntry():
            return ", ".join(letter(place) for place in entry.ranking)
        case MatchEntry():
            return ", ".join(f"{row} {letter(column)}" for row, column in enumerate(entry.partners, 1))


def accepted(entry: Entry) -> str:
    """From which to which number an answer is right; empty where there is only one."""
    if not isinstance(entry, NumberEntry):
        return ""
    return print_range(entry.key - entry.half_width, entry.key + entry.half_width)


def wrong_answers(entry: Entry) -> Iterator[ToldWrong]:
    """The wrong answers that are known."""
    match entry:
        case NumberEntry():
            for each in entry.recognised:
                yield ToldWrong((Words("about "), _amount(each.value, entry)), _told(each.feedback, each.cause))
        case ChoiceEntry():
            for place, option in enumerate(entry.options):
                if not option.right and option.feedback:
                    yield ToldWrong((Words(letter(place)),), _told(option.feedback, option.cause))
        case OrderEntry() | MatchEntry():
            if entry.feedback:
                yield ToldWrong((Words(ANY_OTHER),), _told(entry.feedback, None))


def _told(feedback: str, why: Cause | None) -> str:
    """Whose thought it may be, and what helps, said of the candidate; the feedback where no thought is known."""
    if why is None:
        return ADVICE.format(advice=feedback)
    thoughts = (TOGETHER if why.together else OR).join(THOUGHT.format(thought=each.text) for each in why.thoughts)
    return f"{thoughts} {ADVICE.format(advice=why.advice.text)}"


def _amount(value: Decimal, entry: NumberEntry) -> Given:
    return Given("", print_exact(value, entry.figures), entry.unit)
