"""Rules of item writing that a program can judge, over the questions of a bank; each finding names its rule and source.

Sources: the taxonomy of Haladyna, Downing, Rodriguez, Appl. Meas. Educ. 15, 309 (2002); limits marked "house limit" are
ours. The index of difficulty counts what a student has to do: eliminations on the way, conversions of units, a limiting
case, an angle to find; variants of a question differ in it only by the units of their scenes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from ..model import wording
from ..model.problem import Scene
from ..model.wording import Slot, pieces, word
from ..solving.solution import SolvedQuestion
from ..writing.numeric_steps import working_unit

MOST_WORDS = 92
MOST_IN_SENTENCE = 26
GREATEST_SPREAD = 3
TAXONOMY = "Haladyna, Downing, Rodriguez 2002"
_NEGATIVE = re.compile(r"\b(not|except|never|least likely)\b", re.IGNORECASE)
_OPINION = re.compile(r"\b(obviously|of course|clearly|best)\b", re.IGNORECASE)
_SENTENCE = re.compile(r"(?<=[.?!])\s+")


@dataclass(frozen=True)
class Finding:
    """Something in a question that a careful item writer would mend: the rule, its source, and what was found."""

    question: str
    rule: str
    source: str
    found: str

    def __str__(self) -> str:
        return f"{self.question}: {self.found} ({self.rule}; {self.source})"


def findings(solved: SolvedQuestion) -> Iterator[Finding]:
    """What the rules find in a question, over all its scenes."""
    for scene in solved.problem.scenes_of(solved.question):
        yield from _reading(solved, scene)
    spread = difficulty_spread(solved)
    if spread > GREATEST_SPREAD:
        found = f"its scenes differ in difficulty by {spread}"
        yield Finding(solved.id, "V2 equal steps and conversions", "house limit", found)


def _reading(solved: SolvedQuestion, scene: Scene) -> Iterator[Finding]:
    text = stem_text(solved, scene)
    words = len(text.split())
    if words > MOST_WORDS:
        yield Finding(solved.id, "G6 reading load", "house limit", f"{words} words in the scene {scene.name}")
    longest = max(_SENTENCE.split(text), key=lambda each: len(each.split()))
    if len(longest.split()) > MOST_IN_SENTENCE:
        found = f"a sentence of {len(longest.split())} words in the scene {scene.name}"
        yield Finding(solved.id, "G6 reading load", "house limit", found)
    question = _SENTENCE.split(text)[-1]
    if not question.endswith(("?", ".")):
        yield Finding(solved.id, "G4 the stem asks", TAXONOMY, f"the stem ends in '{question[-20:]}'")
    if _OPINION.search(text):
        yield Finding(solved.id, "G7 no opinion", TAXONOMY, f"found '{_OPINION.search(text)[0]}'")  # type: ignore[index]
    negative = _NEGATIVE.search(question)
    if negative and "does not" not in question:
        yield Finding(solved.id, "G5 worded positively", TAXONOMY, f"the question says '{negative[0]}'")


def stem_text(solved: SolvedQuestion, scene: Scene) -> str:
    """The stem of a question in a scene; a given counts as two words, its number and its unit."""
    story = wording.sentence(scene.story, scene)
    parts = (part if isinstance(part, str) else _slot(part, scene) for part in pieces(solved.question.stem))
    return f"{story} {''.join(parts)}"


def _slot(slot: Slot, scene: Scene) -> str:
    return word(slot, scene) or "0 unit"


def difficulty(solved: SolvedQuestion, scene: Scene) -> int:
    """The stated index of difficulty of a question in a scene."""
    conversions = 0
    for name in solved.question.given:
        printed = solved.problem.spec(name, scene).unit
        conversions += name in solved.solution.symbols and working_unit(printed) != printed
    answer = solved.problem.answer_spec(solved.question, scene).unit
    asked_angle = answer.symbol == "deg"
    converted_back = working_unit(answer) != answer
    limiting = solved.question.limiting is not None
    return len(solved.solution.path) + conversions + converted_back + limiting + asked_angle


def difficulty_spread(solved: SolvedQuestion) -> int:
    """How much the scenes of a question differ in difficulty."""
    found = [difficulty(solved, scene) for scene in solved.problem.scenes_of(solved.question)]
    return max(found) - min(found)
