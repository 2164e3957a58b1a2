"""Problems from compact text, the shipped questions, and the test's own arithmetic on formulas and equations.

In the compact text a diagram holds only what matters: ``top: {at: top, N: inward}`` is a body of mass m at the top,
with its weight and a force N towards the centre. Units and values come from ``QUANTITIES`` by symbol.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import cache, partial
from pathlib import Path
from typing import Any

import numpy as np
import pint
import sympy
import yaml
from scipy.optimize import least_squares
from turnwright.bank.documents.document import parse_document
from turnwright.bank.item import formula
from turnwright.bank.item.item import Item
from turnwright.bank.mechanics.equations import Equation, System
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.model.problem import Problem, Question
from turnwright.bank.questions.choice import ChoicePool
from turnwright.bank.questions.item_model import ItemModel
from turnwright.bank.questions.kinds import Kind
from turnwright.bank.questions.of_question import QuestionModels, questions_of
from turnwright.bank.questions.selection import all_questions, models_of, question_id
from turnwright.bank.questions.stepwise import Steps
from turnwright.bank.reading.files import problem_files, problem_of, read_bank
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_question
from turnwright.bank.solving.solution import SolvedQuestion, solve_question
from turnwright.bank.thinking.distractors import Diagnosis, WrongAnswer, diagnosis
from turnwright.bank.variants.variant import Variant, VariantPool

QUANTITIES = {
    "m": "kg 0.3 0.7 1.9", "M": "kg 0.9 1.3 2.3", "r": "m 0.4 0.9 1.7", "R": "m 0.6 1.1 2.1", "L": "m 0.7 1.2 2.2",
    "d": "m 0.2 0.6 1.4", "h": "m 2.3 4.7 8.9", "v": "m/s 3.1 5.3 8.6", "omega": "rad/s 2.7 4.3 6.1",
    "T": "s 0.8 1.4 2.6", "f": "Hz 0.4 0.9 1.6", "a": "m/s^2 3.3 6.7 12", "a_t": "m/s^2 2.1 4.4 7.3",
    "N": "N 4.3 9.7 21", "F": "N 3.7 11 26", "P": "N 1.3 2.9 5.3", "mu": "1 0.21 0.43 0.57", "k": "1 1.3 2.7 4.2",
    "theta": "deg 24 37 53", "alpha": "deg 61 72 83", "q": "C 0.2 0.5 0.9", "B": "T 0.3 0.8 1.4",
    "G": "N*m^2/kg^2 0.3 0.6 0.9",
}  # fmt: skip
GRAVITY = Decimal("9.8")
DRAFTS = Path(__file__).parents[2] / "bank" / "drafts"
NOTHING = 1e-8  # a gap between two sides that rounding explains, as a share of their terms
_EXACT = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}
_TURNS = (sympy.sin, sympy.cos, sympy.tan)
_OF_DIAGRAM = ("at", "tilt", "speed", "radius", "mass", "surface")
_FIXED = {"version": 1, "title": "A model", "family": "kinematics", "level": "algebra", "licence": "CC0-1.0"}


# --- problems from compact text ---------------------------------------------------------------


def problem(text: str, **questions: Mapping[str, Any]) -> Problem:
    """The problem of a compact text, read by the bank's own reader; AssertionError with its faults if it has any."""
    short = yaml.safe_load(text)
    diagrams = {name: _diagram(each, _Kinds(short)) for name, each in short.get("diagrams", {}).items()}
    forces = {role: force for each in diagrams.values() for role, force in each["forces"].items() if role != "weight"}
    data = {
        **_FIXED,
        "id": "a-model",
        "objectives": ["a-model"],
        "motion": short["motion"],
        **({"diagrams": diagrams} if diagrams else {}),
        "relations": [{"equation": each, "because": "so it is"} for each in short.get("relations", [])],
        "energy": [{**each, "because": "so it is"} for each in short.get("energy", [])],
        "holds": [{"that": each, "because": "so it is"} for each in short.get("holds", [])],
        "scenes": {"plain": _scene(forces)},
        "questions": {name.replace("_", "-"): _question(each) for name, each in questions.items()},
    }
    data["quantities"] = _quantities(json.dumps(data), short.get("quantities", {}))
    document = parse_document(json.dumps(data).encode(), "a-model.yaml")
    found = problem_of(document)
    assert found, "\n".join(map(str, document.faults))
    return found


