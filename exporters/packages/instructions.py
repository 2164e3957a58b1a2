"""What a candidate is told of how to answer: by each item, and before the first question, as far as it is needed."""

from __future__ import annotations

from collections.abc import Iterator

from ...bank.item.item import ChoiceEntry, NumberEntry, Paragraph, Words
from ...bank.item.sitting import Sitting
from ...bank.language import count
from ...bank.quantities.quantity import has_power, needs_power
from ...bank.writing import instructions as words
from ...bank.writing.stem import filled
from .naming import Kind, PackNames

HOW_TO_ANSWER: dict[Kind, tuple[str, ...]] = {
    "number": words.TYPE_NUMBERS,
    "choice": (),
    "several": (words.SEVERAL_SHARES,),
    "order": (words.ORDER_MARKS,),
    "match": (f"{words.MATCH_MARKS} {words.PARTNERS_AGAIN}",),
}


def how_exact(entry: NumberEntry) -> str:
    """How exact a number is to be, where symbol and unit stand around its box; before it what it is, if none has said.

    That is the last of several parts, whose stem asks for nothing.
    """
    give = f"{words.CALCULATE.format(name=entry.name)} {_give(entry)}" if entry.is_asked_here else _give(entry)
    return words.GIVE_FIGURES_POWER.format(give=give) if needs_power(entry.key) else give


def _give(entry: NumberEntry) -> str:
    return words.GIVE_FIGURES.format(figures=_figures(entry))


def asked(entry: NumberEntry | ChoiceEntry) -> Iterator[Paragraph]:
    """The whole task, where nothing can stand around the place for the answer."""
    if isinstance(entry, NumberEntry):
        unit = words.DEGREES if entry.unit == "°" else entry.unit
        typed, stated = (words.TYPE_IN, words.STATE_IN) if unit else (words.TYPE, words.STATE)
        yield filled(stated if entry.with_working else typed, name=entry.name, symbol=entry.symbol, unit=unit)
        yield (Words(_how_to_type(entry)),)
        return
    if entry.prompt:
        yield entry.prompt
    if entry.several:
        yield (Words(words.SEVERAL),)


def _how_to_type(entry: NumberEntry) -> str:
    if entry.with_working:
        return words.WITH_WORKING.format(figures=_figures(entry))
    if entry.spellings:
        give = words.GIVE_LISTED.format(figures=entry.figures, more=entry.figures + 1)
    else:
        give = words.GIVE_TYPED.format(give=_give(entry))
    return words.POWER_TYPED.format(give=give) if has_power(entry.key, entry.figures) else give


def _figures(entry: NumberEntry) -> str:
    return "1 significant figure" if entry.figures == 1 else f"{entry.figures} significant figures"


def sentences(contents: PackNames) -> Iterator[str]:
    """The instructions, one sentence or two each."""
    shapes = [question.shape for question in contents.questions]
    asked = {kind for shape in shapes for kind in shape.kinds}
    for kind, told in HOW_TO_ANSWER.items():
        if kind in asked:
            yield from told
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
        yield words.MINUTES.format(minutes=count(rules.minutes, "minute"))
    attempts = count(rules.attempts or 0, "attempt")
    yield words.ATTEMPTS.format(attempts=attempts) if rules.attempts else words.ENDLESS
    if rules.solution:
        yield words.SOLUTION
        if parts:
            yield words.PARTS
    if rules.hints and hinted:
        yield words.HINTS_UNCOUNTED if rules.attempts else words.HINTS
