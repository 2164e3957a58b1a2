"""The rules of a sitting that a test states, against those that were agreed on."""

from __future__ import annotations

from collections.abc import Iterator

from turnwright.bank.sitting import Sitting
from turnwright.exporters.proof.assessment import Assessment
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.wording import plain_words

WITHOUT_END = "0"


def limits_attempts(test: Assessment) -> bool:
    """Whether an item may be answered only so many times, which is once where nothing is said."""
    return test.attempts != {WITHOUT_END}


def check_told_gravity(gravity: str, instructions: str) -> Iterator[str]:
    """Whether candidates are told the g that the answers were worked out with."""
    if gravity and f"g={plain_words(gravity)}" not in plain_words(instructions):
        yield f"candidates are not told that g = {shown(gravity)}"


def check_session(test: Assessment, rules: Sitting) -> Iterator[str]:
    """Where the test lets a candidate do, or see, something else than the rules say."""
    yield from _check("attempts at an item", test.attempts, str(rules.attempts))
    yield from _check("show-feedback", test.switches, "true" if rules.told else "false")
    yield from _check("seconds for the test", test.limits, str(60 * rules.minutes) if rules.minutes else None)
    outer = {each.identifier for each in test.sections if each.parent is not None and not each.parent.identifier}
    if rules.shuffle and not outer <= test.shuffled:
        yield "the questions come in one order for all, shuffled ones expected"
    elif not rules.shuffle and test.shuffled:
        yield f"section '{shown(min(test.shuffled))}' is shuffled, one order for all expected"


def _check(what: str, found: set[str], wanted: str | None) -> Iterator[str]:
    if found != ({wanted} if wanted is not None else set()):
        said = " and ".join(shown(each) for each in sorted(found)) or "not said"
        yield f"{what}: {said}, {wanted or 'no limit'} expected"
