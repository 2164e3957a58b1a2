"""Relations that are built in, held against a point that is moved round a circle in small steps.

All that is measured comes from its places alone: lengths of chords, directions seen from the centre, differences of
places in equal times. Whatever a problem names of it, each relation that joins in has to be true of these values.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace

import numpy as np
import pytest
import sympy
from turnwright.bank.errors import MissingNameError
from turnwright.bank.mechanics.equations import Rates, built_in, magnitude, turning_acceleration

from tests.bank import models

RADIUS, STEPS = 0.75, 200_000
ROLES = tuple(each.name for each in fields(Rates) if each.name != "where")


def measured(rate: float, begun: float, duration: float) -> dict[str, float]:
    """What is measured of a point whose angle grows as ``begun`` t + ``rate`` t²/2, at the end of a time."""
    times = np.linspace(0, duration, STEPS + 1)
    places = RADIUS * np.exp(1j * (begun * times + rate * times**2 / 2))
    tick = duration / STEPS
    angles = np.unwrap(np.angle(places))
    speeds = np.abs(np.diff(places)) / tick
    found = {
        "radius": float(np.abs(places).mean()),
        "diameter": float(np.abs(places - places[0]).max()),
        "duration": duration,
        "angle_turned": float(angles[-1] - angles[0]),
        "arc": float(np.abs(np.diff(places)).sum()),
        "displacement": float(abs(places[-1] - places[0])),
        "turns": float((angles[-1] - angles[0]) / (2 * np.pi)),
        "speed": float(2 * speeds[-1] - speeds[-2]),
        "angular_speed": float((angles[-1] - angles[-3]) / (2 * tick)),
        "acceleration": towards_centre(places, tick),
    }
    if rate:
        return found | {
            "initial_speed": float(speeds[0]),
            "initial_angular_speed": float((angles[1] - angles[0]) / tick),
            "angular_rate": float((angles[-1] - 2 * angles[STEPS // 2] + angles[0]) / (duration / 2) ** 2),
            "tangential_acceleration": float((speeds[-1] - speeds[0]) / duration),
        }
    period = float(np.interp(2 * np.pi, angles, times))
    once = places[times <= period]
    return found | {
        "period": period,
        "frequency": found["turns"] / duration,
        "circumference": float(np.abs(np.diff(once)).sum()) + float(abs(once[-1] - places[0])),
    }


def towards_centre(places: np.ndarray, tick: float) -> float:
    """The part of the acceleration towards the centre at the end, from three places that are some ticks apart."""
    wide = 20
    last, middle, first = places[-1], places[-1 - wide], places[-1 - 2 * wide]
    change = (last - 2 * middle + first) / (wide * tick) ** 2
    return float(-(change * np.conj(middle)).real / abs(middle))


MOTIONS = {
    "at constant speed": (measured(0.0, 2.3, 6.47), ()),
    "speeding up": (measured(0.31, 1.2, 5.3), ("angular_rate",)),
}
REASONS = {
    "at constant speed": {
        "centripetal acceleration", "speed in circular motion", "one revolution is 2π rad",
        "in one period, the distance travelled round the circle is one circumference",
        "in one revolution, the distance travelled round the circle is one circumference",
        "the period is the time for one revolution", "cosine rule for the two radii and the displacement",
        "the distance travelled is the speed times the time", "length of an arc, with the angle in radians",
        "the angular displacement is the angular speed times the time", "the radius is half the diameter",
        "circumference of the circle", "the frequency is the number of revolutions per unit time",
    },
    "speeding up": {
        "initial speed in circular motion", "tangential acceleration in circular motion", "centripetal acceleration",
        "speed in circular motion", "one revolution is 2π rad", "length of an arc, with the angle in radians",
        "cosine rule for the two radii and the displacement", "the radius is half the diameter",
    },
}  # fmt: skip


def named(values: Mapping[str, float], always: tuple[str, ...]) -> Iterator[tuple[Rates, frozenset[str]]]:
    """What problems may name of a motion, and what of it a question speaks of."""
    dice = random.Random(7)
    for _ in range(4000):
        names = [each for each in values if dice.random() < 0.5 or each in always]
        wanted = frozenset(each for each in names if dice.random() < 0.8)
        yield Rates(**{each: each if each in names else None for each in ROLES}), wanted  # type: ignore[arg-type]


@pytest.mark.parametrize("name", MOTIONS)
def test_each_relation_is_true_of_the_motion_that_it_speaks_of(name: str) -> None:
    values, always = MOTIONS[name]
    numbers = {sympy.Symbol(symbol): value for symbol, value in values.items()}
    met: set[str] = set()
    held: set[tuple[sympy.Expr, sympy.Expr]] = set()
    for here, wanted in named(values, always):
        try:
            relations = list(built_in(here, wanted))
        except MissingNameError:  # a circle whose radius nobody names
            continue
        for left, right, because in relations:
            if (left, right) in held:
                continue
            held.add((left, right))
            met.add(because)
            one, other = (float(side.subs(numbers)) for side in (left, right))
            assert one == pytest.approx(other, rel=2e-4), f"{left} = {right}: {because}"
        turning = turning_acceleration(here, wanted)
        if turning is not None:
            assert float(turning.subs(numbers)) == pytest.approx(values["acceleration"], rel=2e-3)
    assert met == REASONS[name]


@pytest.mark.parametrize(
    ("law", "values", "newtons"),
    [
        # the Earth and the Moon, CODATA and a handbook's masses and mean distance, from memory: 1.98e20 N
        ("gravitation", {"G": 6.674e-11, "M": 5.972e24, "m": 7.346e22, "r": 3.844e8}, 1.98e20),
        # the electron and the proton at the Bohr radius, the first worked example of many textbooks, from memory
        ("electric", {"k": 8.988e9, "Q": 1.602e-19, "q": 1.602e-19, "r": 5.292e-11}, 8.24e-8),
        # an electron at 1 % of the speed of light in 1 mT: 1.602e-19 C x 2.998e6 m/s x 1e-3 T
        ("magnetic", {"q": 1.602e-19, "v": 2.998e6, "B": 1e-3}, 4.803e-16),
    ],
)
def test_the_size_of_a_force_of_a_law(law: str, values: dict[str, float], newtons: float) -> None:
    made = models.problem(
        "motion: {plane: horizontal, radius: r, speed: v}\ndiagrams: {there: {weight: none, N: inward}}",
        one={"ask": "N", "given": ["m", "r", "v"]},
    )
    (diagram,) = made.diagrams
    force = replace(
        diagram.forces[0], kind=law, centre_mass="M", charge="q", centre_charge="Q", field="B", distance=None
    )
    found = magnitude(made, diagram, force)
    assert float(found.subs({sympy.Symbol(name): value for name, value in values.items()})) == pytest.approx(
        newtons, rel=3e-3
    )
