"""What is written otherwise in an expression in letters: a factor, a power, a number, a sign, a function, a root.

Each edit changes any expression of a question, so that two of them can be made one after the other. None of them leads
to a number of its own: they are the wrong options of a question about the expression itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import combinations
from typing import TypeAlias

import sympy
from sympy import Expr, Rational, Symbol

from ..model.edit import WrittenEdit
from ..model.mistake import Mistake
from ..model.problem import Problem
from ..quantities.units import unit
from ..solving.algebra import rerooted

Changed: TypeAlias = Expr | None
Rewriting: TypeAlias = Callable[[Expr], Changed]

HALF = Rational(1, 2)
THIRD = Rational(1, 3)
TRIGONOMETRIC = {"sine": sympy.sin, "cosine": sympy.cos, "tangent": sympy.tan}
INVERSE = {"sine": sympy.asin, "cosine": sympy.acos, "tangent": sympy.atan}
_ROLES = {"m": "length", "s": "time", "m/s": "speed", "kg": "mass", "N": "force"}
_OF_DIMENSION = {unit(symbol).dimension: role for symbol, role in _ROLES.items()}


@dataclass(frozen=True)
class LetterChange:
    """A mistake in letters, and what it makes of an expression."""

    mistake: Mistake
    made: Rewriting
    where: str = ""


def letter_changes(problem: Problem, form: Expr, mistakes: Iterable[Mistake]) -> Iterator[LetterChange]:
    """What the mistakes in letters can change in an expression; one for each letter of the kind that it is about."""
    names = sorted(symbol.name for symbol in form.free_symbols)
    roles = {name: role_of(problem, name) for name in names}
    for mistake in mistakes:
        if not isinstance(mistake.edit, WrittenEdit):
            continue
        what, _, how = mistake.edit.written.partition("-")
        if what in _WHOLE:
            yield LetterChange(mistake, partial(_WHOLE[what], how))
            continue
        alike = [name for name in names if roles[name] == what]
        if how == "exchanged":
            for one, other in combinations(alike, 2):
                yield LetterChange(mistake, partial(_exchanged, Symbol(one), Symbol(other)), f"{one} {other}")
        else:
            for name in alike:
                yield LetterChange(mistake, partial(_with_power, Symbol(name), _POWERS[how]), name)


def role_of(problem: Problem, name: str) -> str:
    """What kind of letter it is: ``length``, ``time``, ``speed``, ``turning``, ``mass``, ``force``, ``gravity`` ..."""
    if name == "g":
        return "gravity"
    spec = problem.quantities.get(name)
    if spec is None:
        return "other"
    if spec.unit.dimension == "dimensionless":
        return "angle" if spec.unit.counts_angle else "number"
    if spec.unit.counts_angle:
        return "turning"
    return _OF_DIMENSION.get(spec.unit.dimension, "other")


# --- powers of letters ----------------------------------------------------------------------------

_POWERS: dict[str, Callable[[Expr], Changed]] = {
    "other-side": lambda power: -power,
    "left-out": lambda power: sympy.Integer(0),
    "squared": lambda power: 2 * power if abs(power) == 1 else None,
    "not-squared": lambda power: power / 2 if abs(power) == 2 else None,
}


def _with_power(letter: Symbol, change: Callable[[Expr], Changed], form: Expr) -> Changed:
    """The expression with another power of a letter that is a factor; None where it is none."""
    if form == letter or (form.is_Pow and form.base == letter and form.exp.is_Integer):
        power = change(form.exp if form.is_Pow else sympy.Integer(1))
        return None if power is None else letter**power
    return _inside(partial(_with_power, letter, change), form)


def _exchanged(one: Symbol, other: Symbol, form: Expr) -> Expr:
    """The expression with two letters in each other's place."""
    return form.xreplace({one: other, other: one})


def _inside(edit: Rewriting, form: Expr) -> Changed:
    """The edit of a factor, of what stands under a root or an inverse function, or of all terms that it finds."""
    if form.func in INVERSE.values():
        inner = edit(form.args[0])
        return None if inner is None else form.func(inner)
    if form.is_Pow and not form.base.is_Symbol:
        inner = edit(form.base)
        return None if inner is None else sympy.Pow(inner, form.exp, evaluate=False)
    if form.is_Mul:
        for place, factor in enumerate(form.args):
            changed = edit(factor)
            if changed is not None:
                return product(*form.args[:place], changed, *form.args[place + 1 :])
    if form.is_Add:
        edited = [(term, edit(term)) for term in form.args]
        if any(new is not None for _, new in edited):
            return sympy.Add(*(term if new is None else new for term, new in edited))
    return None


def one_root(form: Expr) -> Expr:
    """A product with one root sign where SymPy has taken a number out from under it."""
    powers = [each.exp for each in sympy.Mul.make_args(form) if each.is_Pow]
    roots = [each for each in powers if each == HALF or (each.is_Rational and each.q == THIRD.q)]
    return rerooted(form) if len(roots) > 1 else form


