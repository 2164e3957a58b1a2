"""Each question of the bank has items, and none without numbers reads as another of its problem does."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from turnwright.bank.checking.choices import check_choices
from turnwright.bank.checking.option_quality import reading
from turnwright.bank.item.item import Item
from turnwright.bank.questions.kinds import KINDS, Kind, kinds_where

from tests.bank import models
from tests.bank.models import GRAVITY

A_SCENE: tuple[Kind, ...] = kinds_where(lambda each: each.per == "scene")


def repeated(items: Iterable[Item]) -> list[tuple[str, str]]:
    """The questions of a problem with an item that reads as one of another question does, with that question."""
    read: dict[tuple[str, ...], str] = {}
    found = []
    for item in items:
        first = read.setdefault((item.metadata.problem, *reading(item)), item.question_id)
        if first != item.question_id:
            found.append((first, item.question_id))
    return found


def test_no_item_without_numbers_reads_as_one_of_another_question() -> None:
    items = [item for kind in A_SCENE for _, item in models.drawn(kind)]
    assert len(items) > 2000
    assert repeated(items) == []
    other = replace(items[0], metadata=replace(items[0].metadata, question="another/one"))
    assert repeated([*items, other]) == [(items[0].question_id, other.question_id)]


@pytest.mark.parametrize("kind", KINDS)
def test_every_question_of_the_bank_has_an_item(kind: Kind) -> None:
    empty = [model.id for model in models.asked(kind) if not len(model.draw(1, GRAVITY, 7))]
    assert empty == []


def test_a_question_that_can_give_no_items_is_not_listed() -> None:
    without: tuple[tuple[Kind, str], ...] = (
        ("choice", "rotating-habitat.radius-for-the-head"), ("expression", "banking-aircraft.angle-from-lift"),
    )  # fmt: skip
    for kind, name in without:
        listed = {model.id for model in models.asked(kind)}
        assert len(listed) > 0.9 * len(models.shipped_ids())
        assert f"{name}/{kind}" not in listed


def test_a_question_that_stands_in_a_file_twice_is_a_fault() -> None:
    known = models.shipped("going-round.speed")
    twin = replace(known.question, name="speed-again")
    again = replace(known, problem=known.problem, question=twin)
    told = [str(each) for each in check_choices([known, again], GRAVITY).faults]
    assert any("speed-again/expression reads as going-round.speed/expression does" in each for each in told)
