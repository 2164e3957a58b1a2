"""Numbers to choose from do not point to the key by simple relations: it is no more their centre than another one."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

import pytest
from turnwright.bank.thinking import distractors
from turnwright.bank.thinking.centres import choices, partners, telling

from tests.bank import models

MOST = 0.03  # above chance, of a candidate who always takes a number with the most partners


def told(*numbers: str) -> int:
    key, *wrong = map(Decimal, numbers)
    return telling(key, wrong)


def test_partners_are_counted_by_half_double_four_pi_and_root_two() -> None:
    assert partners([Decimal(each) for each in ("2.00", "4.00", "1.00", "6.28", "3.10")]) == (3, 2, 2, 1, 0)


@pytest.mark.parametrize(
    ("numbers", "how_clearly"),
    [
        (("2.00", "4.00", "6.28", "3.10"), 1),  # double and π times the key
        (("2.00", "4.00", "3.10"), 1),  # one pair of three
        (("2.00", "4.00", "3.10", "6.20"), 0),  # two pairs
        (("2.00", "3.10", "5.00"), 0),  # no partner at all
        (("2.00", "4.00", "8.00"), 0),  # everyone has two
        (("4.00", "2.00", "8.00", "0.31"), 2),  # the middle of a chain
        (("2.00", "3.00", "6.00", "12.0"), 0),  # the centre is wrong
    ],
)
def test_a_key_is_told_where_it_has_more_partners_than_chance_allows(
    numbers: tuple[str, ...], how_clearly: int
) -> None:
    assert told(*numbers) == how_clearly


def test_a_square_and_the_other_angle_are_related_too() -> None:
    assert partners([Decimal("4.14"), Decimal("17.1"), Decimal("9.00")]) == (1, 1, 0)
    angles = [Decimal("24.0"), Decimal("66.0"), Decimal("41.0")]
    assert (partners(angles), partners(angles, in_degrees=True)) == ((0, 0, 0), (1, 1, 0))


def test_the_most_telling_wrong_numbers_come_first() -> None:
    assert next(choices("ab", "xyz", 1, 2)) == ("a", "x", "y")
    assert sorted(set(choices("ab", "x", 1, 1))) == [("a", "x"), ("b", "x")]


def looked_at(names: Sequence[str]) -> tuple[float, float]:
    """How much oftener than by chance the key is taken by who takes a number with the most partners.

    And the share of choices in which the key is the middle of a chain: half of it and twice it stand beside it.
    """
    every = [
        (variant.answer.value, [each.value for each in wrong])
        for name in names
        for variant, wrong in models.choices(name, 4, 5)
    ]
    assert len(every) > 200
    middle = [telling(key, wrong) == 2 for key, wrong in every]
    return sum(gain(key, wrong) for key, wrong in every) / len(every), sum(middle) / len(every)


def gain(key: Decimal, wrong: Sequence[Decimal]) -> float:
    own, *others = partners((key, *wrong))
    most = max(own, *others)
    best = (own == most) + others.count(most)
    return (own == most) / best - 1 / (1 + len(others))


def test_simple_relations_hardly_tell_the_key_over_the_whole_bank(monkeypatch: pytest.MonkeyPatch) -> None:
    """The key was the middle of a chain in 161 of 1,459 before other places of the key were tried as well."""
    kept, middle = looked_at(models.shipped_ids())
    assert abs(kept) < MOST, kept
    assert middle < 0.03, middle
    monkeypatch.setattr(distractors, "telling", lambda *_, **__: 0)
    planted, middle = looked_at(models.shipped_ids())
    assert planted > 2 * MOST, planted
    assert middle > 0.08, middle
