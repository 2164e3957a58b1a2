"""What must be true of the shipped closed forms for any numbers: similarity, limits, and solving back and forth.

The properties are consequences of Newton's second law that any introductory text states or that one line derives; the
line stands with each.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from math import cos, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from turnwright.bank.errors import SolveError
from turnwright.bank.mechanics.equations import system_of
from turnwright.bank.solving.solution import SolvedQuestion, solve

from tests.bank import models
from tests.bank.models import answer

some = settings(max_examples=60, deadline=None, derandomize=True)
lengths = st.floats(0.05, 50)
masses = st.floats(0.01, 1000)
speeds = st.floats(0.1, 40)
periods = st.floats(0.2, 60)
frictions = st.floats(0.05, 0.95)
angles = st.floats(2, 80).map(radians)
factors = st.floats(0.1, 10)
G = 9.81


def near(value: float, rel: float = 1e-9, size: float = 0.0) -> object:
    """About ``value``; ``size`` is that of the terms whose difference it is."""
    return pytest.approx(value, rel=rel, abs=1e-12 + 1e-12 * size)


# --- similarity -------------------------------------------------------------------------------

GROW_WITH_THE_ROOT_OF_THE_RADIUS = (
    "over-the-top.least-speed",
    "over-the-crest.greatest-speed",
    "over-on-a-cord.least-speed-at-the-bottom",
    "over-on-a-rod.least-speed-at-the-bottom",
    "round-the-circle-high.least-speed",
    "flat-bend.greatest-speed",
    "smooth-bank.speed",
    "rough-bank-fast.greatest-speed",
    "rough-bank-slow.least-speed",
    "cord-through-a-hole.speed",
)
FREE_OF_MASS = (
    *(name for name in GROW_WITH_THE_ROOT_OF_THE_RADIUS if name != "cord-through-a-hole.speed"),
    "over-the-top.speed-from-weights",
    "over-on-a-cord.speed-at-the-top",
    "loop-from-a-ramp.least-height",
    "loop-from-a-ramp.speed-at-the-top",
    "flat-bend.needed-coefficient",
    "flat-bend.greatest-acceleration",
    "smooth-bank.bank-angle",
    "smooth-bank.acceleration",
    "rough-bank-fast.needed-coefficient",
    "rough-bank-slow.largest-radius",
    "conical-pendulum.period",
    "conical-pendulum.angle",
    "chair-ride.period",
    "chair-ride.speed",
    "on-a-turntable.greatest-turning",
    "on-a-turntable.coefficient",
    "wall-ride.least-coefficient",
    "wall-ride.longest-period",
    "big-wheel.floating-period",
    "satellite.speed",
    "satellite.period",
)


@pytest.mark.parametrize("name", GROW_WITH_THE_ROOT_OF_THE_RADIUS)
@given(r=lengths, theta=angles, share=st.floats(0.05, 0.99), m=masses, M=masses)
@some
def test_twice_the_radius_makes_the_limiting_speed_root_two_times_as_great(
    name: str, r: float, theta: float, share: float, m: float, M: float
) -> None:
    mu = share * min(tan(theta), 1 / tan(theta))
    others = {"theta": theta, "mu": mu, "m": m, "M": M}
    assert answer(name, r=2 * r, **others) == near(sqrt(2) * answer(name, r=r, **others))


@pytest.mark.parametrize("name", FREE_OF_MASS)
@pytest.mark.parametrize("mass", [0.01, 3.0, 2000.0])
def test_the_equations_are_met_with_any_mass_where_mass_cancels(name: str, mass: float) -> None:
    found = models.shipped(name)
    assert "m" not in found.solution.symbols
    assert any("m" in each.symbols for each in found.system.equations)
    (values,) = islice(answered(found, seed=4), 1)
    with_mass = replace(found.system, known=found.system.known | {"m"})
    assert models.Balance(with_mass).values({**values, "m": mass})["m"] == mass


def growth(found: SolvedQuestion, symbol: str, mass: float, length: float) -> float:
    """How much a quantity grows where masses grow by ``mass`` and lengths by ``length``; g and charges stay."""
    unit = models.unit("m/s^2" if symbol == "g" else found.problem.quantities[symbol].unit.symbol)
    base = {"[mass]": mass, "[length]": length, "[time]": sqrt(length), "[current]": 1 / sqrt(length)}
    return float(np.prod([base[name] ** power for name, power in unit.dimensionality.items()]))


@models.of_each(models.with_drafts)
def test_a_larger_and_heavier_world_with_the_same_g_has_the_same_answer_at_its_own_scale(name: str) -> None:
    """Lengths grow by c, times and speeds by √c, masses and forces by k: all equations stay true (Froude)."""
    found = models.shipped(name)
    for mass, length, values in zip((2.0, 0.3, 7.0), (3.0, 0.2, 11.0), answered(found, seed=7), strict=False):
        scaled = {symbol: value * growth(found, symbol, mass, length) for symbol, value in values.items()}
        expected = scaled.pop(found.question.ask)
        assert answer(name, **scaled) == near(expected)


# --- limits and neighbours --------------------------------------------------------------------


@given(r=lengths, theta=angles)
@some
def test_a_rough_bank_without_friction_is_the_smooth_bank(r: float, theta: float) -> None:
    smooth = answer("smooth-bank.speed", r=r, theta=theta)
    assert answer("rough-bank-fast.greatest-speed", r=r, theta=theta, mu=0) == near(smooth)
    assert answer("rough-bank-slow.least-speed", r=r, theta=theta, mu=0) == near(smooth)
    assert answer("rough-bank-fast.greatest-speed", r=r, theta=theta, mu=1e-9) == near(smooth, rel=1e-6)


@given(r=lengths, theta=angles, m=masses)
@some
def test_friction_on_a_bank_is_zero_at_the_speed_of_the_smooth_bank(r: float, theta: float, m: float) -> None:
    smooth = answer("smooth-bank.speed", r=r, theta=theta)
    for name in ("rough-bank-fast.friction", "rough-bank-slow.friction"):
        assert answer(name, m=m, r=r, theta=theta, v=smooth) == pytest.approx(0, abs=1e-9 * m * G)
    normal = answer("smooth-bank.normal-force", m=m, theta=theta)
    assert answer("rough-bank-fast.normal-force", m=m, r=r, theta=theta, v=smooth) == near(normal)


@given(r=lengths, mu=frictions)
@some
def test_a_bank_without_slope_is_the_level_bend(r: float, mu: float) -> None:
    level = answer("flat-bend.greatest-speed", r=r, mu=mu)
    assert answer("rough-bank-fast.greatest-speed", r=r, mu=mu, theta=0) == near(level)


@given(r=lengths, theta=angles)
@some
def test_the_least_speed_on_a_rough_bank_is_zero_where_the_coefficient_is_the_tangent(r: float, theta: float) -> None:
    """A body rests on a slope whose tangent is the coefficient."""
    least = answer("rough-bank-slow.least-speed", r=r, theta=theta, mu=tan(theta) * (1 - 1e-12))
    assert least == pytest.approx(0, abs=1e-4 * sqrt(G * r))


@given(L=lengths, theta=angles)
@some
def test_a_chair_ride_without_an_arm_is_a_conical_pendulum(L: float, theta: float) -> None:
    cone = answer("conical-pendulum.period", L=L, theta=theta)
    assert answer("chair-ride.period", d=0, L=L, theta=theta) == near(cone)
    assert answer("chair-ride.speed", d=0, L=L, theta=theta) == near(answer("conical-pendulum.speed", L=L, theta=theta))


@given(L=lengths)
@some
def test_a_narrow_cone_takes_as_long_as_a_small_swing(L: float) -> None:
    """2 π √(L/g), the period of a simple pendulum."""
    narrow = answer("conical-pendulum.narrow-cone", L=L)
    assert narrow == near(2 * pi * sqrt(L / G))
    assert answer("conical-pendulum.period", L=L, theta=1e-5) == near(narrow, rel=1e-9)


@given(m=masses, r=lengths, more=st.floats(1.0, 3.0))
@some
def test_the_tension_at_the_bottom_is_six_weights_more_than_at_the_top(m: float, r: float, more: float) -> None:
    """Bottom - top = 2 m g + m (v_bottom² - v_top²)/r = 6 m g, whatever the speed."""
    bottom_speed = more * sqrt(5 * G * r)
    bottom = answer("through-the-bottom.pull-at-the-bottom", m=m, r=r, v=bottom_speed)
    top = answer("over-on-a-cord.pull-at-the-top", m=m, r=r, v_bottom=bottom_speed)
    assert bottom - top == near(6 * m * G, size=100 * m * G)
    assert answer("over-on-a-cord.top-from-bottom", m=m, F_bottom=bottom) == near(top, size=100 * m * G)


@given(m=masses, r=lengths, T=periods)
@some
def test_a_steady_wheel_pushes_harder_at_the_bottom_by_twice_the_net_force(m: float, r: float, T: float) -> None:
    """(m g + m v²/r) - (m g - m v²/r)."""
    bottom, top = (answer(f"big-wheel.force-at-the-{place}", m=m, r=r, T=T) for place in ("bottom", "top"))
    net = m * (2 * pi * r / T) ** 2 / r
    assert bottom - top == near(2 * net, size=m * G + net)
    assert bottom + top == near(2 * m * G, size=m * G + net)


@given(height=st.floats(1e5, 1e8), more=st.floats(1.1, 9))
@some
def test_the_square_of_the_period_of_a_satellite_grows_as_the_cube_of_the_radius(height: float, more: float) -> None:
    """Kepler's third law; OpenStax University Physics vol. 1, section 13.5 (place from memory)."""
    earth = {"G": 6.6743e-11, "M": 5.972e24, "R": 6.371e6}
    radius = earth["R"] + height
    first = answer("satellite.period", h=height, **earth)
    second = answer("satellite.period", h=more * radius - earth["R"], **earth)
    assert (second / first) ** 2 == near(more**3)
    assert answer("satellite.speed", h=height, **earth) == near(2 * pi * radius / first)


