"""Text as a formula, a relation and a unit; what is accepted is held against Python's own arithmetic."""

from __future__ import annotations

import ast
import math
import operator
import random
import re
from collections.abc import Callable, Iterator
from typing import Any

import mpmath
import sympy
from turnwright.bank.errors import ExpressionError, UnitError
from turnwright.bank.model.expression import LONGEST as LONGEST_FORMULA
from turnwright.bank.model.expression import MOST_TERMS, Relation, names_in, parse, parse_relation
from turnwright.bank.quantities.units import unit

from tests.fuzz.bounds import is_harmless, within

LONGEST = 220
SECONDS = 5
MOST_NODES = 1000
LONGEST_UNIT = 22
_ATOM = re.compile(rb"[A-Za-z0-9_.]+")
_ATOMS = ("m", "g", "r", "v_top", "theta", "F_N", "pi", "0", "1", "2", "0.5", "3e-7", "1e20", "9.81", "10", "1e-30")
_POWERS = ("2", "3", "6", "-1", "-2", "(1/2)", "(1/3)", "(3/2)", "(-1/2)", "0.5", "0", "-6", "(5/6)")
# what a formula that was accepted may be refused for when SymPy has written it out
_BOUNDS = ("grows too long", "characters", "nested parts", "beyond all measure", "ordinary size", "found the power")
DIGITS = 80
_FUNCTIONS: dict[str, Callable[[Any], Any]] = {
    name: getattr(mpmath, name) for name in ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt")
}
_OPERATORS: dict[type, Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_SIGNS = re.compile("<=|>=|=|<|>")


def check(data: bytes) -> None:
    """Any text ends as a formula of bounded size, with the value that it has in Python, or as an error of ours."""
    text = data.decode("utf-8", "replace")
    with within(SECONDS):
        _formula(text)
        _relation(text)
        _unit(text)


def _formula(text: str) -> sympy.Expr | None:
    try:
        made = parse(text)
    except ExpressionError as error:
        _is_told_well(error, text)
        return None
    size = sum(1 for _ in sympy.preorder_traversal(made))
    assert size <= MOST_NODES, f"{size} nodes"
    expanded = sympy.expand(made)
    assert len(sympy.Add.make_args(expanded)) <= MOST_TERMS, f"{len(expanded.args)} terms in {text!r}"
    _stays_itself(made)
    _is_worth_the_same(text, made)
    return made


def _is_told_well(error: ExpressionError, text: str) -> None:
    assert is_harmless(f"{error.wrong}; {error.right}"), repr(str(error))
    assert 1 <= error.column <= max(len(text), 1) + 1, f"column {error.column} of {text!r}"


def _stays_itself(made: sympy.Expr) -> None:
    """A formula written out by SymPy is the same formula when it is read again, where it keeps the bounds."""
    written = str(made)
    if len(written) > LONGEST_FORMULA:
        return
    try:
        again = parse(written)
    except ExpressionError as error:
        assert any(each in f"{error.wrong} {error.right}" for each in _BOUNDS), (
            f"{written!r} was made, and refused: {error.wrong}"
        )
    else:
        with mpmath.workdps(DIGITS):  # SymPy multiplies a number into a sum or not, by the order of writing
            assert again == made or mpmath.almosteq(_at(again), _at(made), 1e-30), f"{written!r} is {again}"


def _at(made: sympy.Expr) -> mpmath.mpc:
    return mpmath.mpmathify(made.subs({name: _value(name) for name in names_in(made)}).evalf(DIGITS))


def _value(name: str) -> sympy.Rational:
    """A number between 0.2 and 0.9 for a quantity, the same for the same name."""
    return sympy.Rational(2, 10) + sympy.Rational(
        7 * (sum(ord(letter) * 31**place for place, letter in enumerate(name)) % 9973), 99730
    )


def _is_worth_the_same(text: str, made: sympy.Expr) -> None:
    with mpmath.workdps(DIGITS):
        try:
            mine, theirs = _worth(ast.parse(text.strip(), mode="eval").body), _at(made)
        except (OverflowError, ZeroDivisionError):
            return  # at a pole
        # the branch of a root or an inverse on its cut is a convention
        if abs(mpmath.im(mine)) + abs(mpmath.im(theirs)) < 1e-30:
            assert abs(mine - theirs) <= 1e-9 * abs(mine) + 1e-30, f"{text!r} is {mine}, read as {theirs}"


def _worth(node: ast.expr) -> mpmath.mpc:
    """The number of Python's own tree of a text that was accepted."""
    match node:
        case ast.Constant(value=int() | float() as number):
            return mpmath.mpc(mpmath.mpf(repr(number)))
        case ast.Name(id="pi"):
            return mpmath.mpc(mpmath.pi)
        case ast.Name(id=name):
            value = _value(name)
            return mpmath.mpc(mpmath.mpf(value.p) / value.q)
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return -_worth(inner)
        case ast.UnaryOp(op=ast.UAdd(), operand=inner):
            return _worth(inner)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _OPERATORS:
            return _OPERATORS[type(op)](_worth(left), _worth(right))
        case ast.Call(func=ast.Name(id=name), args=[inner]) if name in _FUNCTIONS:
            return _FUNCTIONS[name](_worth(inner))
    raise AssertionError(f"accepted {ast.dump(node)[:200]}")


def _relation(text: str) -> Relation | None:
    try:
        made = parse_relation(text)
    except ExpressionError as error:
        _is_told_well(error, text)
        return None
    left, right = _SIGNS.split(text)
    assert (made.left, made.right) == (parse(left), parse(right))
    assert made.symbols <= frozenset(re.findall("[A-Za-z0-9_]+", text))
    return made


def _unit(text: str) -> None:
    try:
        made = unit(text)
    except UnitError as error:
        assert is_harmless(str(error)), repr(str(error))
        return
    assert 0 < made.factor < math.inf, f"{text!r} is {made.factor} times its SI unit"
    assert is_harmless(made.printed or "-")
    if len(text) < LONGEST_UNIT:
        per_metre = unit(f"{text}/m")
        assert math.isclose(per_metre.factor, made.factor, rel_tol=1e-9), f"{text!r}/m is {per_metre.factor}"
        assert per_metre.dimension != made.dimension


def mutated(data: bytes, longest: int, seed: int, plain: Callable[[bytes, int], bytes]) -> bytes:
    """Other bytes, or a formula by the grammar in the place of a name or a number."""
    dice = random.Random(seed)
    if dice.random() < 0.6:
        return plain(data, longest)
    atoms = list(_ATOM.finditer(data))
    made = _made(dice, dice.randint(1, 4)).encode()
    if not atoms or dice.random() < 0.2:
        return made[:longest]
    one = dice.choice(atoms)
    return (data[: one.start()] + made + data[one.end() :])[:longest]


def _made(dice: random.Random, depth: int) -> str:
    way = dice.random()
    if depth == 0 or way < 0.15:
        return dice.choice(_ATOMS)
    if way < 0.65:
        return f"{_made(dice, depth - 1)}{dice.choice('+-*/*/')}{_made(dice, depth - 1)}"
    if way < 0.8:
        return f"({_made(dice, depth - 1)})**{dice.choice(_POWERS)}"
    if way < 0.9:
        return f"{dice.choice(list(_FUNCTIONS))}({dice.choice(('theta', _made(dice, depth - 1)))})"
    return f"-({_made(dice, depth - 1)})"


def samples() -> Iterator[bytes]:
    """None; the corpus has them."""
    return iter(())
