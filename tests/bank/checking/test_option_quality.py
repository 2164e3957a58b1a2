"""Rules on options: each kind of slip in writing them is found, and what the bank makes has none."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from turnwright.bank.checking.choices import check_choices
from turnwright.bank.checking.key_places import KeyPlaces
from turnwright.bank.checking.option_quality import option_notes, shared_texts
from turnwright.bank.item.item import ChoiceEntry, Item, Metadata, Option, Words
from turnwright.bank.model.edit import edit_of
from turnwright.bank.model.mistake import Mistake

from tests.bank import models

FACTS = Metadata("lantern", "pull", 1, "The lantern", "circle", (), "algebra", "fair", "CC-BY-4.0", 3, kind="choice")


def item(*options: Option, several: bool = False) -> Item:
    return Item(1, (), None, (ChoiceEntry((Words("Choose."),), options, several),), (), FACTS)


def option(text: str, right: bool = False, told: str = "Look again.", mistakes: tuple[str, ...] = ("slip",)) -> Option:
    return Option((Words(text),), right, told, () if right else mistakes)


def rules(made: Item) -> set[str]:
    return {each.name for each in option_notes(made)}


GOOD = (option("1.20 m/s"), option("2.40 m/s", right=True), option("4.80 m/s"))
SLIPS = [
    ("number-of-options", (GOOD[0], GOOD[1])),
    ("number-of-options", tuple(option(f"{number}.00 m/s", right=number == 2) for number in range(1, 7))),
    ("option-without-mistake", (option("1.20 m/s", mistakes=()), *GOOD[1:])),
    ("order-of-options", (GOOD[2], GOOD[1], GOOD[0])),
    ("order-of-options", (option("4.80 × 10⁶ m"), option("1.20 × 10⁷ m", right=True), option("2.40 × 10⁻³ m"))),
    ("units-of-options", (GOOD[0], GOOD[1], option("4.80 km/h"))),
    ("notation-of-options", (GOOD[0], GOOD[1], option("4.80 × 10³ m/s"))),
    (
        "uneven-length",
        (option("inward"), option("outward", right=True), option("along the path, the way it moves, and then up")),
    ),
    ("all-or-none", (option("inward"), option("outward", right=True), option("none of these"))),
    ("clue-word", (option("inward"), option("outward", right=True), option("always forward"))),
    ("option-without-feedback", (option("inward"), option("outward", right=True), option("forward", told=""))),
]


@pytest.mark.parametrize(("rule", "options"), SLIPS, ids=[rule for rule, _ in SLIPS])
def test_a_slip_in_writing_options_is_found_by_its_rule_alone(rule: str, options: tuple[Option, ...]) -> None:
    assert rules(item(*GOOD)) == set()
    assert rules(item(*options)) == {rule}


def test_two_options_that_say_the_same_are_found() -> None:
    assert list(shared_texts(item(*GOOD))) == []
    assert list(shared_texts(item(*GOOD, replace(GOOD[1], right=False)))) == ["2.40 m/s"]


def test_keys_in_one_place_and_keys_that_are_longest_are_found_over_many() -> None:
    even, uneven, long = KeyPlaces(), KeyPlaces(), KeyPlaces()
    for number in range(60):
        even.add(item(*(option(f"{size}.00 m/s", right=size == number % 3) for size in range(3))))
        uneven.add(item(*(option(f"{size}.00 m/s", right=size == 1) for size in range(3))))
        long.add(item(*(option("in" + "ward" * (size == number % 3), right=size == number % 3) for size in range(3))))
    assert not list(even.told())
    assert list(uneven.told()) == ["of 3 options, the key stands in each place so often: 0, 60, 0"]
    assert list(long.told()) == ["the key is the longest option in 60 of 60"]


def test_a_mistake_of_a_problem_file_that_changes_nothing_is_told_at_its_place() -> None:
    known = models.shipped("over-the-top.least-speed")
    own = Mistake("the-answer-itself", "I left it.", edit_of("answer", "x"), "Look.", "our own")
    report = check_choices([replace(known, problem=replace(known.problem, mistakes=(own,)))], Decimal("9.8"))
    assert report.idle[known.id]["the-answer-itself"] == "it gives the right answer"
    assert [each.name for each in report.notes] == ["idle-mistake"]
    assert "the mistake 'the-answer-itself'" in str(report.notes[0])
