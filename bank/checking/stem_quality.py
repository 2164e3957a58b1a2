"""Rules of item writing that a program can judge, over the stems of a bank; each note names its rule.

Sources: the taxonomy of Haladyna, Downing, Rodriguez, Appl. Meas. Educ. 15, 309 (2002); limits marked "house limit" are
ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..model import wording
from ..model.problem import Scene
from ..model.wording import Slot, pieces, word
from ..questions.items import difficulty_spread
from ..solving.solution import SolvedQuestion
from .note import Note

MOST_WORDS = 92
MOST_IN_SENTENCE = 26
GREATEST_SPREAD = 3
_NEGATIVE = re.compile(r"\b(not|except|never|least likely)\b", re.IGNORECASE)
_OPINION = re.compile(r"\b(obviously|of course|clearly|best)\b", re.IGNORECASE)
_SENTENCE = re.compile(r"(?<=[.?!])\s+")


def stem_notes(solved: SolvedQuestion) -> Iterator[Note]:
    """What the rules note of a question, over all its scenes."""
    for scene in solved.problem.scenes_of(solved.question):
        yield from (Note(name, solved.id, found) for name, found in _reading(solved, scene))
    spread = difficulty_spread(solved)
    if spread > GREATEST_SPREAD:
        yield Note("uneven-scenes", solved.id, f"its scenes differ in difficulty by {spread}")


def _reading(solved: SolvedQuestion, scene: Scene) -> Iterator[tuple[str, str]]:
    text = stem_text(solved, scene)
    words = len(text.split())
    if words > MOST_WORDS:
        yield "long-stem", f"{words} words in the scene {scene.name}"
    longest = max(_SENTENCE.split(text), key=lambda each: len(each.split()))
    if len(longest.split()) > MOST_IN_SENTENCE:
        yield "long-sentence", f"a sentence of {len(longest.split())} words in the scene {scene.name}"
    question = _SENTENCE.split(text)[-1]
    if not question.endswith(("?", ".")):
        yield "open-ending", f"the stem ends in '{solved.question.stem[-20:]}'"  # as it is typed, slots and all
    opinion = _OPINION.search(text)
    if opinion:
        yield "opinion", f"found '{opinion[0]}'"
    negative = _NEGATIVE.search(question)
    if negative and "does not" not in question:
        yield "negative", f"the question says '{negative[0]}'"


def stem_text(solved: SolvedQuestion, scene: Scene) -> str:
    """The stem of a question in a scene; a given counts as two words, its number and its unit."""
    story = wording.sentence(scene.story, scene)
    parts = (part if isinstance(part, str) else _slot(part, scene) for part in pieces(solved.question.stem))
    return f"{story} {''.join(parts)}"


def _slot(slot: Slot, scene: Scene) -> str:
    return "x" if slot.mode == "symbol" else word(slot, scene) or "0 unit"
