"""Where keys stand is held against Pearson's test as SciPy has it."""

from __future__ import annotations

import random
from collections import Counter

import pytest
from scipy.stats import chisquare
from turnwright.bank.checking.key_places import UNEVEN, KeyPlaces


@pytest.mark.parametrize("seed", range(40))
def test_uneven_places_are_told_where_the_test_says_so(seed: int) -> None:
    dice = random.Random(seed)
    counts = [dice.randint(14, 26) for _ in range(dice.randint(3, 5))]
    places = KeyPlaces({("choice", len(counts)): Counter(dict(enumerate(counts)))})
    assert bool(list(places.told())) == (chisquare(counts).pvalue < UNEVEN)
