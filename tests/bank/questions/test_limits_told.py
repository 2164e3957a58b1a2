"""What questions about limits say: the limit as it is seen, and no word that tells on which side the motion ends."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache

import pytest
from turnwright.bank.checking.option_quality import line, shown
from turnwright.bank.item.item import ChoiceEntry, Item
from turnwright.bank.questions.limiting import failures, keys
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import SolvedQuestion

from tests.bank import models


def items_of(solved: SolvedQuestion) -> list[Item]:
    asked = QuestionModels(solved, shipped_mistakes()).asked(("limit",))
    return [item for each in asked for item in each.draw(9, Decimal("9.8"), 1)]


ENDS = re.compile(r"\b(slides|goes slack|loses contact|breaks)\b")
TOLD = re.compile(r"(speed|period)[^.?]* (slightly (greater|less) than|kept at) [vωT]")
WHICH = re.compile(r"\b(minimum|maximum|limiting|least|greatest)\b")


@pytest.fixture(scope="module")
def shipped() -> list[Item]:
    asked = [models.shipped(name) for name in models.shipped_ids()]
    return [item for each in asked if keys.near_limit(each) for item in items_of(each)]


def test_the_limit_is_told_as_a_value_of_the_rate(shipped: list[Item]) -> None:
    """So no body is said to have a rate that the stem gives another one, and no limit is read as a change."""
    prompts = [line(entry.prompt) for item in shipped for entry in item.entries if isinstance(entry, ChoiceEntry)]
    assert len(prompts) >= 170
    assert not [each for each in prompts if not TOLD.search(each)]


def test_no_word_for_the_limit_tells_on_which_side_the_motion_ends(shipped: list[Item]) -> None:
    """Below a minimum speed for which the cord stays taut it goes slack: who reads that needs no physics."""
    sentences = [line(item.stem[0]).split(". ")[-1] for item in shipped]
    assert all(re.match(r"When the .*(speed|period).* is [vωT]\S*, the .* is about to ", each) for each in sentences)
    told = [line(entry.prompt) for item in shipped for entry in item.entries if isinstance(entry, ChoiceEntry)]
    assert not [each for each in (*sentences, *told) if WHICH.search(each)]


def lone_ends(item: Item) -> list[str]:
    """The keys that alone among their options say that the motion ends."""
    choices = [each for each in item.entries if isinstance(each, ChoiceEntry)]
    ends = [[option for option in each.options if ENDS.search(shown(option))] for each in choices]
    return [shown(each[0]) for each in ends if len(each) == 1 and each[0].right]


def test_no_key_is_the_only_option_that_ends_the_motion(shipped: list[Item]) -> None:
    keys = [shown(option) for item in shipped for option in item.entries[0].options if option.right]  # type: ignore[union-attr]
    assert sum(bool(ENDS.search(each)) for each in keys) >= 40
    assert not [found for item in shipped for found in lone_ends(item)]


def test_a_key_that_is_the_only_end_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: beside a key that ends the motion stand the outcomes in which it goes on, and no other."""
    monkeypatch.setattr(
        keys.PastLimit, "_offered", lambda self, found, **_: [each for each in found if each != "astray"]
    )
    items = items_of(models.shipped("over-the-top.least-speed"))
    assert any(lone_ends(item) for item in items)


def named(name: str) -> list[str]:
    """The stems of stepwise items that ask about the limit in a part, and call it a minimum or a maximum as well."""
    made = QuestionModels(models.shipped(name), shipped_mistakes())
    items = [item for each in made.asked(("stepwise",)) for item in each.draw(9, Decimal("9.8"), 1)]
    asking = [item for item in items if any(TOLD.search(line(each.prompt)) for each in item.entries[:-1])]  # type: ignore[union-attr]
    return [each for item in asking for each in (*map(line, item.stem), item.entries[-1].name) if WHICH.search(each)]  # type: ignore[union-attr]


@cache
def near() -> list[str]:
    """Some of the questions about a limit."""
    return [name for name in models.shipped_ids() if keys.near_limit(models.shipped(name))][::4]


def test_no_part_about_a_limit_is_told_by_what_the_stem_calls_it() -> None:
    """Below a maximum speed for which it stays in contact it does: so no stem with such a part asks for a maximum."""
    assert len(near()) >= 5
    assert not {name: found for name in near() if (found := named(name))}


def test_a_part_that_is_told_by_its_stem_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the stem asks as that of the number does."""
    monkeypatch.setattr(keys.PastLimit, "setting", None)
    assert named("over-the-top.least-speed")


def test_a_limit_asked_about_a_comfort_value_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: every bound breaks something; then the dip, whose k somebody chose, would be asked about."""
    dip = models.shipped("through-the-dip.greatest-speed")
    assert failures.limit_of(dip.problem, dip.question) is None
    monkeypatch.setattr(failures, "failure_of", lambda *about: "breaks")
    assert failures.limit_of(dip.problem, dip.question) is not None


def test_a_limit_elsewhere_than_where_the_speed_is_told_names_its_place() -> None:
    """The speed is that in the dip, and contact is lost on the hump: "there" would be the dip."""
    items = items_of(models.shipped("hump-after-a-dip.greatest-speed"))
    told = [line(entry.prompt) for item in items for entry in item.entries if isinstance(entry, ChoiceEntry)]
    assert len(told) >= 9
    assert not [each for each in told if "the top of the hump" not in each]
