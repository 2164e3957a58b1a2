"""What a stem says against what its question declares: amounts typed beside the slots, another quantity asked for.

A word decides only where no other word of the sentence speaks of the asked quantity, so that a fault is never a guess.
"""

from __future__ import annotations

import re
from typing import Final

from ...documents.document import Path_
from ...model.problem import Problem, Question
from ...model.wording import Slot, pieces
from ...quantities.units import SYMBOLS, TYPED_UNITS, Unit, unit

_UNITS: Final = "|".join(sorted((re.escape(each) for each in (*SYMBOLS, *TYPED_UNITS, "°")), key=len, reverse=True))
_TYPED: Final = re.compile(rf"(?<![\w.])\d+(?:[.,]\d+)?\s?(?:{_UNITS})(?:[/²³*^][\w²³*^/]*)?(?!\w)")
_SENTENCE: Final = re.compile(r"(?<=[.?!])\s+")
_OF_TWO: Final = "difference|by how much"
# words that ask for a quantity, with a unit of each that it can be; a pure number where a ratio is asked
_WORDS: Final[tuple[tuple[str, tuple[str, ...]], ...]] = (
    (r"angular (speed|velocity)|turning rate|rate of turning|turns per minute|revolutions per minute", ("rad/s",)),
    (r"(?<!angular )(speed|velocity)|how fast|slower|faster", ("m/s", "rad/s")),
    (r"angular (acceleration|deceleration)", ("rad/s^2",)),
    (r"(?<!angular )(acceleration|deceleration)", ("m/s^2", "1")),
    (r"radius|distance|height|length|how (far|high)", ("m",)),
    (r"how long", ("s", "m")),
    (r"mass", ("kg",)),
    (r"period|time(?!s)", ("s",)),
    (r"frequency", ("Hz",)),
    (r"coefficient|ratio|how many times", ("1",)),
    (r"tension|force|friction|lift|weight", ("N", "1")),
    (r"angle|angular displacement|latitude", ("deg",)),
)
_QUANTITY: Final = "|".join(words for words, _ in _WORDS)
# what is asked ends where a condition begins, and a relation of two quantities is one quantity
_CONDITION: Final = re.compile(
    r"\b(for which|at which|from which|that|so|if|when|where|while|with|until|between|ratio|product|sum|quotient)\b"
    rf"|\b({_OF_TWO})\b",
    re.IGNORECASE,
)
_ASKING: Final = re.compile(r"(calculate|determine|find|state|give|show|what|how|which)\b", re.IGNORECASE)
_SECOND: Final = re.compile(
    rf"\b(?:and|as well as)\s+(?:(?:also|then|calculate|determine|find|state|give|the|its|their|what|is)\s+)*"
    rf"(?:(?!of\b)\w+\s+){{0,2}}?(?:{_QUANTITY})\b",
    re.IGNORECASE,
)
_OTHERWISE: Final = re.compile(rf"\b({_OF_TWO}|strength|constant|field|charge|number)\b", re.IGNORECASE)


def check_asking(problem: Problem) -> None:
    """Note stems that print what is not declared, or ask for what is not asked."""
    for question in problem.questions:
        path: Path_ = ("questions", question.name, "stem")
        if problem.document.is_sound(*path) and question.ask in problem.quantities:
            _no_amount_is_typed(problem, question, path)
            if _unit_is_sound(problem, question):
                _the_asked_is_asked_for(problem, question, path, _sentences(problem, question)[-1])
                _the_asked_is_asked_for(problem, question, (*path[:-1], "name"), question.asked_name)
            _one_quantity_is_asked_for(problem, question, path)


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


def _one_quantity_is_asked_for(problem: Problem, question: Question, path: Path_) -> None:
    """A second asking is one without an answer line, and so without a key."""
    asking = [each for each in _sentences(problem, question) if _ASKING.match(each) or each.endswith("?")]
    wrong = f"'{asking[0]}' is one asking, and '{asking[-1]}' another" if len(asking) > 1 else ""
    for sentence in asking[-1:]:
        second = _SECOND.search(_CONDITION.split(sentence)[0])
        wrong = wrong or (f"'{second[0]}' is a second quantity that is asked for" if second else "")
    if wrong:
        right = "ask for what 'ask' names alone, and for the other in a question of its own"
        problem.document.fault(path, wrong, right)


def _the_asked_is_asked_for(problem: Problem, question: Question, path: Path_, sentence: str) -> None:
    found = [(match[0], units) for words, units in _WORDS for match in re.finditer(words, sentence, re.IGNORECASE)]
    asked = problem.answer_spec(question)
    fits = any(_is_one_of(asked.unit, units) for _, units in found)
    if found and not fits and not _OTHERWISE.search(sentence):
        said = f"the {path[-1]} asks for '{found[0][0]}'"
        what = "the last sentence" if path[-1] == "stem" else "it"
        wrong = f"{said}, and 'ask' names {question.ask}, in {asked.unit.symbol}"
        problem.document.fault(path, wrong, f"let {what} ask for what 'ask' names, or mend 'ask'")


def _sentences(problem: Problem, question: Question) -> list[str]:
    return _SENTENCE.split(_plain(problem, question).strip())


def _plain(problem: Problem, question: Question) -> str:
    """The stem with 'force' for the name of a force and nothing for what its other slots print."""
    roles = {force.role for each in problem.diagrams for force in each.forces}
    return "".join(each if isinstance(each, str) else _said(each, roles) for each in pieces(question.stem))


def _said(slot: Slot, roles: set[str]) -> str:
    return "force" if slot.name in roles and slot.mode.lower() in ("", "a", "an", "the") else "it"


def _is_one_of(asked: Unit, units: tuple[str, ...]) -> bool:
    return any(asked.fits(unit(each)) for each in units)