def product(*factors: Expr) -> Expr:
    """A product as it is written: its root stays one root."""
    flat = [part for each in factors for part in sympy.Mul.make_args(each) if part != 1]
    numbers = sympy.Mul(*(each for each in flat if each.is_Rational))
    rest = [each for each in flat if not each.is_Rational]
    if not any(each.is_Pow and not each.exp.is_Integer for each in rest):
        return sympy.Mul(numbers, *rest)
    parts = rest if numbers == 1 else [numbers, *rest]
    return sympy.Mul(*parts, evaluate=False) if len(parts) > 1 else parts[0]


# --- numbers, signs, functions, roots -----------------------------------------------------------------


def _two_pi(how: str, form: Expr) -> Changed:
    factors = sympy.Mul.make_args(form)
    power = next((each.exp if each.is_Pow else 1 for each in factors if each in _PI), None)
    if power is None:
        return _inside(partial(_two_pi, how), form)
    two = sympy.Integer(2)
    changed = {
        "left-out": (two * sympy.pi) ** -power,
        "half": two**-power,
        "not-squared": (two * sympy.pi) ** (-power / 2) if power in (2, -2) else None,
    }[how]
    if changed is None:
        return None
    return product(*(each for each in factors if each not in _PI), changed * sympy.pi**power)


_PI = (sympy.pi, 1 / sympy.pi, sympy.pi**2, sympy.pi**-2)


def _number(how: str, form: Expr) -> Changed:
    """The number before a product left out, turned upside down, or one more or less where like terms were collected."""
    if (
        form.is_Mul
        and not any(each in _PI for each in form.args)
        and form.args[0].is_Rational
        and abs(form.args[0]) != 1
    ):
        number = form.args[0]
        changed = {
            "left-out": sympy.sign(number),
            "upside-down": 1 / number,
            "one-more": number + sympy.sign(number) if number.is_Integer and abs(number) > 2 else None,
            "one-less": number - sympy.sign(number) if number.is_Integer and abs(number) > 2 else None,
        }[how]
        return None if changed is None else product(changed, *form.args[1:])
    if form.is_Mul and any(each in _PI for each in form.args):
        return None
    return _inside(partial(_number, how), form)


def _sign(how: str, form: Expr) -> Changed:
    """The sign between two terms turned, in the first or the last sum."""
    sums = [each for each in sympy.preorder_traversal(form) if each.is_Add and len(each.args) == 2]
    if not sums or (how == "last" and len(sums) < 2):
        return None
    chosen = sums[0 if how == "first" else -1]
    first, last = sorted(
        chosen.args, key=lambda term: (term.could_extract_minus_sign(), sympy.count_ops(term), str(term))
    )
    return one_root(form.xreplace({chosen: first - last}))


def _angle(how: str, form: Expr) -> Changed:
    found = sorted(form.atoms(sympy.sin, sympy.cos, sympy.tan), key=str)
    if not found:
        return None
    if how == "exchanged":
        others = {sympy.sin: sympy.cos, sympy.cos: sympy.sin}
        return form.xreplace(
            {each: others[each.func](each.args[0]) if each.func in others else 1 / each for each in found}
        )
    if how == "left-out":
        return form.xreplace(dict.fromkeys(found, sympy.Integer(1)))
    if len(found) > 1:
        return None
    if how == "other-side":
        return _with_power(found[0], _POWERS[how], form)
    return form.xreplace({found[0]: TRIGONOMETRIC[how](found[0].args[0])})


def _inverse(how: str, form: Expr) -> Changed:
    """Another inverse function; None where SymPy would write it otherwise, as with a minus sign before it."""
    if form.func not in INVERSE.values():
        return None
    changed = INVERSE[how](form.args[0])
    return changed if changed.func == INVERSE[how] else None


def _root(how: str, form: Expr) -> Changed:
    """A root sign left out, or one put over all."""
    factors = sympy.Mul.make_args(form)
    roots = [each for each in factors if each.is_Pow and not each.exp.is_Integer]
    if how == "left-out":
        return product(*(each.base if each in roots else each for each in factors)) if roots else None
    squares = any(each.is_Pow and each.exp % 2 == 0 for each in factors)
    if roots or squares or form.is_Add or form.func in INVERSE.values():
        return None
    return sympy.Pow(form, HALF, evaluate=False)


def _fraction(how: str, form: Expr) -> Changed:
    """A fraction turned upside down: the whole, or that under a root or an inverse function."""
    factors = sympy.Mul.make_args(form)
    roots = [each for each in factors if each.is_Pow and not each.exp.is_Integer]
    if roots:
        return product(
            *(sympy.Pow(_turned(each.base), each.exp, evaluate=False) if each in roots else each for each in factors)
        )
    if form.func in INVERSE.values():
        return form.func(_turned(form.args[0]))
    return None if form.is_Add else _turned(form)


def _turned(form: Expr) -> Expr:
    return sympy.Mul(*(1 / each for each in sympy.Mul.make_args(form)))


_WHOLE: dict[str, Callable[[str, Expr], Changed]] = {
    "pi": _two_pi,
    "factor": _number,
    "sign": _sign,
    "angle": _angle,
    "inverse": _inverse,
    "root": _root,
    "fraction": _fraction,
}