@cache
def solved(text: str, ask: str, given: str, limiting: str | None = None) -> SolvedQuestion:
    """The question of a compact text, solved once a run: ``given`` holds symbols between blanks."""
    edge = {"limiting": limiting} if limiting else {}
    made = problem(text, one={"ask": ask, "given": given.split(), **edge})
    return solve_question(made, made.questions[0])


def _diagram(short: Mapping[str, Any], kinds: _Kinds) -> dict[str, Any]:
    forces: dict[str, Any] = {} if {"gravitation", "magnetic"} & set(short) else {"weight": {}}
    for symbol, along in short.items():
        if symbol == "gravitation":
            forces["gravitation"] = {"law": "gravitation", "centre-mass": along}
        elif symbol == "magnetic":
            forces["magnetic"] = {"law": "magnetic", "charge": along[0], "field": along[1]}
        elif symbol not in _OF_DIAGRAM and symbol != "weight":
            way = {"toward": along} if isinstance(along, str) else {"components": along}
            forces["force-" + symbol.lower().replace("_", "-")] = {
                "kind": kinds.of(symbol),
                "symbol": symbol,
                **way,
            }
    if short.get("weight") == "none":
        del forces["weight"]
    return {"body": "load", "mass": "m", **{key: short[key] for key in _OF_DIAGRAM if key in short}, "forces": forces}


class _Kinds:
    """The kinds that a compact text states under ``kinds``, and those that follow from ``f <= mu*N``."""

    def __init__(self, short: Mapping[str, Any]) -> None:
        ceilings = [each.split(" <= mu*") for each in short.get("holds", []) if " <= mu*" in each]
        self.known = {name: kind for each in ceilings for name, kind in zip(each, ("friction", "normal"), strict=True)}
        self.known |= short.get("kinds", {})

    def of(self, symbol: str) -> str:
        """The kind of a force; one that is not known may point either way."""
        return self.known.get(symbol, "support")


def _scene(forces: Iterable[str]) -> dict[str, Any]:
    words = {role: {"name": role, "by": "the cord", "acts": "holds"} for role in forces}
    return {"story": "A story.", "words": {"load": "a load"}, "forces": words}


def _question(short: Mapping[str, Any]) -> dict[str, Any]:
    printed = " ".join(f"{{{name}}}" for name in (*short["given"], *short.get("extra", ())))
    return {"title": "A question", "stem": f"Given {printed}, how much is it?", **short}


def _quantities(text: str, own: Mapping[str, str]) -> dict[str, Any]:
    names = set(re.findall(r"[A-Za-z]\w*", text))
    return {name: _quantity({**QUANTITIES, **own}[name]) for name in names & {*QUANTITIES, *own}}


def _quantity(text: str) -> dict[str, Any]:
    """``m/s 3.1 5.3`` is drawn from 3.1 and 5.3; ``N any 3 5`` may also be negative."""
    symbol, *values = text.split()
    signed = "any" in values
    draw = [float(each) for each in values if each != "any"]
    plausible = {"from": -1e9 if signed else 1e-9, "to": 1e9}
    drawn = {"draw": draw} if draw else {}
    return {"unit": symbol, "plausible": plausible, **drawn, **({"sign": "any"} if signed else {})}


# --- shipped questions ------------------------------------------------------------------------


@cache
def shipped_ids() -> tuple[str, ...]:
    """The ids of all shipped questions, in file order."""
    return tuple(_by_id())


@cache
def _by_id() -> dict[str, tuple[Problem, Question]]:
    return {question_id(*each): each for each in all_questions(read_bank())}


@cache
def with_drafts() -> tuple[str, ...]:
    """The ids of all shipped questions and of those of the drafts, which no test of the whole bank walks."""
    assert not _by_id().keys() & _drafted().keys()
    return (*_by_id(), *_drafted())


