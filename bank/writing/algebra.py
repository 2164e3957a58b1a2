"""The lines of a worked solution: what is true at the edge, what must hold, and the algebra of each elimination."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise

import sympy

from ..item.formula import Row
from ..item.item import Inline, Math, Paragraph, Words
from ..mechanics.equations import System, rates
from ..model.bounds import comes_by_itself, is_ratio
from ..model.problem import Diagram, Scene
from ..model.wording import capital, force_words, sentence, with_article
from ..solving.elimination import Stage
from ..solving.solution import Solution, Solved, SolvedQuestion
from .directions import placeless
from .letters import name_of
from .notation import Notation

_ORDINALS = ("first", "second", "third")
AT_LIMIT = "At the limit:"
VANISHES = "At the limit, the {force} has just become zero:"
TURNS_BACK = "Where {body} turns back, its speed is zero for a moment:"
LEAVING = "When {body} loses contact, the {force} has just become zero:"
SLACK = "When {agent} goes slack, the {force} has just become zero:"
EXTREME = "At the limit, the {force} has its {extreme} value:"
LIKE_WEIGHT = "In the limiting case, the {force} is equal to the weight:"
MULTIPLE = "In the limiting case, the {force} is a given multiple of the weight:"
_AXIS_NAMES = {"inward": "radial", "up": "vertical", "forward": "forward"}


@dataclass(frozen=True)
class AlgebraWriter:
    """Writes step 5. ``where`` gives the words that tell one body or place from another, from a diagram's name."""

    system: System
    solution: Solution
    notation: Notation
    where: Callable[[str], str]

    def paragraphs(self) -> Iterator[Paragraph]:
        """All lines, from the first unknown that goes to the asked quantity alone."""
        *found, asked = self.solution.path
        for each in found:
            if each.origin < 0 or self.system.equations[each.origin].kind != "limiting":
                yield from self._isolated(each)
        yield from self._isolated(asked)
        symbol = sympy.Symbol(self.solution.ask)
        if (asked.left, asked.value) != (symbol, self.solution.closed_form):
            yield (Words("Therefore"),)
            yield (Math(self.notation.equation(symbol, self.solution.closed_form)),)

    def _isolated(self, solved: Solved) -> Iterator[Paragraph]:
        stages = _visible(solved.stages)
        for before, stage in pairwise(stages):
            yield self._did(solved, before, stage, again=stage is not stages[1])
            yield from self._equated(solved, before, stage)
            yield from self._divided(solved, before, stage)
            yield (Math(self._shown(solved, stage)),)
        done = {stages[-1].left, stages[-1].right} == {solved.left, solved.value}
        row = Math(self.notation.equation(*self._as_tangents.get(solved.left, (solved.left, solved.value))))
        if len(stages) == 1 and not self._stands(solved):
            yield (*self._named("From ", solved.origin), Words(": "), row, Words("."))
        elif len(stages) > 1 and not done:
            yield tuple(self._so(stages[-1], solved))
            yield (row,)

    @cached_property
    def _as_tangents(self) -> dict[sympy.Expr, tuple[sympy.Expr, sympy.Expr]]:
        """Cosines found as a multiple of the sine, and the other way round, that are put in for a tangent alone.

        Each with the tangent and its value, which is what a board has there.
        """
        found = {each.left: tangent for each in self.solution.path if (tangent := _tangent_of(each)) is not None}
        stages = [pair for each in self.solution.path for pair in pairwise(_visible(each.stages))]
        return {
            left: (tangent, value)
            for left, (tangent, value) in found.items()
            if all(_has_only(tangent, before) for before, after in stages if left in _several(after.what))
        }

    def _so(self, stage: Stage, solved: Solved) -> Iterator[Inline]:
        """What leads from the last line to what is isolated."""
        for angle in _tangents(stage) if not solved.value.has(sympy.tan) else ():
            sine, cosine, tangent = (function(angle) for function in (sympy.sin, sympy.cos, sympy.tan))
            if any(side.has(sine) or side.has(cosine) for side in (stage.left, stage.right)):
                below = any(side.has(1 / tangent) for side in (stage.left, stage.right))
                yield Words("Multiply every term by ")
                yield Math(self.notation.node(sine if below else cosine))
                yield Words(". Since ")
                yield Math(self._squares_of(angle))
                yield Words(", this gives")
                return
        yield Words("Hence")

    def _equated(self, solved: Solved, before: Stage, stage: Stage) -> Iterator[Paragraph]:
        """Both expressions as they were found, where the line of the stage has lost something that they share."""
        value = next((each.value for each in self.solution.path if each.left == stage.what), None)
        if value is None or self._equated_unknown(solved.origin, before, stage) is None:
            return
        put = {stage.what: value}
        plain = self._shown(solved, Stage("put", before.left.xreplace(put), before.right.xreplace(put), stage.what))
        if plain != self._shown(solved, stage):
            yield (Math(plain),)
            yield (Words("Simplify:"),)

    def _divided(self, solved: Solved, before: Stage, stage: Stage) -> Iterator[Paragraph]:
        """The line as it is put in, and what makes tangents of its sines and cosines."""
        tangents = _tangents(stage) if stage.did == "put" else set()
        plain = self._put_in(before, stage) if tangents else None
        if plain is None:
            return
        for angle in sorted(tangents - _tangents(plain), key=str):
            sine, cosine = sympy.sin(angle), sympy.cos(angle)
            yield (Math(self._shown(solved, plain)),)
            if any(sympy.fraction(side)[1].has(sine) for side in (plain.left, plain.right)):
                yield (
                    Words("Divide the numerator and the denominator by "),
                    Math(self.notation.node(cosine)),
                    Words(":"),
                )
            else:
                yield (Words("With "), Math(self.notation.equation(sine / cosine, sympy.tan(angle))), Words(":"))

    def _put_in(self, before: Stage, stage: Stage) -> Stage | None:
        """The stage before anything is divided out; None where a power is put in or nothing was found."""
        values = {each.left: each.value for each in self.solution.path}
        left, right = before.left, before.right
        for symbol in _several(stage.what):
            if symbol is None or not symbol.is_Symbol or symbol not in values:
                return None
            left, right = (_factored(side.xreplace({symbol: values[symbol]})) for side in (left, right))
        return Stage("put", left, right, stage.what)

    def _stands(self, solved: Solved) -> bool:
        """Whether the equation as it was written down already gives this unknown."""
        if solved.origin < 0:
            return False
        equation = self.system.equations[solved.origin]
        written = self.notation.equation(equation.terms, equation.right)
        return written == self.notation.equation(solved.left, solved.value)

    def _shown(self, solved: Solved, stage: Stage) -> sympy.Expr:
        """The equation of a stage, with what is isolated on its left."""
        left, right = (stage.right, stage.left) if stage.right == solved.left else (stage.left, stage.right)
        return self.notation.equation(left, right)

    def _did(self, solved: Solved, before: Stage, stage: Stage, *, again: bool) -> Paragraph:
        equated = self._equated_unknown(solved.origin, before, stage)
        if equated is not None:
            others = [each for each in _several(stage.what) if each != equated]
            more = (Words(" and substitute for "), *self._list(sympy.Tuple(*others))) if others else ()
            return (Words("Equate the two expressions for "), *self._list(equated), *more, Words(":"))
        if stage.did == "put":
            where = () if again else self._named(" in ", solved.origin)
            return (Words("Substitute for "), *self._list(stage.what), *where, Words(":"))
        above, below = sympy.fraction(stage.what)
        parts: list[Inline] = [] if again else [*self._named("In ", solved.origin), Words(", ")]
        if above != 1:
            parts += [Words("Divide" if again else "divide"), Words(" every term by "), Math(self.notation.node(above))]
        if below != 1:
            alone = "Multiply every term by " if again else "multiply every term by "
            joined = " and multiply by " if above != 1 else alone
            parts += [Words(joined), Math(self.notation.node(below))]
        return (*parts, Words(":"))

    def _equated_unknown(self, origin: int, before: Stage, stage: Stage) -> sympy.Expr | None:
        """The unknown that a stage puts in and for which the equation of that number is itself an expression."""
        equation = self.system.equations[origin] if origin >= 0 and stage.did == "put" else None
        if equation is None or equation.kind != "relation" or equation.left not in (before.left, before.right):
            return None
        return equation.left if equation.left in _several(stage.what) else None

    def _squares_of(self, angle: sympy.Expr) -> Row:
        """``sin² θ + cos² θ = 1``."""
        return self.notation.equation((sympy.sin(angle) ** 2, sympy.cos(angle) ** 2), sympy.Integer(1))

    def _list(self, what: sympy.Expr | None) -> Iterator[Inline]:
        symbols = what.args if isinstance(what, sympy.Tuple) else (what,)
        for place, symbol in enumerate(symbols):
            if place:
                yield Words(" and " if place == len(symbols) - 1 else ", ")
            yield Math(self.notation.node(self._as_tangents.get(symbol, (symbol, None))[0]))

    def _named(self, before: str, origin: int) -> Iterator[Inline]:
        """The equation of that number, after a word."""
        if origin < 0:
            sides = (side for found in self.solution.path for side in (found.left, found.value))
            angles = {each.args[0] for side in sides for each in side.atoms(sympy.sin, sympy.cos)}
            yield Words(before)
            yield Math(self._squares_of(min(angles, key=str)))
            return
        equation = self.system.equations[origin]
        if equation.kind in _AXIS_NAMES:
            yield Words(f"{before}the {_AXIS_NAMES[equation.kind]} equation{self.where(equation.diagram)}")
        elif equation.kind == "relation":
            yield Words(f"{before}the relation for ")
            yield Math(self.notation.node(equation.left))
        else:
            yield Words(before + self._balance(origin) if equation.kind == "energy" else f"{before}the limiting case")

    def _balance(self, origin: int) -> str:
        used = {each.origin for each in self.solution.path if each.origin >= 0}
        balances = [number for number in sorted(used) if self.system.equations[number].kind == "energy"]
        return (
            "the energy equation" if len(balances) == 1 else f"the {_ORDINALS[balances.index(origin)]} energy equation"
        )


