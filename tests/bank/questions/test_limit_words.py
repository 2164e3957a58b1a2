"""What is told of a value beyond a limit, word for word, for each kind of bound and each outcome in small models.

What happens follows from one line of mechanics, which stands with each row.
"""

from __future__ import annotations

import pytest
from turnwright.bank.item.item import Words
from turnwright.bank.questions import dependence_keys
from turnwright.bank.reading.mistakes import shipped_mistakes

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
diagrams: {wall: {N: inward, F: up}}
holds: [F <= mu*N]
"""
CORD = """
motion: {plane: vertical, radius: r, speed: v}
diagrams: {low: {at: bottom, N: inward}}
holds: [N <= P]
quantities: {P: N 24 31 38}
"""
TOUCHES = "the cord holds the load: the force-n is greater than zero"
LEAVES = "the cord can no longer act: the load leaves its circle"
GRIPS = "the load keeps its circle, with friction to spare"
SLIPS = "the friction is not enough, and the load slips"
WITHIN = "the force-n stays within its bounds"
BEYOND = "the force-n would have to pass its bound"
SAME = "nothing changes: it stays just at the limit"
ROWS = (
    # N = m v²/r - m g grows with the speed, and falls with the period
    ("contact", TOP, "v", "r", "N = 0", TOUCHES, LEAVES),
    ("contact, period", TOP, "T", "r", "N = 0", LEAVES, TOUCHES),
    # N = m g - m v²/r falls with the speed
    ("contact from outside", CREST, "v", "r", "N = 0", LEAVES, TOUCHES),
    # F = m v²/r must not pass μ m g
    ("friction", FLOOR, "v", "r mu", "F = mu*N", SLIPS, GRIPS),
    # F = m g must not pass μ m ω² r, which grows with ω and falls with T
    ("friction at a wall", WALL, "omega", "r mu", "F = mu*N", GRIPS, SLIPS),
    ("friction at a wall, period", WALL, "T", "r mu", "F = mu*N", SLIPS, GRIPS),
    # N = m g + m v²/r must not pass what the cord bears
    ("another bound", CORD, "v", "m r P", "N = P", BEYOND, WITHIN),
)


@pytest.mark.parametrize("more", [True, False], ids=["more", "less"])
@pytest.mark.parametrize(
    ("text", "ask", "given", "limiting", "above", "below"), [r[1:] for r in ROWS], ids=[r[0] for r in ROWS]
)
def test_each_outcome_has_its_words(
    text: str, ask: str, given: str, limiting: str, above: str, below: str, more: bool
) -> None:
    found = models.solved(text, ask, given, limiting)
    factor = dependence_keys.STEP if more else 1 / dependence_keys.STEP
    entry = dependence_keys.limit(found, found.problem.scenes[0], factor, shipped_mistakes())
    assert entry is not None
    told = {bool(option.right): set[str]() for option in entry.options}
    for option in entry.options:
        assert isinstance(option.content, tuple)
        (words,) = option.content
        assert isinstance(words, Words)
        told[option.right].add(words.text)
    assert told[True] == {above if more else below}
    assert told[False] <= {above, below, SAME} - told[True]
    assert told[False]
    (prompt,) = entry.prompt
    assert isinstance(prompt, Words)
    assert prompt.text.startswith(f"What happens at a value a little {'greater' if more else 'smaller'} than the ")


def test_outcomes_that_change_places_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    honest = dependence_keys._outcomes
    monkeypatch.setattr(dependence_keys, "_outcomes", lambda *about: honest(*about)[::-1])
    with pytest.raises(AssertionError):
        test_each_outcome_has_its_words(*ROWS[0][1:], more=True)
