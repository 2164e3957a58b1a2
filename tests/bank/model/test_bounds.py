"""Which pure numbers are ratios that come of the motion, by the relations that they stand in and not by their names."""

from __future__ import annotations

import pytest
from turnwright.bank.model.bounds import is_ratio

from tests.bank import models


@pytest.mark.parametrize(
    ("question", "name", "expected"),
    [
        ("over-the-top.speed-from-weights", "k", True),  # N = k*m*g
        ("through-the-dip.greatest-speed", "k", True),  # N <= k*m*g
        ("rotating-habitat.head-and-feet", "s", True),  # d = s*omega**2*r, and no word says that it is a ratio
        ("flat-bend.greatest-speed", "mu", False),  # f <= mu*N
        ("big-wheel.force-at-the-top", "k", False),  # a number of revolutions
        ("over-the-top.least-speed", "r", False),  # no pure number
    ],
)
def test_a_ratio_is_known_by_its_relation(question: str, name: str, *, expected: bool) -> None:
    assert is_ratio(models.shipped(question).problem, name) is expected
