"""What is kept with a frozen value belongs to this very value and to what it was worked out of."""

from __future__ import annotations

import copy
import pickle
from dataclasses import dataclass, replace

from turnwright.bank.model.once import once


@dataclass(frozen=True)
class Fair:
    name: str


def test_it_is_made_once_for_the_same_values_and_anew_for_others() -> None:
    fair, first, second = Fair("spring"), Fair("a"), Fair("a")
    made: list[str] = []

    def make() -> int:
        made.append("made")
        return len(made)

    assert [once(fair, "rides", make, first) for _ in range(3)] == [1, 1, 1]
    assert once(fair, "rides", make, second) == 2  # equal, but another one
    assert once(fair, "stalls", make, first) == 3
    assert once(replace(fair), "rides", make, first) == 4
    assert fair == replace(fair)


def test_a_copy_in_another_process_starts_without() -> None:
    fair = Fair("spring")
    once(fair, "rides", lambda: 1)
    for other in (pickle.loads(pickle.dumps(fair)), copy.deepcopy(fair)):
        assert other == fair
        assert once(other, "rides", lambda: 2) == 2
    assert once(fair, "rides", lambda: 3) == 1


def test_none_is_kept_as_well() -> None:
    fair = Fair("spring")
    assert once(fair, "rides", lambda: None) is None
    assert once(fair, "rides", lambda: 1) is None
