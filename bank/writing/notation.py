"""SymPy expressions to formula trees, in the order that a physics text prints: m g, m v²/r, 4π² r/T², √(g r tan θ)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import sympy
from sympy import Expr

from ..item import formula
from ..item.formula import Call, Fraction, Group, Node, Number, Operator, Power, Root, Row, Symbol
from ..model.once import once
from ..quantities.quantity import Quantity

GREEK = {"theta": "θ", "omega": "ω", "mu": "μ", "alpha": "α", "phi": "φ", "beta": "β", "pi": "π", "Delta": "Δ"}
# the order of factors in a product: coefficients, then what pulls, then the motion, then lengths and times
_FACTORS = ("mu", "k", "G", "M", "m", "q", "N", "F", "f", "g", "omega", "alpha", "a", "v", "B", "L", "r", "R", "d", "h")
_FUNCTIONS = {sympy.sin: "sin", sympy.cos: "cos", sympy.tan: "tan"}
_INVERSES = {sympy.asin: "sin", sympy.acos: "cos", sympy.atan: "tan"}


@dataclass(frozen=True)
class Notation:
    """How symbols are shown: under a scene's ``names``; ``spaced`` with × between factors, ready for numbers."""

    names: Mapping[str, str] = field(default_factory=dict)
    spaced: bool = False

    @property
    def for_numbers(self) -> Notation:
        """The same names, with products and powers written so that amounts can take the place of symbols."""
        return Notation(self.names, spaced=True)

    def symbol(self, name: str) -> Symbol:
        """The printed symbol of a quantity."""
        return printed_symbol(self.names.get(name, name))

    def node(self, expression: Expr) -> Node:
        """The formula tree of an expression."""
        known: dict[Expr, Node] = once(self, "nodes", dict)  # the terms of equations come again and again
        found = known.get(expression)
        if found is None:
            found = known[expression] = self._node(expression)
        return found

    def _node(self, expression: Expr) -> Node:
        if expression.is_Add:
            return self._sum(_ordered_terms(expression))
        if expression.is_Symbol:
            return self.symbol(expression.name)
        if expression.is_Pow and expression.exp.is_Rational:
            return self._power(expression)
        if expression.is_Mul or expression.is_Rational:
            return self._product(expression)
        if expression.func in _FUNCTIONS or expression.func in _INVERSES:
            return self._call(expression)
        return Symbol("π") if expression == sympy.pi else Number(str(expression))

    def sum(self, terms: Sequence[Expr]) -> Node:
        """The sum of terms in board order, but that it starts with a positive one."""
        return self._sum(sorted(terms, key=lambda term: bool(term.could_extract_minus_sign())))

    def equation(self, left: Expr | Sequence[Expr], right: Expr, sign: str = "=") -> Row:
        """The row of an equation; a sequence on the left keeps its order."""
        shown = self.node(left) if isinstance(left, Expr) else self.sum(left)
        return formula.equals(shown, self.node(right), sign)

    def _sum(self, terms: Sequence[Expr]) -> Node:
        parts: list[Node] = []
        for index, term in enumerate(part for each in terms for part in self._terms(each)):
            minus = bool(term.could_extract_minus_sign())
            if index or minus:
                parts.append(Operator("−" if minus else "+"))
            node = self.node(-term if minus else term)
            parts += node.parts if isinstance(node, Row) and not self.spaced else (node,)
        return Row(tuple(parts)) if len(parts) != 1 else parts[0]

    def _terms(self, term: Expr) -> Sequence[Expr]:
        """A term that is a sum itself, such as a side of a relation, as its terms: a minus would hold for its first."""
        return _ordered_terms(term) if term.is_Add else (term,)

    def _product(self, expression: Expr) -> Node:
        coefficient, factors = _split(expression)
        if coefficient < 0:
            inner = self.node(_joined(-coefficient, factors))
            return Row((Operator("−"), *(inner.parts if isinstance(inner, Row) else (inner,))))
        above = [factor for factor in factors if not _is_below(factor)]
        below = [1 / factor if factor.is_Pow is False else _upright(factor) for factor in factors if _is_below(factor)]
        if coefficient.p == 1 and coefficient.q != 1 and above and not below:
            half = Fraction(Number("1"), Number(str(coefficient.q)))
            return self._row([half, *self._factors(above)])
        top = self._counted(coefficient.p, above)
        bottom = self._counted(coefficient.q, below)
        return top if bottom == Number("1") else Fraction(top, bottom)

    def _counted(self, number: int, factors: Sequence[Expr]) -> Node:
        nodes = self._factors(factors)
        if number != 1 or not nodes:
            nodes = [Number(str(number)), *nodes]
        if len(factors) == 1 and len(nodes) == 1 and factors[0].is_Add:
            return self.node(factors[0])
        return self._row(nodes)

    def _factors(self, factors: Sequence[Expr]) -> list[Node]:
        ordered = sorted(factors, key=_factor_key)
        return [Group(self.node(each)) if each.is_Add else self.node(each) for each in ordered]

    def _row(self, nodes: Sequence[Node]) -> Node:
        if len(nodes) == 1:
            return nodes[0]
        if not self.spaced:
            return Row(tuple(nodes))
        spaced: list[Node] = [nodes[0]]
        for node in nodes[1:]:
            spaced += [Operator("×"), node]
        return Row(tuple(spaced))

    def _power(self, expression: Expr) -> Node:
        base, exponent = expression.base, expression.exp
        if exponent < 0:
            return Fraction(Number("1"), self.node(_upright(expression)))
        if exponent.q != 1:
            return Root(self.node(base**exponent.p), int(exponent.q))
        node = self.node(base)
        plain = isinstance(node, Number | Call) or (isinstance(node, Symbol) and (not self.spaced or base == sympy.pi))
        return Power(node if plain else Group(node), Number(str(exponent)))

    def _call(self, expression: Expr) -> Node:
        argument = self.node(expression.args[0])
        plain = isinstance(argument, Symbol | Number)
        if expression.func in _INVERSES:
            return Call(
                _INVERSES[expression.func], argument if isinstance(argument, Symbol) else Group(argument), inverse=True
            )
        return Call(_FUNCTIONS[expression.func], argument if plain else Group(argument))