@cache
def _drafted() -> dict[str, tuple[Problem, Question]]:
    return {question_id(*each): each for each in all_questions(drafts())}


def of_each(names: Callable[[], Iterable[str]]) -> Callable[[Callable[[str], None]], Callable[[], None]]:
    """A check of a question as one test of all of these; it fails with the first that fails, and names them all.

    A test of its own for each would take longer to be told than to run.
    """

    def made(check: Callable[[str], None]) -> Callable[[], None]:
        def test() -> None:
            failed: dict[str, Exception] = {}
            for name in names():
                try:
                    check(name)
                except Exception as error:
                    failed[name] = error
            for first in failed.values():
                first.add_note(f"{check.__name__} fails for {len(failed)}: {', '.join(failed)}")
                raise first

        test.__name__, test.__doc__, test.__module__ = check.__name__, check.__doc__, check.__module__
        return test

    return made


@cache
def drafts() -> tuple[Problem, ...]:
    """The problems that are written, but not yet read by a second reader: in the checkout only."""
    return read_bank(problem_files([DRAFTS]))


@cache
def shipped(name: str) -> SolvedQuestion:
    """A shipped question, or else one of the drafts, solved or out of the cache."""
    return solved_question(*(_by_id().get(name) or _drafted()[name]))


@cache
def questions() -> tuple[QuestionModels, ...]:
    """The shipped questions in their kinds. What they make stays with them: who plants a fault makes others."""
    return tuple(questions_of(shipped(name), shipped_mistakes()) for name in shipped_ids())


def steps(name: str) -> Steps:
    """The steps before the number of a shipped question, as its stepwise items have them."""
    return _questions_by_id()[name].steps


@cache
def _questions_by_id() -> dict[str, QuestionModels]:
    return dict(zip(shipped_ids(), questions(), strict=True))


@cache
def shipped_problems() -> dict[str, Problem]:
    """The shipped problems by their ids."""
    return {shipped(name).problem.id: shipped(name).problem for name in shipped_ids()}


@cache
def mistakes() -> dict[str, Mistake]:
    """The mistakes of the catalogue and those of the shipped problems and the drafts, by id."""
    of_problems = (each for problem in (*read_bank(), *drafts()) for each in problem.mistakes)
    return {each.id: each for each in (*shipped_mistakes(), *of_problems)}


def asked(kind: Kind, step: int = 1) -> tuple[ItemModel, ...]:
    """The item models of one kind, of the whole bank or of each ``step``-th question."""
    return _asked(kind, step)


@cache  # which tells arguments by name from those by place, and those left out from both
def _asked(kind: Kind, step: int) -> tuple[ItemModel, ...]:
    whole = questions()[::step]
    return tuple(models_of(whole, (kind,), tuple(shipped_problems().values())))


def drawn(kind: Kind, seed: int = 1, step: int = 1) -> tuple[tuple[ItemModel, Item], ...]:
    """Their items with their models: one in each scene, of stepwise questions three variants."""
    return _drawn(kind, seed, step)


@cache
def _drawn(kind: Kind, seed: int, step: int) -> tuple[tuple[ItemModel, Item], ...]:
    wanted = 3 if kind == "stepwise" else 9
    return tuple((model, item) for model in _asked(kind, step) for item in model.draw(wanted, GRAVITY, seed))


def asking(known: SolvedQuestion, ask: str, given: tuple[str, ...]) -> Question:
    """The question of another unknown about the same situation; what was not needed before stays unneeded."""
    return replace(known.question, ask=ask, given=given, extra=())


@cache
def diagnosed(name: str) -> Diagnosis:
    """A shipped question with the mistakes of the catalogue solved for it."""
    return diagnosis(shipped(name), shipped_mistakes())


def choices(name: str, wanted: int, seed: int = 1) -> list[tuple[Variant, tuple[WrongAnswer, ...]]]:
    """Choice variants of a shipped question, each with its wrong options."""
    return list(ChoicePool(diagnosed(name), VariantPool(shipped(name), GRAVITY)).draw(wanted, seed))


# --- numbers as printed -----------------------------------------------------------------------

