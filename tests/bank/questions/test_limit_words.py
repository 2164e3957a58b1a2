"""What is told of a value beyond a limit, word for word, for each kind of bound and each outcome in small models.

What happens follows from one line of mechanics, which stands with each row.
"""

from __future__ import annotations

import pytest
from turnwright.bank.item.item import Words
from turnwright.bank.questions import limit_keys
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.writing.limit_words import SEEN, Change, Failure

from tests.bank import models

TOP = """
motion: {plane: vertical, radius: r, speed: v, period: T}
diagrams: {top: {at: top, N: inward}}
holds: [N >= 0]
kinds: {N: tension}
"""
CREST = TOP.replace("inward", "outward").replace("tension", "normal")
FLOOR = """
motion: {plane: horizontal, radius: r, speed: v}
diagrams: {floor: {N: up, F: inward}}
holds: [F <= mu*N]
"""
WALL = """
motion: {plane: horizontal, radius: r, period: T, angular-speed: omega}
diagrams: {wall: {surface: wall, N: inward, F: up}}
holds: [F <= mu*N]
"""
CORD = """
motion: {plane: vertical, radius: r, speed: v}
diagrams: {low: {at: bottom, N: inward}}
holds: [N <= P]
kinds: {N: tension}
quantities: {P: N 24 31 38}
"""
BANK = """
motion: {plane: horizontal, radius: r, speed: v}
diagrams:
  bank:
    tilt: theta
    surface: bank
    N: {inward: sin(theta), up: cos(theta)}
    F: {inward: cos(theta), up: -sin(theta)}
holds: [F <= mu*N]
"""
SLOW = BANK.replace("F: {inward: cos(theta), up: -sin(theta)}", "F: {inward: -cos(theta), up: sin(theta)}")
PULLS, SLACK = "The cord stays taut and pulls the load inwards", "The cord goes slack, and the load falls along a curve"
PRESSES = "The load stays in contact with the cord and presses against it"
FALLS = "The load loses contact with the cord and falls along a curve"
TAKES_OFF = "The load loses contact with the cord but keeps moving forwards"
STAYS, OUT = "The load stays on its circle, no longer about to slide", "The load slides outwards, away from the centre"
HANGS, DOWN = (
    "The load stays at the same height, no longer about to slide",
    "The load slides down the cord while going round",
)
UP_SLOPE, DOWN_SLOPE = (
    "The load slides up the slope, away from the centre",
    "The load slides down the slope, towards the centre",
)
HOLDS, BREAKS = (
    "The cord holds and is no longer about to break",
    "The cord breaks and the load moves off along the tangent",
)
ROWS = (
    # N = m v²/r - m g grows with the speed, and falls with the period
    ("cord", TOP, "v", "r", "N = 0", PULLS, SLACK),
    ("cord, period", TOP, "T", "r", "N = 0", SLACK, PULLS),
    ("contact from inside", TOP.replace("tension", "normal"), "v", "r", "N = 0", PRESSES, FALLS),
    # N = m g - m v²/r falls with the speed
    ("contact from outside", CREST, "v", "r", "N = 0", TAKES_OFF, PRESSES),
    # F = m v²/r must not pass μ m g
    ("friction", FLOOR, "v", "r mu", "F = mu*N", OUT, STAYS),
    # F = m g must not pass μ m ω² r, which grows with ω and falls with T
    ("friction at a wall", WALL, "omega", "r mu", "F = mu*N", HANGS, DOWN),
    ("friction at a wall, period", WALL, "T", "r mu", "F = mu*N", DOWN, HANGS),
    # friction down the slope holds a fast body in, friction up the slope holds a slow one out
    ("fast on a bank", BANK, "v", "r theta mu", "F = mu*N", UP_SLOPE, STAYS),
    ("slow on a bank", SLOW, "v", "r theta mu", "F = mu*N", STAYS, DOWN_SLOPE),
    # N = m g + m v²/r must not pass what the cord bears
    ("breaking", CORD, "v", "m r P", "N = P", BREAKS, HOLDS),
)


@pytest.mark.parametrize("change", ["more", "less"])
@pytest.mark.parametrize(
    ("text", "ask", "given", "limiting", "above", "below"), [r[1:] for r in ROWS], ids=[r[0] for r in ROWS]
)
def test_each_outcome_has_its_words(
    text: str, ask: str, given: str, limiting: str, above: str, below: str, change: Change
) -> None:
    told = options(text, ask, given, limiting, change)
    key, other = (above, below) if change == "more" else (below, above)
    assert told[True] == {f"{key}."}
    assert len(told[False]) in (2, 3)
    assert f"{other}." in told[False], (
        "what is right on one side is wrong on the other, so that no side is told by the offer"
    )


def options(text: str, ask: str, given: str, limiting: str, change: Change) -> dict[bool, set[str]]:
    found = models.solved(text, ask, given, limiting)
    entry = limit_keys.limit(found, found.problem.scenes[0], change, shipped_mistakes())
    assert entry is not None
    told = {bool(option.right): set[str]() for option in entry.options}
    for option in entry.options:
        assert isinstance(option.content, tuple)
        (words,) = option.content
        assert isinstance(words, Words)
        told[option.right].add(words.text)
    return told


@pytest.mark.parametrize("failure", SEEN)
def test_options_have_one_length_and_one_form(failure: Failure) -> None:
    seen = SEEN[failure]
    told = (seen.lost, seen.eased, seen.lasting, seen.same, seen.with_friction, seen.straight)
    lengths = [len(each) for each in told if each]
    assert max(lengths) <= 1.5 * min(lengths), told


def test_outcomes_that_change_places_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    honest = limit_keys.beyond
    turned = {"kept": "lost", "lost": "kept"}
    monkeypatch.setattr(limit_keys, "beyond", lambda *about: turned[honest(*about)])
    with pytest.raises(AssertionError):
        test_each_outcome_has_its_words(*ROWS[0][1:], change="more")


def test_a_slide_the_wrong_way_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limit_keys, "_slide", lambda found: "slides inwards")
    with pytest.raises(AssertionError):
        test_each_outcome_has_its_words(*ROWS[4][1:], change="more")
