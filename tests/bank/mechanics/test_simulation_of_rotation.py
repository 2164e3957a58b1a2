"""Rigid bodies that turn, against the motion itself: each simulation knows forces and torques only, at each moment.

What is conserved comes out of it and is put in nowhere. Numbers come from drawn variants of the drafts.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.bank import models
from tests.bank.mechanics.test_simulation_of_fields import drawn, ending, integrate, pulled_in

SEEDS = (1, 2)


def rubbing(first: float, second: float, start: float) -> tuple[float, float]:
    """Common angular speed and dissipated energy of two discs that rub: each feels the torque of the other."""
    strength = first * second / (first + second)  # any strength leads to the same end; this one in times of order one

    def motion(_: float, state: Any) -> list[float]:
        torque = strength * (state[0] - state[1])
        return [-torque / first, torque / second, torque * (state[0] - state[1])]

    end = integrate(motion, [start, 0.0, 0.0], 30.0).y[:, -1]
    assert end[0] == pytest.approx(end[1], rel=1e-9)
    return float(end[0]), float(end[2])


@pytest.mark.parametrize("seed", SEEDS)
def test_coupled_discs_end_at_the_angular_speed_and_with_the_loss_of_the_closed_forms(seed: int) -> None:
    loss, given = drawn("coupled-discs.decrease-in-energy", seed)
    common, dissipated = rubbing(given["J_1"], given["J_2"], given["omega_1"])
    assert common == pytest.approx(models.answer("coupled-discs.common-angular-speed", **given), rel=1e-8)
    assert dissipated == pytest.approx(loss, rel=1e-8)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_body_that_grips_a_rim_sets_the_platform_turning_as_the_closed_form_says(seed: int) -> None:
    """The body is held at the rim by whatever force keeps r·a = -v², and dragged along it until nothing slips."""
    turning, given = drawn("onto-a-platform.angular-speed", seed)
    mass, radius, inertia = given["m"], given["r"], given["J"]
    strength = 1 / (1 / mass + radius**2 / inertia)

    def motion(_: float, state: Any) -> Any:
        place, velocity, turn = state[:2], state[2:4], state[4]
        along = np.array([-place[1], place[0]]) / radius
        drag = strength * (turn * radius - velocity @ along)
        hold = -(velocity @ velocity) / radius**2 * place
        return np.concatenate([velocity, hold + drag / mass * along, [-drag * radius / inertia]])

    end = integrate(motion, [radius, 0, 0, given["v"], 0], 30.0).y[:, -1]
    assert end[4] == pytest.approx(turning, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_platform_turns_faster_by_the_push_on_what_moves_to_its_middle(seed: int) -> None:
    """The spoke pushes m (l ω' + 2 l' ω) on what slides in along it, and is pushed back; l(t) is any way in."""
    turning, given = drawn("to-the-middle.final-angular-speed", seed)
    radius, until = 1.4, 5.0
    inertia = (given["M"] / 2 + given["m_1"]) * radius**2

    def motion(time: float, state: Any) -> list[float]:
        part = np.pi * time / until
        out, rate = radius * (1 + np.cos(part)) / 2, -radius * np.pi / until * np.sin(part) / 2
        return [-2 * given["m"] * out * rate * state[0] / (inertia + given["m"] * out**2)]

    assert integrate(motion, [given["omega_1"]], until).y[0, -1] == pytest.approx(turning, rel=1e-8)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_ring_that_is_drawn_together_turns_as_fast_as_the_closed_form_says(seed: int) -> None:
    """Each skater is pulled to the centre only, however fast."""
    turning, given = drawn("drawn-together.angular-speed", seed)
    speed, _, _ = pulled_in(given["R_1"], given["R_2"], given["omega_1"] * given["R_1"], slowness=6)
    assert speed / given["R_2"] == pytest.approx(turning, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_angular_momentum_of_a_sphere_is_that_of_its_pieces(seed: int) -> None:
    """r × v over the pieces of a uniform sphere, by Gauss's rule in distance and latitude."""
    momentum, given = drawn("spin-and-orbit.rotation", seed)
    nodes, weights = np.polynomial.legendre.leggauss(12)
    distances, shares = (nodes + 1) / 2 * given["R"], weights / 2 * given["R"]
    from_axis = distances[:, None] * np.sqrt(1 - nodes[None, :] ** 2)
    density = given["m"] / (4 / 3 * np.pi * given["R"] ** 3)
    pieces = density * 2 * np.pi * distances[:, None] ** 2 * shares[:, None] * weights[None, :]
    assert pieces.sum() == pytest.approx(given["m"])
    speeds = 2 * np.pi / given["T_s"] * from_axis
    assert (pieces * from_axis * speeds).sum() == pytest.approx(momentum, rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_teeth_of_a_rolling_wheel_are_counted(seed: int) -> None:
    """A tooth passes whenever a point of the rim, one after the other, is straight above the axle."""
    frequency, given = drawn("teeth-that-pass.frequency-from-speed", seed)
    seconds = 40.0
    turned = np.linspace(0, given["v"] * seconds / (given["C"] / (2 * np.pi)), 400_001)
    above = np.cos(turned * given["k"]) > 0  # one tooth is as good as the next
    passed = int(np.count_nonzero(above[1:] & ~above[:-1]))
    assert passed == pytest.approx(frequency * seconds, abs=1.1)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_rod_of_many_pieces_swings_down_with_the_angular_speed_of_the_closed_form(seed: int) -> None:
    """The weights of its pieces turn it: the sum of their torques over the sum of m l²."""
    turning, given = drawn("rod-on-a-hinge.angular-speed", seed)
    nodes, weights = np.polynomial.legendre.leggauss(6)
    places, masses = (nodes + 1) / 2 * given["L"], weights / 2
    down = ending(lambda _, state: state[0], -1)

    def motion(_: float, state: Any) -> list[float]:
        torque = -(masses * 9.81 * places * np.sin(state[0])).sum()
        return [state[1], torque / (masses * places**2).sum()]

    result = integrate(motion, [given["theta"], 0.0], 60.0, [down])
    assert -result.y[1, -1] == pytest.approx(turning, rel=1e-6)
