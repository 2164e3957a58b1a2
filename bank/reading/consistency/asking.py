"""What a stem says against what its question declares: amounts typed beside the slots, another quantity asked for.

A word decides only where no other word of the sentence speaks of the asked quantity, so that a fault is never a guess.
"""

from __future__ import annotations

import re
from typing import Final

from ...documents.document import Path_
from ...model.problem import Problem, Question
from ...model.wording import Slot, pieces
from ...quantities.units import SYMBOLS, Unit, unit

_UNITS: Final = "|".join(sorted((re.escape(each) for each in (*SYMBOLS, "°")), key=len, reverse=True))
_TYPED: Final = re.compile(rf"(?<![\w.])\d+(?:[.,]\d+)?\s?(?:{_UNITS})(?:[/²³*^][\w²³*^/]*)?(?!\w)")
_SENTENCE: Final = re.compile(r"(?<=[.?!])\s+")
# words that ask for a quantity, with a unit of each that it can be; a pure number where a ratio is asked
_WORDS: Final[tuple[tuple[str, tuple[str, ...]], ...]] = (
    (r"angular (speed|velocity)|turning rate|rate of turning|turns per minute|revolutions per minute", ("rad/s",)),
    (r"(?<!angular )(speed|velocity)|how fast|slower|faster", ("m/s", "rad/s")),
    (r"acceleration", ("m/s^2", "1")),
    (r"radius|distance|height|length|how (far|high)", ("m",)),
    (r"how long", ("s", "m")),
    (r"mass", ("kg",)),
    (r"period|time(?!s)", ("s",)),
    (r"frequency", ("Hz",)),
    (r"coefficient|ratio|how many times", ("1",)),
    (r"tension|force|friction|lift|weight", ("N", "1")),
    (r"angle|latitude", ("deg",)),
)
_OTHERWISE: Final = re.compile(r"\b(difference|by how much|strength|constant|field|charge|number)\b", re.IGNORECASE)


def check_asking(problem: Problem) -> None:
    """Note stems that print what is not declared, or ask for what is not asked."""
    for question in problem.questions:
        path: Path_ = ("questions", question.name, "stem")
        if problem.document.is_sound(*path) and question.ask in problem.quantities:
            _no_amount_is_typed(problem, question, path)
            if _unit_is_sound(problem, question):
                _the_asked_is_asked_for(problem, question, path)


def _unit_is_sound(problem: Problem, question: Question) -> bool:
    """Whether nothing was wrong with what is asked, whose unit decides."""
    paths: tuple[Path_, ...] = (("quantities", question.ask, "unit"), ("questions", question.name, "unit"))
    return all(problem.document.is_sound(*path) for path in paths)


def _no_amount_is_typed(problem: Problem, question: Question, path: Path_) -> None:
    for piece in pieces(question.stem):
        typed = _TYPED.search(piece) if isinstance(piece, str) else None
        if typed:
            wrong = f"'{typed[0]}' is typed in the stem, and the key does not follow it"
            right = "draw it: declare the quantity, list it under 'given' and use its slot, as in {r}"
            problem.document.fault(path, wrong, right, inside=question.stem.find(typed[0]))


def _the_asked_is_asked_for(problem: Problem, question: Question, path: Path_) -> None:
    sentence = _SENTENCE.split(_plain(problem, question).strip())[-1]
    found = [(match[0], units) for words, units in _WORDS for match in re.finditer(words, sentence, re.IGNORECASE)]
    asked = problem.answer_spec(question)
    fits = any(_is_one_of(asked.unit, units) for _, units in found)
    if found and not fits and not _OTHERWISE.search(sentence):
        wrong = f"the stem asks for '{found[0][0]}', and 'ask' names {question.ask}, in {asked.unit.symbol}"
        problem.document.fault(path, wrong, "let the last sentence ask for what 'ask' names, or mend 'ask'")


def _plain(problem: Problem, question: Question) -> str:
    """The stem with 'force' for the name of a force and nothing for what its other slots print."""
    roles = {force.role for each in problem.diagrams for force in each.forces}
    return "".join(each if isinstance(each, str) else _said(each, roles) for each in pieces(question.stem))


def _said(slot: Slot, roles: set[str]) -> str:
    return "force" if slot.name in roles and slot.mode.lower() in ("", "a", "an", "the") else "it"


def _is_one_of(asked: Unit, units: tuple[str, ...]) -> bool:
    return any(asked.fits(unit(each)) for each in units)