_PRINTED = re.compile(r"(?P<sign>−?)(?P<digits>[0-9]+(\.[0-9]+)?)( × 10(?P<power>[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+))?")
_PLAIN = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")


def number(text: str) -> float:
    """The number that a reader sees: ``0.850``, ``−3.20``, ``5.972 × 10²⁴``."""
    match = _PRINTED.fullmatch(text)
    assert match, text
    power = (match["power"] or "0").translate(_PLAIN)
    return float(f"{match['sign'].replace('−', '-')}{match['digits']}e{power}")


UNITS = pint.UnitRegistry(cache_folder=None)
_TO_PINT = (
    ("r/", "revolution/"),
    ("\u00a0", "*"),
    ("^", "**"),
    ("⁻", "**-"),
    ("²", "**2"),
    ("³", "**3"),
    ("°", "degree"),
)


def unit(text: str) -> pint.Unit:
    """Pint's own reading of a unit as a file (``m/s^2``) or a stem (``m/s²``) has it; 1 or nothing is a pure number."""
    for ours, theirs in _TO_PINT:
        text = text.replace(ours, theirs)
    text = "year" if text == "y" else text
    return UNITS.Unit(text if text not in ("", "1") else "dimensionless")


@cache
def factor(text: str) -> float:
    """What turns a number of a unit into SI, by Pint."""
    return float(UNITS.Quantity(1.0, unit(text)).to_base_units().magnitude)


def shown_value(node: formula.Node, values: Mapping[formula.Symbol, float]) -> float:
    """The value of a formula as a reader works it out from the page; ``values`` belong to the symbols shown."""
    match node:
        case formula.Number(text=text):
            found = float(text)
        case formula.Symbol():
            found = math.pi if node.base == "π" else values[node]
        case formula.Row(parts=parts):
            found = _row_value(parts, values)
        case formula.Fraction(above=above, below=below):
            found = shown_value(above, values) / shown_value(below, values)
        case formula.Root(body=body, index=index):
            found = math.pow(shown_value(body, values), 1 / index)
        case formula.Power(base=base, exponent=exponent):
            found = math.pow(shown_value(base, values), shown_value(exponent, values))
        case formula.Call(name=name, argument=argument, inverse=inverse):
            found = getattr(math, f"a{name}" if inverse else name)(shown_value(argument, values))
        case formula.Group(body=body):
            found = shown_value(body, values)
        case _:
            raise AssertionError(f"{node} has no value")
    return found


def _row_value(parts: tuple[formula.Node, ...], values: Mapping[formula.Symbol, float]) -> float:
    """The sum of a row's terms; what stands side by side, or with × between, is multiplied."""
    terms = [1.0]
    for part in parts:
        if isinstance(part, formula.Operator):
            if part.text == "×":
                continue
            assert part.text in "+−", part
            terms.append(-1.0 if part.text == "−" else 1.0)
        else:
            terms[-1] *= shown_value(part, values)
    return math.fsum(terms[1:] if isinstance(parts[0], formula.Operator) else terms)


# --- arithmetic -------------------------------------------------------------------------------


def function(expression: sympy.Expr) -> Callable[[Mapping[str, float]], float]:
    """The expression as plain Python arithmetic on a mapping of values, made by SymPy's printer and not by the bank."""
    made = functions(expression)
    return lambda values: made(values)[0]


@cache
def functions(*expressions: sympy.Expr) -> Callable[[Mapping[str, float]], list[float]]:
    """Several at once, which takes SymPy no longer than one."""
    names = sorted({symbol.name for each in expressions for symbol in each.free_symbols})
    made = sympy.lambdify([sympy.Symbol(name) for name in names], list(expressions), modules=math)
    return lambda values: [float(each) for each in made(*(values[name] for name in names))]


@cache
def formula_of(name: str) -> Callable[[Mapping[str, float]], float]:
    """The closed form of a shipped question as plain Python arithmetic."""
    return function(shipped(name).solution.closed_form)


def answer(name: str, **values: float) -> float:
    """The answer of a shipped question for SI values; g is 9.81 N/kg unless it is among them."""
    return formula_of(name)({"g": 9.81, **values})


