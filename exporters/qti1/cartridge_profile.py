"""What the profile of QTI 1.2.1 in a Common Cartridge asks of items, in assessments and banks alike.

From the rule sets of cartridges 1.1. An item has one of six types: multiple choice (one of three options or more), true
or false (one of just two), multiple response (``and`` with ``not`` inside), fill-in (texts to compare with), pattern
match (parts of texts as well, which no number may use: "12.3" holds "2.3") and essay (nothing tests it, and it says
that no computer scores it). Of metadata it may have its type, a category, a weight below a hundred, and who scores it.
It may not say how often it may be answered, how long it takes, or what it is about; attempts and minutes are the
assessment's.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...bank.item.item import ChoiceEntry, Item, is_by_people
from ..adapting.capacity import Capacity, Pools
from ..packages.naming import QuestionNames
from .item import Fact, Profile, only_entry

FILE_BASE = "$IMS-CC-FILEBASE$/"
MOST = 100
MOST_ATTEMPTS = 5  # the profile names one to five, and any number


def capacity(pools: Pools) -> Capacity:
    """What a cartridge can carry as it is: choices, one or several; limits of a sitting only where it holds a test."""
    return Capacity(
        tolerance=False,
        order=False,
        match=False,
        parts=False,
        partial=False,
        mathml=False,
        buttons=False,
        pools=pools,
        attempts=MOST_ATTEMPTS,
        limits=pools != "bank",
        mixing=False,
    )


def profile(suffix: str, facts: Callable[[QuestionNames, Item], Sequence[Fact]]) -> Profile:
    """How a cartridge writes its items."""
    return Profile(facts=facts, base=FILE_BASE, suffix=suffix, most=MOST, partial=False, cautions=True)


def facts(question: QuestionNames, item: Item) -> list[Fact]:
    """Which of the question types of the profile an item is, its weight where that is not one, who scores an essay."""
    return [
        ("cc_profile", _type(item)),
        *([("cc_weighting", str(item.marks))] if item.marks != 1 else []),
        *([("qmd_scoringpermitted", "Yes"), ("qmd_computerscored", "No")] if is_by_people(only_entry(item)) else []),
    ]


def facts_in_bank(question: QuestionNames, item: Item) -> list[Fact]:
    """The same with a category that keeps the variants of a question together."""
    first, *more = facts(question, item)
    return [first, ("cc_question_category", question.title), *more]


def _type(item: Item) -> str:
    entry = only_entry(item)
    if not isinstance(entry, ChoiceEntry):
        return "cc.essay.v0p1" if is_by_people(entry) else "cc.fib.v0p1"
    if entry.several:
        return "cc.multiple_response.v0p1"
    # rule sets 3 and 4: just two options are true or false, a multiple choice has three or more
    return "cc.true_false.v0p1" if len(entry.options) == 2 else "cc.multiple_choice.v0p1"
