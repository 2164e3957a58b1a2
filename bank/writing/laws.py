"""The general laws that a question rests on, read off its model and its solution, for a sheet of formulas.

What belongs to one situation alone (how long a cord is, that a force is k times the weight, what a limit is) is for the
candidate to find, and is not on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import sympy

from ..item.formula import Node, Symbol, equals
from ..mechanics.equations import Equation, Rates, built_in, magnitude, rates, turning_acceleration, wanted_of
from ..mechanics.interval import TwoStates, interval_of, links
from ..model.problem import Diagram, Force, Problem, Scene
from ..model.wording import capital, force_words, sentence
from ..solving.solution import SolvedQuestion
from .notation import Notation, printed_symbol
from .view import notation_of

_NET_FORCE = Symbol("F", "net")
_FORWARD = sympy.Symbol("a")


@dataclass(frozen=True)
class Law:
    """One line of the sheet: what it is about, and the formula. ``group`` orders a sheet: motion, forces, energy."""

    group: int
    name: str
    node: Node


def laws(solved: SolvedQuestion, scene: Scene) -> tuple[Law, ...]:
    """The laws of a question in the symbols of a scene."""
    used = [solved.system.equations[each.origin] for each in solved.solution.path if each.origin >= 0]
    return tuple(_Sheet(solved, scene, notation_of(solved.problem, scene)).laws(used))


def sheet(found: Iterable[Law]) -> tuple[Law, ...]:
    """The laws of several questions, each formula once under its first name, in the order of the sheet."""
    once: dict[Node, Law] = {}
    for law in found:
        once.setdefault(law.node, law)
    return tuple(sorted(once.values(), key=lambda law: law.group))


@dataclass(frozen=True)
class _Sheet:
    solved: SolvedQuestion
    scene: Scene
    notation: Notation

    @property
    def problem(self) -> Problem:
        return self.solved.problem

    def laws(self, used: list[Equation]) -> Iterator[Law]:
        names = {equation.diagram for equation in used}
        diagrams = [each for each in self.problem.diagrams if each.name in names]
        kinds = {equation.kind for equation in used}
        yield from self._motion(diagrams or [None], {equation.because for equation in used}, "inward" in kinds)
        if kinds & {"inward", "up", "forward"}:
            yield Law(2, "Net force and acceleration of a body", self._equation(_NET_FORCE, _mass() * _FORWARD))
        for diagram in diagrams:
            yield from self._forces(diagram)
        if "limiting" in kinds:
            yield from self._bounds()
        if "energy" in kinds:
            height, speed = sympy.Symbol("h"), sympy.Symbol("v")
            energy = (_mass() * speed**2 / 2, _mass() * sympy.Symbol("g") * height)
            sum_ = self.notation.sum(energy)
            yield Law(4, "Kinetic energy plus gravitational potential energy", equals(Symbol("E"), sum_))

    def _equation(self, left: Node, right: sympy.Expr) -> Node:
        return equals(left, self.notation.node(right))

    # --- motion ---

    def _motion(self, diagrams: list[Diagram] | list[None], reasons: set[str], inward: bool) -> Iterator[Law]:
        wanted = wanted_of(self.problem, self.solved.question)
        for diagram in diagrams:
            here = _general(rates(self.problem.motion, diagram))
            found = turning_acceleration(here, frozenset(map(_base, wanted)))
            if inward and found is not None:
                yield Law(0, "Centripetal acceleration", self._equation(Symbol("a"), found))
            for left, right, reason in built_in(here, frozenset({*map(_base, wanted)})):
                if reason in reasons:
                    yield Law(1, capital(reason), self._equation(self.notation.node(left), right))
        interval = interval_of(self.problem.motion)
        for link in links(_general_interval(interval)) if interval else ():
            if link.because in reasons:
                yield Law(1, capital(link.because), self._equation(self.notation.node(link.left), link.right))

    # --- forces ---

    def _forces(self, diagram: Diagram) -> Iterator[Law]:
        for force in diagram.forces:
            shown = force_words(self.scene, force.role)
            if force.law and shown:
                size = self._without_place(magnitude(self.problem, diagram, force), diagram)
                yield Law(3, capital(shown.name), self._equation(_law_symbol(force, shown.symbol), size))

    def _without_place(self, size: sympy.Expr, diagram: Diagram) -> sympy.Expr:
        """The size of a force with the mass of any body for that of this one, and r for its radius."""
        radius = rates(self.problem.motion, diagram).radius
        general = {diagram.mass: "m", radius: "r"}
        names = {symbol: general.get(symbol.name, _base(symbol.name)) for symbol in size.free_symbols}
        return size.xreplace({symbol: sympy.Symbol(name) for symbol, name in names.items()})

    def _bounds(self) -> Iterator[Law]:
        """What holds one force by another, such as friction by the normal force, where the limit is reached."""
        limiting = self.solved.question.limiting
        forces = {sympy.Symbol(each.symbol) for d in self.problem.diagrams for each in d.forces if each.symbol}
        for reason in self.problem.holds:
            relation = reason.relation
            both = all(side.free_symbols & forces for side in (relation.left, relation.right))
            if limiting and both and {relation.left, relation.right} == {limiting.left, limiting.right}:
                sign = {"<=": "≤", ">=": "≥"}.get(relation.sign, relation.sign)
                row = self.notation.equation(relation.left, relation.right, sign)
                yield Law(3, capital(sentence(reason.because, self.scene)), row)


def _mass() -> sympy.Symbol:
    return sympy.Symbol("m")


def _law_symbol(force: Force, symbol: str | None) -> Node:
    return printed_symbol(symbol) if symbol else Symbol("F", "g" if force.law == "weight" else "")


def _base(name: str) -> str:
    """The name without the place that a subscript tells: ``v_top`` is a speed v."""
    return name.partition("_")[0]


def _general(here: Rates) -> Rates:
    """The symbols of a place without the place."""
    named = {name: value and _base(value) for name, value in vars(here).items()}
    first = {name: value and f"{value}_0" for name, value in named.items() if name.startswith("initial_")}
    return replace(Rates(**named | first), radius=here.radius and "r")


def _general_interval(interval: TwoStates) -> TwoStates:
    """The symbols of two states, of which the first has a zero."""
    return replace(
        interval,
        initial=interval.initial and f"{_base(interval.initial)}_0",
        final=interval.final and _base(interval.final),
        rate=_base(interval.rate),
        angle=interval.angle and _base(interval.angle),
        duration=interval.duration and _base(interval.duration),
    )
