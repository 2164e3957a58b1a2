"""What a motion names belongs together: two states have a change, an arc its angle, and forces a steady speed."""

from __future__ import annotations

import pytest

from tests.bank import models

QUANTITIES = """
quantities: {beta: rad 0.4 1.1 2.3, s: m 1.2 2.7 4.1, t: s 3.1 7.4 12, p: rad/s 1 2 3, q: rad/s^2 1 2 3, u: m/s 1 2 3,
  c: m 0.3 0.6 0.7, b: rad/s^2 1 2 3}
"""
STEADY = "motion: {plane: horizontal, radius: r, speed: v, %s}" + QUANTITIES
FORCES = STEADY + "diagrams: {coin: {N: up, F: inward}}\n"
NOT_WITH = "stands beside '{}', and a motion that changes so has none; leave it out"
STANDS_ALONE = "'{}' stands without the '{}' that it belongs to; add '{}' with its symbol"


def alone(role: str, other: str) -> str:
    return STANDS_ALONE.format(role, other, other)


@pytest.mark.parametrize(
    ("model", "more", "told"),
    [
        (STEADY, "period: T, angular-acceleration: q", "'period' " + NOT_WITH.format("angular-acceleration")),
        (STEADY, "frequency: f, angular-deceleration: q", "'frequency' " + NOT_WITH.format("angular-deceleration")),
        (
            STEADY,
            "angular-acceleration: b, angular-deceleration: q",
            "'angular-acceleration' " + NOT_WITH.format("angular-deceleration"),
        ),
        (STEADY, "initial-angular-speed: p", alone("initial-angular-speed", "angular-acceleration")),
        (STEADY, "angular-acceleration: q, initial-speed: u", alone("initial-speed", "initial-angular-speed")),
        (STEADY, "arc: s", alone("arc", "angle-turned")),
        (STEADY, "angle-turned: beta", alone("angle-turned", "duration")),
        (STEADY, "displacement: c", alone("displacement", "angle-turned")),
        (STEADY, "duration: t", alone("duration", "turns")),
        (
            STEADY.replace("radius: r, ", ""),
            "angle-turned: beta, arc: s",
            alone("arc", "radius"),
        ),
        (FORCES, "angular-acceleration: q", "the forces are those of a steady speed; leave it out"),
    ],
)
def test_what_does_not_belong_together_is_told(model: str, more: str, told: str) -> None:
    with pytest.raises(AssertionError) as error:
        models.problem(model % more, one={"ask": "v", "given": ["r"]})
    assert told in str(error.value)


@pytest.mark.parametrize(
    "more",
    [
        "angle-turned: beta, arc: s",
        "angle-turned: beta, turns: k",
        "angle-turned: beta, duration: t",
        "angular-acceleration: q, duration: t",
        "angular-deceleration: q, initial-angular-speed: p, angle-turned: beta",
        "angle-turned: beta, displacement: c",
    ],
)
def test_what_belongs_together_is_read(more: str) -> None:
    assert models.problem(STEADY % more, one={"ask": "v", "given": ["r"]}).motion.radius == "r"