@lru_cache(maxsize=4096)
def printed_symbol(name: str) -> Symbol:
    """The symbol of a name in a bank file: ``mu_s`` is μ with the subscript s."""
    base, _, subscript = name.partition("_")
    return Symbol(GREEK.get(base, base), GREEK.get(subscript, subscript))


def amount(quantity: Quantity) -> Node:
    """A printed quantity inside a formula, number and unit."""
    return once(quantity, "amount", lambda: _amount(quantity))


def as_a_factor(quantity: Quantity) -> Node:
    """The amount as it takes the place of a symbol; a negative one in brackets, so that no two signs meet."""
    return formula.Group(amount(quantity)) if quantity.value < 0 else amount(quantity)


def _amount(quantity: Quantity) -> Node:
    printed = quantity.unit.in_text
    number = Number(quantity.number)
    if not printed:
        return number
    return Number(f"{quantity.number}°") if printed == "°" else Row((number, formula.UnitNode(printed)))


def _split(expression: Expr) -> tuple[sympy.Rational, list[Expr]]:
    """The rational coefficient and the other factors."""
    factors = [part for part in sympy.Mul.make_args(expression) if not part.is_Rational]
    numbers = [part for part in sympy.Mul.make_args(expression) if part.is_Rational]
    return sympy.Rational(sympy.Mul(*numbers)), factors


def _joined(coefficient: sympy.Rational, factors: Sequence[Expr]) -> Expr:
    parts = factors if coefficient == 1 else [coefficient, *factors]
    return sympy.Mul(*parts, evaluate=False) if len(parts) > 1 else (parts[0] if parts else coefficient)


def _is_below(factor: Expr) -> bool:
    return bool(factor.is_Pow and factor.exp.is_Rational and factor.exp < 0)


def _upright(factor: Expr) -> Expr:
    """The reciprocal of a power, without SymPy breaking up its root."""
    return sympy.Pow(factor.base, -factor.exp, evaluate=factor.exp.is_Integer)


@lru_cache(maxsize=4096)  # scenes print the same expressions in other letters
def _factor_key(factor: Expr) -> tuple[int, int, str]:
    base = factor.base if factor.is_Pow else factor
    if factor.is_Pow and factor.exp.is_Rational and factor.exp.q != 1:
        return 4, 0, str(factor)
    if base == sympy.pi:
        return 0, 0, ""
    if base.is_Symbol:
        stem = base.name.partition("_")[0]
        return 1, _FACTORS.index(stem) if stem in _FACTORS else len(_FACTORS), base.name
    return (2 if base.is_Add else 3), 0, str(factor)


@lru_cache(maxsize=4096)
def _ordered_terms(expression: Expr) -> tuple[Expr, ...]:
    """Positive terms first, short ones before long ones: d + L sin θ, 1 − μ tan θ."""
    return tuple(sorted(expression.args, key=_term_key))


def _term_key(term: Expr) -> tuple[bool, int, str]:
    return bool(term.could_extract_minus_sign()), int(sympy.count_ops(term)), str(term)
