"""What counts against a set of wrong options, and which set is taken."""

from __future__ import annotations

from functools import partial

import pytest
from turnwright.bank.thinking.balance import Counterweights, balanced, sort

PLAIN = Counterweights({}, {})
KEY = "v = √(g r)"
WITHOUT_ROOT = ("v = g r", "v = √(r g)", "v = r g")
LETTER_GONE = ("v = √g", "v = √(r g)", "v = √(g g)")


@pytest.mark.parametrize(
    ("piece", "expected"),
    [("2", "2"), ("4", "4"), ("5", "number"), ("16", "number"), ("v²", "power"), ("²", "power"), ("v", "letter"),
     ("mu", "letter"), ("sin", "sin"), ("π", "π"), ("√", "√"), ("/", "/"), ("−", "−")],
)  # fmt: skip
def test_pieces_are_of_sorts(piece: str, expected: str) -> None:
    assert sort(piece) == expected


def test_a_weight_is_for_a_piece_that_the_key_has_and_another_option_lacks() -> None:
    options = (KEY, *WITHOUT_ROOT)
    plain = PLAIN.against(options, "draw")
    assert Counterweights({"√": 2.0}, {}).against(options, "draw") == pytest.approx(plain + 2)
    assert Counterweights({}, {"√": 2.0}).against(options, "draw") == pytest.approx(plain)
    assert Counterweights({"letter": 2.0}, {}).against(options, "draw") == pytest.approx(plain)


def test_the_place_of_the_key_by_length_has_its_weight() -> None:
    longest, shortest = (0.0,) * 6 + (3.0,), (3.0,) + (0.0,) * 6
    options = ("v = √(g r) r", "v = g r", "v = g", "v = r")
    plain = PLAIN.against(options, "draw")
    assert Counterweights({}, {}, longest).against(options, "draw") == pytest.approx(plain + 3)
    assert Counterweights({}, {}, shortest).against(options, "draw") == pytest.approx(plain)


def chosen(weights: Counterweights, draw: str, *sets: tuple[str, ...], own: tuple[float, ...] = ()) -> int | None:
    return balanced(KEY, sets, partial(weights.against, draw=draw), own)


def test_the_set_against_which_least_counts_is_taken() -> None:
    sets = (WITHOUT_ROOT, LETTER_GONE)
    assert chosen(Counterweights({"√": 9.0}, {}), "draw", *sets) == 1
    assert chosen(Counterweights({"letter": 9.0}, {}), "draw", *sets) == 0
    assert chosen(PLAIN, "draw", *sets, own=(9.0, 0.0)) == 1
    assert chosen(PLAIN, "draw") is None


def test_each_of_two_like_sets_is_drawn() -> None:
    sets = (("v = √(r g)", "v = (√g r)", "v = g (√r)"), ("v = r √(g)", "v = (√r g)", "v = √ (g r)"))
    assert {chosen(PLAIN, str(draw), *sets) for draw in range(30)} == {0, 1}
