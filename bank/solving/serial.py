"""SymPy expressions and solved questions as plain JSON data, and back; nothing is parsed or run.

An expression comes as nested lists, and back from a closed list of heads. Arguments keep their order and are not
evaluated on loading, so a root that stands as one root stays one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

import sympy

from ..errors import SolveError
from ..mechanics.equations import System
from ..model.problem import Problem, Question
from ..storage.entries import Tree
from .elimination import Stage
from .solution import Kept, Sign, Solution, Solved, SolvedQuestion

DEEPEST = 40
HIGHEST = 64  # power of powers: what stands there can't grow into a number that is never worked out
_HEADS = {each.__name__: each for each in (sympy.Add, sympy.Mul)}
_FUNCTIONS = {name: getattr(sympy, name) for name in ("sin", "cos", "tan", "asin", "acos", "atan")}


class NoExpressionError(ValueError):
    """A tree that does not stand for an expression."""


def dump(expression: sympy.Expr) -> Tree:
    """The tree of an expression: a name, ``["1/2"]`` for a number, or a head with its arguments."""
    if expression.is_Symbol:
        return expression.name
    if expression == sympy.pi:
        return ["pi"]
    if expression.is_Rational:
        return [str(expression)]
    return [type(expression).__name__, *(dump(each) for each in expression.args)]


def load(tree: Tree, depth: int = 0, height: int = 1) -> sympy.Expr:
    """The expression of a tree. Raises NoExpressionError for anything that ``dump`` does not make."""
    if depth > DEEPEST or height > HIGHEST:
        raise NoExpressionError("too deep, or too high a power")
    if isinstance(tree, str) and len(tree) <= 40 and tree.isidentifier():
        return sympy.Symbol(tree)
    if not isinstance(tree, list) or not tree or not isinstance(tree[0], str):
        raise NoExpressionError(f"{tree!r:.40}")
    head, *arguments = tree
    if not arguments:
        return sympy.pi if head == "pi" else _number(head)
    if head == "Pow":
        return _power(arguments, depth + 1, height)
    parts = [load(each, depth + 1, height) for each in arguments]
    if head in _HEADS and len(parts) >= 2:
        return _HEADS[head](*parts, evaluate=False)
    if head in _FUNCTIONS and len(parts) == 1:
        return _FUNCTIONS[head](*parts, evaluate=False)
    raise NoExpressionError(head[:40])


def _power(arguments: list[Tree], depth: int, height: int) -> sympy.Expr:
    """A base to a number of few figures."""
    if len(arguments) != 2 or not isinstance(arguments[1], list) or len(arguments[1]) != 1:
        raise NoExpressionError("no power")
    exponent = load(arguments[1], depth)
    if not exponent.is_Rational or exponent.q > HIGHEST:
        raise NoExpressionError("no exponent")
    base = load(arguments[0], depth, height * max(1, abs(exponent.p)))
    return sympy.Pow(base, exponent, evaluate=False)


def _number(text: str) -> sympy.Rational:
    above, _, below = text.partition("/")
    if len(text) > 40 or not above.lstrip("-").isdigit() or (below and not below.isdigit()) or below == "0":
        raise NoExpressionError(text[:40])
    return sympy.Rational(int(above), int(below or 1))


# --- solved questions -------------------------------------------------------------------------


def data_of(solved: SolvedQuestion) -> dict[str, Tree]:
    """The solution and the signs of what holds, as plain data."""
    return {
        "closed_form": dump(solved.solution.closed_form),
        "path": _dump_path(solved.solution.path),
        "signs": [dump_sign(each.sign) for each in solved.kept],
    }


def rebuilt(problem: Problem, question: Question, system: System, data: Mapping[str, Any]) -> SolvedQuestion:
    """The solved question of which these are the data, as ``data_of`` gives them; they are believed.

    Raises NoExpressionError for formulas that ``load`` does not read.
    """
    solution = Solution(system.ask, load(data["closed_form"]), _path(data["path"]))
    holding = tuple(
        Kept(reason, sign_from(each), strict=reason.relation.sign in "<>")
        for reason, each in zip(problem.holds, data["signs"], strict=True)
    )
    return SolvedQuestion(problem, question, system, solution, holding)


def measured(solved: SolvedQuestion) -> dict[str, Tree]:
    """The same as ``data_of``, where ``load`` can read it: a SolveError tells of numbers or depths beyond it."""
    data = data_of(solved)
    try:
        rebuilt(solved.problem, solved.question, solved.system, data)
    except NoExpressionError:
        raise SolveError(solved.id, "it comes out as a formula beyond all measure", "use shorter relations") from None
    return data


def dump_sign(sign: Sign | None) -> Tree:
    """A sign as plain data; None for what is open."""
    if sign is None:
        return None
    return {"expression": dump(sign.expression), "factor": dump(sign.factor), "path": _dump_path(sign.path)}


def sign_from(data: Any) -> Sign | None:
    """The sign of which these are the data, as ``dump_sign`` gives them."""
    return None if data is None else Sign(load(data["expression"]), load(data["factor"]), _path(data["path"]))


def _dump_path(path: tuple[Solved, ...]) -> list[Tree]:
    return [
        {
            "left": dump(each.left),
            "value": dump(each.value),
            "origin": each.origin,
            "stages": [
                [stage.did, dump(stage.left), dump(stage.right), None if stage.what is None else dump(stage.what)]
                for stage in each.stages
            ],
        }
        for each in path
    ]


def _path(data: Any) -> tuple[Solved, ...]:
    return tuple(
        Solved(load(each["left"]), load(each["value"]), int(each["origin"]), _stages(each["stages"])) for each in data
    )


def _stages(data: Any) -> tuple[Stage, ...]:
    return tuple(
        Stage(did, load(left), load(right), None if what is None else load(what)) for did, left, right, what in data
    )


# --- what an entry depends on -----------------------------------------------------------------


def plain(value: Any) -> Tree:
    """Parts of a model as plain data to take a digest of: the same for equal parts, in every process.

    Raises TypeError for a type whose values are not told apart here.
    """
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, sympy.Basic):
        return ["expression", sympy.srepr(value)]
    if isinstance(value, Decimal):
        return ["decimal", str(value)]
    if isinstance(value, Mapping):
        return ["mapping", *([plain(key), plain(each)] for key, each in value.items())]
    if isinstance(value, list | tuple):
        return ["list", *map(plain, value)]
    if isinstance(value, frozenset):
        return ["set", *sorted(map(plain, value))]
    if is_dataclass(value):
        parts = [plain(getattr(value, each.name)) for each in fields(value) if each.compare]
        return [type(value).__name__, *parts]
    raise TypeError(f"{type(value).__name__} has no plain data")
