"""Questions about limits that say nothing are found; those of the shipped bank tell what is seen."""

from __future__ import annotations

from decimal import Decimal

import pytest
from turnwright.bank.checking.limit_quality import limit_notes
from turnwright.bank.item.item import Item
from turnwright.bank.questions import limit_failures, limit_keys
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import SolvedQuestion, solve_question

from tests.bank import models

CORD = """
motion: {plane: vertical, radius: r, speed: v}
diagrams: {low: {at: bottom, N: inward}}
holds: [N <= P]
kinds: {N: tension}
quantities: {P: N 24 31 38}
"""


def items_of(solved: SolvedQuestion) -> list[Item]:
    asked = QuestionModels(solved, shipped_mistakes()).asked(("limit",))
    return [item for each in asked for item in each.draw(9, Decimal("9.8"), 1)]


def named(name: str) -> SolvedQuestion:
    made = models.problem(CORD, one={"ask": "v", "given": ["m", "r", "P"], "limiting": "N = P", "name": name})
    return solve_question(made, made.questions[0])


def test_a_name_that_says_nothing_is_found() -> None:
    assert not [found for item in items_of(named("maximum speed")) for found in limit_notes(item)]
    found = {
        each.found.split(" in ")[0] for item in items_of(named("greatest possible speed")) for each in limit_notes(item)
    }
    assert found == {"'greatest possible'"}


def test_the_shipped_limits_are_told_as_they_are_seen() -> None:
    asked = [models.shipped(name) for name in models.shipped_ids()]
    items = [item for each in asked if limit_keys.near_limit(each) for item in items_of(each)]
    assert len(items) >= 90
    assert not [str(found) for item in items for found in limit_notes(item)]


def test_a_limit_asked_about_a_comfort_value_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: every bound breaks something; then the dip, whose k somebody chose, would be asked about."""
    dip = models.shipped("through-the-dip.greatest-speed")
    assert limit_failures.limit_of(dip.problem, dip.question) is None
    monkeypatch.setattr(limit_failures, "failure_of", lambda *about: "breaks")
    assert limit_failures.limit_of(dip.problem, dip.question) is not None
