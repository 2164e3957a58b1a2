"""Rules of item writing that a program can judge, over the questions of a bank; each finding names its rule and source.

Sources: the taxonomy of Haladyna, Downing, Rodriguez, Appl. Meas. Educ. 15, 309 (2002); limits marked "house limit" are
ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from ..model import wording
from ..model.problem import Scene
from ..model.wording import Slot, pieces, word
from ..questions.items import difficulty_spread
from ..solving.solution import SolvedQuestion

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