class Balance:
    """All unknowns of a system from its equations by least squares, without any algebra and without the solver.

    Forces may come out with any sign, angles between 0 and 90°, all else positive. A relation that only serves to name
    something that nothing else holds is left aside, and with it that unknown.
    """

    def __init__(self, system: System) -> None:
        self.system = system
        fixed = system.known | {system.ask}
        equations = _needed(list(system.equations), fixed)
        self.zeros = {each.left.name: 0.0 for each in equations if each.left.is_Symbol and each.right == 0}
        names = frozenset().union(*(each.symbols for each in equations)) | fixed
        self.unknown = sorted(names - fixed - set(self.zeros))
        self.names = sorted(names)
        rows = [_terms(each) for each in equations if not (each.left.is_Symbol and each.right == 0)]
        terms = [term for row in rows for term in row]
        self._angles = {str(call.args[0]) for term in terms for call in term.atoms(*_TURNS)}  # omega in omega*t is none
        self._terms = sympy.lambdify([sympy.Symbol(name) for name in self.names], terms, modules="numpy")
        self._starts = np.cumsum([0, *(len(row) for row in rows)])[:-1]

    def values(self, known: Mapping[str, float]) -> dict[str, float]:
        """Every symbol's value; AssertionError where what is known and the answer can't meet all equations."""
        best = math.inf
        for start in range(12):
            first = np.random.default_rng(start).normal(0.0, 0.3 + 0.4 * start, len(self.unknown))
            if start % 2 == 0:  # most forces point as they are drawn
                first = np.where([name in self.system.forces for name in self.unknown], np.abs(first), first)
            found, gap = self._search({**known, **self.zeros}, first)
            if gap < NOTHING:
                return found
            best = min(best, gap)
        raise AssertionError(f"{self.system.question}: an equation is off by {best:.1e} of its terms for {dict(known)}")

    def _search(self, known: Mapping[str, float], first: Any) -> tuple[dict[str, float], float]:
        point = first
        with np.errstate(all="ignore"):
            if self.unknown:
                # MINPACK is quick, but wants as many equations as unknowns
                method = "lm" if len(self._starts) >= len(self.unknown) else "trf"
                gaps = partial(self._gaps, dict(known))
                point = least_squares(gaps, first, method=method, **_EXACT).x
            found = dict(known)
            return found, float(np.abs(self._gaps(found, point)).max())

    def _gaps(self, values: dict[str, float], point: Any) -> Any:
        """For each equation the logarithm of its positive terms over its negative ones: 0 where it balances.

        ``values`` get those of the unknowns at a point.
        """
        for name, at in zip(self.unknown, point.tolist(), strict=True):
            values[name] = self._value(name, at)
        terms = np.array(self._terms(*[values[name] for name in self.names]), dtype=float)
        above = np.log(np.add.reduceat(np.maximum(terms, 0), self._starts) + 1e-300)
        below = np.log(np.add.reduceat(np.maximum(-terms, 0), self._starts) + 1e-300)
        gaps = above - below
        return gaps if np.isfinite(gaps).all() else np.nan_to_num(gaps, nan=1e3, posinf=1e3, neginf=-1e3)

    def _value(self, name: str, at: float) -> float:
        bounded = max(min(at, 200.0), -200.0)
        if name in self.system.signed | self.system.forces:
            return math.sinh(bounded)
        if name in self._angles:
            return math.pi / 2 / (1 + math.exp(-bounded))
        return math.exp(bounded)


def _needed(equations: list[Equation], fixed: frozenset[str]) -> list[Equation]:
    for each in equations:
        others = [other for other in equations if other is not each]
        alone = each.symbols - fixed - frozenset().union(*(other.symbols for other in others))
        if each.kind == "relation" and alone:
            return _needed(others, fixed)
    return equations


def _terms(equation: Equation) -> list[sympy.Expr]:
    """The terms of left - right."""
    return [*sympy.Add.make_args(equation.left), *(-term for term in sympy.Add.make_args(equation.right) if term != 0)]
