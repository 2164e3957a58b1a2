"""The mistakes that questions are about give wrong numbers in them; one that gives none is told at its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import yaml
from turnwright.bank.checking.wrong_numbers import about_faults, few_notes, known_numbers
from turnwright.bank.documents.document import parse_document
from turnwright.bank.errors import Fault
from turnwright.bank.reading.files import problem_of, shipped_files
from turnwright.bank.thinking.distractors import Diagnosis

from tests.bank import models
from tests.bank.models import GRAVITY

BELOW_THE_LIMIT = (
    "flat-bend.friction-below-the-limit", "on-a-turntable.friction", "wall-ride.friction", "rough-bank-fast.friction",
    "rough-bank-slow.friction",
)  # fmt: skip


def faults(name: str, *about: str) -> list[Fault]:
    """The faults of a question, about other mistakes where some are named."""
    found = models.diagnosed(name)
    question = replace(found.solved.question, about=about or found.solved.question.about)
    changed = Diagnosis(replace(found.solved, question=question), found.live, found.idle)
    return list(about_faults(changed, known_numbers(found, GRAVITY)))


def test_what_questions_are_about_is_among_their_wrong_numbers() -> None:
    """A fourth of the bank; ``check`` looks at all of it."""
    assert not [fault for name in models.shipped_ids()[::4] for fault in faults(name)]


def test_nearly_every_question_says_what_it_is_about() -> None:
    silent = [name for name in models.shipped_ids() if not models.shipped(name).question.about]
    assert len(silent) < 0.05 * len(models.shipped_ids()), silent


def test_friction_below_its_limit_is_about_the_friction_at_it() -> None:
    for name in BELOW_THE_LIMIT:
        assert models.shipped(name).question.about == ("friction-at-its-limit",)
        assert not faults(name), name


def test_a_mistake_that_gives_no_number_is_told_with_the_reason() -> None:
    """Planted: a speed at the top is asked, and no friction is there to be at its limit."""
    (told,) = faults("over-the-top.least-speed", "outward-force-and-m-a", "friction-at-its-limit")
    assert "the mistake 'friction-at-its-limit' gives no wrong number: there is nothing for it to change" in str(told)
    assert "over-the-top.yaml" in told.place.file


def notes(name: str, *without: str) -> list[str]:
    """What is noted of a question without some of its mistakes."""
    found = models.diagnosed(name)
    live = tuple(each for each in found.live if each.mistake.id not in without)
    planted = Diagnosis(found.solved, live, found.idle)
    return [each.found for each in few_notes(planted, known_numbers(planted, GRAVITY))]


def test_every_question_has_four_wrong_numbers_or_a_reason() -> None:
    """A fourth of the bank, and all that give a reason; ``check`` looks at all of it."""
    reasons = {n for n in models.shipped_ids() if "few-wrong-numbers" in models.shipped(n).question.answered}
    assert len(reasons) < 0.06 * len(models.shipped_ids())
    assert {name for name in {*models.shipped_ids()[::4], *reasons} if notes(name)} == reasons


def test_few_wrong_numbers_are_noted() -> None:
    assert notes("rotating-habitat.radius-for-the-head") == ["in most variants no wrong number is known"]
    lost = ("outward-force-and-m-a", "half-of-m-v-squared", "root-not-taken")
    (cut,) = notes("over-the-top.least-speed", *lost, "speed-not-squared", "radius-squared", "gravity-left-out")
    assert "wrong number" in cut


def planted(about: str) -> Iterator[str]:
    """What reading says of a shipped file whose first question is about another mistake."""
    path = next(each for each in shipped_files() if each.stem == "over-the-top")
    data = yaml.safe_load(path.read_text())
    next(iter(data["questions"].values()))["about"] = [about]
    document = parse_document(yaml.safe_dump(data, sort_keys=False).encode(), "planted.yaml")
    problem_of(document)
    return map(str, document.faults)


def test_a_mistake_that_is_not_tried_is_told_where_it_is_named() -> None:
    assert not list(planted("weight-left-out"))
    (unknown,) = planted("weight-left-of")
    assert "has a mistake 'weight-left-of'; did you mean 'weight-left-out'?" in unknown.replace(": did", "; did")
    (strange,) = planted("arm-left-out")
    assert "'arm-left-out' is not tried in the family 'vertical-circle'" in strange
