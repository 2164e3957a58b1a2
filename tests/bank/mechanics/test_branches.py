"""One small problem for each branch of the model, its closed form derived by hand; the derivation stands beside it.

All start from Newton's second law (OpenStax University Physics vol. 1, sections 6.3 and 13.4; vol. 2, section 11.3) and
energy over the lowest point of the circle (vol. 1, section 8.3), as the books have them, from memory.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin, sqrt, tan

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from turnwright.bank.mechanics import equations
from turnwright.bank.solving.solution import SolvedQuestion

from tests.bank import models

VERTICAL = "motion: {plane: vertical, radius: r, speed: v, tangential-acceleration: a_t}"
HELD = "motion: {plane: vertical, radius: r, speed: v}"
LEVEL = "motion: {plane: horizontal, radius: r, speed: v, period: T, angular-speed: omega}"
SPACE = "motion: {plane: space, radius: r, speed: v, period: T}"
OWN = "quantities: {u: m/s 2.3 4.1 6.6, N: N any, P: N any, a_t: m/s^2 any}"
PRESSED = OWN.replace("N: N any, ", "")  # what presses on friction only pushes
LOW = "low: {at: bottom, speed: u, P: inward}"
FALL = "{from: low, to: place}"
# values that leave every root real: u² > 4 g r, and μ tan θ < 1
VALUES = {
    "m": 0.7, "M": 2.3, "r": 0.4, "R": 0.9, "L": 1.2, "d": 0.3, "h": 4.7, "v": 3.1, "u": 6.6, "omega": 4.3, "T": 1.4,
    "F": 11.0, "mu": 0.43, "theta": 0.6, "q": 0.5, "B": 0.8, "G": 0.6, "g": 9.81, "N": 9.7, "P": 2.9,
}  # fmt: skip
Form = Callable[..., float]

# name: (diagrams and the rest, asked, given, limiting case, the closed form by hand)
BRANCHES: dict[str, tuple[str, str, str, str | None, Form]] = {
    # inward (down): N + m g = m v²/r
    "top": (f"{HELD}\ndiagrams: {{top: {{at: top, N: inward}}}}\n{OWN}",
            "N", "m r v", None, lambda m, r, v, g: m * v**2 / r - m * g),
    # the same with N = 0
    "top at the limit": (f"{HELD}\ndiagrams: {{top: {{at: top, N: inward}}}}\nholds: [N >= 0]\n{OWN}",
                         "v", "r", "N = 0", lambda r, g: sqrt(g * r)),
    # pushed outward, as on a crest: m g - N = m v²/r
    "top from outside": (f"{HELD}\ndiagrams: {{top: {{at: top, N: outward}}}}\n{OWN}",
                         "N", "m r v", None, lambda m, r, v, g: m * g - m * v**2 / r),
    # inward (up): N - m g = m v²/r
    "bottom": (f"{HELD}\ndiagrams: {{low: {{at: bottom, N: inward}}}}\n{OWN}",
               "N", "m r v", None, lambda m, r, v, g: m * g + m * v**2 / r),
    # inward is level, and the weight has no part along it: N = m v²/r
    "side": (f"{HELD}\ndiagrams: {{side: {{at: side, N: inward}}}}\n{OWN}",
             "N", "m r v", None, lambda m, r, v: m * v**2 / r),
    # at the side the way is straight up: F - m g = m a_t
    "side, along the way": (f"{VERTICAL}\ndiagrams: {{side: {{at: side, N: inward, F: forward}}}}\n{OWN}",
                            "a_t", "m F", None, lambda m, F, g: F / m - g),
    # at the side with a steady speed: F = m g
    "side, steady": (f"{HELD}\ndiagrams: {{side: {{at: side, N: inward, F: forward}}}}\n{OWN}",
                     "F", "m", None, lambda m, g: m * g),
    # θ from the bottom, the radius at θ to the vertical: N - m g cos θ = m v²/r
    "angle from the bottom": (
        f"{HELD}\ndiagrams: {{place: {{at: {{angle: theta, from: bottom}}, N: inward}}}}\n{OWN}",
        "N", "m r v theta", None, lambda m, r, v, theta, g: m * g * cos(theta) + m * v**2 / r),
    # rising from the bottom, the weight is against the motion: -m g sin θ = m a_t
    "angle from the bottom, along the way": (
        f"{VERTICAL}\ndiagrams: {{place: {{at: {{angle: theta, from: bottom}}, N: inward}}}}\n{OWN}",
        "a_t", "theta", None, lambda theta, g: -g * sin(theta)),
    # held steady by a force along the way: F = m g sin θ
    "angle from the bottom, steady": (
        f"{HELD}\ndiagrams: {{place: {{at: {{angle: theta, from: bottom}}, N: inward, F: forward}}}}\n{OWN}",
        "F", "m theta", None, lambda m, theta, g: m * g * sin(theta)),
    # θ from the top: N + m g cos θ = m v²/r
    "angle from the top": (
        f"{HELD}\ndiagrams: {{place: {{at: {{angle: theta, from: top}}, N: inward}}}}\n{OWN}",
        "N", "m r v theta", None, lambda m, r, v, theta, g: m * v**2 / r - m * g * cos(theta)),
    # sliding away from the top, the weight is with the motion: m g sin θ = m a_t
    "angle from the top, along the way": (
        f"{VERTICAL}\ndiagrams: {{place: {{at: {{angle: theta, from: top}}, N: outward}}}}\n{OWN}",
        "a_t", "theta", None, lambda theta, g: g * sin(theta)),
    # a body at rest: P - m g = 0
    "rest": (f"{HELD}\ndiagrams: {{still: {{at: rest, P: up}}}}\n{OWN}", "P", "m", None, lambda m, g: m * g),
    # a floor that turns: N - m g = 0 and F = m v²/r
    "level": (f"{LEVEL}\ndiagrams: {{floor: {{N: up, F: inward}}}}\n{OWN}",
              "F", "m r v", None, lambda m, r, v: m * v**2 / r),
    # F = μ N = μ m g is all there is: v² = μ g r
    "level with friction": (
        f"{LEVEL}\ndiagrams: {{floor: {{N: up, F: inward}}}}\nholds: [F <= mu*N]\n{PRESSED}",
        "v", "r mu", "F = mu*N", lambda r, mu, g: sqrt(mu * g * r)),
    # against a wall: N = m ω² r, F = m g, F = μ N, so ω² = g/(μ r)
    "wall with friction": (
        f"{LEVEL}\ndiagrams: {{wall: {{N: inward, F: up}}}}\nholds: [F <= mu*N]\n{PRESSED}",
        "omega", "r mu", "F = mu*N", lambda r, mu, g: sqrt(g / (mu * r))),
    # N cos θ = m g and N sin θ = m v²/r, so tan θ = v²/(g r)
    "tilt": (
        f"{LEVEL}\ndiagrams: {{bank: {{tilt: theta, N: {{inward: sin(theta), up: cos(theta)}}}}}}\n{OWN}",
        "v", "r theta", None, lambda r, theta, g: sqrt(g * r * tan(theta))),
    # the same upright: N = m g/cos θ
    "tilt, upright": (
        f"{LEVEL}\ndiagrams: {{bank: {{tilt: theta, N: {{inward: sin(theta), up: cos(theta)}}}}}}\n{OWN}",
        "N", "m theta", None, lambda m, theta, g: m * g / cos(theta)),
    # friction down the bank: N sin θ + μ N cos θ = m v²/r, N cos θ - μ N sin θ = m g; divide
    "tilt with friction": (
        f"{LEVEL}\ndiagrams: {{bank: {{tilt: theta, N: {{inward: sin(theta), up: cos(theta)}}, "
        f"F: {{inward: cos(theta), up: -sin(theta)}}}}}}\nholds: [F <= mu*N]\n{PRESSED}",
        "v", "r theta mu", "F = mu*N",
        lambda r, theta, mu, g: sqrt(g * r * (tan(theta) + mu) / (1 - mu * tan(theta)))),
    # F = m v²/r on the puck and F = P = M g on the load at rest below it: see the relation
    "two bodies": (
        f"{LEVEL}\ndiagrams: {{puck: {{N: up, F: inward}}, load: {{at: rest, mass: M, P: up}}}}\n"
        f"relations: [F = P]\n{OWN}",
        "v", "m M r", None, lambda m, M, r, g: sqrt(M * g * r / m)),
    # G M m/r² = m v²/r
    "space, gravitation": (f"{SPACE}\ndiagrams: {{away: {{gravitation: M}}}}\n{OWN}",
                           "v", "G M r", None, lambda G, M, r: sqrt(G * M / r)),
    # and v = 2 π r/T: Kepler's third law
    "space, gravitation, turning": (f"{SPACE}\ndiagrams: {{away: {{gravitation: M}}}}\n{OWN}",
                                    "T", "G M r", None, lambda G, M, r: 2 * pi * sqrt(r**3 / (G * M))),
    # q v B = m v²/r
    "space, magnetic": (f"{SPACE}\ndiagrams: {{away: {{magnetic: [q, B]}}}}\n{OWN}",
                        "r", "m v q B", None, lambda m, v, q, B: m * v / (q * B)),
    # and v = 2 π r/T, where the speed cancels: the cyclotron period
    "space, magnetic, turning": (f"{SPACE}\ndiagrams: {{away: {{magnetic: [q, B]}}}}\n{OWN}",
                                 "T", "m q B", None, lambda m, q, B: 2 * pi * m / (q * B)),
    # a force without a law: F = m ω² r = 4 π² m r/T²
    "space, turning": (f"{SPACE}\ndiagrams: {{away: {{weight: none, F: inward}}}}\n{OWN}",
                       "F", "m r T", None, lambda m, r, T: 4 * pi**2 * m * r / T**2),
    # from the bottom up to the top: m u²/2 = m v²/2 + 2 m g r
    "energy to the top": (f"{HELD}\ndiagrams: {{{LOW}, place: {{at: top, N: inward}}}}\nenergy: [{FALL}]\n{OWN}",
                          "v", "r u", None, lambda r, u, g: sqrt(u**2 - 4 * g * r)),
    # from the bottom up to the height of the centre: m u²/2 = m v²/2 + m g r
    "energy to the side": (f"{HELD}\ndiagrams: {{{LOW}, place: {{at: side, N: inward}}}}\nenergy: [{FALL}]\n{OWN}",
                           "v", "r u", None, lambda r, u, g: sqrt(u**2 - 2 * g * r)),
    # and with N = m v²/r there
    "energy to the side, force": (
        f"{HELD}\ndiagrams: {{{LOW}, place: {{at: side, N: inward}}}}\nenergy: [{FALL}]\n{OWN}",
        "N", "m r u", None, lambda m, r, u, g: m * u**2 / r - 2 * m * g),
    # a diagram with a radius of its own lies by that much above the lowest point: m g h = m v²/2 + m g R
    "energy to the side of another circle": (
        f"{HELD}\ndiagrams: {{place: {{at: side, radius: R, N: inward}}}}\n"
        f"energy: [{{from: {{height: h, speed: 0}}, to: place}}]\n{OWN}",
        "v", "R h", None, lambda R, h, g: sqrt(2 * g * (h - R))),
    # θ from the bottom is r - r cos θ up: m u²/2 = m v²/2 + m g r (1 - cos θ)
    "energy to an angle from the bottom": (
        f"{HELD}\ndiagrams: {{{LOW}, place: {{at: {{angle: theta, from: bottom}}, N: inward}}}}\n"
        f"energy: [{FALL}]\n{OWN}",
        "v", "r u theta", None, lambda r, u, theta, g: sqrt(u**2 - 2 * g * r * (1 - cos(theta)))),
    # θ from the top is r + r cos θ up: m u²/2 = m v²/2 + m g r (1 + cos θ)
    "energy to an angle from the top": (
        f"{HELD}\ndiagrams: {{{LOW}, place: {{at: {{angle: theta, from: top}}, N: inward}}}}\n"
        f"energy: [{FALL}]\n{OWN}",
        "v", "r u theta", None, lambda r, u, theta, g: sqrt(u**2 - 2 * g * r * (1 + cos(theta)))),
    # from rest at a height h over the lowest point: m g h = m v²/2
    "energy from a height": (
        f"{HELD}\ndiagrams: {{place: {{at: bottom, N: inward}}}}\n"
        f"energy: [{{from: {{height: h, speed: 0}}, to: place}}]\n{OWN}",
        "v", "h", None, lambda h, g: sqrt(2 * g * h)),
    # with a speed at the start: m u²/2 + m g h = m v²/2
    "energy from a height with a speed": (
        f"{HELD}\ndiagrams: {{place: {{at: bottom, N: inward}}}}\n"
        f"energy: [{{from: {{height: h, speed: u}}, to: place}}]\n{OWN}",
        "v", "h u", None, lambda h, u, g: sqrt(u**2 + 2 * g * h)),
}  # fmt: skip


def solved(name: str) -> SolvedQuestion:
    text, ask, given, limiting, _ = BRANCHES[name]
    return models.solved(text, ask, given, limiting)


def by_the_bank(found: SolvedQuestion) -> float:
    return models.function(found.solution.closed_form)(VALUES)


def by_hand(name: str) -> float:
    form = BRANCHES[name][-1]
    code = form.__code__
    return form(**{each: VALUES[each] for each in code.co_varnames[: code.co_argcount]})


@pytest.mark.parametrize("name", BRANCHES)
def test_a_small_problem_has_the_closed_form_of_its_derivation(name: str) -> None:
    assert by_the_bank(solved(name)) == pytest.approx(by_hand(name), rel=1e-12)


def speed_after_rising(speed: float, radius: float, turned: float) -> float:
    """The speed of a body on a smooth circle that has turned by an angle from the bottom, by integrating its motion.

    The only force along the way is the part of the weight: r θ'' = -g sin θ.
    """

    def motion(_: float, state: tuple[float, float]) -> list[float]:
        return [state[1], -VALUES["g"] * sin(state[0]) / radius]

    def there(_: float, state: tuple[float, float]) -> float:
        return state[0] - turned

    there.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(motion, (0, 60), [0, speed / radius], events=there, method="DOP853", rtol=1e-11, atol=1e-12)
    assert len(found.t_events[0]) == 1
    return float(abs(found.y[1, -1]) * radius)


@pytest.mark.parametrize(
    ("name", "turned"),
    [
        ("energy to the top", np.pi),
        ("energy to the side", np.pi / 2),
        ("energy to an angle from the bottom", VALUES["theta"]),
        ("energy to an angle from the top", np.pi - VALUES["theta"]),
    ],
)
def test_energy_gives_the_speed_of_the_motion_at_every_place(name: str, turned: float) -> None:
    moved = speed_after_rising(VALUES["u"], VALUES["r"], turned)
    assert by_the_bank(solved(name)) == pytest.approx(moved, rel=1e-8)


def test_another_height_of_the_side_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the side of the circle counted as its lowest point."""
    import sympy

    honest = equations._height

    def planted(problem: object, diagram: object, *more: object) -> sympy.Expr:
        return sympy.Integer(0) if getattr(diagram, "spot", "") == "side" else honest(problem, diagram, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(equations, "_height", planted)
    text, ask, given, _, _ = BRANCHES["energy to the side"]
    made = models.problem(text, one={"ask": ask, "given": given.split()})
    found = models.solve_question(made, made.questions[0])
    assert by_the_bank(found) != pytest.approx(by_hand("energy to the side"), rel=1e-3)
