"""A question's closed form with the lines that lead to it, and all that has to hold, solved once, in letters only."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from itertools import combinations
from typing import Any

import numpy as np
import sympy
from sympy import Expr, Symbol

from ..errors import SolveError
from ..mechanics.equations import System, system_of
from ..model.draws import grid_of
from ..model.evaluation import agree, evaluate
from ..model.expression import names_in
from ..model.once import once
from ..model.problem import Problem, Question, Reason
from .algebra import COSINE, SINE, angle_of, functions, isolate, letters, names_inside, numerator, root, roots
from .elimination import FEW_NODES, FOUND, HOLD, MOST_NODES, Move, Search, Stage, State, WorkedLine
from .rational import cancelled, expanded


@dataclass(frozen=True)
class Solved:
    """One unknown found on the way, or the asked quantity at the end.

    ``left`` is what is isolated (a symbol, its square, tan θ), ``value`` what it equals; ``origin`` is the number of
    the equation in the system, ``stages`` are the lines from that equation to the isolated one.
    """

    left: Expr
    value: Expr
    origin: int
    stages: tuple[Stage, ...]


@dataclass(frozen=True)
class Solution:
    """``ask`` = ``closed_form``, with the eliminations that lead there in board order; the asked one is the last."""

    ask: str
    closed_form: Expr
    path: tuple[Solved, ...]

    @cached_property
    def symbols(self) -> frozenset[str]:
        """The names of the quantities that the answer depends on."""
        return names_in(self.closed_form)


MOST_TRIED = 8  # quantities that are tried as one given more, where the givens are not enough

Samples = Mapping[str, Any]
Admissible = Callable[[Expr], bool]


def solve(system: System, samples: Samples, *, careful: bool = True) -> Solution:
    """The closed form of the asked quantity.

    ``samples`` are arrays of SI values for the known symbols; they decide between branches (a root of the wrong sign,
    an angle beyond 90°). Raises SolveError where the system does not fix the asked quantity, fixes the givens
    against each other, or leaves no branch or two. A mistaken system (``careful`` off) may contradict itself
    elsewhere, and is given up where its unknowns leave as roots only.
    """
    found: list[Solution] = []
    refused: list[Solution] = []
    for state, search in _ends(system, careful):
        for candidate in _candidates(system, search, state):
            (found if is_admissible(candidate, samples, system.signed) else refused).append(candidate)
        if found or refused:
            break
    if not found:
        raise _no_answer(system, refused, careful=careful)
    if careful:
        _refuse_contradiction(system)
    distinct = _distinct(found, samples)
    if len(distinct) > 1:
        forms = " and ".join(str(each.closed_form) for each in distinct)
        raise SolveError(
            system.question, f"'{system.ask}' has two admissible values, {forms}", "give one more quantity"
        )
    return distinct[0]


def _ends(system: System, careful: bool) -> Iterator[tuple[State, Search]]:
    targets = frozenset({system.ask, SINE + system.ask, COSINE + system.ask})
    for radicals in (False, True) if careful else (False,):
        search = Search(system, targets, radicals=radicals, most=MOST_NODES if careful else FEW_NODES)
        yield from ((state, search) for state in search.ends())


def _no_answer(system: System, refused: list[Solution], *, careful: bool) -> SolveError:
    if refused:
        forms = " or ".join(str(each.closed_form) for each in refused)
        wrong = f"'{system.ask}' comes out as {forms}, which is positive for none of the draws"
        return SolveError(system.question, wrong, "check the draws and directions, or set 'sign: any'")
    unknown = system.symbols - system.known - {system.ask} - system.forces
    ranked = sorted(unknown, key=lambda name: (-sum(name in each.symbols for each in system.equations), name))
    hint = _what_to_give(system, ranked[:MOST_TRIED], careful=careful)
    return SolveError(system.question, f"'{system.ask}' can't be found from what is given", hint)


def _what_to_give(system: System, unknown: list[str], *, careful: bool) -> str:
    """Advice that leads to an answer: what is enough alone, else two that are; what was not tried where not careful."""
    helping = [name for name in unknown if not careful or _is_enough(system, name)]
    if helping:
        return f"give {'one of ' * (len(helping) > 1)}{', '.join(helping)} as well"
    two = next((each for each in combinations(unknown, 2) if _is_enough(system, *each)), None)
    if two:
        return f"give two more, such as {' and '.join(two)}"
    return f"{'no one or two more would be enough: ' * bool(unknown)}check the forces and relations"


def _is_enough(system: System, *names: str) -> bool:
    """Whether the asked quantity is found with these given as well, which the other givens do not fix already."""
    more = replace(system, known=system.known | set(names))
    ends = _ends(more, careful=True)
    found = any(True for state, search in ends for _ in _candidates(more, search, state))
    return found and Search(more, frozenset()).contradiction() is None


def _candidates(system: System, search: Search, state: State) -> Iterator[Solution]:
    for line in state.lines:
        if not search.is_end(line):
            continue
        for left, value, answer in _answers(line, system.ask):
            closed = _with_roots(functions(answer), state)
            if names_in(closed) <= system.known:
                path = tuple(_solved(state.moves[number]) for number in line.uses)
                last = Solved(_plain(left), _plain(value), line.origin, _shown(line.stages))
                yield Solution(system.ask, closed, (*path, last))


def _with_roots(answer: Expr, state: State) -> Expr:
    """The answer with each unknown that was found as a root in full, the last one first."""
    for move in reversed(state.moves):
        letter = functions(Symbol(FOUND + move.symbol))
        if answer.has(letter):
            answer = answer.xreplace({letter: root(functions(move.value), move.power)})
    return answer


def _solved(move: Move) -> Solved:
    return Solved(
        _plain(Symbol(move.symbol)) ** move.power, _plain(move.value), move.line.origin, _shown(move.line.stages)
    )


def _plain(expression: Expr) -> Expr:
    """An expression for the board: functions for letters, and a quantity found before under its own name."""
    found = {each: Symbol(each.name[len(FOUND) :]) for each in expression.free_symbols if each.name.startswith(FOUND)}
    return functions(expression.xreplace(found))


def _shown(stages: tuple[Stage, ...]) -> tuple[Stage, ...]:
    return tuple(
        Stage(each.did, _plain(each.left), _plain(each.right), None if each.what is None else _plain(each.what))
        for each in stages
    )


def _answers(line: WorkedLine, ask: str) -> Iterator[tuple[Expr, Expr, Expr]]:
    """(isolated, its value, asked quantity) for each branch of the last equation."""
    symbol, sine, cosine = Symbol(ask), Symbol(SINE + ask), Symbol(COSINE + ask)
    polynomial = numerator(line.left, line.right)
    if polynomial.has(sine) or polynomial.has(cosine):
        yield from _angles(polynomial, symbol, sine, cosine)
        return
    inside = [each for each in polynomial.free_symbols if each != symbol and ask in names_inside(each.name)]
    if inside:
        yield from _out_of(polynomial, symbol, inside)
        return
    for power, value, answer in roots(polynomial, symbol):
        yield symbol**power, value, answer


def _out_of(polynomial: Expr, asked: Symbol, inside: list[Symbol]) -> Iterator[tuple[Expr, Expr, Expr]]:
    """A letter out of the one sine or cosine that it stands in, by the inverse function: t out of cos(ω t)."""
    angle, arc = angle_of(inside[0].name), Symbol("arc:")
    if len(inside) > 1 or angle is None or polynomial.has(asked):
        return
    is_sine = inside[0].name.startswith(SINE)
    function, inverse = (sympy.sin, sympy.asin) if is_sine else (sympy.cos, sympy.acos)
    found = isolate(angle, arc, asked)
    if found:
        for _, value, _ in roots(polynomial, inside[0]):
            answer = root(found[1], found[0]).xreplace({arc: inverse(value)})
            yield function(angle), value, answer


def _angles(polynomial: Expr, angle: Symbol, sine: Symbol, cosine: Symbol) -> Iterator[tuple[Expr, Expr, Expr]]:
    """The angle as its tangent where sine and cosine come in alike, else as its cosine or sine."""
    tangent = Symbol("tan:")
    _, factors = sympy.factor_list(polynomial)
    for factor, _ in factors:
        if not factor.has(sine) and not factor.has(cosine):
            continue
        level = cancelled(factor.xreplace({sine: tangent * cosine}))
        degree = sympy.degree(level, cosine) if level.has(cosine) else 0
        ratio = cancelled(level / cosine**degree)
        if not ratio.has(cosine) and ratio.has(tangent):
            yield from _inverse(ratio, tangent, sympy.tan(angle), sympy.atan)
        elif not factor.has(sine):
            yield from _inverse(factor, cosine, sympy.cos(angle), sympy.acos)
        else:
            only_cosine = expanded(expanded(factor).subs(sine**2, 1 - cosine**2))
            if only_cosine.has(sine):
                yield from _inverse(factor, sine, sympy.sin(angle), sympy.asin)
            else:
                yield from _inverse(only_cosine, cosine, sympy.cos(angle), sympy.acos)


def _inverse(
    polynomial: Expr, letter: Symbol, function: Expr, inverse: Callable[[Expr], Expr]
) -> Iterator[tuple[Expr, Expr, Expr]]:
    for _, _, value in roots(polynomial, letter):
        yield function, value, inverse(value)


def is_admissible(solution: Solution, samples: Samples, signed: frozenset[str]) -> bool:
    """Whether the branch is real, finite and (unless signed) positive for at least one sample of givens.

    Draws may reach beyond what the situation allows; the variants drop those, so one good sample is enough.
    """
    value = np.asarray(evaluate(solution.closed_form, samples))
    return bool(np.any(np.isfinite(value) & ((value > 0) | (solution.ask in signed))))


def _distinct(found: list[Solution], samples: Samples) -> list[Solution]:
    """The solutions that differ in value for some sample where both are admissible."""
    kept: list[Solution] = []
    for each in found:
        if not any(agree(each.closed_form, other.closed_form, samples) for other in kept):
            kept.append(each)
    return kept


def _refuse_contradiction(system: System) -> None:
    """Raise SolveError where the givens alone already have to obey an equation."""
    line = Search(system, frozenset()).contradiction()
    if line is None:
        return
    left, right = functions(line.left), functions(line.right)
    names = ", ".join(sorted((names_in(left) | names_in(right)) - {"g"}))
    raise SolveError(system.question, f"{names} already fix each other by {left} = {right}", "give one of them less")


@dataclass(frozen=True)
class Sign:
    """The sign of something that must hold: it equals ``expression`` (in known symbols) times a positive ``factor``.

    The factor is a product of quantities that the question leaves open; ``path`` are the eliminations behind it.
    """

    expression: Expr
    factor: Expr
    path: tuple[Solved, ...]


def sign_of(system: System, expression: Expr) -> Sign | None:
    """The sign of ``expression`` in known symbols, or None where the system does not fix it.

    Unknowns are eliminated by the same search; a mass or another positive factor that stays unknown is left out.
    """
    target = Symbol("hold:")
    line = WorkedLine(-2, HOLD, target, letters(expression))
    for radicals in (False, True):
        for state in Search(system, frozenset({target.name}), (line,), radicals).ends():
            end = next(each for each in state.lines if each.kind == HOLD)
            path = tuple(replace(_solved(state.moves[number]), stages=()) for number in end.uses)
            found = _with_roots(functions(end.right), state)
            if names_in(found) <= system.known:
                return Sign(found, _plain(end.dropped), path)
    return None


SAMPLES = 64
SAMPLE_GRAVITY = Decimal("9.81")


@dataclass(frozen=True)
class Kept:
    """Something that holds, with its sign in known symbols; None where the question leaves it open."""

    reason: Reason
    sign: Sign | None
    strict: bool

    @property
    def expression(self) -> sympy.Expr | None:
        """What must not be negative, in known symbols."""
        return self.sign.expression if self.sign else None


@dataclass(frozen=True)
class SolvedQuestion:
    """A question with all that is the same for its variants."""

    problem: Problem
    question: Question
    system: System
    solution: Solution
    kept: tuple[Kept, ...]

    @property
    def id(self) -> str:
        """The id of the question, ``problem.question``."""
        return self.system.question

    @property
    def has_numbers(self) -> bool:
        """Whether the answer depends on what is drawn; that of a pebble on a dome, acos(2/3), does not."""
        return any(not self.problem.quantities[name].constant for name in self.solution.symbols - {"g"})


def solve_question(problem: Problem, question: Question, values: Samples | None = None) -> SolvedQuestion:
    """The solved question, for its draws or for some SI ``values`` of the givens.

    Raises SolveError where it has no single admissible closed form.
    """
    system = system_of(problem, question)
    samples = samples_of(problem, question) if values is None else values
    solution = _without_detours(system, solve(system, samples), samples)
    holding = tuple(kept(system, reason) for reason in problem.holds)
    return SolvedQuestion(problem, question, system, solution, holding)


def _without_detours(system: System, solution: Solution, samples: Samples) -> Solution:
    """The solution without a body or a place that it can do without, as a second ion beside the first."""
    drawn = {system.equations[each.origin].diagram for each in solution.path if each.origin >= 0} - {""}
    for name in sorted(drawn) if len(drawn) > 1 else ():
        left = [number for number, each in enumerate(system.equations) if each.diagram != name]
        try:
            found = solve(
                replace(system, equations=tuple(system.equations[each] for each in left)), samples, careful=False
            )
        except SolveError:
            continue
        if len(found.path) < len(solution.path) and agree(found.closed_form, solution.closed_form, samples):
            path = tuple(replace(each, origin=left[each.origin] if each.origin >= 0 else -1) for each in found.path)
            return replace(found, path=path)
    return solution


def samples_of(problem: Problem, question: Question) -> Mapping[str, Any]:
    """SI values of the givens for a fixed choice of draws from every scene, as equally long arrays; g included."""
    return once(question, "samples", lambda: _samples(problem, question), problem)


def _samples(problem: Problem, question: Question) -> Mapping[str, Any]:
    grids = [grid_of(problem, question, scene, SAMPLE_GRAVITY) for scene in problem.scenes_of(question)]
    blocks = [grid.values(grid.shuffled(f"samples of {question.name}", 0, SAMPLES)) for grid in grids]
    found = {name: np.concatenate([block[name] for block in blocks]) for name in blocks[0]}
    for values in found.values():
        values.flags.writeable = False
    return found


def kept(system: System, reason: Reason) -> Kept:
    """What holds, decided as far as the system fixes it."""
    return Kept(reason, sign_of(system, gap(reason)), strict=reason.relation.sign in "<>")


def gap(reason: Reason) -> sympy.Expr:
    """What must not be negative for an inequality to hold: left minus right of ``>=``, right minus left of ``<=``."""
    relation = reason.relation
    return relation.left - relation.right if relation.sign.startswith(">") else relation.right - relation.left