def _visible(stages: tuple[Stage, ...]) -> list[Stage]:
    """The stages that change what is seen; what was put in one after the other stands in one line."""
    kept: list[Stage] = []
    for stage in stages:
        if kept and kept[-1].did == stage.did == "put":
            before = kept.pop()
            what = sympy.Tuple(*_several(before.what), *_several(stage.what))
            kept.append(Stage("put", stage.left, stage.right, what))
        elif not kept or (kept[-1].left, kept[-1].right) != (stage.left, stage.right):
            kept.append(stage)
    return kept


@lru_cache(maxsize=1024)  # alike in all scenes
def _factored(side: sympy.Expr) -> sympy.Expr:
    return _upright(sympy.factor(side))


def _upright(side: sympy.Expr) -> sympy.Expr:
    """A product without a minus sign before it, where one of its sums can take it."""
    sums = [each for each in sympy.Mul.make_args(side) if each.is_Add]
    if not side.could_extract_minus_sign() or not sums:
        return side
    others = [each for each in sympy.Mul.make_args(-side) if each != sums[0]]
    return sympy.Mul(*others, sympy.Add(*(-term for term in sums[0].args)))


def _tangents(stage: Stage) -> set[sympy.Expr]:
    """The angles whose tangent stands in a stage."""
    return {each.args[0] for side in (stage.left, stage.right) for each in side.atoms(sympy.tan)}


