"""Two banks are compared by what they may have in common, not each with each: the same is found, with fewer looks."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest
from turnwright.bank.change import likeness
from turnwright.bank.change.likeness import LIKE, BankSituation, SituationIndex, _pairs

from tests.bank import models

Stem = tuple[str, str, frozenset[str]]


def stems(count: int, words: int) -> list[Stem]:
    """Stems of few or many words, some of them but for a word or two those of another."""
    dice = Random(1)
    made: list[Stem] = []
    for number in range(count):
        if made and dice.random() < 0.4:
            chosen = set(dice.choice(made)[2])
            for _ in range(dice.randrange(3)):
                chosen ^= {f"word{dice.randrange(words)}"}
        else:
            chosen = {f"word{dice.randrange(words)}" for _ in range(dice.randrange(1, 25))}
        made.append((f"stem.{number // 4}", f"scene-{number % 4}", frozenset(chosen)))
    return made


@pytest.mark.parametrize("words", [4, 12, 40])
def test_the_pairs_of_stems_are_those_that_comparing_each_with_each_finds(words: int) -> None:
    made = stems(240, words)
    mine, theirs = made[::2], made[1::2]
    expected: dict[tuple[str, str], float] = {}
    for (one, _, some), (other, _, others) in product(mine, theirs):
        share = likeness.likeness(some, others)
        if share >= LIKE:
            expected[one, other] = max(share, expected.get((one, other), 0.0))
    assert expected
    assert {(each.first, each.second): each.likeness for each in _pairs(mine, theirs)} == expected


def test_stems_that_have_little_in_common_are_not_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each of 600 stems has ten words that all have, and five of its own."""
    looks = []
    monkeypatch.setattr(likeness, "likeness", lambda *both: looks.append(both) or 0.0)
    common = frozenset(f"common{number}" for number in range(10))

    def bank(side: str) -> list[Stem]:
        own = ((f"{side}{at}", "plain", common | {f"{side}{at}-{word}" for word in range(5)}) for at in range(600))
        return list(own)

    assert not list(_pairs(bank("a"), bank("b")))
    assert len(looks) < 600


def test_situations_that_may_be_one_are_all_that_are_compared() -> None:
    known = [BankSituation(each) for each in models.shipped_problems().values()]
    index = SituationIndex(known)
    compared = 0
    for other in known:
        like = index.like(other)
        compared += len(like)
        assert [one for one in known if one.is_same(other)] == [one for one in like if one.is_same(other)]
        assert other in like
    assert compared < len(known) ** 2 / 4
