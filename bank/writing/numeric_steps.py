"""The two steps of a worked solution that look at numbers: putting them in, and a look back at the result."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import numpy as np
import sympy

from ..item.formula import Node, Number, Operator, Row, UnitNode, equals, replaced
from ..item.item import Inline, Math, Paragraph, Words
from ..language import article
from ..model.bounds import is_coefficient
from ..model.expression import names_outside_functions
from ..model.problem import Scene
from ..model.wording import sentence
from ..quantities.quantity import Quantity, from_float, half_unit, print_figures, round_figures
from ..quantities.unit_kinds import kind_of, working_unit
from ..quantities.units import Unit, unit
from ..solving.solution import SolvedQuestion, samples_of
from ..solving.ties import tied
from ..variants.variant import Variant
from .notation import Notation, amount, as_a_factor
from .stem import asked_name, electronvolts, filled, joined

ANGLE = "The expression for the {function} of {asked} is a pure number, as it must be."
NUMBER = "The right-hand side is a pure number, as {what} must be."
TURNS = "One {revolution} is 2π rad in {seconds} s."
UNIT = "The unit of the right-hand side is {unit}, the unit of {kind}."
CANCELS = "The mass {mass} cancels, so the {what} does not depend on it."
CANCEL = "The masses {masses} cancel, so the {what} does not depend on them."
DOUBLES = "If only {varied} doubles, {asked} doubles."
HALVES = "If only {varied} doubles, {asked} is halved."
GROWS = "If only {varied} doubles, {asked} increases by a factor of {factor}."
SHRINKS = "If only {varied} doubles, {asked} decreases by a factor of {factor}."
RISES = "If only {varied} increases, {asked} increases."
FALLS = "If only {varied} increases, {asked} decreases."

GUARD = 2  # figures kept beyond those of a converted quantity or of the answer, until the last line
MOST_GUARD = 7  # tried where the value looks like a half; an exact half is no variant
_ONE_OF_A_KIND = ("ratio", "fraction")
_INVERSE = (sympy.asin, sympy.acos, sympy.atan)
_FUNCTIONS: Mapping[type, str] = {sympy.asin: "sine", sympy.acos: "cosine", sympy.atan: "tangent"}


def numbers(solved: SolvedQuestion, variant: Variant, notation: Notation, form: Node) -> Iterator[Paragraph]:
    """Conversions to SI, the numbers put into ``form``, the value, the rounded answer."""
    worked = put_in(solved, variant)
    yield from conversions((*(variant.given[name].unit for name in worked), variant.answer.unit))
    for name, quantity in worked.items():
        if quantity != variant.given[name]:
            shown = Row(
                (notation.symbol(name), Operator("="), amount(variant.given[name]), Operator("="), amount(quantity))
            )
            yield (Math(shown),)
    symbol = notation.symbol(solved.question.ask)
    line = replaced(form, {notation.symbol(name): as_a_factor(quantity) for name, quantity in worked.items()})
    if worked:
        yield (Math(equals(symbol, line)),)
    yield (Math(_value(symbol, variant, solved.solution.closed_form)),)


def conversions(printed: Iterable[Unit]) -> Iterator[Paragraph]:
    """What one is, in SI units, of each printed unit of which no prefix tells it: a revolution, an electronvolt."""
    units = tuple(dict.fromkeys(printed))
    for each in units:
        if each.seconds_per_revolution:
            yield (Words(_of_turns(each)),)
    yield from ((Math(each),) for each in electronvolts(units))


def put_in(solved: SolvedQuestion, variant: Variant) -> dict[str, Quantity]:
    """The givens of the closed form as they are put in: in SI units, an angle in radians unless it is in a function."""
    form = solved.solution.closed_form
    plain = names_outside_functions(form)
    return {
        name: in_radians(quantity) if name in plain else working(quantity)
        for name, quantity in variant.given.items()
        if name in solved.solution.symbols
    }


def in_radians(quantity: Quantity) -> Quantity:
    """An angle in radians, with the guard figures of any converted quantity; another quantity in its SI unit."""
    if quantity.unit.symbol not in ("deg", "r"):
        return working(quantity)
    value = from_float(float(quantity.value) * quantity.unit.factor)
    digits = len(round_figures(value, quantity.figures + GUARD).normalize().as_tuple().digits)
    return Quantity(value, unit("rad"), max(quantity.figures, digits))


def _of_turns(each: Unit) -> str:
    """What a unit that counts revolutions is in radians and seconds."""
    one = each.in_text.replace("revolutions", "revolution")
    return TURNS.format(revolution=one, seconds=each.seconds_per_revolution)


def _value(symbol: object, variant: Variant, form: sympy.Expr) -> Row:
    """``v = 3.0512 m/s ≈ 3.05 m/s``, through SI where the answer is asked in another unit."""
    answer = variant.answer
    parts: list[object] = [symbol]
    si = working_unit(answer.unit)
    if si.symbol in ("deg", "r") and not form.has(*_INVERSE):
        si = unit("rad")
    more = _unrounded(answer)
    if si != answer.unit:
        in_si = Quantity(from_float(variant.exact_si / si.factor), si, more)
        parts += [Operator("="), amount(in_si)]
    if si == answer.unit or not _says_nothing(answer, more):
        parts += [Operator("="), amount(Quantity(answer.value, answer.unit, more))]
    parts += [Operator("≈"), amount(answer)]
    return Row(tuple(parts))  # type: ignore[arg-type]


def _unrounded(answer: Quantity) -> int:
    """The figures that show which way the answer is rounded: more than usual where the usual ones look like a half."""
    usual = answer.figures + GUARD
    return next((each for each in range(usual, usual + MOST_GUARD) if not _is_half(answer, each)), usual)


def _is_half(answer: Quantity, figures: int) -> bool:
    """Whether a value that is printed to so many figures lies half-way between two answers."""
    shown = round_figures(answer.value, figures)
    return abs(shown - round_figures(shown, answer.figures)) == half_unit(shown, answer.figures)


def _says_nothing(answer: Quantity, more: int) -> bool:
    return print_figures(answer.value, more) == answer.number


def working(quantity: Quantity) -> Quantity:
    """The quantity in its SI unit; guard figures that are not zero are kept where more than the point shifts."""
    si = working_unit(quantity.unit)
    if si.factor == quantity.unit.factor:
        return quantity
    value = from_float(float(quantity.value) * quantity.unit.factor / si.factor)
    if _is_power_of_ten(quantity.unit.factor / si.factor):
        return Quantity(value, si, quantity.figures)
    digits = len(round_figures(value, quantity.figures + GUARD).normalize().as_tuple().digits)
    return Quantity(value, si, max(quantity.figures, digits))


def _is_power_of_ten(factor: float) -> bool:
    exponent = np.log10(factor)
    return bool(abs(exponent - round(exponent)) < 1e-12)


# --- a look back -----------------------------------------------------------------------------------


def look_back(solved: SolvedQuestion, scene: Scene, notation: Notation, seen: frozenset[str]) -> Iterator[Paragraph]:
    """The unit, a mass ``seen`` in the equations that has cancelled, and what a change of each given would do."""
    spec = solved.problem.answer_spec(solved.question, scene)
    si = working_unit(spec.unit)
    kind = kind_of(spec.unit)
    if si.symbol == "deg":
        function = _FUNCTIONS.get(solved.solution.closed_form.func)
        if function:
            yield filled(ANGLE, function=function, asked=notation.symbol(solved.question.ask))
    elif si.symbol == "1":
        name = _named(solved, scene)
        yield (Words(NUMBER.format(what=f"{'the' if name.startswith(_ONE_OF_A_KIND) else article(name)} {name}")),)
    elif kind:
        yield filled(UNIT, unit=UnitNode(si.printed), kind=f"a {kind}" if kind == "spring constant" else kind)
    yield from _cancelled(solved, scene, notation, seen)
    if _is_property(solved):
        return
    for symbol in [each for each in solved.question.given if each in solved.solution.symbols][:3]:
        said = _dependence(solved, symbol, notation)
        if said:
            yield said


def _named(solved: SolvedQuestion, scene: Scene) -> str:
    means = solved.problem.quantities[solved.question.ask].means
    return sentence(means, scene) if means else asked_name(solved.problem, solved.question, scene)


def _cancelled(solved: SolvedQuestion, scene: Scene, notation: Notation, seen: frozenset[str]) -> Iterator[Paragraph]:
    """The masses of moving bodies that have cancelled; one that others move round has been found from another orbit."""
    masses = {each.mass for each in solved.problem.diagrams if each.spot != "rest"}
    left = sorted(masses & seen - solved.solution.symbols - {solved.question.ask}, key=lambda each: (-len(each), each))
    what = asked_name(solved.problem, solved.question, scene)
    if len(left) == 1:
        yield filled(CANCELS, mass=notation.symbol(left[0]), what=what)
    elif left:
        before, after = CANCEL.split("{masses}")
        parts: list[Inline] = [Words(before)]
        for place, each in enumerate(left):
            parts += [
                Words((" and " if place == len(left) - 1 else ", ") if place else ""),
                Math(notation.symbol(each)),
            ]
        yield tuple(joined([*parts, Words(after.format(what=what))]))


def _is_property(solved: SolvedQuestion) -> bool:
    """Whether a mass or a coefficient of friction is found by the motion: it is what it is, however that changes."""
    problem, question = solved.problem, solved.question
    if question.of_extreme:
        return False
    bodies = {each.mass for each in problem.diagrams}
    centres = {force.centre_mass for each in problem.diagrams for force in each.forces}
    is_mass = problem.quantities[question.ask].unit.dimension == unit("kg").dimension
    return (
        (not problem.diagrams and is_mass)
        or question.ask in {*bodies, *centres}
        or is_coefficient(problem, question.ask)
    )


def _dependence(solved: SolvedQuestion, symbol: str, notation: Notation) -> Paragraph | None:
    """What doubling or raising one given does to the answer, from the closed form."""
    if solved.problem.quantities[symbol].constant or _is_single(solved, symbol) or symbol in tied(solved):
        return None
    gaps = {"asked": notation.symbol(solved.question.ask), "varied": notation.symbol(symbol)}
    power = power_law(solved.solution.closed_form, symbol)
    if power is None:
        direction = _monotony(solved, symbol)
        return filled(RISES if direction > 0 else FALLS, **gaps) if direction else None
    if abs(power) == 1:
        return filled(DOUBLES if power > 0 else HALVES, **gaps)
    return filled(GROWS if power > 0 else SHRINKS, factor=_factor(abs(power), notation), **gaps)


def _is_single(solved: SolvedQuestion, symbol: str) -> bool:
    """Whether the quantity has one value, such as the mass of the Earth."""
    draw = solved.problem.quantities[symbol].draw
    return draw is not None and len(draw.values) == 1


def power_law(closed: sympy.Expr, symbol: str) -> sympy.Rational | None:
    """The exponent where the closed form is that power of the symbol and else free of it; None otherwise."""
    letter = sympy.Symbol(symbol)
    exponent = sympy.Integer(0)
    for factor in sympy.Mul.make_args(closed):
        if not factor.has(letter):
            continue
        if factor == letter:
            exponent += 1
            continue
        if factor.is_Add:
            inner, power = _shared_power(factor, symbol), sympy.Integer(1)
        elif factor.is_Pow and factor.exp.is_Rational:
            inner, power = power_law(factor.base, symbol), factor.exp
        else:
            return None
        if inner is None:
            return None
        exponent += inner * power
    return exponent


def _shared_power(total: sympy.Expr, symbol: str) -> sympy.Rational | None:
    """The exponent that all terms of a sum share: m g - m v²/r goes with the first power of m."""
    powers = {power_law(term, symbol) for term in total.args}
    return powers.pop() if len(powers) == 1 else None


def _factor(power: sympy.Rational, notation: Notation) -> Node:
    """Two to a power: exact, and what it is about where that is no whole number."""
    exact = notation.node(sympy.Integer(2) ** power)
    return exact if power.is_integer else Row((exact, Operator("≈"), Number(f"{2.0 ** float(power):.3g}")))


def _monotony(solved: SolvedQuestion, symbol: str) -> int:
    """+1 or -1 where the answer rises or falls with the given in every sample; 0 where it does neither throughout."""
    from ..model.evaluation import evaluate

    samples: Mapping[str, np.ndarray] = samples_of(solved.problem, solved.question)
    before = evaluate(solved.solution.closed_form, samples)
    after = evaluate(solved.solution.closed_form, {**samples, symbol: np.asarray(samples[symbol]) * 1.01})
    steps = np.sign(after - before)[np.isfinite(before) & np.isfinite(after)]
    return int(steps[0]) if len(steps) and np.all(steps == steps[0]) else 0
