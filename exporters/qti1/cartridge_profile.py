"""What the profile of QTI 1.2.1 in a Common Cartridge asks of items, in assessments and banks alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...bank.item.item import ChoiceEntry, Item
from ..adapting.capacity import Capacity, Pools
from ..packages.naming import QuestionNames
from .item import Fact, Profile, only_entry

FILE_BASE = "$IMS-CC-FILEBASE$/"
MOST = 100


def capacity(pools: Pools) -> Capacity:
    """What a cartridge can carry as it is: choices, one or several."""
    return Capacity(
        tolerance=False,
        order=False,
        match=False,
        parts=False,
        partial=False,
        mathml=False,
        buttons=False,
        pools=pools,
    )


def profile(suffix: str, facts: Callable[[QuestionNames, Item], Sequence[Fact]]) -> Profile:
    """How a cartridge writes its items."""
    return Profile(facts=facts, base=FILE_BASE, suffix=suffix, most=MOST, partial=False, cautions=True)


def facts(question: QuestionNames, item: Item) -> list[Fact]:
    """Which of the question types of the profile an item is, and its weight where that is not one."""
    return [
        ("cc_profile", _type(item)),
        *([("cc_weighting", str(item.marks))] if item.marks != 1 else []),
    ]


def facts_in_bank(question: QuestionNames, item: Item) -> list[Fact]:
    """The same with a category that keeps the variants of a question together."""
    first, *more = facts(question, item)
    return [first, ("cc_question_category", question.title), *more]


def _type(item: Item) -> str:
    entry = only_entry(item)
    if not isinstance(entry, ChoiceEntry):
        return "cc.fib.v0p1"
    return "cc.multiple_response.v0p1" if entry.several else "cc.multiple_choice.v0p1"