# --- at the limit, the contact is what the limit says -----------------------------------------


@given(m=masses, r=lengths)
@some
def test_contact_ends_at_the_limiting_speed(m: float, r: float) -> None:
    gone = pytest.approx(0, abs=1e-9 * m * G)
    assert answer("over-the-top.pull-at-the-top", m=m, r=r, v=answer("over-the-top.least-speed", r=r)) == gone
    assert answer("over-the-crest.normal-force", m=m, r=r, v=answer("over-the-crest.greatest-speed", r=r)) == gone
    assert answer("big-wheel.force-at-the-top", m=m, r=r, T=answer("big-wheel.floating-period", r=r)) == gone
    assert answer("loop-from-a-ramp.force-at-the-top", m=m, r=r, h=answer("loop-from-a-ramp.least-height", r=r)) == gone
    least = answer("over-on-a-cord.least-speed-at-the-bottom", r=r)
    assert answer("over-on-a-cord.pull-at-the-top", m=m, r=r, v_bottom=least) == gone
    assert answer("over-on-a-cord.pull-at-the-limit", m=m) == near(6 * m * G)


@given(m=masses, r=lengths, mu=frictions, theta=angles)
@some
def test_friction_is_at_its_ceiling_at_the_limiting_speed(m: float, r: float, mu: float, theta: float) -> None:
    bend = answer("flat-bend.friction-below-the-limit", m=m, r=r, v=answer("flat-bend.greatest-speed", r=r, mu=mu))
    table = answer("on-a-turntable.friction", m=m, r=r, omega=answer("on-a-turntable.greatest-turning", r=r, mu=mu))
    drum = answer("wall-ride.normal-force", m=m, r=r, omega=answer("wall-ride.least-turning", r=r, mu=mu))
    assert (bend, table, mu * drum) == near_all(mu * m * G, mu * m * G, m * G)
    assume(mu * tan(theta) < 0.99)
    at_limit = {"m": m, "r": r, "theta": theta, "v": answer("rough-bank-fast.greatest-speed", r=r, mu=mu, theta=theta)}
    normal = answer("rough-bank-fast.normal-force", **at_limit)
    assert answer("rough-bank-fast.friction", **at_limit) == near(mu * normal, size=normal)


