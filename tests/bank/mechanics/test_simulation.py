"""The solver's limiting cases against the motion itself: Newton's second law in Cartesian coordinates, run by SciPy.

Each simulation knows the forces and the constraint only: a cord or track of fixed length gives whatever force keeps
r·a = -v² (the second derivative of r·r = const). Numbers come from drawn variants of shipped questions.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from turnwright.bank.variants.variant import Variant, VariantPool

from tests.bank import models

GRAVITY = Decimal("9.81")
G = float(GRAVITY)
EXACT = {"rtol": 1e-11, "atol": 1e-12}
SEEDS = (1, 2, 3)


def drawn(name: str, seed: int) -> tuple[float, dict[str, float]]:
    """The unrounded answer and the printed givens of a variant, in SI."""
    variant: Variant = VariantPool(models.shipped(name), GRAVITY).draw(1, seed)[0]
    return variant.exact_si, {symbol: quantity.si for symbol, quantity in variant.given.items()}


def integrate(motion: Callable[..., Any], start: Any, until: float, events: Any = None, **options: Any) -> Any:
    result = solve_ivp(motion, (0.0, until), start, events=events, **{**EXACT, "dense_output": True, **options})
    assert result.success, result.message
    return result


def stops(event: Callable[..., float], direction: float = 0.0) -> Callable[..., float]:
    """The event as one that ends the integration, met from one side only where a direction is given."""
    event.terminal, event.direction = True, direction  # type: ignore[attr-defined]
    return event


# --- on the inside of a vertical circle: a cord, a track --------------------------------------


def inward_push(state: Any, radius: float) -> float:
    """Force per mass towards the centre that keeps the body on its circle, from r·a = -v² with gravity in a."""
    _x, y, vx, vy = state
    return float((vx**2 + vy**2 - G * y) / radius)


def on_a_circle(_: float, state: Any, radius: float) -> list[float]:
    x, y, vx, vy = state
    push = inward_push(state, radius)
    return [vx, vy, -push * x / radius, -G - push * y / radius]


def least_push_round(speed: float, radius: float) -> tuple[float, float]:
    """(least inward push per mass, height where the push ends or the greatest height) on one round from the bottom."""
    no_push = stops(lambda _, state: inward_push(state, radius))
    once_round = stops(lambda _, state: state[0] if state[1] < 0 else 1.0, direction=1)
    result = integrate(
        lambda time, state: on_a_circle(time, state, radius),
        [1e-12, -radius, speed, 0],
        60,
        [no_push, once_round],
        max_step=0.02,
    )
    pushes = [inward_push(state, radius) for state in result.y.T]
    return min(pushes), float(result.y[1, -1] if len(result.t_events[0]) else result.y[1].max())


def push_at_the_top(speed: float, radius: float) -> float:
    """Inward push per mass at the top, as if the constraint could also push outward."""
    top = stops(lambda _, state: state[0] if state[1] > 0 else 1.0, direction=-1)
    result = integrate(lambda time, state: on_a_circle(time, state, radius), [1e-12, -radius, speed, 0], 60, [top])
    assert len(result.t_events[0]) == 1
    return inward_push(result.y[:, -1], radius)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_bob_on_a_cord_passes_the_top_just_above_the_least_speed_at_the_bottom(seed: int) -> None:
    least, given = drawn("over-on-a-cord.least-speed-at-the-bottom", seed)
    pull, height = least_push_round(1.01 * least, given["r"])
    assert pull > 0
    assert height == pytest.approx(given["r"], rel=1e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_cord_goes_slack_before_the_top_just_below_the_least_speed_at_the_bottom(seed: int) -> None:
    least, given = drawn("over-on-a-cord.least-speed-at-the-bottom", seed)
    pull, height = least_push_round(0.99 * least, given["r"])
    assert pull == pytest.approx(0, abs=1e-9)
    assert 0.9 * given["r"] < height < 0.99 * given["r"]


def test_the_speed_at_which_the_cord_just_stays_taut_is_the_least_speed() -> None:
    least, given = drawn("over-on-a-cord.least-speed-at-the-bottom", 1)
    found = brentq(lambda speed: push_at_the_top(speed, given["r"]), 0.95 * least, 1.05 * least, xtol=1e-9)
    assert found == pytest.approx(least, rel=1e-7)


def speed_at_the_foot(height: float) -> float:
    """Speed at the foot of a smooth ramp y = x²/4h from x = -2h; the push of the track is along its normal (-y', 1)."""

    def sliding(_: float, state: Any) -> list[float]:
        x, _y, vx, vy = state
        slope, bend = x / (2 * height), 1 / (2 * height)
        push = (G + bend * vx**2) / (1 + slope**2)
        return [vx, vy, -slope * push, push - G]

    foot = stops(lambda _, state: state[0])
    result = integrate(sliding, [-2 * height, height, 0, 0], 60, [foot])
    assert abs(result.y[1, -1]) < 1e-8 * height
    return float(result.y[2, -1])


@pytest.mark.parametrize("seed", SEEDS)
def test_a_cart_stays_on_the_loop_just_above_the_least_height_of_release(seed: int) -> None:
    least, given = drawn("loop-from-a-ramp.least-height", seed)
    push, height = least_push_round(speed_at_the_foot(1.01 * least), given["r"])
    assert push > 0
    assert height == pytest.approx(given["r"], rel=1e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_cart_leaves_the_loop_just_below_the_least_height_of_release(seed: int) -> None:
    least, given = drawn("loop-from-a-ramp.least-height", seed)
    push, height = least_push_round(speed_at_the_foot(0.99 * least), given["r"])
    assert push == pytest.approx(0, abs=1e-9)
    assert 0.9 * given["r"] < height < given["r"]


def test_the_height_at_which_the_cart_just_stays_on_the_loop_is_the_least_height() -> None:
    least, given = drawn("loop-from-a-ramp.least-height", 1)
    found = brentq(
        lambda height: push_at_the_top(speed_at_the_foot(height), given["r"]), 0.95 * least, 1.05 * least, xtol=1e-9
    )
    assert found == pytest.approx(least, rel=1e-7)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_push_at_the_top_of_the_loop_is_that_of_the_motion(seed: int) -> None:
    force, given = drawn("loop-from-a-ramp.force-at-the-top", seed)
    moving = given["m"] * push_at_the_top(speed_at_the_foot(given["h"]), given["r"])
    assert moving == pytest.approx(force, rel=1e-6)


# --- on the outside: a smooth dome ------------------------------------------------------------

DOME = """
motion: {plane: vertical, radius: r, speed: v}
diagrams: {dome: {at: {angle: theta, from: top}, N: outward}}
energy: [{from: {height: 2*r, speed: 0}, to: dome}]
holds: [N >= 0]
"""


def departure_angle(radius: float, start: float) -> float:
    """Degrees from the top where the push of the dome ends, for a body let go at rest ``start`` radians from it."""

    def push(state: Any) -> float:
        return -inward_push(state, radius)

    leaves = stops(lambda _, state: push(state))
    begin = [radius * np.sin(start), radius * np.cos(start), 0, 0]
    result = integrate(lambda time, state: on_a_circle(time, state, radius), begin, 60, [leaves])
    assert len(result.t_events[0]) == 1
    return float(np.degrees(np.arctan2(result.y[0, -1], result.y[1, -1])))


@pytest.mark.parametrize("radius", [0.4, 1.3, 25.0])
def test_a_body_leaves_a_smooth_dome_at_the_angle_of_the_closed_form(radius: float) -> None:
    found = models.solved(DOME, "theta", "r", "N = 0")
    angle = np.degrees(models.function(found.solution.closed_form)({"r": radius, "g": G}))
    assert departure_angle(radius, 1e-3) == pytest.approx(angle, abs=0.1)
    assert angle == pytest.approx(np.degrees(np.arccos(2 / 3)))


# --- a conical pendulum -----------------------------------------------------------------------


def spherical_pendulum(_: float, state: Any, length: float) -> Any:
    place, velocity = state[:3], state[3:]
    weight = np.array([0, 0, -G])
    pull = -(velocity @ velocity + place @ weight) / length**2
    return np.concatenate([velocity, weight + pull * place])


@pytest.mark.parametrize("seed", SEEDS)
def test_a_spherical_pendulum_keeps_the_angle_and_the_period_of_the_conical_one(seed: int) -> None:
    speed, given = drawn("conical-pendulum.speed", seed)
    length, angle = given["L"], given["theta"]
    period = models.answer("conical-pendulum.period", **given)
    start = [length * np.sin(angle), 0, -length * np.cos(angle), 0, speed, 0]
    crossing = [lambda _, state: state[0]]
    result = integrate(lambda time, state: spherical_pendulum(time, state, length), start, 3 * period, crossing)
    angles = np.arctan2(np.hypot(result.y[0], result.y[1]), -result.y[2])
    assert np.abs(angles - angle).max() < 1e-6
    times = result.t_events[0]
    assert len(times) == 6
    assert times[2:] - times[:-2] == pytest.approx(period, rel=1e-4)


def test_a_spherical_pendulum_one_percent_too_fast_does_not_keep_its_angle() -> None:
    speed, given = drawn("conical-pendulum.speed", 1)
    length, angle = given["L"], given["theta"]
    start = [length * np.sin(angle), 0, -length * np.cos(angle), 0, 1.01 * speed, 0]
    result = integrate(lambda time, state: spherical_pendulum(time, state, length), start, 3)
    angles = np.arctan2(np.hypot(result.y[0], result.y[1]), -result.y[2])
    assert np.degrees(np.abs(angles - angle).max()) > 0.2


# --- friction and its ceiling -----------------------------------------------------------------

CREEP = 1e-6  # m/s; sticking is modelled as a slide slower than this


def furthest_slide(turning: float, friction: float, radius: float, until: float) -> float:
    """How far a block on a turning table gets from its distance, as a share of it; Coulomb friction."""

    def sliding(_: float, state: Any) -> list[float]:
        x, y, vx, vy = state
        ux, uy = vx + turning * y, vy - turning * x  # velocity over the table
        slide = np.hypot(ux, uy)
        grip = friction * G * (np.tanh(slide / CREEP) / slide if slide > 0 else 1 / CREEP)
        return [vx, vy, -grip * ux, -grip * uy]

    gone = stops(lambda _, state: np.hypot(state[0], state[1]) - 1.5 * radius)
    start = [radius, 0, 0, turning * radius]
    result = integrate(sliding, start, until, [gone], method="Radau", rtol=1e-8, atol=1e-11)
    return float(np.abs(np.hypot(result.y[0], result.y[1]) / radius - 1).max())


@pytest.mark.parametrize("seed", SEEDS)
def test_a_block_keeps_its_place_on_a_turntable_just_below_the_greatest_turning(seed: int) -> None:
    greatest, given = drawn("on-a-turntable.greatest-turning", seed)
    assert furthest_slide(0.99 * greatest, given["mu"], given["r"], until=8 / greatest) < 1e-4


@pytest.mark.parametrize("seed", SEEDS)
def test_a_block_slides_off_a_turntable_just_above_the_greatest_turning(seed: int) -> None:
    greatest, given = drawn("on-a-turntable.greatest-turning", seed)
    assert furthest_slide(1.01 * greatest, given["mu"], given["r"], until=60 / greatest) > 0.4


def needed_friction(speed: float, radius: float) -> float:
    """Greatest force per mass on a level circle, from positions of the body alone (second differences)."""
    times = np.linspace(0, 2 * np.pi * radius / speed, 4001)
    places = radius * np.exp(1j * speed / radius * times)
    return float(np.abs(np.diff(places, 2)).max() / (times[1] - times[0]) ** 2)


@pytest.mark.parametrize(("share", "grips"), [(0.99, True), (1.01, False)])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_car_needs_all_its_friction_at_the_greatest_speed_in_a_bend(seed: int, share: float, grips: bool) -> None:
    greatest, given = drawn("flat-bend.greatest-speed", seed)
    assert (needed_friction(share * greatest, given["r"]) < given["mu"] * G) is grips


# --- gravitation, and a cord through a hole ---------------------------------------------------


def two_bodies(_: float, state: Any, strength: float, share: float) -> Any:
    """Two bodies under their own gravitation; ``share`` is the mass of the first over that of the second."""
    first, second, speeds = state[:2], state[2:4], state[4:]
    apart = second - first
    pull = strength * apart / np.linalg.norm(apart) ** 3
    return np.concatenate([speeds, pull, -share * pull])


@pytest.mark.parametrize("seed", (1, 2, 3, 4))
def test_a_satellite_is_back_after_the_period_of_the_closed_form(seed: int) -> None:
    period, given = drawn("satellite.period", seed)
    radius = given["R"] + given["h"]
    speed = models.answer("satellite.speed", **given)
    share = 1e-20  # a satellite of a few hundred kilograms beside the Earth
    unit_strength = given["G"] * given["M"] * (period**2 / radius**3)  # lengths in radii, times in periods
    start = [1, 0, 0, 0, 0, speed * period / radius, 0, 0]
    result = integrate(lambda time, state: two_bodies(time, state, unit_strength, share), start, 1.0)
    assert np.hypot(*(result.y[:2, -1] - [1, 0])) < 1e-5
    distances = np.hypot(*(result.y[:2] - result.y[2:4]))
    assert np.abs(distances - 1).max() < 1e-5


def puck_and_hanger(_: float, state: Any, puck: float, hanger: float) -> list[float]:
    """A cord through a hole: -F r̂ on the puck, M g - F on the hanger, which sinks as fast as the puck comes in."""
    x, y, vx, vy = state
    radius = np.hypot(x, y)
    out = (x * vx + y * vy) / radius
    around = (vx**2 + vy**2 - out**2) / radius
    force = puck * hanger * (G + around) / (puck + hanger)
    return [vx, vy, -force * x / radius / puck, -force * y / radius / puck]


@pytest.mark.parametrize(("share", "stays"), [(1.0, True), (1.01, False), (0.99, False)])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_hanging_load_rests_only_at_the_speed_of_the_closed_form(seed: int, share: float, stays: bool) -> None:
    speed, given = drawn("cord-through-a-hole.speed", seed)
    start = [given["r"], 0, 0, share * speed]
    until = 6 * np.pi * given["r"] / speed
    result = integrate(lambda time, state: puck_and_hanger(time, state, given["m"], given["M"]), start, until)
    spread = np.abs(np.hypot(result.y[0], result.y[1]) / given["r"] - 1).max()
    assert (spread < 1e-7) if stays else (spread > 5e-3)


# --- a rule of thumb --------------------------------------------------------------------------


def test_a_load_on_a_cord_of_ninety_centimetres_needs_about_three_metres_per_second_at_the_top() -> None:
    """Common practice, no source: it is what people who swing a bucket round say."""
    assert round(models.answer("over-the-top.least-speed", r=0.9)) == 3
    assert models.answer("over-the-top.least-speed", r=0.9) == pytest.approx(3, rel=0.02)
