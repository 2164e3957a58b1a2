"""Published, tabled and hand-derived answers, each found by a question of the bank through the solver."""

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

CASES = Path(__file__).parents[2] / "cases"
USUAL = {
    "mass": "m", "radius": "r", "speed": "v", "angle": "theta", "friction-coefficient": "mu",
    "angular-speed": "omega", "period": "T", "acceleration": "a", "length": "L", "central-mass": "M", "G": "G",
    "height": "h", "planet-radius": "R", "hanging-mass": "M", "number-of-g": "n", "arm": "d", "g": "g",
    "diameter": "d", "circumference": "C", "turns": "k", "duration": "t",
}  # fmt: skip
# values that need a quantity which no problem of the bank has; the kinematics of a mere unit is tested by test_unit
NOT_ASKED = {
    "hand-side-net": "no problem asks for the total force",
    "astronaut_cage_angle": "its acceleration is in multiples of g, which no conical pendulum of the bank has",
}


@dataclass(frozen=True)
class Home:
    """Where a situation lives in the bank: the problem, its symbol for some roles, its limiting case."""

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
    "satellite": Home("satellite"),
    "kinematics": Home("going-round"),
}


def cases(name: str, part: str = "cases") -> list[dict[str, Any]]:
    """The cases of one file."""
    return list(yaml.safe_load((CASES / f"{name}.yaml").read_text("utf-8"))[part])


@cache
def bank() -> dict[str, Problem]:
    """The shipped bank by problem."""
    return {problem.id: problem for problem in read_bank()}


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
