"""What a format can't carry becomes its nearest honest equivalent on neutral items, and every item is accounted for."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from turnwright.bank.item.item import ChoiceEntry, Item, NumberEntry
from turnwright.bank.item.pack import Pack, Section
from turnwright.exporters.adapting.adaptation import Adapted, adapted, as_is
from turnwright.exporters.adapting.capacity import Capacity
from turnwright.exporters.packages.delivery import PLAIN, Delivery

from tests.exporters import samples

POOREST = Capacity(*[False] * 7, pools="bank", limits=False)


def alone(name: str, capacity: Capacity = POOREST, delivery: Delivery = PLAIN) -> Adapted:
    return adapted(Pack("One kind", "practice", "9.8 N/kg", 7, (samples.kind(name),)), delivery, capacity)


def first(made: Adapted) -> list[Item]:
    """The first item of each section."""
    return [next(section.items()) for section in made.pack.sections]


def test_a_format_that_carries_all_changes_nothing() -> None:
    made = as_is(samples.every_kind(), PLAIN)
    assert [(row.how, row.items) for row in made.table] == [("as is", 14)]
    assert list(made.items()) == [item for section in samples.every_kind().sections for item in section.items()]


def test_an_order_becomes_a_choice_of_orders_of_which_one_is_right() -> None:
    (item,) = first(alone("order"))
    (entry,) = item.entries
    assert isinstance(entry, ChoiceEntry)
    words = ["".join(part.text for part in option.content) for option in entry.options]  # type: ignore[union-attr]
    (right,) = (text for text, option in zip(words, entry.options, strict=True) if option.right)
    assert right == "Q, S, P, R"  # 5, 6, 7, 8 in the sample, the least first
    assert "R, P, S, Q" in words
    assert len(set(words)) == len(words) == 4
    assert all(samples.FEEDBACK in option.feedback for option in entry.options if not option.right)


def test_rows_to_match_become_a_choice_each() -> None:
    made = alone("match")
    assert len(made.pack.sections) == 3
    for place, item in enumerate(first(made)):
        (entry,) = item.entries
        assert isinstance(entry, ChoiceEntry)
        assert [option.right for option in entry.options].index(True) == samples.matching().partners[place]
    assert made.pack.sections[1].metadata.title.endswith(", part 2 of 3")


def test_parts_become_questions_and_only_the_last_one_tells_the_solution() -> None:
    made = alone("stepwise", replace(POOREST, order=True, match=True))
    items = first(made)
    assert [len(item.entries) for item in items] == [1] * 4
    assert [bool(item.solution) for item in items] == [bool(item.hints) for item in items] == [False] * 3 + [True]
    assert len({item.question_id for item in items}) == 4
    assert all(item.stem == samples.KINDS["stepwise"](1).stem for item in items)
    assert sum(row.items for row in made.table if row.kind == "number") == 2


def numbers(count: int, *, choice: bool, kind: str = "number") -> Section:
    """A section of numbers that has a choice form for each, or for none."""

    def made(item: Item) -> Item:
        entry = replace(item.entry, as_choice=(lambda: samples.choice(item.variant)) if choice else None)
        return replace(item, entries=(entry,))

    section = samples.kind("number", count)
    facts = replace(section.metadata, kind=kind)
    return replace(section, metadata=facts, items=lambda: map(made, samples.kind("number", count).items()))


@pytest.mark.parametrize(("choice", "left_out"), [(True, 0), (False, 3)])
def test_numbers_are_a_choice_where_the_user_says_so_or_left_out_and_told(choice: bool, left_out: int) -> None:
    pack = Pack("Numbers", "practice", "", 7, (numbers(3, choice=choice),))
    made = adapted(pack, Delivery(numbers="choice"), POOREST)
    assert made.left_out == left_out
    assert len(made.pack) == 3 - left_out
    assert all(isinstance(item.entries[0], ChoiceEntry) for item in made.items())


def test_numbers_with_too_many_right_texts_are_a_choice_though_strings_are_asked_for() -> None:
    def fine(item: Item) -> Item:
        return replace(item, entries=(replace(item.entry, figures=5),))

    section = numbers(2, choice=True)
    pack = Pack("Numbers", "practice", "", 7, (replace(section, items=lambda: map(fine, section.items())),))
    made = adapted(pack, PLAIN, POOREST)
    assert [(row.how, row.items) for row in made.table if row.kind == "number"] == [("changed", 2)]
    assert all(isinstance(item.entries[0], ChoiceEntry) for item in made.items())


def test_a_choice_that_the_pack_holds_anyway_is_not_given_twice() -> None:
    own = numbers(2, choice=True)
    held = samples.kind("choice")
    held = replace(held, question_id=f"{own.question_id}/choice", metadata=replace(held.metadata, kind="choice"))
    made = adapted(Pack("Numbers", "practice", "", 7, (own, held)), Delivery(numbers="choice"), POOREST)
    assert [section.question_id for section in made.pack.sections] == [held.question_id]
    assert made.left_out == 0


@pytest.mark.parametrize("pools", ["drawn", "one each", "bank"])
def test_every_item_is_given_once_whatever_the_order(pools: str) -> None:
    sections = (samples.kind("choice", 3), samples.kind("several", 1))
    made = adapted(Pack("Two", "practice", "", 7, sections), PLAIN, replace(Capacity(), pools=pools))  # type: ignore[arg-type]
    found = [(item.entries, item.variant) for item in made.items()]
    wanted = [(item.entries, item.variant) for section in sections for item in section.items()]
    assert Counter(map(repr, found)) == Counter(map(repr, wanted))
    forms = [[(place, index) for place, index, _ in form] for form in made.forms()]
    assert forms == (
        [[(0, 0), (1, 0)], [(0, 1)], [(0, 2)]] if pools == "one each" else [[(0, 0), (0, 1), (0, 2), (1, 0)]]
    )


def test_texts_of_right_and_wrong_numbers_never_meet() -> None:
    (item,) = first(alone("number"))
    (entry,) = item.entries
    assert isinstance(entry, NumberEntry)
    assert entry.spellings
    assert entry.recognised[0].spellings
    assert not set(entry.spellings) & set(entry.recognised[0].spellings)
