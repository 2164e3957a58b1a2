"""Rotations that change, arcs, rolling wheels and meetings against the motion itself, run in Cartesian coordinates.

A point on a disc has the acceleration alpha (z × r) along its path, and towards the axis whatever keeps r·a = -v²;
angles are read off its places, path lengths are summed, accelerations are differences of velocities. Nothing here
knows a relation at constant angular acceleration. Numbers come from drawn variants of the drafts.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from turnwright.bank.variants.variant import Variant, VariantPool

from tests.bank import models

SEEDS = (1, 2)
CHANGING = (
    "spin-up-from-rest", "braking-to-rest", "change-of-angular-speed", "rolling-from-rest", "point-on-a-starting-disc",
)  # fmt: skip
SAME = 1e-6  # what the integration leaves
MOST_REVOLUTIONS = 30


def questions_of(*problems: str) -> list[str]:
    return [name for name in models.with_drafts() if name.partition(".")[0] in problems]


def drawn(name: str, seed: int, most: float = MOST_REVOLUTIONS) -> dict[str, float]:
    """The printed givens of a variant and its unrounded answer, in SI; one of few revolutions, to save time."""
    variants = VariantPool(models.shipped(name), models.GRAVITY).draw(24, seed)
    found = min(map(partial(_values, name), variants), key=revolutions_about)
    assert revolutions_about(found) < most
    return found


def _values(name: str, variant: Variant) -> dict[str, float]:
    given = {symbol: quantity.si for symbol, quantity in variant.given.items()}
    return {**given, models.shipped(name).question.ask: variant.exact_si}


def revolutions_about(values: Mapping[str, float]) -> float:
    """The order of magnitude of the number of revolutions of a disc that is told."""
    rate = max(values.get("omega", 0), values.get("omega_0", 0), values.get("alpha", 0) * values.get("t", 0))
    rate = rate or values.get("v", 0) / values.get("r", values.get("d", 2) / 2)
    return values.get("n") or rate * values.get("t", rate / values.get("alpha", 1e9)) / (2 * np.pi)


@dataclass(frozen=True)
class Run:
    """The motion of a point: how long it takes, places and velocities, and its acceleration at the end."""

    time: float
    places: Any
    velocities: Any
    last_acceleration: Any

    @property
    def angle(self) -> float:
        turned = np.unwrap(np.arctan2(self.places[1], self.places[0]))
        return float(turned[-1] - turned[0])

    @property
    def rate(self) -> float:
        """Angular speed at the end, from place and velocity."""
        (x, y), (vx, vy) = self.places[:, -1], self.velocities[:, -1]
        return float((x * vy - y * vx) / (x**2 + y**2))

    @property
    def path(self) -> float:
        return float(np.hypot(*np.diff(self.places)).sum())

    @property
    def parts(self) -> tuple[float, float]:
        """The acceleration towards the axis and along the path at the end."""
        out = self.places[:, -1] / np.hypot(*self.places[:, -1])
        along = np.array([-out[1], out[0]])
        return float(-self.last_acceleration @ out), float(self.last_acceleration @ along)


def run(start: float, rate: float, radius: float = 1.0, **until: float) -> Run:
    """A point on a disc with the angular speed ``start`` at first, which changes by ``rate`` a second.

    It ends at a time ``t``, an angular speed ``omega`` or a path of the length of ``angle`` radii.
    """

    def motion(_: float, state: Any) -> list[float]:
        x, y, vx, vy, _path = state
        hold = (vx**2 + vy**2) / (x**2 + y**2)
        return [vx, vy, -rate * y - hold * x, rate * x - hold * y, np.hypot(vx, vy)]

    ((what, value),) = until.items()

    def end(time: float, state: Any) -> float:
        x, y, vx, vy, path = state
        found = {"t": time, "omega": (x * vy - y * vx) / (x**2 + y**2), "angle": path / radius}
        return float(found[what] - value)

    end.terminal = True  # type: ignore[attr-defined]
    start_state = [radius, 0, 0, start * radius, 0]
    found = solve_ivp(
        motion, (0.0, 1e4), start_state, events=[end], method="DOP853", rtol=1e-10, atol=1e-12, dense_output=True
    )
    assert found.status == 1, found.message
    last = float(found.t[-1])
    state = found.sol(np.linspace(0, last, 400 + int(4 * found.y[4, -1] / radius)))
    step = last * 1e-5
    near, wide = ((found.sol(last)[2:4] - found.sol(last - n * step)[2:4]) / (n * step) for n in (1, 2))
    return Run(last, state[:2], state[2:4], 2 * near - wide)


def states(values: Mapping[str, float], slows: bool) -> dict[str, float]:
    """The angular quantities: a rim goes on by r in one radian, and its speed and acceleration go with it."""
    radius = values.get("r", values.get("d", 0) / 2)
    found = {name: values[name] for name in ("omega_0", "omega", "alpha", "t") if name in values}
    found |= {"angle": values["theta"]} if "theta" in values else {}
    found |= {"angle": 2 * np.pi * values["n"]} if "n" in values else {}
    rim = (("omega", "v"), ("alpha", "b"), ("angle", "s"))
    found |= {name: values[along] / radius for name, along in rim if along in values}
    if slows and "omega_0" in values:
        return {**found, "omega": 0.0}
    return {"omega_0": 0.0, **found}  # what comes to rest runs backwards in time as what starts from rest


@pytest.mark.parametrize("seed", SEEDS[:1])  # each takes up to two seconds
@pytest.mark.parametrize("name", [each for each in questions_of(*CHANGING) if ".revolutions-for-a" not in each])
def test_a_changing_rotation_runs_as_its_closed_form_says(name: str, seed: int) -> None:
    values = drawn(name, seed)
    known = states(values, name.startswith("braking"))
    sign = 1 if known.get("omega", 1) >= known["omega_0"] else -1
    stop = next(each for each in ("t", "omega", "angle") if each in known)
    until = {stop: known[stop]}
    if "alpha" in known:
        last = run(known["omega_0"], sign * known["alpha"], values.get("r", 1.0), **until)
    else:  # the one with which what else is told comes out
        what = next(each for each in ("omega", "angle") if each in known and each != stop)

        def off(rate: float) -> float:
            return told(known["omega_0"], sign * rate, until)[what] - known[what]

        rate = sign * float(brentq(off, *within(known), rtol=1e-9))
        last = run(known["omega_0"], rate, values.get("r", 1.0), **until)
    found = {"t": last.time, "omega": last.rate, "angle": last.angle}
    fast = max(known["omega_0"], last.rate)
    for each in found.keys() & known.keys():
        assert found[each] == pytest.approx(known[each], rel=SAME, abs=SAME * fast if each == "omega" else 0), each
    inward, along = last.parts
    at_the_rim = {
        "a": inward, "A": np.hypot(*last.last_acceleration), "phi": np.arctan2(along, inward),
        "v": np.hypot(*last.velocities[:, -1]), "b": along,
    }  # fmt: skip
    for each in at_the_rim.keys() & values.keys() if name.startswith("point") else ():
        assert at_the_rim[each] == pytest.approx(values[each], rel=1e-6), each


def told(start: float, rate: float, until: Mapping[str, float]) -> dict[str, float]:
    last = run(start, rate, **until)
    return {"omega": last.rate, "angle": last.angle}


def within(known: Mapping[str, float]) -> tuple[float, float]:
    """Bounds of an angular acceleration from the size of what is known."""
    change = abs(known.get("omega", 0) - known["omega_0"])
    size = change / known["t"] if "t" in known and change else known.get("angle", 1) / known.get("t", 1) ** 2
    size = size if "t" in known else change * (known["omega_0"] + known["omega"]) / known["angle"]
    return 0.3 * size, 3 * size


@pytest.mark.parametrize("alpha", [0.3, 4.0])
@pytest.mark.parametrize("seed", SEEDS)
def test_the_part_of_a_revolution_to_a_direction_is_the_same_for_every_angular_acceleration(
    seed: int, alpha: float
) -> None:
    values = drawn("point-on-a-starting-disc.revolutions-for-a-direction", seed)

    def off(time: float) -> float:
        inward, along = run(0, alpha, t=time).parts
        return float(np.arctan2(along, inward)) - values["phi"]

    time = float(brentq(off, 0.2 / alpha**0.5, 5 / alpha**0.5, xtol=1e-10))
    assert run(0, alpha, t=time).angle / (2 * np.pi) == pytest.approx(values["n"], rel=1e-5)


# --- arcs -------------------------------------------------------------------------------------


def steadily(values: Mapping[str, float]) -> Run:
    """A point that goes round at constant speed; where it is not told how fast, at 1 rad/s."""
    radius, speed, time = (values.get(name) for name in ("r", "v", "t"))
    angle, arc = values.get("theta"), values.get("s")
    if radius is None:  # of no length: any circle will do
        radius = arc / angle if arc and angle else 1.0
    rate = values.get("omega") or (speed / radius if speed else angle / time if angle and time else 1.0)
    if time is None:
        time = angle / rate if angle else float(arc or 0) / radius / rate
    return run(rate, 0, radius, t=time)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", questions_of("along-an-arc"))
def test_the_length_of_an_arc_is_that_of_the_path(name: str, seed: int) -> None:
    values = drawn(name, seed)
    found = steadily(values)
    along = {"s": found.path, "v": found.path / found.time}
    told = {**along, "theta": found.angle, "omega": found.angle / found.time}
    for symbol in values.keys() & told.keys():
        assert told[symbol] == pytest.approx(values[symbol], rel=2e-5), symbol  # chords for the arc


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", questions_of("part-of-a-revolution"))
def test_displacement_and_change_in_velocity_are_differences_of_places_and_velocities(name: str, seed: int) -> None:
    values = drawn(name, seed)
    radius, speed = values.get("r", 1.0), values.get("v")
    rate = speed / radius if speed else values["theta"] / values.get("t", 1.0)
    found = run(rate, 0, radius, t=values["theta"] / rate)
    time = values.get("t", found.time)
    moved, turned = (np.hypot(*(each[:, -1] - each[:, 0])) for each in (found.places, found.velocities))
    told = {"c": moved, "v_av": moved / time, "w": turned, "a_av": turned / time, "theta": found.angle}
    for symbol in values.keys() & told.keys():
        assert told[symbol] == pytest.approx(values[symbol], rel=1e-6), symbol


# --- rolling wheels ---------------------------------------------------------------------------


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", questions_of("rolling-along"))
def test_a_mark_on_a_rolling_tyre_touches_the_ground_once_in_each_revolution(name: str, seed: int) -> None:
    """The wheel turns about its point of contact, which is at rest: a mark moves at right angles to the line to it."""
    values = drawn(name, seed, np.inf)
    radius = values.get("r", values.get("d", 0) / 2)
    rate = values.get("omega") or (values["v"] / radius if "v" in values else 1.0)
    distance = values.get("s") or values.get("v", rate * radius) * values.get("t", 0)
    revolutions = values.get("n")

    def motion(_: float, state: Any) -> list[float]:
        x, y, contact = state  # of the mark, and of the point of the ground below the axle
        return [rate * y, -rate * (x - contact), rate * radius]

    def down(_: float, state: Any) -> float:
        return float(state[0] - state[2])  # right below or right above the axle

    few = 6 * 2 * np.pi * radius  # six revolutions are enough to measure one
    found = solve_ivp(
        motion, (0, few / (rate * radius)), [0, 0, 0], events=[down], method="DOP853", rtol=1e-10, atol=1e-12
    )
    touches = [time for time, state in zip(found.t_events[0], found.y_events[0], strict=True) if state[1] < radius]
    one = float(np.diff(touches).mean()) * rate * radius
    told = {
        "n": distance / one if distance else revolutions,
        "s": (revolutions or distance / one) * one,
        "omega": 2 * np.pi / one * values.get("v", rate * radius),
    }
    if revolutions and "t" in values:
        told["v"] = revolutions * one / values["t"]
    for symbol in values.keys() & told.keys():
        assert told[symbol] == pytest.approx(values[symbol], rel=1e-6), symbol


# --- two bodies -------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(
    "name", [*questions_of("side-by-side-again"), "towards-each-other.time", "towards-each-other.slower-speed"]
)
def test_two_bodies_are_at_one_place_again_at_the_time_of_the_closed_form(name: str, seed: int) -> None:
    values = drawn(name, seed)
    sense = -1 if name.startswith("towards") else 1
    radius, speeds = values.get("r", values.get("d", 0) / 2), (values["v_1"], sense * values["v_2"])

    def motion(_: float, state: Any) -> Any:
        places, velocities = state[:4].reshape(2, 2), state[4:].reshape(2, 2)
        hold = (velocities**2).sum(1, keepdims=True) / radius**2
        return np.concatenate([velocities.ravel(), (-hold * places).ravel()])

    def opposite_or_together(_: float, state: Any) -> float:
        return float(state[0] * state[3] - state[1] * state[2])

    start = [radius, 0, radius, 0, 0, speeds[0], 0, speeds[1]]
    found = solve_ivp(
        motion, (0, 1.2 * values["t"]), start, events=[opposite_or_together], method="DOP853", rtol=1e-10, atol=1e-10
    )
    met = [
        time
        for time, state in zip(found.t_events[0], found.y_events[0], strict=True)
        if time > 0.01 * values["t"] and state[0] * state[2] + state[1] * state[3] > 0
    ]
    assert met[0] == pytest.approx(values["t"], rel=1e-6)


def test_a_wrong_closed_form_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The greater angular speed for the average: what a candidate may think would not run so."""
    name = "spin-up-from-rest.revolutions-after-a-time"
    right = drawn(name, 1)
    monkeypatch.setattr(sys.modules[__name__], "drawn", lambda *_: {**right, "n": 2 * right["n"]})
    with pytest.raises(AssertionError, match="angle"):
        test_a_changing_rotation_runs_as_its_closed_form_says(name, 1)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_belt_with_slip_turns_the_second_wheel_as_often_as_the_closed_form_says(seed: int) -> None:
    """Two marks on two rims, step by step: while the first rim moves by a step, the second falls behind by the slip."""
    values = drawn("belt-with-slip.second-angular-speed", seed, most=1e9)
    steps, turns = 200_000, 3.0  # of the first wheel
    rim = np.pi * values["d_1"] * turns * np.arange(steps + 1) / steps
    mark = np.exp(1j * np.cumsum(np.diff(rim) * (1 - values["s"])) / (values["d_2"] / 2))
    turned = np.unwrap(np.angle(mark))[-1] / (2 * np.pi)
    assert turned / turns == pytest.approx(values["omega_2"] / values["omega_1"], rel=1e-4)