def _tangent_of(solved: Solved) -> tuple[sympy.Expr, sympy.Expr] | None:
    """The tangent of an angle, and its value, where its sine and its cosine were found as multiples of each other."""
    if not isinstance(solved.left, sympy.sin | sympy.cos):
        return None
    (angle,) = solved.left.args
    is_sine = isinstance(solved.left, sympy.sin)
    rest = solved.value / (sympy.cos(angle) if is_sine else sympy.sin(angle))
    if rest.has(sympy.sin(angle), sympy.cos(angle)):
        return None
    return sympy.tan(angle), rest if is_sine else 1 / rest


def _has_only(tangent: sympy.Expr, line: Stage) -> bool:
    """Whether a line has the angle in its tangent and nowhere else."""
    (angle,) = tangent.args
    sine, cosine = sympy.sin(angle), sympy.cos(angle)
    sides = (sympy.cancel(each.xreplace({tangent: sine / cosine})) for each in (line.left, line.right))
    return not any(sympy.cancel(each.xreplace({sine: tangent * cosine})).has(sine, cosine) for each in sides)


def _several(what: sympy.Expr | None) -> tuple[sympy.Expr, ...]:
    return tuple(what) if isinstance(what, sympy.Tuple) else (what,)


def limiting_case(solved: SolvedQuestion, scene: Scene, notation: Notation) -> Iterator[Paragraph]:
    """What has happened at the limit, with its equation; nothing where the question has no limiting case."""
    limiting = solved.question.limiting
    if limiting:
        row = notation.equation(limiting.left, limiting.right)
        yield (Words(limit_words(solved, scene) + " "), Math(row), Words("."))


