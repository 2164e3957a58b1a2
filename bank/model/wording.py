"""Sentences from a scene's words: slots in a story or stem, articles, capitals, verbs and lists.

Slots: ``{r}`` a given quantity; ``{a load}``, ``{the load}``, ``{load}`` a word of the scene with or without article
(``{A load}``, ``{The load}`` at the start of a sentence); ``{contact}``, ``{the contact}`` the name of a force;
``{by contact}`` its agent; ``{acts contact}``, ``{act contact}`` its verb; ``{symbol v}`` a symbol. Where no number is
given, as in what a demonstration shows, ``{formula v**2/r}`` is a formula.

What is told of a mistake stands in many scenes. Its slots are those of ``IN_GENERAL``: ``{the body}``, ``{both}``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from ..language import article, capital, count, either, listed
from .problem import ForceWords, Scene

__all__ = [
    "FORMULA", "IN_GENERAL", "SLOT", "VERBS", "WEIGHT", "Slot", "agreeing", "article", "bare", "capital", "count",
    "either", "force_words", "in_phrases", "listed", "noun", "pieces", "sentence", "with_article", "word",
]  # fmt: skip

SLOT = re.compile(r"\{([^{}]*)\}")
WEIGHT = ForceWords("weight", None, "the Earth", "pulls")
VERBS = {"pulls": "pull", "pushes": "push", "grips": "grip", "holds": "hold", "carries": "carry"}
FORMULA = "formula"
# the slots in what is told of a mistake, each with what stands there where no scene is chosen: the body, the force that
# holds it on its circle with what exerts that, the force that carries it, what exerts friction on it, and so on
IN_GENERAL: Mapping[str, str] = {
    "body": "a body",
    "hold": "a force",
    "holder": "an object in contact",
    "support": "a normal force",
    "carrier": "a surface",
    "friction": "a frictional force",
    "gripper": "a surface",
    "arm": "an arm",
    "first": "a first body",
    "second": "a second body",
    "inner": "an inner body",
    "both": "the two",
    "radius": "a radius",
    "squared": "a quantity",
    "last-squared": "a second quantity",
}
_MODES = ("a", "A", "an", "An", "the", "The", "by", "By", "acts", "act", "symbol")


@dataclass(frozen=True)
class Slot:
    """One slot of a template: how the name is wanted, and the name; for a formula, its text."""

    mode: str
    name: str


@lru_cache(maxsize=4096)  # the same sentences are filled in for each scene and each variant
def pieces(template: str) -> tuple[str | Slot, ...]:
    """The template as plain text and slots, in order."""
    return tuple(_pieces(template))


def _pieces(template: str) -> Iterator[str | Slot]:
    end = 0
    for match in SLOT.finditer(template):
        if match.start() > end:
            yield template[end : match.start()]
        words = match[1].split()
        mode = words[0] if len(words) == 2 and words[0] in _MODES else ""
        if len(words) > 1 and words[0] == FORMULA:
            yield Slot(FORMULA, match[1].partition(FORMULA)[2].strip())
        else:
            yield Slot(mode, words[-1] if mode or len(words) == 1 else match[1])
        end = match.end()
    if end < len(template):
        yield template[end:]


def bare(template: str) -> str:
    """A template read where no scene is chosen: ``radius of {the dome}`` gives ``radius of the dome``."""
    return SLOT.sub(r"\1", template)


def noun(phrase: str) -> str:
    """A noun phrase without its article: ``a paper lantern`` gives ``paper lantern``, and ``Mars`` is ``Mars``."""
    return phrase if is_name(phrase) else phrase.split(" ", 1)[1]


def is_name(phrase: str) -> bool:
    """Whether it is a name of its own, which has no article: Mars."""
    return phrase[:1].isupper()


def with_article(phrase: str, mode: str) -> str:
    """The phrase as first mention (``a``: with its own article), later mention (``the``), or bare; a name as it is."""
    if is_name(phrase):
        return phrase
    bare = noun(phrase)
    worded = {"a": phrase, "an": phrase, "the": f"the {bare}"}.get(mode.lower(), bare)
    return capital(worded) if mode in ("A", "An", "The") else worded


def force_words(scene: Scene, role: str) -> ForceWords | None:
    """What the scene calls a force; the weight has the same words everywhere."""
    return scene.forces.get(role) or (WEIGHT if role == "weight" else None)


def agreeing(force: ForceWords) -> str:
    """The verb that agrees with the agent: the chain ``pulls``, the chains ``pull``."""
    last = force.by.partition(" of ")[0].rpartition(" ")[2]
    several = last.islower() and last.endswith("s") and not last.endswith(("ss", "us", "is", "as"))
    return VERBS[force.acts] if several else force.acts


def word(slot: Slot, scene: Scene) -> str | None:
    """The text of a slot that names a word or a force of the scene; None for anything else."""
    force = force_words(scene, slot.name)
    if slot.mode.lower() == "by" and force:
        return capital(force.by) if slot.mode == "By" else force.by
    if slot.mode in ("acts", "act") and force:
        return agreeing(force) if slot.mode == "acts" else VERBS[force.acts]
    phrase = scene.words.get(slot.name) or (f"{article(force.name)} {force.name}" if force else None)
    if phrase is None or slot.mode in ("symbol", FORMULA, "by", "By", "acts", "act"):
        return None
    return with_article(phrase, slot.mode)


def sentence(template: str, scene: Scene) -> str:
    """A template of words and forces only, filled in; unknown slots are left as they are (the reader refuses them)."""
    filled = (part if isinstance(part, str) else word(part, scene) or f"{{{part.name}}}" for part in pieces(template))
    return "".join(filled)


def in_phrases(template: str, phrases: Mapping[str, str]) -> str:
    """A template with a phrase for each of its slots: with the article that is asked for, or as it is."""
    return "".join(part if isinstance(part, str) else _phrase(part, phrases[part.name]) for part in pieces(template))


def _phrase(slot: Slot, phrase: str) -> str:
    return with_article(phrase, slot.mode) if slot.mode else phrase
