"""What a prompt calls the asked quantity can be understood from the stem: no word of the name is new there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from turnwright.bank.checking.stem_quality import stem_text
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.writing.stem import asked_name

from tests.bank import models

WORD = re.compile(r"[a-zA-Z]+")
SMALL = frozenset(WORD.findall("a an the of at on in to and for from with between above by which when is two that it"))
# what a stem says for a word of a name, where it has the word itself in no form
KNOWN_TO_ALL = re.compile(
    r"(?<!difference between )\b(mass|radius|period|rotation|field strength)\b.* of the (Earth|Moon|Sun)"
)
SAID = {
    "difference": r"by how much",
    "ratio": r"as a multiple of",
    "distance": r"how far from",
    "zero": r"becomes? zero",
    "exerted": r"exerts",
}


def new_words(solved: SolvedQuestion) -> Iterator[str]:
    """The words of the name that the stem does not say in any form, in some scene."""
    for scene in solved.problem.scenes_of(solved.question):
        stem = stem_text(solved, scene).lower()
        said = {root(each) for each in WORD.findall(stem)}
        for word in WORD.findall(asked_name(solved.problem, solved.question, scene).lower()):
            if word not in SMALL and root(word) not in said and not re.search(SAID.get(word, r"(?!)"), stem):
                yield f"{solved.id} {scene.name}: '{word}'"


def root(word: str) -> str:
    """A word without its ending: starting, starts and start; speeds and speed."""
    ending = next((each for each in ("ing", "ed", "s") if word.endswith(each) and len(word) > len(each) + 3), "")
    return word.removesuffix(ending).removesuffix("e")


def test_every_name_of_what_is_asked_is_said_in_the_stem() -> None:
    assert not [told for name in models.shipped_ids() for told in new_words(models.shipped(name))]


def test_a_name_that_the_stem_does_not_say_is_found() -> None:
    known = models.shipped("conical-pendulum.narrow-cone")
    planted = replace(known, question=replace(known.question, asked_name="maximum period"))
    assert set(new_words(planted)) == {
        f"{known.id} {each.name}: 'maximum'" for each in known.problem.scenes_of(known.question)
    }


def known_to_all(solved: SolvedQuestion) -> Iterator[str]:
    """The scenes in which a fact is asked for that people know by heart, such as how long a day of the Earth is."""
    for scene in solved.problem.scenes_of(solved.question):
        name = asked_name(solved.problem, solved.question, scene)
        if KNOWN_TO_ALL.match(name):
            yield f"{solved.id} {scene.name}: {name}"


def test_no_question_asks_for_what_is_known_without_physics() -> None:
    assert not [told for name in models.with_drafts() for told in known_to_all(models.shipped(name))]


def test_a_question_for_the_day_of_the_earth_is_found() -> None:
    known = models.shipped("geostationary.turning-from-height")
    earth = replace(known, question=replace(known.question, scenes=("weather-satellite",)))
    assert list(known_to_all(earth)) == [f"{known.id} weather-satellite: period of rotation of the Earth"]
