"""Which equation is right along the inward axis: wrong ones among which the right one does not stand out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeAlias

from sympy import Expr, cos, sin, tan

from ..item.draw import lot
from ..item.formula import Row, text
from ..item.item import ChoiceEntry, Math, Option
from ..mechanics.equations import Equation, System, magnitudes, terms_along
from ..model.edit import DrawnEdit, ExtraForceEdit, NumericEdit
from ..model.mistake import Mistake
from ..solving.solution import SolvedQuestion
from ..thinking.advice import feedback_on_the_centre
from ..thinking.balance import Counterweights, balanced
from ..thinking.edits import edited
from ..thinking.equation_changes import EquationChange, change, sets_of_changes
from ..thinking.force_edits import drawn
from ..thinking.options import mixed, right, wrong
from ..writing import prompts
from ..writing.notation import Notation
from ..writing.stem import filled
from ..writing.view import notation_of
from .about import About

COUNTERWEIGHTS = Counterweights({}, {}, (0.0,) * 7)
MOST_SETS = 60  # among which the best is looked for
# Why an option is known to be wrong without a look at this question, the most telling first: how many have another
# acceleration, how often a force other than the weight or an angle is named by the key alone, in how many all forces
# point outward.
Tells: TypeAlias = tuple[int, int, int]


@dataclass(frozen=True)
class Offered:
    """An equation as an option: with the changes that lead to it, none for the right one.

    ``names`` tell whether it holds a force other than the weight, and an angle; ``body`` is the one that it is about.
    """

    equation: Equation
    row: Row
    names: frozenset[str]
    body: str
    change: EquationChange | None = None

    @cached_property
    def text(self) -> str:
        """The equation in one line."""
        return text(self.row)

    @property
    def option(self) -> Option:
        """The option that shows it."""
        if self.change is None:
            return right((Math(self.row),))
        both = len(self.change.mistakes) > 1
        said = feedback_on_the_centre(self.body) if both and self.change.turns_all(self.equation) else ""
        return wrong((Math(self.row),), *self.change.mistakes, both=both, said=said)


def equation(about: About, solved: SolvedQuestion, *, a_step: bool = False) -> ChoiceEntry | None:
    """Which equation is right along the inward axis, the model's or a mistake's; None where too few differ.

    For a step before a number, sets come first whose mistakes lead to wrong numbers: marks can follow from these.
    """
    true = _inward(solved.system, about.diagram.name)
    if true is None:
        return None
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name} equation"
    board = _Board(about, true)
    offered = [tuple(map(board.offered, one)) for one in sets_of_changes(list(_changes(about, solved, true)))]
    sets = list(_best(board, offered, draw, a_step))[:MOST_SETS]
    chosen = balanced(board.key.text, [tuple(each.text for each in one) for one in sets], draw, COUNTERWEIGHTS)
    if chosen is None:
        return None
    options = [board.key.option, *(each.option for each in sets[chosen])]
    prompt = filled(prompts.WHICH_EQUATION, place=about.view.place, body=about.body)
    return ChoiceEntry(prompt, mixed(options, draw), shuffle=True)


def _best(
    board: _Board, offered: Sequence[tuple[Offered, ...]], draw: str, a_step: bool
) -> Iterator[tuple[Offered, ...]]:
    """Of the sets of three wrong equations those that give away least, in an order that the draw decides."""
    sets = {one: (-_leading_on(one) if a_step else 0, *board.tells(one)) for one in offered if board.tells_apart(one)}
    least = min(sets.values(), default=None)
    kept = (one for one, telling in sets.items() if telling == least)
    yield from sorted(kept, key=lambda one: lot(draw, *(each.text for each in one)))


def _leading_on(wrong_ones: Sequence[Offered]) -> int:
    """How many lead on to a wrong number that is known: those of one mistake that changes the calculation."""
    alone = [each.change.mistakes[0] for each in wrong_ones if each.change and len(each.change.mistakes) == 1]
    return sum(isinstance(each.edit, NumericEdit) for each in alone)


@dataclass(frozen=True)
class _Board:
    """Where equations of one diagram are written."""

    about: About
    true: Equation

    @cached_property
    def key(self) -> Offered:
        """The right one."""
        return Offered(self.true, self._shown(self.true), self._names(self.true), self.about.body)

    @cached_property
    def _made(self) -> dict[EquationChange, Offered]:
        return {}

    def offered(self, made: EquationChange) -> Offered:
        """The equation with some changes, its terms in the order of the board."""
        if made not in self._made:
            changed = made.made(self.true)
            found = replace(changed, terms=tuple(sorted(changed.terms, key=self._place)))
            self._made[made] = Offered(found, self._shown(found), self._names(found), self.about.body, made)
        return self._made[made]

    def _shown(self, each: Equation) -> Row:
        return self._notation.equation(each.terms, each.right)

    @cached_property
    def _notation(self) -> Notation:
        return notation_of(self.about.problem, self.about.scene)

    @cached_property
    def _sizes(self) -> Sequence[Expr]:
        return tuple(magnitudes(self.about.problem, self.about.diagram))

    def _place(self, term: Expr) -> int:
        return next((place for place, size in enumerate(self._sizes) if size.free_symbols <= term.free_symbols), 0)

    def tells_apart(self, wrong_ones: Sequence[Offered]) -> bool:
        """Whether all differ from the right one and each other, and each says something."""
        texts = {each.text for each in (self.key, *wrong_ones)}
        says = all(each.equation.terms and each.equation.left != each.equation.right for each in wrong_ones)
        return says and len(texts) == len(wrong_ones) + 1

    def tells(self, wrong_ones: Sequence[Offered]) -> Tells:
        """What gives wrong ones away."""
        changes = [each.change for each in wrong_ones if each.change]
        return (
            sum(each.is_of_acceleration for each in changes),
            sum(len(self.key.names - each.names) for each in wrong_ones),
            sum(all(term.could_extract_minus_sign() for term in each.equation.terms) for each in wrong_ones),
        )

    def _names(self, each: Equation) -> frozenset[str]:
        """Whether an equation names forces other than the weight, and an angle."""
        forces = {force.symbol for force in self.about.diagram.forces} & each.symbols
        return frozenset((*(["force"] if forces else []), *(["angle"] if each.left.has(sin, cos, tan) else [])))


def _changes(about: About, solved: SolvedQuestion, true: Equation) -> Iterator[EquationChange]:
    """What mistakes change in the right equation; of several that change the same, the first."""
    known = set()
    for mistake, false in _wrong_equations(about, solved, true):
        made = change(mistake, true, false)
        what = (made.gone, made.new, made.factor)
        if what not in known and not made.is_none:
            known.add(what)
            yield made


def _wrong_equations(about: About, solved: SolvedQuestion, true: Equation) -> Iterator[tuple[Mistake, Equation]]:
    """The equations of mistakes: first those that lead to a number, which the marking of later steps goes by.

    None has the net force on both sides.
    """
    for mistake in about.mistakes:
        after = None if isinstance(mistake.edit, ExtraForceEdit) else edited(mistake.edit, solved)
        false = _inward(after, about.diagram.name) if isinstance(after, System) else None
        if false is not None:
            yield mistake, false
    for mistake, edit in about.of(DrawnEdit):
        changed = drawn(edit, about.problem, about.diagram)
        if changed:
            yield mistake, replace(true, terms=tuple(terms_along(about.problem, changed, "inward")))


def _inward(system: System, diagram: str) -> Equation | None:
    return next((each for each in system.equations if each.kind == "inward" and each.diagram == diagram), None)
