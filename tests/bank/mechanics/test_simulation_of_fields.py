"""Closed forms for charges in fields, orbits and a cord that is pulled in, against the motion itself, run by SciPy.

Each simulation knows the force at each place only, in Cartesian coordinates: q v × B, q E, -G M r/r³, a pull along
a cord.
Numbers come from drawn variants of the drafts, scaled so that lengths and times are of the order of one.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from turnwright.bank.variants.variant import Variant, VariantPool

from tests.bank import models

SEEDS = (1, 2)
# of the eighth order, which takes few steps where so much is asked of it
EXACT = {"method": "DOP853", "rtol": 1e-11, "atol": 1e-12, "dense_output": True}


def drawn(name: str, seed: int) -> tuple[float, dict[str, float]]:
    """The unrounded answer and the printed givens of a variant, in SI."""
    variant: Variant = VariantPool(models.shipped(name), Decimal("9.81")).draw(1, seed)[0]
    return variant.exact_si, {symbol: quantity.si for symbol, quantity in variant.given.items()}


def integrate(motion: Callable[..., Any], start: Any, until: float, events: Any = None) -> Any:
    result = solve_ivp(motion, (0.0, until), start, events=events, **EXACT)
    assert result.success, result.message
    return result


def ending(event: Callable[..., float], direction: float) -> Callable[..., float]:
    event.terminal, event.direction = True, direction  # type: ignore[attr-defined]
    return event


# --- charges in a magnetic field ------------------------------------------------------------------


def circling(specific: float, electric: float = 0.0) -> Callable[..., Any]:
    """A charge in a unit field along z, and an electric field against the magnetic force on what moves along x.

    ``specific`` is q B/m; ``electric`` is E/B, a speed.
    """

    def motion(_: float, state: Any) -> list[float]:
        _x, _y, _z, vx, vy, vz = state
        return [vx, vy, vz, specific * vy, specific * (electric - vx), 0.0]

    return motion


def semicircle(speed: float, specific: float) -> float:
    """The distance from the slit at which a charge that starts along x comes back to the plate x = 0."""
    back = ending(lambda _, state: state[0], -1)
    unit = speed / specific
    result = integrate(circling(1.0), [1e-9, 0, 0, 1, 0, 0], 7.0, [back])
    assert len(result.t_events[0]) == 1
    return float(abs(result.y[1, -1]) * unit)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_accelerated_charge_comes_back_one_diameter_from_the_slit(seed: int) -> None:
    radius, given = drawn("accelerating-voltage.radius", seed)
    # from rest through a uniform electric field one metre long: q U/m = a, at the speed with which it is left
    rise = given["q"] * given["U"] / given["m"]
    left = ending(lambda _, state: state[0] - 1, 1)
    run = integrate(lambda _, state: [state[1], 1.0], [0.0, 0.0], 5.0, [left])
    speed = float(run.y[1, -1]) * np.sqrt(rise)
    assert semicircle(speed, given["q"] * given["B"] / given["m"]) == pytest.approx(2 * radius, rel=1e-7)


@pytest.mark.parametrize("seed", SEEDS)
def test_two_isotopes_land_apart_by_the_closed_form(seed: int) -> None:
    apart, given = drawn("isotopes.separation", seed)
    first, second = (semicircle(given["v"], given["q"] * given["B"] / given[mass]) for mass in ("m_1", "m_2"))
    assert second - first == pytest.approx(apart, rel=1e-6)


@pytest.mark.parametrize(("share", "straight"), [(1.0, True), (1.01, False)])
@pytest.mark.parametrize("seed", SEEDS)
def test_ions_pass_the_selector_at_the_speed_of_the_closed_form_only(seed: int, share: float, straight: bool) -> None:
    field, given = drawn("isotopes.electric-field", seed)
    speed = share * given["q"] * given["B"] * given["r_1"] / given["m_1"]
    crossed = integrate(circling(1.0, field / given["B_s"] / speed), [0, 0, 0, 1, 0, 0], 1.0)
    assert bool(np.abs(crossed.y[1]).max() < 1e-9) is straight


@pytest.mark.parametrize("seed", SEEDS)
def test_a_helix_advances_by_the_pitch_in_one_turn(seed: int) -> None:
    pitch, given = drawn("helix.pitch", seed)
    specific = given["q"] * given["B"] / given["m"]
    across, along = np.sin(given["theta"]), np.cos(given["theta"])
    again = ending(lambda time, state: state[4] if time > 4 else 1.0, -1)  # the velocity has turned once round
    result = integrate(circling(1.0), [0, 0, 0, across, 0, along], 10.0, [again])
    assert float(result.y[2, -1]) * given["v"] / specific == pytest.approx(pitch, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_cyclotron_needs_the_voltage_of_the_closed_form(seed: int) -> None:
    """Half a turn, a push by the gap, half a turn: after all revolutions the radius is that of the last semicircle."""
    voltage, given = drawn("cyclotron.voltage", seed)
    specific = given["q"] * given["B"] / given["m"]
    square, crossings = 0.0, round(2 * given["n"])
    for _ in range(crossings):
        square += 2 * given["q"] * voltage / given["m"]
    assert crossings == 2 * given["n"]
    assert semicircle(np.sqrt(square), specific) == pytest.approx(2 * given["r"], rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_goes_straight_through_crossed_fields_turns_with_the_radius_of_the_closed_form(seed: int) -> None:
    """The speed is found as the one that is not deflected, and the diameter where the electric field is off."""
    radius, given = drawn("crossed-fields.radius", seed)
    straight = given["E"] / given["B"]
    for share, keeps in ((1.0, True), (1.01, False)):
        crossed = integrate(circling(1.0, 1 / share), [0, 0, 0, 1, 0, 0], 1.0)
        assert bool(np.abs(crossed.y[1]).max() < 1e-9) is keeps
    assert semicircle(straight, given["q"] * given["B"] / given["m"]) == pytest.approx(2 * radius, rel=1e-7)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_beam_is_turned_through_the_angle_in_the_time_of_the_closed_form(seed: int) -> None:
    time, given = drawn("beam-turned.time", seed)
    phase = given["q"] * given["B"] / given["m"] * time
    velocity = integrate(circling(1.0), [0, 0, 0, 1, 0, 0], phase).y[3:5, -1]
    assert np.arctan2(-velocity[1], velocity[0]) == pytest.approx(given["theta"], rel=1e-8)


@pytest.mark.parametrize("seed", SEEDS)
def test_particles_of_one_momentum_go_round_on_radii_as_one_over_their_charges(seed: int) -> None:
    radius, given = drawn("same-momentum.radius", seed)
    first = semicircle(1.0, given["q_1"] / 1.6e-19 / 3)  # three times the mass at a third of the speed
    second = semicircle(3.0, given["q_2"] / 1.6e-19)
    assert second / first == pytest.approx(radius / given["r_1"], rel=1e-7)


# --- orbits ---------------------------------------------------------------------------------------


def falling(_: float, state: Any) -> list[float]:
    """Gravitation with G M = 1."""
    x, y, vx, vy = state
    pull = np.hypot(x, y) ** -3
    return [vx, vy, -pull * x, -pull * y]


def ellipse(nearest: float, farthest: float, strength: float, speed: float) -> tuple[float, float, float]:
    """Farthest distance, speed there and period of what passes the nearest point at ``speed``, all in SI."""
    unit = np.sqrt(strength / nearest)
    outermost = ending(lambda time, state: state[0] * state[2] + state[1] * state[3] if time > 0.1 else 1.0, -1)
    result = integrate(falling, [1.0, 0, 0, speed / unit], 10 * (farthest / nearest) ** 1.5, [outermost])
    x, y, vx, vy = result.y[:, -1]
    return float(np.hypot(x, y)) * nearest, float(np.hypot(vx, vy)) * unit, 2 * float(result.t[-1]) * nearest / unit


@pytest.mark.parametrize("seed", SEEDS)
def test_an_ellipse_reaches_its_farthest_point_with_the_speed_and_in_the_time_of_the_closed_forms(seed: int) -> None:
    speed, given = drawn("ellipse.nearest-speed", seed)
    found = ellipse(given["r_p"], given["r_a"], given["G"] * given["M"], speed)
    slow = models.answer("ellipse.farthest-speed", r_p=given["r_p"], r_a=given["r_a"], v_p=speed)
    period = models.answer("ellipse.period", **given)
    assert found == pytest.approx((given["r_a"], slow, period), rel=1e-6)


@pytest.mark.parametrize(("share", "gone"), [(0.99, False), (1.01, True)])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_body_escapes_just_above_the_escape_speed_only(seed: int, share: float, gone: bool) -> None:
    escape, given = drawn("energy-of-an-orbit.escape-speed", seed)
    unit = np.sqrt(given["G"] * given["M"] / (given["R"] + given["h"]))
    turned = ending(lambda time, state: state[0] * state[2] + state[1] * state[3] if time > 0.1 else 1.0, -1)
    result = integrate(falling, [1.0, 0, 0, share * escape / unit], 20_000.0, [turned])
    assert (len(result.t_events[0]) == 0) is gone


@pytest.mark.parametrize("seed", SEEDS)
def test_the_energy_of_the_closed_form_lifts_a_craft_to_the_second_orbit(seed: int) -> None:
    """Two pushes along the path and half an ellipse between them: their work is the energy needed."""
    needed, given = drawn("change-of-orbit.energy-needed", seed)
    strength, low, high = given["G"] * given["M"], given["r_1"], given["r_2"]
    round_low, round_high = (np.sqrt(strength / radius) for radius in (low, high))
    start = models.answer("ellipse.nearest-speed", G=given["G"], M=given["M"], r_p=low, r_a=high)
    reached, slow, _ = ellipse(low, high, strength, start)
    assert reached == pytest.approx(high, rel=1e-6)
    work = given["m"] / 2 * (start**2 - round_low**2 + round_high**2 - slow**2)
    assert work == pytest.approx(needed, rel=1e-5)


def attracting(shares: tuple[float, float]) -> Callable[..., Any]:
    """Two bodies, each drawn to the other by an inverse-square force; ``shares`` are strength over its own mass."""

    def motion(_: float, state: Any) -> Any:
        apart = state[2:4] - state[:2]
        pull = apart / np.hypot(*apart) ** 3
        return np.concatenate([state[4:], shares[0] * pull, -shares[1] * pull])

    return motion


def both_ways_round(motion: Callable[..., Any], radii: tuple[float, float], period: float) -> Any:
    """The run over one period of two bodies on opposite sides of the centre, on circles by their start alone."""
    speeds = [2 * np.pi * radius / period for radius in radii]
    return integrate(motion, [radii[0], 0, -radii[1], 0, 0, speeds[0], 0, -speeds[1]], period)


@pytest.mark.parametrize("seed", SEEDS)
def test_two_stars_are_back_after_the_period_of_the_closed_form(seed: int) -> None:
    period, given = drawn("two-stars.period", seed)
    inner = models.answer("two-stars.centre-of-mass", m_1=given["m_1"], m_2=given["m_2"], d=given["d"])
    radii = (inner / given["d"], 1 - inner / given["d"])
    strengths = tuple(given["G"] * given[mass] * period**2 / given["d"] ** 3 for mass in ("m_2", "m_1"))
    run = both_ways_round(attracting(strengths), radii, 1.0)  # lengths in distances, times in periods
    assert np.hypot(*(run.y[:2, -1] - run.y[:2, 0])) < 1e-7
    assert np.abs(np.hypot(*(run.y[:2] - run.y[2:4])) - 1).max() < 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_a_charge_is_back_after_the_period_of_the_closed_form(seed: int) -> None:
    period, given = drawn("charge-round-a-charge.period", seed)
    strength = given["k"] * given["q"] * given["Q"] / given["m"] * period**2 / given["r"] ** 3
    run = both_ways_round(attracting((strength, 0.0)), (1.0, 0.0), 1.0)
    assert np.hypot(*(run.y[:2, -1] - [1, 0])) < 1e-7
    assert np.abs(np.hypot(*run.y[:2]) - 1).max() < 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_a_body_round_the_sun_is_back_at_its_nearest_point_after_the_period_of_the_closed_form(seed: int) -> None:
    """The strength of the Sun is that which takes the Earth round once in its period."""
    period, given = drawn("round-the-sun.period", seed)
    strength = 4 * np.pi**2 * given["a_E"] ** 3 / given["T_E"] ** 2
    low, high = given["r_p"], given["r_a"]
    start = models.answer("ellipse.nearest-speed", G=1.0, M=strength, r_p=low, r_a=high)
    assert ellipse(low, high, strength, start)[::2] == pytest.approx((high, period), rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_probe_round_the_lighter_body_is_back_after_the_period_of_the_closed_form(seed: int) -> None:
    period, given = drawn("masses-compared.period", seed)
    strength = 4 * np.pi**2 * given["r_1"] ** 3 / given["T_1"] ** 2 / given["k"]
    run = both_ways_round(attracting((strength * period**2 / given["r_2"] ** 3, 0.0)), (1.0, 0.0), 1.0)
    assert np.hypot(*(run.y[:2, -1] - [1, 0])) < 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_an_orbit_inside_a_sphere_closes_after_the_period_of_the_closed_form(seed: int) -> None:
    """The field comes from thin shells: each one attracts what is outside it, as all its pieces together do."""
    period, given = drawn("inside-a-ball.period", seed)
    strength = given["G"] * given["M"] * period**2 / given["R"] ** 3  # lengths in radii of the sphere
    shells, share = np.linspace(0.0005, 0.9995, 1000), 3 / 1000

    def motion(_: float, state: Any) -> list[float]:
        x, y, vx, vy = state
        distance = np.hypot(x, y)
        inside = np.clip((distance - shells) * 1000 + 0.5, 0, 1)  # part of each shell
        pull = strength * share * (shells**2 * inside).sum() / distance**3
        return [vx, vy, -pull * x, -pull * y]

    speed = models.answer("inside-a-ball.speed", **given, r=given["R"] / 2) * period / given["R"]
    run = solve_ivp(motion, (0.0, 1.0), [0.5, 0, 0, speed], rtol=1e-6, atol=1e-8)
    assert np.hypot(*(run.y[:2, -1] - [0.5, 0])) < 1e-3
    assert np.abs(np.hypot(*run.y[:2]) - 0.5).max() < 1e-3


# --- a cord that is pulled in ---------------------------------------------------------------------


def pulled_in(large: float, small: float, speed: float, slowness: float) -> tuple[float, float, float]:
    """Speed, pull per mass and work per mass when the cord has slowly reached its small length, all in SI.

    The cord has the length l(t); its pull keeps r·r = l², so (r·a) + v² = l l'' + l'².
    """
    until = slowness * large / speed

    def length(time: float) -> tuple[float, float, float]:
        part, rate = np.pi * time / until, np.pi / until
        depth = (large - small) / 2
        return large - depth * (1 - np.cos(part)), -depth * rate * np.sin(part), -depth * rate**2 * np.cos(part)

    def pull(time: float, state: Any) -> float:
        now, rate, change = length(time)
        return float((state[2] ** 2 + state[3] ** 2 - now * change - rate**2) / now)

    def motion(time: float, state: Any) -> list[float]:
        x, y, vx, vy, _ = state
        now, rate, _ = length(time)
        force = pull(time, state)
        return [vx, vy, -force * x / now, -force * y / now, -force * rate]

    result = integrate(motion, [large, 0, 0, speed, 0], until)
    end = result.y[:, -1]
    return float(np.hypot(end[2], end[3])), pull(until, end), float(end[4])


@pytest.mark.parametrize("seed", SEEDS[:1])  # it takes two seconds
def test_a_cord_that_is_pulled_in_leaves_the_speed_the_tension_and_the_work_of_the_closed_forms(seed: int) -> None:
    work, given = drawn("cord-pulled-in.work", seed)
    speed, pull, done = pulled_in(given["r_1"], given["r_2"], given["v_1"], slowness=400)
    sizes = {name: given[name] for name in ("r_1", "r_2", "v_1")}
    assert speed == pytest.approx(models.answer("cord-pulled-in.speed", **sizes), rel=1e-4)
    assert given["m"] * pull == pytest.approx(models.answer("cord-pulled-in.tension", m=given["m"], **sizes), rel=1e-3)
    assert given["m"] * done == pytest.approx(work, rel=1e-4)
