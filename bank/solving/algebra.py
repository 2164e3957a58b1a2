"""Small exact algebra on the board's equations: sine and cosine as letters, cancelling, isolating, neat forms."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache

import sympy
from sympy import Expr, Poly, Rational, Symbol

from .rational import cancelled, coefficients, expanded, factored, fraction_of

SINE, COSINE = "sin:", "cos:"
REMEMBERED = 20_000  # the same lines come back in every question and mistake of a problem
_LONGER: dict[str, Expr] = {}  # angles that are no letter, such as ω t, by what stands in the letters of their sine


def letter(which: str, angle: Expr) -> Symbol:
    """The letter for the sine or cosine of an angle, which may be a formula such as ω t."""
    if not angle.is_Symbol:
        _LONGER[str(angle)] = angle
    return Symbol(f"{which}{angle}")


def angle_of(name: str) -> Expr | None:
    """The formula that a letter is the sine or cosine of; None for every other letter, that of cos θ among them."""
    return _LONGER.get(name[len(SINE) :]) if name.startswith((SINE, COSINE)) else None


def names_inside(name: str) -> frozenset[str]:
    """The letters that one letter stands for: those of the formula that it is the sine or cosine of, or itself."""
    angle = angle_of(name)
    return frozenset({name} if angle is None else _names(angle))


def put_inside(side: Expr, symbol: Symbol, value: Expr) -> Expr:
    """The side with the value in place of the symbol in the formulas that sines and cosines are of."""
    put = {}
    for each in side.free_symbols:
        angle = angle_of(each.name)
        if angle is not None and angle.has(symbol):
            put[each] = letter(each.name[: len(SINE)], neat(angle.xreplace({symbol: functions(value)})))
    return side.xreplace(put)


@lru_cache(maxsize=REMEMBERED)
def letters(expression: Expr) -> Expr:
    """The expression with sin θ and cos θ as plain symbols and tan θ as their quotient: rational and exact."""
    expression = expression.replace(sympy.tan, lambda angle: sympy.sin(angle) / sympy.cos(angle))
    expression = expression.replace(sympy.sin, lambda angle: letter(SINE, angle))
    replaced: Expr = expression.replace(sympy.cos, lambda angle: letter(COSINE, angle))
    return replaced


@lru_cache(maxsize=REMEMBERED)
def functions(expression: Expr) -> Expr:
    """The reverse of ``letters``, with sin θ/cos θ folded into tan θ where that is shorter."""
    angles = sorted({name[4:] for name in _names(expression) if name.startswith((SINE, COSINE))})
    for angle in angles:
        expression = _fold_tangent(expression, angle)
    mapping = {}
    for angle in angles:
        mapping[Symbol(SINE + angle)] = sympy.sin(_LONGER.get(angle, Symbol(angle)))
        mapping[Symbol(COSINE + angle)] = sympy.cos(_LONGER.get(angle, Symbol(angle)))
    back: Expr = expression.xreplace(mapping)
    return back


def _names(expression: Expr) -> set[str]:
    return {symbol.name for symbol in expression.free_symbols}


def _fold_tangent(expression: Expr, angle: str) -> Expr:
    sine, cosine = Symbol(SINE + angle), Symbol(COSINE + angle)
    tangent = sympy.tan(_LONGER.get(angle, Symbol(angle)))
    if not expression.has(sine):
        return expression
    folded = sympy.Add(*(_fold_term(term, sine, cosine, tangent) for term in sympy.Add.make_args(expression)))
    inside = _inside_roots(expression, lambda part: _fold_tangent(part, angle))
    if inside != expression:
        return inside
    whole = cancelled(expression.xreplace({sine: Symbol("tan:") * cosine}))
    if whole.has(cosine) or not expression.has(cosine):
        return folded
    whole = turned(factored(whole)).xreplace({Symbol("tan:"): tangent})
    return min(folded, whole, key=sympy.count_ops)


def _inside_roots(expression: Expr, change: Callable[[Expr], Expr]) -> Expr:
    """The expression with ``change`` made under its root signs, so that a root stays one root."""
    if expression.is_Pow and not expression.exp.is_Integer:
        return sympy.Pow(change(expression.base), expression.exp, evaluate=False)
    if expression.func in (sympy.atan, sympy.acos, sympy.asin):
        return expression.func(change(expression.args[0]))
    if expression.is_Mul and any(part.is_Pow and not part.exp.is_Integer for part in expression.args):
        return sympy.Mul(*(_inside_roots(part, change) for part in expression.args), evaluate=False)
    return expression


def turned(expression: Expr) -> Expr:
    """The expression with a leading minus sign taken into a bracket: −m(g r − v²)/r becomes m(v² − g r)/r."""
    if not expression.is_Mul or not expression.args[0].is_number or not expression.args[0].is_negative:
        return expression
    odd = [part for part in expression.args if _bracket(part).is_Add and (part.is_Add or part.exp % 2)]
    if not odd:
        return expression
    chosen = max(
        odd, key=lambda part: (sum(term.could_extract_minus_sign() for term in _bracket(part).args), str(part))
    )
    power = 1 if chosen.is_Add else chosen.exp
    negative = sympy.Add(*(-term for term in _bracket(chosen).args)) ** power
    others = [part for part in expression.args[1:] if part is not chosen]
    return sympy.Mul(-expression.args[0], *others, negative)


def _bracket(part: Expr) -> Expr:
    return part.base if part.is_Pow else part


def _fold_term(term: Expr, sine: Symbol, cosine: Symbol, tangent: Expr) -> Expr:
    powers = term.as_powers_dict()
    above, below = powers.get(sine, 0), powers.get(cosine, 0)
    if above * below >= 0:
        return term
    shared = min(abs(above), abs(below)) * sympy.sign(above)
    return term / (sine**shared * cosine ** (-shared)) * tangent**shared


@lru_cache(maxsize=REMEMBERED)
def common_factor(*sides: Expr) -> Expr:
    """The product of symbols and brackets that every term of both sides holds, to the power that all have; else 1.

    Where all terms have a symbol in the denominator, the factor holds it there, so that dividing by it clears it.
    """
    powers = [term.as_powers_dict() for term in terms_of(*sides)]
    if not powers:
        return sympy.Integer(1)
    factor = sympy.Integer(1)
    for base in sorted(powers[0], key=str):
        exponents = [power.get(base, sympy.Integer(0)) for power in powers]
        if base.is_number or not all(exponent.is_Integer for exponent in exponents):
            continue
        if min(exponents) > 0:
            factor *= base ** min(exponents)
        elif max(exponents) < 0:
            factor *= base ** max(exponents)
    return factor


def terms_of(*sides: Expr) -> list[Expr]:
    """The non-zero terms of both sides of an equation."""
    return [term for side in sides for term in sympy.Add.make_args(side) if term != 0]


@lru_cache(maxsize=REMEMBERED)
def divided(side: Expr, factor: Expr) -> Expr:
    """A side of an equation divided term by term."""
    return sympy.Add(*(term / factor for term in sympy.Add.make_args(side)))


@lru_cache(maxsize=REMEMBERED)
def numerator(left: Expr, right: Expr) -> Expr:
    """The polynomial that is zero exactly where left = right; what is above and below alike is cancelled first."""
    above, _ = sympy.fraction(cancelled(left - right))
    return expanded(above)


def power_of(polynomial: Expr, symbol: Symbol) -> int:
    """k where the symbol comes in only as its k-th power; 0 where it comes in otherwise or not at all."""
    exponents = coefficients(polynomial, symbol).keys() - {0}
    return exponents.pop() if len(exponents) == 1 else 0


@lru_cache(maxsize=REMEMBERED)
def exponents_in(expression: Expr, symbol: Symbol) -> set[int]:
    """The exponents of a symbol in the numerator and denominator of a rational expression, zero left out."""
    above, below = sympy.fraction(sympy.together(expression))
    found = {monomial[0] for part in (above, below) for monomial in Poly(part, symbol).monoms()}
    return found - {0}


@lru_cache(maxsize=REMEMBERED)
def isolate(left: Expr, right: Expr, symbol: Symbol) -> tuple[int, Expr] | None:
    """(k, X) with symbol^k = X from an equation that is linear in that power; None where it is not, or X is 0/0."""
    polynomial = numerator(left, right)
    if not polynomial.is_polynomial(symbol):
        return None
    power = power_of(polynomial, symbol)
    if not power:
        return None
    return power, neat(_share(polynomial, symbol, power))


def _share(polynomial: Expr, symbol: Symbol, power: int) -> Expr:
    """What symbol^power is where the polynomial, in which only that comes in, is zero."""
    found = coefficients(polynomial, symbol)
    return -found.get(0, sympy.Integer(0)) / found[power]


@lru_cache(maxsize=REMEMBERED)
def neat(expression: Expr) -> Expr:
    """The shortest of a few equal forms: multiplied out, cancelled, factored."""
    if not expression.has(sympy.Add):
        return expression  # a product of powers is as short as can be
    found = fraction_of(expression)
    if found:
        whole, plain, product = found.cancelled, found.expanded, found.factored
    else:
        whole = sympy.cancel(sympy.together(expression))
        plain, product = sympy.expand(whole), sympy.factor(whole)
    shorter = _pythagoras(product)
    again = plain if found and shorter == product and len(found.below) == 1 else expanded(shorter)
    forms = (plain, turned(whole), turned(shorter), again)
    return min(forms, key=_length)


@lru_cache(maxsize=REMEMBERED)
def _length(expression: Expr) -> tuple[int, int]:
    shown = functions(expression)
    return sympy.count_ops(shown), sum(part.is_Symbol for part in sympy.preorder_traversal(shown))


def _pythagoras(expression: Expr) -> Expr:
    """The expression with each factor sin² + cos² as 1."""
    angles = {name[4:] for name in _names(expression) if name.startswith(SINE)}
    squares = {Symbol(SINE + angle) ** 2 + Symbol(COSINE + angle) ** 2: sympy.Integer(1) for angle in angles}
    shorter: Expr = expression.xreplace(squares)
    return shorter


def roots(polynomial: Expr, symbol: Symbol) -> Iterator[tuple[int, Expr, Expr]]:
    """Solutions of polynomial = 0 as (k, X, solution) with symbol^k = X; a full quadratic gives k = 1.

    Only forms that are solved on a board are tried: linear, a pure power, quadratic.
    """
    whole = polynomial.is_polynomial(symbol) and power_of(polynomial, symbol)
    factors = [(polynomial, 1)] if whole else sympy.factor_list(polynomial)[1]
    for factor, _ in factors:
        if not factor.has(symbol) or not factor.is_polynomial(symbol):
            continue
        power = power_of(factor, symbol)
        if power:
            value = neat(_share(factor, symbol, power))
            positive = root(functions(value), power)
            yield power, value, positive
            if power % 2 == 0:
                yield power, value, -positive
        elif Poly(factor, symbol).degree() == 2:
            yield from ((1, each, each) for each in _quadratic(Poly(factor, symbol), symbol))


def _quadratic(poly: Poly, symbol: Symbol) -> Iterator[Expr]:
    square, linear, constant = (poly.coeff_monomial(symbol**power) for power in (2, 1, 0))
    under = root(neat((linear / (2 * square)) ** 2 - constant / square), 2)
    for sign in (1, -1):
        yield neat(-linear / (2 * square)) + sign * under


def root(value: Expr, power: int) -> Expr:
    """The positive root as one sign over everything that is no perfect power: 2π√(L/g), √(g r), √(5 g r).

    SymPy would split it into roots of single symbols; the board keeps one root sign.
    """
    if power == 1 or value == 0:
        return value
    above, below = sympy.fraction(value)
    outside, inside = sympy.Integer(1), sympy.Integer(1)
    for part, sign in ((above, 1), (below, -1)):
        for base, exponent in part.as_powers_dict().items():
            taken, left = _perfect(base, exponent, power)
            outside *= taken**sign
            inside *= left**sign
    if inside == 1:
        return outside
    under = sympy.Pow(inside, Rational(1, power), evaluate=False)
    return under if outside == 1 else sympy.Mul(*sympy.Mul.make_args(outside), under, evaluate=False)


def rerooted(expression: Expr) -> Expr:
    """An expression that is a square or cube root times something, as one root again: √2 √(g r) becomes √(2 g r)."""
    factors = sympy.Mul.make_args(expression)
    angles = expression.atoms(sympy.sin, sympy.cos, sympy.tan)
    if not all(each.args[0].is_Symbol for each in angles):
        return expression
    powers = [part.exp for part in factors if part.is_Pow]
    index = 2 if Rational(1, 2) in powers else 3 if any(each.is_Rational and each.q == 3 for each in powers) else 0
    if not index or len(factors) == 1:
        return expression
    return root(functions(neat(letters(expression**index))), index)


def _perfect(base: Expr, exponent: Expr, power: int) -> tuple[Expr, Expr]:
    """What comes out from under the root, and what stays, for one factor."""
    if base.is_Integer and exponent == 1:
        exact, is_exact = sympy.integer_nthroot(int(base), power) if base > 0 else (0, False)
        return (sympy.Integer(exact), sympy.Integer(1)) if is_exact else (sympy.Integer(1), base)
    if exponent.is_Integer and exponent % power == 0 and not base.is_Add:
        return base ** (exponent // power), sympy.Integer(1)
    return sympy.Integer(1), base**exponent
