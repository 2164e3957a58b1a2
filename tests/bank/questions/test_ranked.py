"""What a ranking diagnoses: who forgets a square or a root puts the cases in another order."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

import numpy as np
import pytest
from turnwright.bank.item.item import Given, Item, OrderEntry
from turnwright.bank.questions import rank_keys
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.variants.variant import VariantPool

from tests.bank import models
from tests.bank.models import GRAVITY


def cases(item: Item) -> np.ndarray:
    """The logarithms of the two numbers of each case, as printed."""
    (entry,) = item.entries
    assert isinstance(entry, OrderEntry)
    given = [[part for part in option if isinstance(part, Given)] for option in entry.options]
    return np.log([[models.number(part.number) * models.factor(part.unit) for part in one] for one in given])


def powers(name: str, item: Item) -> np.ndarray:
    """The powers of the two quantities in the answer, by what a small step of each does in one variant."""
    (entry,) = item.entries
    assert isinstance(entry, OrderEntry)
    symbols = [part.symbol for part in entry.options[0] if isinstance(part, Given)]
    (variant, *_) = VariantPool(models.shipped(name), GRAVITY).draw(1, 1)
    values = {symbol: each.si for symbol, each in variant.given.items()} | {"g": float(GRAVITY)}
    answer = models.formula_of(name)
    after = [answer({**values, symbol: values[symbol] * 1.001}) for symbol in symbols]
    return np.log(np.array(after) / answer(values)) / np.log(1.001)


def test_who_forgets_a_square_or_a_root_ranks_in_another_order() -> None:
    tried = 0
    for model, item in models.drawn("rank"):
        (entry,) = item.entries
        assert isinstance(entry, OrderEntry)
        found = powers(model.id.partition("/")[0], item)
        if abs(abs(found[0]) - abs(found[1])) < 0.01:
            continue
        tried += 1
        plain = cases(item) @ np.sign(found)
        in_order = np.diff(plain[list(entry.ranking)])
        assert in_order.min() < 1e-9, item.question_id
    assert tried >= 60


def printed_in_order(items: Iterable[Item]) -> list[str]:
    """Rankings that who leaves the cases as they are printed has right, nearly right, or right from the other end.

    Nearly right is one exchange of neighbours away from the key, which earns half of the marks.
    """
    rankings = [
        (item.question_id, entry.ranking) for item in items for entry in item.entries if isinstance(entry, OrderEntry)
    ]
    return [
        name
        for name, found in rankings
        if found == tuple(sorted(found, reverse=True)) or sum(a > b for a, b in combinations(found, 2)) <= 1
    ]


def test_no_ranking_is_printed_in_its_order() -> None:
    assert printed_in_order(item for _, item in models.drawn("rank")) == []


def test_a_ranking_in_its_order_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rank_keys, "_out_of_order", lambda _, rising, draw: tuple(rising))
    solved = models.shipped("two-wheels-on-one-belt.second-turning")
    items = [
        item
        for each in QuestionModels(solved, shipped_mistakes()).asked(("rank",))
        for item in each.draw(2, GRAVITY, 1)
    ]
    assert printed_in_order(items)
