"""What is told of a slight change at a limit, word for word, for each kind of bound and change in small models.

What happens follows from one line of mechanics, which stands with each row.
"""

from __future__ import annotations

import re

import pytest
from turnwright.bank.item.item import Words
from turnwright.bank.questions.limiting import changes, failures, keys
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.writing.limit_words import SEEN, Failure

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
TABLE = """
motion: {plane: horizontal, radius: r, speed: v}
diagrams: {table: {surface: level, N: up, F: inward}}
holds: [F <= P]
kinds: {F: tension}
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
CURVED, STRAIGHT = "the load continues along a curved path", "the load continues in a straight line"
LOST = {
    "slack": f"The cord goes slack, and {CURVED}",
    "falls": "The load loses contact with the cord and continues along a curved path",
    "takes off": "The load loses contact with the cord and continues along a curved path",
    "out": "The load slides outwards, away from the centre",
    "down": "The load slides down the cord while going round",
    "up the slope": "The load slides up the slope, away from the centre",
    "down the slope": "The load slides down the slope, towards the centre",
    "breaks": f"The cord breaks, and {CURVED}",
    "breaks on a table": f"The cord breaks, and {STRAIGHT}",
}
PULLS, LOOSE = "The cord stays taut and pulls the load inwards", "The cord is still taut, and still about to go slack"
PRESSES = "The load stays in contact with the cord, which pushes on it"
TOUCHES = "The load is still about to lose contact with the cord"
RUBS = {
    told: f"The load stays on its circle with {told} frictional force"
    for told in ("a greater", "a smaller", "the same")
}
HANGS = {told: each.replace("on its circle", "at the same height") for told, each in RUBS.items()}
HOLDS = {told: f"The cord holds, and the tension in it is {told}" for told in ("smaller", "the same")}
ENDS = re.compile(r"slides|goes slack|loses contact|breaks")
# the text, what is asked and given, the limit; then for each change the outcome
ROWS = {
    # N = m v²/r - m g at the top: it grows with the speed, falls with the radius and the period, and is 0 for any mass
    "cord": (TOP, "v", "r", "N = 0", {
        "v more": PULLS, "v less": LOST["slack"], "r less": PULLS, "r more": LOST["slack"], "m more": LOOSE,
    }),
    "cord, period": (TOP, "T", "r", "N = 0", {
        "T less": PULLS, "T more": LOST["slack"], "r more": PULLS, "r less": LOST["slack"], "m more": LOOSE,
    }),
    "contact from inside": (TOP.replace("tension", "normal"), "v", "r", "N = 0", {
        "v more": PRESSES, "v less": LOST["falls"], "r less": PRESSES, "r more": LOST["falls"], "m more": TOUCHES,
    }),
    # N = m g - m v²/r falls with the speed
    "contact from outside": (CREST, "v", "r", "N = 0", {
        "v more": LOST["takes off"], "v less": PRESSES, "r less": LOST["takes off"], "r more": PRESSES,
        "m more": TOUCHES,
    }),
    # F = m v²/r must not pass μ m g: both are proportional to the mass, and μ is not in F
    "friction": (FLOOR, "v", "r mu", "F = mu*N", {
        "v more": LOST["out"], "v less": RUBS["a smaller"], "r less": LOST["out"], "r more": RUBS["a smaller"],
        "mu less": LOST["out"], "mu more": RUBS["the same"], "m more": RUBS["a greater"],
    }),
    # F = m g whatever the motion, and must not pass μ m ω² r, which grows with ω and falls with T
    "friction at a wall": (WALL, "omega", "r mu", "F = mu*N", {
        "omega more": HANGS["the same"], "omega less": LOST["down"], "r more": HANGS["the same"],
        "r less": LOST["down"], "mu more": HANGS["the same"], "mu less": LOST["down"], "m more": HANGS["a greater"],
    }),
    "friction at a wall, period": (WALL, "T", "r mu", "F = mu*N", {
        "T more": LOST["down"], "T less": HANGS["the same"], "r more": HANGS["the same"], "r less": LOST["down"],
        "mu more": HANGS["the same"], "mu less": LOST["down"], "m more": HANGS["a greater"],
    }),
    # friction down the slope holds a fast body in: F = m v² cos θ/r - m g sin θ; up the slope the other way round
    "fast on a bank": (BANK, "v", "r theta mu", "F = mu*N", {
        "v more": LOST["up the slope"], "v less": RUBS["a smaller"], "r less": LOST["up the slope"],
        "r more": RUBS["a smaller"], "mu less": LOST["up the slope"], "mu more": RUBS["the same"],
        "m more": RUBS["a greater"],
    }),
    "slow on a bank": (SLOW, "v", "r theta mu", "F = mu*N", {
        "v less": LOST["down the slope"], "v more": RUBS["a smaller"], "r more": LOST["down the slope"],
        "r less": RUBS["a smaller"], "mu less": LOST["down the slope"], "mu more": RUBS["the same"],
        "m more": RUBS["a greater"],
    }),
    # N = m g + m v²/r must not pass what the cord bears
    "breaking": (CORD, "v", "m r P", "N = P", {
        "v more": LOST["breaks"], "v less": HOLDS["smaller"], "r less": LOST["breaks"], "r more": HOLDS["smaller"],
        "m more": LOST["breaks"], "m less": HOLDS["smaller"], "P less": LOST["breaks"], "P more": HOLDS["the same"],
    }),
    # F = m v²/r on a table, which carries the weight of the load when the cord is gone
    "breaking on a table": (TABLE, "v", "m r P", "F = P", {
        "v more": LOST["breaks on a table"], "v less": HOLDS["smaller"], "r less": LOST["breaks on a table"],
        "r more": HOLDS["smaller"], "m more": LOST["breaks on a table"], "m less": HOLDS["smaller"],
        "P less": LOST["breaks on a table"], "P more": HOLDS["the same"],
    }),
}  # fmt: skip


@pytest.mark.parametrize("row", ROWS)
def test_each_outcome_has_its_words(row: str) -> None:
    text, ask, given, limiting, wanted = ROWS[row]
    found = models.solved(text, ask, given, limiting)
    limit = failures.limit_of(found.problem, found.question)
    assert limit
    near = keys.NearLimit(found, limit, tuple(changes.all_turns(found, limit)))
    told = {f"{each.symbol} {each.change}": told_of(near, each) for each in near.turns}
    assert {change: right for change, (right, _) in told.items()} == {
        change: f"{right}." for change, right in wanted.items()
    }
    assert all(2 <= len(wrong) <= 3 for _, wrong in told.values())
    for right, others in told.values():
        ends = sum(bool(ENDS.search(each)) for each in others)
        assert ends >= 1 if ENDS.search(right) else ends in (0, 2), "no option is the only one that ends the motion"


def told_of(near: keys.NearLimit, turn: changes.Turn) -> tuple[str, set[str]]:
    """The key of a change and its wrong options."""
    asked = near.asked(near.solved.problem.scenes[0], turn)
    entry = asked and asked.entry(shipped_mistakes())
    assert entry
    told = {bool(option.right): set[str]() for option in entry.options}
    for option in entry.options:
        assert isinstance(option.content, tuple)
        (words,) = option.content
        assert isinstance(words, Words)
        told[option.right].add(words.text)
    (right,) = told[True]
    return right, told[False]


def test_one_change_is_asked_for_each_outcome() -> None:
    text, ask, given, limiting, wanted = ROWS["friction"]
    near = keys.near_limit(models.solved(text, ask, given, limiting))
    assert near
    assert {each.outcome for each in near.turns} == {"lost", "greater", "same", "smaller"}
    assert len(near.turns) == len(set(wanted.values()))


@pytest.mark.parametrize("failure", SEEN)
def test_options_have_one_length_and_one_form(failure: Failure) -> None:
    seen = SEEN[failure]
    lengths = [len(each) for each in seen.what.values()]
    assert max(lengths) <= 1.5 * min(lengths), seen


def test_outcomes_that_change_places_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    honest = changes.Forces._sense
    monkeypatch.setattr(changes.Forces, "_sense", lambda self, step: honest(self, -step))
    with pytest.raises(AssertionError):
        test_each_outcome_has_its_words("friction")


def test_a_slide_the_wrong_way_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(failures, "_slide", lambda found: "slides inwards")
    with pytest.raises(AssertionError):
        test_each_outcome_has_its_words("friction")
