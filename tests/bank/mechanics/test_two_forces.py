"""Circles that two forces hold, against the motion in Cartesian coordinates: cone, bowl, lean, two cords, hammer, peg.

As in ``test_simulation``: each simulation knows the weight and the constraint only, and the constraint gives whatever
force keeps the body on its surface, rod or cord. Numbers come from drawn variants of the drafts.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.bank import models
from tests.bank.mechanics.test_simulation import (
    SEEDS,
    G,
    drawn,
    integrate,
    inward_push,
    least_push_round,
    on_a_circle,
    push_at_the_top,
    speed_at_the_foot,
    spherical_pendulum,
    stops,
)

WEIGHT = np.array([0.0, 0.0, -G])

# --- a smooth surface that rises away from the axis: a cone, a raised rail --------------------


def cone_push(state: Any, slope: float) -> float:
    """Push of the cone per mass, as a multiple of the normal (-slope ρ̂, 1): from n·a + dn/dt·v = 0."""
    (x, y, _z), (vx, vy, _vz) = state[:3], state[3:]
    distance = np.hypot(x, y)
    around = (x * vy - y * vx) / distance
    return float((G + slope * around**2 / distance) / (1 + slope**2))


def on_a_cone(_: float, state: Any, slope: float) -> Any:
    distance = np.hypot(state[0], state[1])
    normal = np.array([-slope * state[0] / distance, -slope * state[1] / distance, 1])
    return np.concatenate([state[3:], WEIGHT + cone_push(state, slope) * normal])


def spread_on_a_cone(speed: float, radius: float, slope: float) -> float:
    """By how much of it the distance from the axis changes in two turns."""
    start = [radius, 0, slope * radius, 0, speed, 0]
    until = 4 * np.pi * radius / speed
    result = integrate(lambda time, state: on_a_cone(time, state, slope), start, until)
    return float(np.abs(np.hypot(result.y[0], result.y[1]) / radius - 1).max())


@pytest.mark.parametrize("seed", SEEDS)
def test_a_ball_keeps_its_height_in_a_cone_at_the_speed_of_the_closed_form_only(seed: int) -> None:
    speed, given = drawn("inside-a-cone.speed", seed)
    slope = np.tan(given["theta"])
    assert spread_on_a_cone(speed, given["r"], slope) < 1e-7
    assert spread_on_a_cone(1.01 * speed, given["r"], slope) > 5e-3
    assert models.answer("inside-a-cone.height-from-speed", v=speed) == pytest.approx(slope * given["r"])


@pytest.mark.parametrize("seed", SEEDS)
def test_the_push_of_the_cone_is_that_of_the_motion(seed: int) -> None:
    force, given = drawn("inside-a-cone.normal-force", seed)
    slope = np.tan(given["theta"])
    speed = models.answer("inside-a-cone.speed", r=0.07, theta=given["theta"])
    push = cone_push(np.array([0.07, 0, 0.07 * slope, 0, speed, 0]), slope) * np.hypot(1, slope)
    assert given["m"] * push == pytest.approx(force, rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_coach_that_needs_no_flange_keeps_its_circle(seed: int) -> None:
    speed, given = drawn("raised-outer-rail.speed", seed)
    assert spread_on_a_cone(speed, given["r"], given["e"] / given["w"]) < 1e-7
    assert spread_on_a_cone(1.02 * speed, given["r"], given["e"] / given["w"]) > 5e-3


# --- on a sphere: a bowl, a hammer ------------------------------------------------------------


def spread_on_a_sphere(speed: float, length: float, angle: float) -> float:
    """By how many radians the angle from the vertical changes in two turns."""
    start = [length * np.sin(angle), 0, -length * np.cos(angle), 0, speed, 0]
    until = 4 * np.pi * length * np.sin(angle) / speed
    result = integrate(lambda time, state: spherical_pendulum(time, state, length), start, until)
    return float(np.abs(np.arctan2(np.hypot(result.y[0], result.y[1]), -result.y[2]) - angle).max())


@pytest.mark.parametrize("seed", SEEDS)
def test_a_marble_keeps_its_height_in_a_bowl_at_the_speed_of_the_closed_form_only(seed: int) -> None:
    speed, given = drawn("inside-a-bowl.speed", seed)
    assert spread_on_a_sphere(speed, given["R"], given["theta"]) < 1e-6
    assert spread_on_a_sphere(1.01 * speed, given["R"], given["theta"]) > 2e-3
    height = models.answer("inside-a-bowl.height", R=given["R"], omega=speed / (given["R"] * np.sin(given["theta"])))
    assert height == pytest.approx(given["R"] * (1 - np.cos(given["theta"])))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_hammer_keeps_the_angle_of_its_wire(seed: int) -> None:
    angle, given = drawn("hammer-on-a-wire.angle", seed)
    assert spread_on_a_sphere(given["v"], given["r"] / np.sin(angle), angle) < 1e-6
    assert spread_on_a_sphere(1.05 * given["v"], given["r"] / np.sin(angle), angle) > 1e-3


# --- two cords from a post --------------------------------------------------------------------


@pytest.mark.parametrize("seed", SEEDS)
def test_the_two_tensions_are_those_that_keep_both_lengths(seed: int) -> None:
    """d·a = -v² for both cords, with a = g + pulls along the cords: two equations for two pulls."""
    upper, given = drawn("two-cords-on-a-post.upper-tension", seed)
    lower = models.answer("two-cords-on-a-post.lower-tension-from-turning", **given)
    length, angle = given["L"], given["theta"]
    cords = length * np.array([[np.sin(angle), 0, -np.cos(angle)], [np.sin(angle), 0, np.cos(angle)]])
    speed = given["omega"] * length * np.sin(angle)
    pulls = np.linalg.solve(cords @ cords.T, cords @ WEIGHT + speed**2)
    assert given["m"] * length * pulls == pytest.approx([upper, lower], rel=1e-9)


@pytest.mark.parametrize(("share", "slack"), [(0.99, True), (1.01, False)])
@pytest.mark.parametrize("seed", SEEDS)
def test_the_lower_cord_is_slack_only_below_the_least_turning(seed: int, share: float, slack: bool) -> None:
    """Held by the upper cord alone, the ball comes nearer to the lower point, or would get further from it."""
    least, given = drawn("two-cords-on-a-post.least-angular-speed", seed)
    below = given["D"]
    length = 0.8 * below
    angle = np.arccos(below / (2 * length))
    radius = length * np.sin(angle)
    start = [radius, 0, -below / 2, 0, share * least * radius, 0]
    result = integrate(lambda time, state: spherical_pendulum(time, state, length), start, 0.3 / least)
    apart = np.sqrt(result.y[0] ** 2 + result.y[1] ** 2 + (result.y[2] + below) ** 2)
    further = float(apart[-1]) / length - 1
    assert (further < -1e-6) if slack else (further > 1e-6)


# --- a rider who leans ------------------------------------------------------------------------


def lean_after(speed: float, radius: float, angle: float, height: float = 1.1) -> float:
    """By how much of a metre the mass on a light rod, whose foot goes round below it, has moved up or down."""
    foot_radius, turning = radius + height * np.sin(angle), speed / radius

    def falling(time: float, state: Any) -> Any:
        along = np.array([np.cos(turning * time), np.sin(turning * time), 0])
        across = np.array([-along[1], along[0], 0])
        rod = state[:3] - foot_radius * along
        slide = state[3:] - foot_radius * turning * across
        push = -(slide @ slide + rod @ (WEIGHT + foot_radius * turning**2 * along)) / height**2
        return np.concatenate([state[3:], WEIGHT + push * rod])

    result = integrate(falling, [radius, 0, height * np.cos(angle), 0, speed, 0], 1.0)
    return float(np.abs(result.y[2] - height * np.cos(angle)).max())


@pytest.mark.parametrize("seed", SEEDS)
def test_a_rider_neither_falls_nor_rises_at_the_lean_of_the_closed_form(seed: int) -> None:
    angle, given = drawn("leaning-into-a-bend.angle", seed)
    assert lean_after(given["v"], given["r"], angle) < 1e-6
    assert lean_after(1.02 * given["v"], given["r"], angle) > 5e-3


# --- up and down a vertical circle: a bowl, a pendulum, a peg ---------------------------------


def on_the_way_up(radius: float, start: float, angle: float) -> Any:
    """The state at that angle on the other side, for a body let go at rest ``start`` radians from the lowest point."""
    there = stops(lambda _, state: state[0] - radius * np.sin(angle), direction=1)
    begin = [-radius * np.sin(start), -radius * np.cos(start), 0, 0]
    result = integrate(lambda time, state: on_a_circle(time, state, radius), begin, 60, [there])
    return result.y[:, -1]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_push_of_a_bowl_on_the_way_up_is_that_of_the_motion(seed: int) -> None:
    force, given = drawn("through-a-bowl.normal-force", seed)
    moving = on_the_way_up(0.3, np.pi / 2, given["theta"])
    assert given["m"] * inward_push(moving, 0.3) == pytest.approx(force, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_pendulum_has_the_tension_and_the_acceleration_of_the_motion(seed: int) -> None:
    force, given = drawn("pendulum-on-the-way-up.tension", seed)
    moving = on_the_way_up(0.9, given["theta_0"], given["theta"])
    assert given["m"] * inward_push(moving, 0.9) == pytest.approx(force, rel=1e-6)
    found = np.hypot(*on_a_circle(0, moving, 0.9)[2:])
    speed = float(np.hypot(*moving[2:]))
    total = models.answer("pendulum-on-the-way-up.total-acceleration", r=0.9, v=speed, theta=given["theta"])
    assert found == pytest.approx(total, rel=1e-6)


@pytest.mark.parametrize(("share", "taut"), [(1.005, True), (0.995, False)])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_cord_on_a_peg_stays_taut_only_below_the_least_distance(seed: int, share: float, taut: bool) -> None:
    least, given = drawn("peg-under-a-pendulum.least-distance", seed)
    speed = float(np.hypot(*on_the_way_up(given["L"], np.pi / 2, 0)[2:]))
    push, _ = least_push_round(speed, given["L"] - share * least)
    assert (push > 1e-6) is taut


@pytest.mark.parametrize("seed", SEEDS)
def test_the_tension_jumps_to_that_of_the_small_circle(seed: int) -> None:
    force, given = drawn("peg-under-a-pendulum.tension-at-the-bottom", seed)
    moving = on_the_way_up(given["L"], np.pi / 2, 0)
    moving[1] = -given["r"]  # the same velocity, with the peg for the centre
    assert given["m"] * inward_push(moving, given["r"]) == pytest.approx(force, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_charged_pendulum_feels_the_magnetic_force_of_its_motion(seed: int) -> None:
    force, given = drawn("charged-pendulum.magnetic-force", seed)
    length = 1.3 * given["h"]
    moving = on_the_way_up(length, np.arccos(1 - given["h"] / length), 0)
    assert given["q"] * given["B"] * np.hypot(*moving[2:]) == pytest.approx(force, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_push_takes_a_pendulum_to_the_angle_of_the_closed_form(seed: int) -> None:
    angle, given = drawn("on-another-world.angle", seed)
    radius = given["r"]
    turned = stops(lambda time, state: state[3] if time > 1e-3 else 1.0, direction=-1)
    start = [0, -radius, given["v"], 0]
    result = integrate(lambda time, state: on_a_circle(time, state, radius), start, 60, [turned])
    assert np.arctan2(result.y[0, -1], -result.y[1, -1]) == pytest.approx(angle, rel=1e-6)


# --- energy that is lost, a hump, a cord that goes taut ---------------------------------------


@pytest.mark.parametrize("seed", SEEDS)
def test_the_push_at_the_top_of_a_loop_is_that_of_a_run_which_has_lost_its_energy_at_the_foot(seed: int) -> None:
    force, given = drawn("loop-with-a-loss.normal-force", seed)
    left = np.sqrt(speed_at_the_foot(given["h"]) ** 2 - 2 * given["W"] / given["m"])
    assert given["m"] * push_at_the_top(left, given["r"]) == pytest.approx(force, rel=1e-6)


def speed_on_the_hump(speed: float, height: float) -> float:
    """Speed at the top of the smooth curve y = h (1 - cos x)/2 from its lowest point, of a bead on it."""

    def sliding(_: float, state: Any) -> list[float]:
        x, vx = state
        slope, bend = height * np.sin(x) / 2, height * np.cos(x) / 2
        return [vx, -slope * (G + bend * vx**2) / (1 + slope**2)]  # along the curve only the weight acts

    top = stops(lambda _, state: state[0] - np.pi)
    return float(integrate(sliding, [0, speed], 60, [top]).y[1, -1])


@pytest.mark.parametrize("seed", SEEDS)
def test_the_push_on_a_hump_is_that_of_what_has_climbed_to_it(seed: int) -> None:
    force, given = drawn("hump-after-a-dip.force-on-the-hump", seed)
    speed = speed_on_the_hump(given["v_1"], given["h"])
    push = -inward_push([0, given["r_2"], speed, 0], given["r_2"])
    assert given["m"] * push == pytest.approx(force, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_stiff_cord_with_much_damping_leaves_the_speed_of_the_closed_form(seed: int) -> None:
    """Free fall until the distance from the hook is the length of the cord, then a stiff, sluggish spring pulls."""
    speed, given = drawn("cord-goes-taut.speed-at-the-lowest-point", seed)
    length = given["L"]

    def motion(_: float, state: Any) -> list[float]:
        place, velocity = state[:2], state[2:]
        distance = float(np.hypot(*place))
        stretch, rate = distance / length - 1, float(place @ velocity) / distance / length
        pull = max(0.0, 4e6 * stretch + 4e4 * rate) if stretch > 0 else 0.0
        return [*velocity, *(-pull * place / distance + [0, -G])]

    lowest = stops(lambda _, state: state[0], direction=-1)
    start = [length * np.sin(given["alpha"]), 0, 0, 0]
    run = integrate(motion, start, 10, [lowest], method="Radau", rtol=1e-7, atol=1e-9)
    assert np.hypot(*run.y[2:, -1]) == pytest.approx(speed, rel=2e-3)


# --- a rough bank between two speeds, a governor ----------------------------------------------


def grip_needed(speed: float, radius: float, angle: float) -> float:
    """Friction up the slope over normal force, for the acceleration of a circle from its places alone."""
    times = np.linspace(0, 2 * np.pi * radius / speed, 4001)
    places = radius * np.exp(1j * speed / radius * times)
    inward = float(-(np.diff(places, 2)[0] / (times[1] - times[0]) ** 2 / places[1] * radius).real)
    contact = np.array([inward, G])  # per mass: inward, up
    normal, up_slope = np.array([np.sin(angle), np.cos(angle)]), np.array([-np.cos(angle), np.sin(angle)])
    return float(contact @ up_slope / (contact @ normal))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_car_needs_all_its_friction_at_both_ends_of_the_range(seed: int) -> None:
    width, given = drawn("between-two-speeds.range", seed)
    slowest = models.answer("between-two-speeds.minimum-speed", **given)
    low, high = (grip_needed(speed, given["r"], given["theta"]) for speed in (slowest, slowest + width))
    assert (low, high) == pytest.approx((given["mu"], -given["mu"]), rel=1e-5)


@pytest.mark.parametrize(("share", "stays"), [(1.0, True), (1.02, False), (0.98, False)])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_governor_keeps_its_angle_at_the_angular_speed_of_the_closed_form_only(
    seed: int, share: float, stays: bool
) -> None:
    """Lagrange's equation for the angle: two balls on a shaft with a set rate, and a collar 2 L cos a below the top."""
    turning, given = drawn("governor.angular-speed", seed)
    rate, length, ball, collar = share * turning, given["L"], given["m"], given["M"]

    def motion(_: float, state: Any) -> list[float]:
        angle, slide = state
        sine, cosine = np.sin(angle), np.cos(angle)
        inertia = 2 * ball * length**2 + 4 * collar * length**2 * sine**2
        thrust = 2 * ball * length**2 * rate**2 * sine * cosine - 2 * (ball + collar) * G * length * sine
        return [slide, (thrust - 4 * collar * length**2 * sine * cosine * slide**2) / inertia]

    result = integrate(motion, [given["theta"], 0.0], 1.0)
    assert bool(np.abs(result.y[0] - given["theta"]).max() < 1e-6) is stays