def near_all(*values: float) -> object:
    return pytest.approx(values, rel=1e-9)


@given(m=masses, theta=angles, r=lengths)
@some
def test_the_parts_of_a_slanted_force_make_the_weight_and_the_net_force(m: float, theta: float, r: float) -> None:
    force, speed = answer("smooth-bank.normal-force", m=m, theta=theta), answer("smooth-bank.speed", r=r, theta=theta)
    assert force * cos(theta) == near(m * G)
    assert force * sin(theta) == near(m * speed**2 / r)


# --- solving back and forth -------------------------------------------------------------------

# where the solver refuses, as a board would: a sum of sine, cosine and a constant, a fourth power beside a square, or a
# difference of two roots
NOT_ON_A_BOARD = {
    ("speeding-up-on-a-circle.total-after-a-time", "b"),
    ("point-on-a-starting-disc.total-after-a-time", "alpha"),
    ("rough-bank-fast.friction", "theta"),
    ("rough-bank-fast.normal-force", "theta"),
    ("rough-bank-slow.friction", "theta"),
    ("rough-bank-slow.normal-force", "theta"),
    ("chair-ride.period", "theta"),
    ("chair-ride.speed", "theta"),
    ("chair-ride.arm-length", "theta"),
    ("two-cords-on-a-post.speed", "theta"),
    ("between-two-speeds.range", "mu"),
    ("between-two-speeds.range", "r"),
    ("between-two-speeds.range", "theta"),
    ("cord-goes-taut.speed-after", "alpha"),
    ("cord-goes-taut.length", "alpha"),
}
# one of each way of being none, that over which the solver gives up soonest: others take it up to seven seconds
REFUSED = (
    ("between-two-speeds.range", "r"),
    ("chair-ride.speed", "theta"),
    ("cord-goes-taut.length", "alpha"),
    ("rough-bank-fast.friction", "theta"),
    ("rough-bank-slow.normal-force", "theta"),
    ("speeding-up-on-a-circle.total-after-a-time", "b"),
    ("two-cords-on-a-post.speed", "theta"),
)
assert set(REFUSED) < NOT_ON_A_BOARD
# an angle of which only the square of the cosine is known, below the centre or above it; and a circle keeps angular
# momentum and energy as well as an ellipse, with the farthest point as near as the nearest
TWO_VALUES = {
    ("pendulum-on-the-way-up.total-acceleration", "theta"),
    ("pendulum-on-the-way-up.net-force", "theta"),
    ("ellipse.nearest-speed", "r_a"),
    ("ellipse.nearest-speed", "r_p"),
    # of a small platform the body is soon nearly all of what turns, of a large one its rim is slow
    ("onto-a-platform.angular-speed", "r"),
    ("onto-a-platform.speed", "r"),
    ("onto-a-platform.moment-of-inertia", "r"),
    # the ratio of two speeds is great on a bank that is hardly steep enough, and on one that is nearly a wall
    ("between-two-speeds.maximum-from-minimum", "mu"),
    ("between-two-speeds.maximum-from-minimum", "theta"),
    ("cord-goes-taut.fraction", "alpha"),
}


