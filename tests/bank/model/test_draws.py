"""The seeded order goes through every combination once, alike for every block, key and machine."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from turnwright.bank.model.draws import Grid, grid_of, permuted
from turnwright.bank.quantities.quantity import Quantity
from turnwright.bank.quantities.units import unit

from tests.bank import models

SIZES = (*range(1, 70), 127, 128, 129, 255, 256, 257, 1000, 4095, 4096, 4097, 65_536, 65_537, 100_003)


def grid(*sizes: int) -> Grid:
    metre = unit("m")
    return Grid(
        {f"x{n}": tuple(Quantity(Decimal(each + 1), metre, 6) for each in range(size)) for n, size in enumerate(sizes)}
    )


@pytest.mark.parametrize("key", ["", "a question scene 1", "une clé accentuée 🎡"])
def test_the_order_holds_every_number_once(key: str) -> None:
    for size in SIZES:
        order = permuted(np.arange(size, dtype=np.int64), size, key)
        assert np.array_equal(np.sort(order), np.arange(size)), size


@given(size=st.integers(1, 5000), key=st.text(max_size=30))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_the_order_holds_every_number_once_for_any_key(size: int, key: str) -> None:
    order = permuted(np.arange(size, dtype=np.int64), size, key)
    assert np.array_equal(np.sort(order), np.arange(size))


@given(size=st.integers(1, 2**60), start=st.integers(0, 2**60), key=st.text(max_size=10))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_a_block_of_a_grid_too_large_to_list_is_in_range_and_without_repeats(size: int, start: int, key: str) -> None:
    start %= size
    numbers = np.arange(start, min(start + 500, size), dtype=np.int64)
    found = permuted(numbers, size, key)
    assert found.min() >= 0
    assert found.max() < size
    assert len(np.unique(found)) == len(numbers)


def test_a_block_is_the_same_part_of_the_order_however_it_is_asked_for() -> None:
    whole = grid(7, 11, 13)
    order = whole.shuffled("key", 0, 5000)
    assert len(order) == 1001
    pieces = [whole.shuffled("key", start, start + 37) for start in range(0, 1001, 37)]
    assert np.array_equal(np.concatenate(pieces), order)


def test_another_key_gives_another_order() -> None:
    orders = {tuple(permuted(np.arange(50, dtype=np.int64), 50, f"question scene {seed}")) for seed in range(200)}
    assert len(orders) == 200


def test_every_number_comes_first_about_as_often_over_many_seeds() -> None:
    """Chi-squared over 20 places with 4000 seeds; 99.9 % of fair orders stay below 43.8 with 19 degrees of freedom."""
    firsts = Counter(int(permuted(np.array([0]), 20, f"q s {seed}")[0]) for seed in range(4000))
    assert sum((firsts[place] - 200) ** 2 / 200 for place in range(20)) < 43.8


def test_neighbours_in_the_order_are_no_neighbours_in_the_grid() -> None:
    order = permuted(np.arange(10_000, dtype=np.int64), 10_000, "key")
    assert np.mean(np.abs(np.diff(order)) < 100) < 0.03  # 2 % by chance


def test_numbers_run_through_the_combinations_with_the_last_given_fastest() -> None:
    small = grid(2, 3, 4)
    listed = list(product(*([quantity.si for quantity in each] for each in small.choices.values())))
    values = small.values(np.arange(len(small)))
    assert list(zip(*(values[name] for name in small.choices), strict=True)) == listed
    for number, expected in enumerate(listed):
        assert tuple(each.si for each in small.printed(number).values()) == expected


def test_values_are_those_of_the_printed_numbers() -> None:
    """A value with more digits than are printed counts as it is printed: 2.46 m, not 2.4567 m."""
    rough = Grid({"r": (Quantity(Decimal("2.4567"), unit("m"), 3),)})
    assert rough.printed(0)["r"].text == "2.46 m"
    assert rough.values(np.array([0]))["r"].tolist() == [2.46]


@pytest.mark.parametrize("name", models.shipped_ids()[::9])
def test_the_grid_of_a_question_has_the_draws_of_its_scene_and_the_one_g(name: str) -> None:
    found = models.shipped(name)
    for scene in found.problem.scenes_of(found.question):
        made = grid_of(found.problem, found.question, scene, Decimal("9.81"))
        assert list(made.choices) == [*found.question.given, *found.question.extra, "g"]
        assert [each.text for each in made.choices["g"]] == ["9.81 N/kg"]
        for symbol in found.question.given:
            spec = found.problem.spec(symbol, scene)
            if spec.draw:
                printed = [models.number(each.number) for each in made.choices[symbol]]
                assert printed == pytest.approx([float(each) for each in spec.draw.values], rel=1e-12)
