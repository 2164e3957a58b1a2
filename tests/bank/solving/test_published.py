"""Published, tabled and hand-derived answers, each found by a question of the bank or of a draft through the solver."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from turnwright.bank.mechanics.equations import system_of
from turnwright.bank.model.evaluation import evaluate
from turnwright.bank.model.expression import parse_relation
from turnwright.bank.model.problem import Problem
from turnwright.bank.quantities.quantity import from_float, half_unit, round_figures
from turnwright.bank.quantities.units import unit
from turnwright.bank.reading.files import read_bank
from turnwright.bank.solving.solution import solve

from tests.bank import models

CASES = Path(__file__).parents[2] / "cases"
USUAL = {
    "mass": "m", "radius": "r", "speed": "v", "angle": "theta", "friction-coefficient": "mu",
    "angular-speed": "omega", "period": "T", "acceleration": "a", "length": "L", "central-mass": "M", "G": "G",
    "height": "h", "planet-radius": "R", "hanging-mass": "M", "number-of-g": "n", "arm": "d", "g": "g",
    "diameter": "d", "circumference": "C", "turns": "k", "duration": "t", "charge": "q", "flux-density": "B",
    "voltage": "U", "kinetic-energy": "K", "frequency": "f", "angular-momentum": "L",
    "initial-angular-speed": "omega_0",
    "angular-acceleration": "alpha", "angular-deceleration": "alpha", "angle-turned": "theta", "distance": "s",
    "revolutions": "n", "tangential-acceleration": "b", "total-acceleration": "A", "angle-from-radius": "phi",
}  # fmt: skip
# values that need a quantity which no problem of the bank has; the kinematics of a mere unit is tested by test_unit
NOT_ASKED = {
    "hand-side-net": "no problem asks for the total force",
    "astronaut_cage_angle": "its acceleration is in multiples of g, which no conical pendulum of the bank has",
}


@dataclass(frozen=True)
class Home:
    """Where a situation lives in the bank or its drafts: the problem, its symbol for some roles, its limiting case."""

    problem: str
    symbols: dict[str, str] = field(default_factory=dict)
    limit: str = ""


HOMES = {
    "vertical-top": Home("over-the-top", {"contact-force": "N"}, "N = 0"),
    "vertical-bottom": Home("through-the-bottom", {"contact-force": "N"}),
    "vertical-side": Home("level-with-the-centre", {"contact-force": "N"}),
    "vertical-angle": Home("round-the-circle", {"contact-force": "N"}),
    "crest": Home("over-the-crest", {"contact-force": "N"}, "N = 0"),
    "dip": Home("through-the-dip", {"contact-force": "N"}),
    "big-wheel": Home("big-wheel", {"top": "F_top", "bottom": "F_bottom", "bottom-minus-top": "D"}),
    "loop-energy track": Home("loop-from-a-ramp", {}, "N_top = 0"),
    "loop-energy cord": Home("over-on-a-cord", {"speed": "v_bottom", "bottom": "F_bottom"}, "F_top = 0"),
    "loop-energy rod": Home("over-on-a-rod", {"speed": "v_bottom"}, "v_top = 0"),
    "flat-curve": Home("flat-bend", {"contact-force": "f"}, "f = mu*N"),
    "bank-smooth": Home("smooth-bank"),
    "bank-rough down-slope": Home("rough-bank-fast", {}, "f = mu*N"),
    "bank-rough up-slope": Home("rough-bank-slow", {}, "f = mu*N"),
    "conical-pendulum": Home("conical-pendulum", {"contact-force": "F"}),
    "chair-ride": Home("chair-ride"),
    "wall-ride": Home("wall-ride", {}, "f = mu*N"),
    "turntable": Home("on-a-turntable", {"contact-force": "f"}, "f = mu*N"),
    "hanging-load": Home("cord-through-a-hole"),
    "inside-cone": Home("inside-a-cone"),
    "inside-bowl": Home("inside-a-bowl", {"bowl-radius": "R", "contact-force": "N"}),
    "lean": Home("leaning-into-a-bend", {"contact-force": "F"}, "f = mu*N"),
    "raised-rail": Home("raised-outer-rail", {"rail-height": "e", "rail-distance": "w"}),
    "two-cords": Home(
        "two-cords-on-a-post", {"between-points": "D", "upper-tension": "F_1", "lower-tension": "F_2"}, "F_2 = 0"
    ),
    "hammer": Home("hammer-on-a-wire", {"contact-force": "F"}),
    "through-bowl": Home("through-a-bowl", {"contact-force": "N"}),
    "peg": Home(
        "peg-under-a-pendulum",
        {"peg-distance": "d", "top-tension": "F_top", "bottom-tension": "F_bottom"},
        "F_top = 0",
    ),
    "pendulum": Home(
        "pendulum-on-the-way-up", {"release-angle": "theta_0", "contact-force": "F", "total-acceleration": "A"}
    ),
    "satellite": Home("satellite"),
    "kinematics": Home("going-round"),
    "angular-momentum": Home("angular-momentum"),
    "cord-pulled-in": Home(
        "cord-pulled-in",
        {
            "radius": "r_1",
            "other-radius": "r_2",
            "speed": "v_1",
            "other-force": "F_2",
            "work": "W",
            "ratio-of-forces": "n",
        },
    ),
    "orbit-energy": Home("energy-of-an-orbit", {"potential-energy": "W", "total-energy": "E", "escape-speed": "u"}),
    "orbit-change": Home("change-of-orbit", {"radius": "r_1", "other-radius": "r_2", "energy-needed": "D"}),
    "two-orbits": Home(
        "two-orbits",
        {
            "ratio-of-speeds": "s",
            "ratio-of-radii": "n",
            "ratio-of-periods": "k",
            "radius": "r_1",
            "other-radius": "r_2",
            "period": "T_1",
            "other-period": "T_2",
        },
    ),
    "ellipse": Home("ellipse", {"nearest": "r_p", "farthest": "r_a", "nearest-speed": "v_p"}),
    "magnetic-circle": Home("charged-particle"),
    "accelerating-voltage": Home("accelerating-voltage"),
    "cyclotron": Home("cyclotron", {"turns": "n"}),
    "spectrometer": Home(
        "isotopes",
        {
            "electric-field": "E",
            "selector-field": "B_s",
            "mass": "m_1",
            "other-mass": "m_2",
            "radius": "r_1",
            "separation": "s",
        },
    ),
    "helix": Home("helix", {"pitch": "p"}),
    "electric": Home("charge-round-a-charge", {"coulomb": "k", "other-charge": "Q"}),
    "two-bodies": Home(
        "two-stars", {"mass": "m_1", "other-mass": "m_2", "distance": "d", "force": "F", "speed": "v_1"}
    ),
    "rotation-and-orbit": Home(
        "spin-and-orbit",
        {
            "body-radius": "R",
            "period-of-rotation": "T_s",
            "rotations": "n",
            "rotational-angular-momentum": "L_s",
            "ratio-of-angular-momenta": "k",
        },
    ),
    "round-the-sun": Home(
        "round-the-sun",
        {
            "nearest": "r_p",
            "farthest": "r_a",
            "semi-major-axis": "a",
            "period-of-the-earth": "T_E",
            "axis-of-the-earth": "a_E",
        },
    ),
    "masses-compared": Home(
        "masses-compared",
        {"radius": "r_1", "other-radius": "r_2", "period": "T_1", "other-period": "T_2", "ratio-of-masses": "k"},
    ),
    "beam-turned": Home("beam-turned"),
    "same-momentum": Home(
        "same-momentum",
        {
            "mass": "m_1",
            "other-mass": "m_2",
            "speed": "v_1",
            "other-speed": "v_2",
            "ratio-of-charges": "n",
            "ratio-of-radii": "k",
        },
    ),
    "coupled-discs": Home("coupled-discs", {"initial-angular-speed": "omega_1", "ratio-of-inertias": "k"}),
    "onto-a-platform": Home("onto-a-platform", {"moment-of-inertia": "J"}),
    "to-the-middle": Home(
        "to-the-middle",
        {"disc-mass": "M", "staying-mass": "m_1", "initial-angular-speed": "omega_1", "final-angular-speed": "omega_2"},
    ),
    "drawn-together": Home(
        "drawn-together",
        {"initial-radius": "R_1", "final-radius": "R_2", "period": "T_1", "final-angular-speed": "omega_2"},
    ),
    "teeth": Home("teeth-that-pass", {"signals": "f", "signals-in-a-revolution": "k"}),
    "loop-with-a-loss": Home("loop-with-a-loss", {"loss": "W", "lost-fraction": "p"}, "N = 0"),
    "bank-range": Home("between-two-speeds", {"lowest-speed": "v_1", "highest-speed": "v_2", "range": "D"}),
    "hump-after-a-dip": Home("hump-after-a-dip", {"hump-radius": "r_2", "dip-speed": "v_1"}, "N_2 = 0"),
    "cord-goes-taut": Home("cord-goes-taut", {"angle": "alpha", "contact-force": "F"}),
    "belt-with-slip": Home(
        "belt-with-slip",
        {
            "first-diameter": "d_1",
            "second-diameter": "d_2",
            "initial-angular-speed": "omega_1",
            "angular-speed": "omega_2",
            "slip": "s",
        },
    ),
    "towards-each-other": Home("towards-each-other", {"speed": "v_1", "other-speed": "v_2"}),
    "governor": Home("governor", {"collar-mass": "M"}),
    "inside-a-ball": Home("inside-a-ball"),
    "crossed-fields": Home("crossed-fields", {"electric-field": "E"}),
    "charged-pendulum": Home("charged-pendulum", {"magnetic-force": "F_B", "magnetic-acceleration": "b"}),
    "rod": Home("rod-on-a-hinge"),
    "push": Home("on-another-world", {"ratio-of-fields": "k", "height-elsewhere": "H", "kinetic-energy": "K"}),
    "swing": Home("swing-from-an-angle", {"length": "r", "release-angle": "theta_0"}),
    "spin-up": Home("spin-up-from-rest"),
    "braking": Home("braking-to-rest"),
    "change-of-speed": Home("change-of-angular-speed"),
    "starting-disc": Home("point-on-a-starting-disc"),
    "rolling-from-rest": Home("rolling-from-rest"),
    "arc": Home("along-an-arc"),
    "rolling": Home("rolling-along"),
    "changing-speed": Home("speeding-up-on-a-circle"),
}


def cases(name: str, part: str = "cases") -> list[dict[str, Any]]:
    """The cases of one file."""
    return list(yaml.safe_load((CASES / f"{name}.yaml").read_text("utf-8"))[part])


@cache
def bank() -> dict[str, Problem]:
    """The shipped bank and the drafts beside it, by problem."""
    return {problem.id: problem for problem in (*read_bank(), *models.drafts())}


def home_of(case: dict[str, Any]) -> Home:
    return HOMES[" ".join(filter(None, (case["situation"], case.get("held-by"), case.get("friction"))))]


def symbol_of(home: Home, ask: dict[str, Any]) -> str:
    role, which = ask["role"], ask.get("which", "")
    return home.symbols.get(which) or home.symbols.get(role) or USUAL[role]


def answer(case: dict[str, Any]) -> float:
    """The asked quantity in the unit of the case, through a question of the bank with other givens."""
    home, ask = home_of(case), case["ask"]
    values = {
        home.symbols.get(role) or USUAL[role]: each for role, each in case["given"].items() if not is_edge(role, each)
    }
    at_edge = len(values) < len(case["given"]) or ask.get("which") in ("greatest", "least", "bottom")
    si = {name: float(each["value"]) * factor(each["unit"]) for name, each in values.items()}
    problem = bank()[home.problem]
    limiting = parse_relation(home.limit) if home.limit and at_edge else None
    question = replace(problem.questions[0], ask=symbol_of(home, ask), given=tuple(si), extra=(), limiting=limiting)
    system = system_of(problem, question)
    return float(evaluate(solve(system, {"g": 9.8, **si}).closed_form, {"g": 9.8, **si})) / factor(ask["unit"])


def is_edge(role: str, value: dict[str, Any]) -> bool:
    return role == "contact-force" and float(value["value"]) == 0


def factor(symbol: str) -> float:
    return unit(symbol).factor


def everything() -> list[Any]:
    found = [case for name in ("published", "handbook", "by_hand") for case in cases(name)]
    return [
        pytest.param(case, id=case["id"])
        for case in found
        if not case.get("conversion") and case["id"] not in NOT_ASKED
    ]


@pytest.mark.parametrize("case", everything())
def test_the_bank_agrees_with_the_printed_figures(case: dict[str, Any]) -> None:
    found, ask = answer(case), case["ask"]
    published = Decimal(ask["published"])
    if "tolerance" in case:
        width = case["tolerance"].get("abs") or case["tolerance"]["rel"] * abs(float(published))
    else:
        one = 2 * float(half_unit(published, ask["figures"]))
        width = one * (1.5 if case.get("one_unit") else 0.5)
    assert abs(found - float(published)) <= width * (1 + 1e-9), (found, published)


@pytest.mark.parametrize("case", [pytest.param(case, id=case["id"]) for case in cases("handbook", "road_design")])
def test_road_tables_differ_by_their_small_slope_form_only(case: dict[str, Any]) -> None:
    found, published = answer(case), float(case["ask"]["published"])
    assert 0 < 100 * (published - found) / published <= case["within_percent"]


def test_nearly_all_cases_are_checked_and_the_rest_is_named() -> None:
    every = [case["id"] for name in ("published", "handbook", "by_hand") for case in cases(name)]
    conversions = [case["id"] for name in ("published", "handbook") for case in cases(name) if case.get("conversion")]
    assert len(everything()) == len(every) - len(conversions) - len(NOT_ASKED)
    assert len(everything()) >= 130
    assert len(conversions) == 3


def test_unit_conversions_are_those_of_the_books() -> None:
    for case in (case for name in ("published", "handbook") for case in cases(name) if case.get("conversion")):
        (given,) = case["given"].values()
        found = from_float(float(given["value"]) * factor(given["unit"]) / factor(case["ask"]["unit"]))
        assert round_figures(found, case["ask"]["figures"]) == Decimal(case["ask"]["published"])
