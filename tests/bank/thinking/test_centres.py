"""Numbers to choose from do not point to the key by simple ratios: it is no more their centre than a wrong number."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

import pytest
from turnwright.bank.thinking import distractors
from turnwright.bank.thinking.centres import choices, partners, tells

from tests.bank import models

MOST = 0.07  # above chance, of a candidate who always takes a number with the most partners


def told(*numbers: str) -> bool:
    key, *wrong = map(Decimal, numbers)
    return tells(key, wrong)


def test_partners_are_counted_by_half_double_four_pi_and_root_two() -> None:
    assert partners([Decimal(each) for each in ("2.00", "4.00", "1.00", "6.28", "3.10")]) == (3, 2, 2, 1, 0)


@pytest.mark.parametrize(
    ("numbers", "is_told"),
    [
        (("2.00", "4.00", "1.00", "3.10"), True),  # half and double of the key
        (("2.00", "4.00", "3.10"), True),  # one pair of three
        (("2.00", "4.00", "3.10", "6.20"), False),  # two pairs
        (("2.00", "3.10", "5.00"), False),  # no partner at all
        (("2.00", "4.00", "8.00"), False),  # everyone has two
        (("4.00", "2.00", "8.00", "0.31"), True),  # the middle of a chain
        (("2.00", "3.00", "6.00", "12.0"), False),  # the centre is wrong
    ],
)
def test_a_key_is_told_where_it_has_more_partners_than_chance_allows(numbers: tuple[str, ...], is_told: bool) -> None:
    assert told(*numbers) is is_told


def test_the_most_telling_wrong_numbers_come_first() -> None:
    assert next(choices("ab", "xyz", 1, 2)) == ("a", "x", "y")
    assert sorted(set(choices("ab", "x", 1, 1))) == [("a", "x"), ("b", "x")]


def above_chance(names: Sequence[str]) -> float:
    """How much oftener than by chance the key is taken by who takes a number with the most partners."""
    found = [each for name in names for each in gains(name)]
    assert len(found) > 200
    return sum(found) / len(found)


def gains(name: str) -> Iterator[float]:
    for variant, wrong in models.choices(name, 4, 5):
        own, *others = partners((variant.answer.value, *(each.value for each in wrong)))
        most = max(own, *others)
        best = (own == most) + others.count(most)
        yield (own == most) / best - 1 / (1 + len(others))


def test_simple_ratios_hardly_tell_the_key_over_the_whole_bank(monkeypatch: pytest.MonkeyPatch) -> None:
    kept = above_chance(models.shipped_ids())
    assert abs(kept) < MOST, kept
    monkeypatch.setattr(distractors, "tells", lambda *_: False)
    planted = above_chance(models.shipped_ids())
    assert planted > MOST, planted