def what_holds(solved: SolvedQuestion, scene: Scene, notation: Notation, seen: frozenset[str]) -> Iterator[Paragraph]:
    """What holds of the forces that the solution has ``seen``, each with its reason.

    It is told where a value that is given plays a part in it and in nothing else, as a coefficient of friction does
    below its limit. What holds in every variant does not help with the answer.
    """
    for kept in solved.kept:
        relation = kept.reason.relation
        if kept.expression is None or not relation.symbols & solved.system.forces <= seen:
            continue
        if not relation.symbols & set(solved.question.extra):
            continue
        sign = {"<=": "≤", ">=": "≥"}.get(relation.sign, relation.sign)
        because = capital(sentence(kept.reason.because, scene))
        row = notation.equation(relation.left, relation.right, sign)
        yield (Words(f"{because}: "), Math(row), Words("."))


def limit_words(solved: SolvedQuestion, scene: Scene) -> str:
    """What has happened at the limit, in the scene's name for the force that is at its edge."""
    limiting = solved.question.limiting
    assert limiting is not None
    for diagram in solved.problem.diagrams:
        for force in diagram.forces:
            shown = force_words(scene, force.role)
            symbol = sympy.Symbol(force.symbol or "")
            if not force.symbol or not shown or symbol not in (limiting.left, limiting.right):
                continue
            name = placeless(diagram, shown.name)
            alike = [
                each for other in diagram.forces if (each := scene.forces.get(other.role)) and each.name == shown.name
            ]
            name += f" exerted by {shown.by}" if len(alike) > 1 else ""
            if sympy.Integer(0) in (limiting.left, limiting.right):
                by_itself = comes_by_itself(solved.question, diagram)
                told = (SLACK if scene.kind_of(force) == "tension" else LEAVING) if by_itself else VANISHES
                body = with_article(scene.words[diagram.body], "the")
                return told.format(force=name, agent=shown.by, body=body)
            if {limiting.left, limiting.right} == {symbol, sympy.Symbol(diagram.mass) * sympy.Symbol("g")}:
                return LIKE_WEIGHT.format(force=name)
            if is_of_ratio(solved):
                return MULTIPLE.format(force=name)
            return EXTREME.format(force=name, extreme=_extreme(solved, symbol))
    turning = turns_back(solved)
    if turning:
        return TURNS_BACK.format(body=with_article(scene.words[turning.body], "the"))
    if sympy.Integer(0) in (limiting.left, limiting.right) and len(limiting.symbols) == 1:
        (letter,) = limiting.symbols
        return VANISHES.format(force=name_of(solved.problem, scene, letter))
    return AT_LIMIT


def turns_back(solved: SolvedQuestion) -> Diagram | None:
    """The diagram of the place on an arc where the body is at rest for a moment, if the question is about that place.

    A least or greatest value for which it just gets there is a limit, and no place where it turns back.
    """
    limiting, problem = solved.question.limiting, solved.problem
    if limiting is None or limiting.right != 0 or solved.question.of_extreme:
        return None
    speeds = {rates(problem.motion, each).speed: each for each in problem.diagrams if each.spot in ("side", "angle")}
    return speeds.get(str(limiting.left))


def is_of_ratio(solved: SolvedQuestion) -> bool:
    """Whether the limiting case sets a force against another by a ratio that somebody chose."""
    limiting = solved.question.limiting
    letters = limiting.symbols & solved.problem.quantities.keys() if limiting else ()
    return any(is_ratio(solved.problem, each) for each in letters)


def _extreme(solved: SolvedQuestion, symbol: sympy.Symbol) -> str:
    """Whether what holds keeps a force below its limit or above it."""
    limiting = solved.question.limiting
    assert limiting is not None
    for reason in solved.problem.holds:
        relation = reason.relation
        if {relation.left, relation.right} == {limiting.left, limiting.right}:
            below = relation.sign.startswith("<") == (symbol == relation.left)
            return "maximum" if below else "minimum"
    return "maximum"
