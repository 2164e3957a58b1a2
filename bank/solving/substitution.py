"""Whether a claimed solution solves a system: numbers are put into the equations; no algebra is trusted.

A claim names the equations that it rests on. With sample values for what is known, values for what it solves for, and
arbitrary positive values for what is left (a mass that cancels), each of those equations must balance, and
together they must fix the unknowns (a full-rank matrix of derivatives).
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import sympy
from numpy.typing import NDArray

from ..mechanics.equations import Equation, System
from ..model.expression import names_in
from .algebra import COSINE, SINE, letters
from .derivation import Derivation, unknown_of, value_at
from .solution import Sign, Solution, Solved

TRIALS = 3
CLOSE = 1e-8
STEP = 1e-6


def satisfies(system: System, solution: Solution, samples: Mapping[str, Any]) -> bool:
    """Whether the closed form solves the system for several random givens, and every line on the way to it balances."""
    if solution.ask != system.ask or not solution.symbols <= system.known or not solution.path:
        return False
    claim = Claim(system, solution.path, system.ask)
    found: list[bool] = []
    sound: list[bool] = []
    for known in _givens(samples):
        answer = value_at(solution.closed_form, known)
        if not np.isfinite(answer) or (answer <= 0 and system.ask not in system.signed):
            continue
        values = claim.values({**known, system.ask: answer}, frozenset()) if claim.is_square else None
        if values is not None:
            found.append(claim.balances(values) and claim.fixes(values))
            sound += claim.derived(values) if found[-1] and not sound else []
        if len(found) >= TRIALS and sound:
            break
    return bool(found) and all(found) and bool(sound) and all(sound)


def has_sign(system: System, gap: sympy.Expr, sign: Sign, samples: Mapping[str, Any]) -> bool:
    """Whether ``gap`` equals the claimed expression times its positive factor, for several random givens."""
    claim = Claim(system, sign.path, None)
    if not names_in(sign.expression) <= system.known or not claim.is_square or not _is_open(system, sign):
        return False
    found: list[bool] = []
    for known in _givens(samples):
        values = claim.values(known, names_in(letters(gap)) | names_in(letters(sign.factor)))
        if values is not None and np.isfinite(value_at(sign.expression, known)):
            found.append(claim.balances(values) and _equal(gap, sign.expression * sign.factor, values))
        if len(found) == TRIALS:
            break
    return bool(found) and all(found)


def _is_open(system: System, sign: Sign) -> bool:
    """Whether the factor is a product of positive quantities that are not known, and leaves something to tell."""
    names = names_in(letters(sign.factor))
    bare = {name.removeprefix(SINE).removeprefix(COSINE) for name in names}
    product = all(
        part.is_Symbol or part.is_Pow for part in sympy.Mul.make_args(letters(sign.factor)) if not part.is_number
    )
    telling = sign.expression == 0 or not sign.expression.is_number
    return product and telling and not bare & (system.known | system.forces | system.signed)


def _givens(samples: Mapping[str, Any]) -> Iterator[dict[str, float]]:
    """Sampled givens, each moved by a random few percent: nothing that an entry's author could have aimed at."""
    chance = random.SystemRandom()
    for number in range(max(np.size(each) for each in samples.values())):
        yield {
            name: float(np.atleast_1d(values)[number % np.size(values)]) * chance.uniform(0.97, 1.03)
            for name, values in samples.items()
        }