def answered(found: SolvedQuestion, seed: int) -> Iterator[dict[str, float]]:
    """Random givens within the range of their draws, in SI and unrounded, with the answer of the closed form."""
    problem, question = found.problem, found.question
    closed, random = models.function(found.solution.closed_form), np.random.default_rng(seed)
    for _ in range(400):
        values = {"g": float(random.uniform(9.7, 9.9))}
        for name in (*question.given, *question.extra):
            spec = problem.spec(name, problem.scenes_of(question)[0])
            drawn = [float(each) * spec.unit.factor for each in spec.draw.values] if spec.draw else [6.674e-11]
            values[name] = float(random.uniform(min(drawn), max(drawn)))
        try:
            values[question.ask] = closed(values)
        except ValueError:
            continue  # a root or an angle that is not real: beyond what the situation allows
        if values[question.ask] > 0 or question.ask in found.system.signed:
            yield values


def back(found: SolvedQuestion, name: str, rows: list[dict[str, float]]) -> list[float]:
    """The given ``name`` found again from the other givens and the answer, by solving the same equations."""
    others = tuple(sorted({*found.question.given, found.question.ask} - {name}))
    system = system_of(found.problem, models.asking(found, name, others))
    samples = {each: np.array([row[each] for row in rows]) for each in system.known}
    again = models.function(solve(system, samples).closed_form)
    return [again(row) for row in rows]


@models.of_each(models.with_drafts)
def test_each_given_comes_back_from_the_answer_and_the_other_givens(name: str) -> None:
    found = models.shipped(name)
    rows = list(islice(answered(found, seed=11), 20))
    assert len(rows) == 20
    for symbol in sorted(found.solution.symbols - {"g"}):
        if (name, symbol) not in NOT_ON_A_BOARD | TWO_VALUES:
            assert back(found, symbol, rows) == pytest.approx([row[symbol] for row in rows], rel=1e-9)


@pytest.mark.parametrize(("name", "symbol"), REFUSED)
def test_what_has_no_closed_form_of_a_board_is_refused_and_not_guessed(name: str, symbol: str) -> None:
    found = models.shipped(name)
    rows = list(islice(answered(found, seed=11), 20))
    with pytest.raises(SolveError, match="can't be found from what is given"):
        back(found, symbol, rows)


@pytest.mark.parametrize(("name", "symbol"), sorted(TWO_VALUES))
def test_what_has_two_values_is_refused_and_not_guessed(name: str, symbol: str) -> None:
    found = models.shipped(name)
    rows = list(islice(answered(found, seed=11), 20))
    with pytest.raises(SolveError, match="has two admissible values"):
        back(found, symbol, rows)
