"""Assembly as a 0-1 programme: equal to listing all forms, to a worked example, and the same every time."""

from __future__ import annotations

import math

import numpy as np
import pytest
from turnwright.bank.forms.explanation import conflict
from turnwright.bank.forms.programme import Measure, Programme, Rule, assemble

from tests.bank.forms.samples import bound, every_choice, once

# The worked example of the project's fact sheet on test assembly (its section 9), solved there with another programme
# and by listing all 76 admissible forms: the Rasch model, two forms of four items, y = 0.04421.
DIFFICULTY = (-1.5, -1.0, -0.6, -0.2, 0.0, 0.3, 0.7, 1.1, 1.4, -0.4)
TARGETS = ((-1, 0.70), (0, 0.85), (1, 0.70))


def of_numbers(*numbers: int) -> list[int]:
    return [number - 1 for number in numbers]


def information(ability: float, difficulty: float) -> float:
    right = 1 / (1 + math.exp(difficulty - ability))
    return right * (1 - right)


WORKED = Programme(
    items=10,
    forms=2,
    rules=(
        Rule("length", (bound(list(range(10)), 4, 4),)),
        Rule("vertical circle", (bound(of_numbers(1, 2, 7, 10), 1, 2),)),
        Rule("banked curve", (bound(of_numbers(3, 4, 8), 1, 2),)),
        Rule("orbit", (bound(of_numbers(5, 6, 9), 1, 1),)),
        Rule("enemies", (bound(of_numbers(4, 5), high=1),)),
        once(10),
    ),
    measures=tuple(
        Measure(f"information at {at}", tuple(information(at, each) for each in DIFFICULTY), target=target)
        for at, target in TARGETS
    ),
)


def test_the_worked_example_comes_out_with_its_forms_and_its_optimum() -> None:
    found = assemble(WORKED)
    assert found is not None
    assert {tuple(item + 1 for item in form) for form in found.forms} == {(2, 3, 7, 9), (1, 4, 6, 8)}
    assert found.difference == pytest.approx(0.04421, abs=5e-6)
    assert found.gap < 1e-6
    assert sum(1 for _ in every_choice(WORKED_ALONE, 4)) == 76


WORKED_ALONE = Programme(10, 1, WORKED.rules[:-1], WORKED.measures)


def random_programme(seed: int) -> Programme:
    draw = np.random.default_rng(seed)
    items, forms = 8, 2
    values = [tuple(map(float, draw.integers(1, 9, items))) for _ in range(2)]
    classes = draw.integers(0, 3, items)
    return Programme(
        items,
        forms,
        (
            Rule("length", (bound(list(range(items)), 3, 3),)),
            Rule("class 0", (bound([at for at in range(items) if classes[at] == 0], high=1),)),
            Rule("class 1", (bound([at for at in range(items) if classes[at] == 1], low=1),)),
            Rule("enemies", (bound(list(map(int, draw.choice(items, 2, replace=False))), high=1),)),
            once(items),
        ),
        (Measure("minutes", values[0]), Measure("facility", values[1], unit=2.0, target=14.0)),
    )


@pytest.mark.parametrize("seed", range(12))
def test_forms_are_as_alike_as_the_best_of_all_listed_ones(seed: int) -> None:
    programme = random_programme(seed)
    listed = [programme.difference(forms) for forms in every_choice(programme, 3)]
    found = assemble(programme)
    if not listed:
        assert found is None
        return
    assert found is not None
    assert programme.holds(found.forms)
    assert found.difference == pytest.approx(min(listed))
    assert found.gap < 1e-5


def test_some_of_the_random_programmes_have_forms_and_the_same_ones_each_time() -> None:
    found = [assemble(random_programme(seed)) for seed in range(12)]
    assert sum(each is not None for each in found) >= 6
    assert found == [assemble(random_programme(seed)) for seed in range(12)]


def test_a_broken_rule_is_found_by_counting() -> None:
    assert [rule.words for rule in WORKED.broken([(0, 2, 3, 4), (1, 6, 9, 5)])] == [
        "vertical circle",
        "banked curve",
        "enemies",
    ]


@pytest.mark.parametrize("seed", range(8))
def test_none_of_the_rules_in_a_conflict_can_be_spared(seed: int) -> None:
    programme = random_programme(seed)
    tight = Rule("too much", (bound(list(range(8)), 5, 5),))
    narrow = Rule("class 1 once more", (programme.rules[2].bounds[0],))
    impossible = Programme(8, 2, (*programme.rules, tight, narrow))
    found = conflict(impossible)
    assert "too much" in [rule.words for rule in found]
    assert assemble(impossible.keeping(found)) is None
    for rule in found:
        assert assemble(impossible.keeping([each for each in found if each is not rule])) is not None


def test_a_conflict_of_three_rules_and_one_across_forms_are_found_whole() -> None:
    three = Programme(
        6,
        1,
        (
            Rule("four", (bound(list(range(6)), 4, 4),)),
            Rule("idle", (bound([0], high=1),)),
            Rule("few of the first", (bound([0, 1, 2], high=1),)),
            Rule("few of the last", (bound([3, 4, 5], high=2),)),
        ),
    )
    assert [rule.words for rule in conflict(three)] == ["four", "few of the first", "few of the last"]
    across = Programme(5, 2, (Rule("three", (bound(list(range(5)), 3, 3),)), once(5), Rule("idle", (bound([0], 0),))))
    assert [rule.words for rule in conflict(across)] == ["three", "overlap"]


def test_rules_that_can_hold_have_no_conflict() -> None:
    with pytest.raises(ValueError, match="can hold together"):
        conflict(WORKED)