@dataclass(frozen=True)
class Claim:
    """Equations of the system, by ``path``, with the unknown that each is said to give, the asked one last."""

    system: System
    path: tuple[Solved, ...]
    ask: str | None

    @property
    def unknowns(self) -> list[str | None]:
        """The unknown that each step gives: a symbol, or the sine or cosine of an angle under its letter."""
        found = [unknown_of(each.left) for each in self.path]
        return [*found[:-1], self.ask] if self.ask else found

    @cached_property
    def equations(self) -> list[Equation]:
        """The equation of each step, made anew from the problem."""
        return [self._equation(each) for each in self.path]

    def _equation(self, step: Solved) -> Equation:
        if step.origin >= 0:
            return self.system.equations[step.origin]
        angles = {
            name[len(SINE) :] for each in self.system.equations for name in _letters_in(each) if name.startswith(SINE)
        }
        angle = sympy.Symbol(min(angles - self.system.known, default="none"))
        return Equation("relation", (sympy.sin(angle) ** 2, sympy.cos(angle) ** 2), sympy.Integer(1))

    @property
    def is_square(self) -> bool:
        """Whether the path solves for as many different unknowns as it names equations."""
        origins, unknowns = [each.origin for each in self.path], self.unknowns
        known = self.system.known | {letter + name for name in self.system.known for letter in (SINE, COSINE)}
        whole = all(-1 <= origin < len(self.system.equations) for origin in origins)
        fresh = all(name is not None and name not in known for name in unknowns)
        return whole and fresh and len(set(origins)) == len(origins) and len(set(unknowns)) == len(unknowns)

    def values(self, known: dict[str, float], more: frozenset[str]) -> dict[str, float] | None:
        """Known values, random ones for what nothing fixes, and those of the unknowns, last found first.

        None where an unknown has no real value: no variant comes from such a sample.
        """
        names = more.union(*(names_in(letters(each.left - each.right)) for each in self.equations))
        given = set(known) | {letter + name for name in known for letter in (SINE, COSINE)}
        free = sorted(names - given - {name for name in self.unknowns if name})
        chance = random.SystemRandom()
        values = {**known, **{name: chance.uniform(0.5, 3.0) for name in free}}
        for each in reversed(self.path[:-1] if self.ask else self.path):
            name = unknown_of(each.left)
            power = float(each.left.exp) if each.left.is_Pow else 1.0
            try:
                value = value_at(each.value, values)
            except KeyError:
                return None
            if name is None or not np.isfinite(value):
                return None
            if value < 0 and power != 1:
                return None
            values[name] = value ** (1 / power) if power != 1 else value
        return values

    def balances(self, values: Mapping[str, float]) -> bool:
        """Whether the equations, and every line written on the way, are true for these values."""
        for step, equation in zip(self.path, self.equations, strict=True):
            lines = [(equation.left, equation.right), (step.left, step.value)]
            lines += [(stage.left, stage.right) for stage in step.stages]
            if not all(_equal(left, right, values) for left, right in lines):
                return False
        return True

    def derived(self, values: Mapping[str, float]) -> list[bool]:
        """Whether every line follows from the one before it; nothing where these values do not tell."""
        try:
            sound = Derivation(self.path, self.equations, values).is_sound
        except (AttributeError, KeyError, TypeError, ValueError, ZeroDivisionError):
            return [False]
        return [] if sound is None else [sound]

    def fixes(self, values: Mapping[str, float]) -> bool:
        """Whether the equations fix the unknowns: their matrix of derivatives has full rank."""
        matrix = np.array([[_slope(each, name or "", values) for name in self.unknowns] for each in self.equations])
        scale = np.abs(matrix).max(axis=1, keepdims=True)
        if not np.all(scale > 0):
            return False
        singular: NDArray[np.float64] = np.linalg.svd(matrix / scale, compute_uv=False)
        return bool(singular[-1] > 1e-7 * singular[0])


def _letters_in(equation: Equation) -> frozenset[str]:
    return names_in(letters(equation.left - equation.right))


def _equal(left: sympy.Expr, right: sympy.Expr, values: Mapping[str, float]) -> bool:
    try:
        first, second = value_at(left, values), value_at(right, values)
        size = max(abs(value_at(term, values)) for side in (left, right) for term in sympy.Add.make_args(side))
    except KeyError:
        return False
    return bool(abs(first - second) <= CLOSE * max(size, 1e-300))


def _slope(equation: Equation, name: str, values: Mapping[str, float]) -> float:
    """The derivative by the logarithm of an unknown (by the unknown itself where it is zero)."""
    here = values[name]
    step = abs(here) * STEP or STEP
    gap = equation.left - equation.right
    after, before = (value_at(gap, {**values, name: here + sign * step}) for sign in (1, -1))
    return (after - before) / (2 * step) * (abs(here) or 1.0)
