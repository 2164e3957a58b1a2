"""Which equation is right along the inward axis: wrong ones among which the right one does not stand out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from functools import cached_property, partial

from sympy import Expr, cos, sin, tan

from ..item.draw import mixed as in_drawn_order
from ..item.formula import Row, text
from ..item.item import Cause, ChoiceEntry, Math, Option, Paragraph, Words
from ..mechanics.equations import Equation, System, force_equations, magnitudes, terms_along
from ..model.edit import DrawnEdit, ExtraForceEdit, WrittenEdit
from ..model.mistake import Mistake
from ..solving.solution import SolvedQuestion
from ..thinking.advice import cause, of_another_unit, turned_all_round
from ..thinking.balance import Counterweights, balanced, pieces
from ..thinking.edits import edited
from ..thinking.equation_changes import EquationChange, change, is_true_as_well, sets_of_changes
from ..thinking.force_edits import drawn
from ..thinking.letter_edits import letter_changes
from ..thinking.options import mixed, right, wrong
from ..writing import prompts
from ..writing.notation import Notation
from ..writing.stem import filled
from ..writing.view import notation_of
from .about import About

# searched for over the shipped bank; nothing here finds them again, `tests/bank/checking/test_surface.py` holds them
COUNTERWEIGHTS = Counterweights(
    has={
        "/": 0.27, "cos": 0.1, "f": 0.23, "g": 0.11, "letter": 0.14, "power": 0.8, "r": 0.83, "r²": 0.5, "sin": 0.7,
        "t": 0.36, "v": 0.5, "v²": 1.08, "−": 0.09,
    },
    lacks={
        "(": 0.78, ")": 0.78, "+": 0.83, "2": 0.3, "g": 0.22, "n": 0.69, "r": 0.5, "r²": 0.76, "v": 0.69,
        "v²": 0.8, "½": 0.22, "−": 0.05,
    },
    length=(0.7, 0.86, 1.04, 1, 0.75, 0.82, 0.0),
    terms=(1.4, 1.4, 1.4, 1.4, 1.4, 0.0, 0.0),
    alike=(0.03, 0.24, 0.0, 0.29, 0.57, 0.33, 0.54),
    richer=0.5,
    alone=1.0,
    asked=4.0,
)  # fmt: skip
# the same for the steps of questions, whose equations go with the diagrams before them
_IN_KEY: Mapping[str, float] = {
    "(": -2.8,
    ")": -2.8,
    "+": -3.7,
    "2": 4.3,
    "bottom": 0.2,
    "bottom²": 0.2,
    "cos": 12.7,
    "f": 25.0,
    "n": 1.8,
    "r": 3.5,
    "r²": -1.8,
    "s": 0.2,
    "sin": 8.8,
    "t": 9.4,
    "top": 4.2,
    "top²": 3.0,
    "v": -3.3,
    "v²": 4.4,
    "½": -0.5,
    "θ": 7.2,
    "ω²": 2.9,
    "−": -2.4,
}
STEP_COUNTERWEIGHTS = Counterweights(
    has=_IN_KEY,
    lacks={piece: -weight for piece, weight in _IN_KEY.items()},
    length=(-0.6, -8.9, -3.1, 0.0, 0.5, -1.6, -7.1),
    terms=(7.5, 0.3, 3.2, 0.0, -9.4, -24.9, -44.3),
    alike=(1.7, -1.5, -0.7, 0.0, 0.7, 1.4, 2.3),
    off=0.0,
    drawn=4.0,
)
OTHER_UNIT = ("-other-side", "-squared")  # what a mistake in letters may do to m a: its unit is another one
RIGHT_SIDE = (*OTHER_UNIT, "pi-half", "pi-left-out")
MOST_SETS = 200  # among which the best is looked for
# What counts against a set for each wrong equation that is known to be wrong without a look at this question: one with
# another acceleration, without a force other than the weight or an angle that the key names, with all forces outward.
ANOTHER_ACCELERATION, NAMED_BY_KEY, ALL_OUTWARD = 0.6, 0.45, 0.3
# what counts against a step with another acceleration in so many wrong equations: who knows m v²/r by heart finds a key
# that alone has it
ACCELERATIONS = (0.0, 5.0, 5.0, 30.0)


@dataclass(frozen=True, eq=False)  # a board makes one of each change: to compare its trees would take most of the time
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

    @cached_property
    def left_side(self) -> str:
        """The sum of the forces in one line."""
        return text(self.row.parts[0])

    @property
    def option(self) -> Option:
        """The option that shows it."""
        if self.change is None:
            return right((Math(self.row),))
        both = len(self.change.mistakes) > 1
        why = _two_as_one(self) if both else _of_its_unit(self.change.mistakes[0])
        return wrong((Math(self.row),), *self.change.mistakes, both=both, why=why)


def _two_as_one(offered: Offered) -> Cause | None:
    """The thought that two mistakes are together: all forces turned round, or one taken for another."""
    assert offered.change is not None
    if offered.change.turns_all(offered.equation):
        return turned_all_round(offered.body)
    return cause(offered.change.mistakes[-1:]) if offered.change.puts_another else None


def _of_its_unit(mistake: Mistake) -> Cause | None:
    """The advice to look at the unit, where a letter of m a stands on the wrong side or has another power."""
    edit = mistake.edit
    other_unit = isinstance(edit, WrittenEdit) and edit.written.endswith(OTHER_UNIT)
    return of_another_unit(mistake) if other_unit else None


@dataclass(frozen=True)
class Beside:
    """What the equations stand beside as a step of a question: ``against`` tells what counts against left-hand sides.

    None stands for such as do not go with what is asked before.
    """

    of: str
    against: Callable[[Set[str]], float | None]


def equation(about: About, solved: SolvedQuestion, beside: Beside | None = None) -> ChoiceEntry | None:
    """Which equation is right along the inward axis, the model's or a mistake's; None where too few differ."""
    true = _inward(solved.system, about.diagram.name)
    if true is None:
        return None
    # a step is the same in all scenes, or else it is none
    draw = f"{about.problem.id} {about.diagram.name} {beside.of if beside else about.scene.name} equation"
    board = _Board(about, true)
    offered = (tuple(map(board.offered, one)) for one in sets_of_changes(list(_changes(about, solved, true))))
    sets = _drawn(board, offered, draw, beside)
    prompt = filled(prompts.WHICH_EQUATION, place=about.view.place, body=about.body)
    weights = STEP_COUNTERWEIGHTS if beside else COUNTERWEIGHTS
    weigh = partial(weights.against, draw=draw, asked=frozenset(_words_of(prompt)))
    others = _others(about)
    chosen = None
    while sets and chosen is None:
        texts = [tuple(each.text for each in one) for one in sets]
        best = balanced(board.key.text, texts, weigh, [board.tells(one, beside) for one in sets])
        assert best is not None
        found = sets.pop(best)
        chosen = None if any(is_true_as_well(each.equation, true, others) for each in found) else found
    if chosen is None:
        return None
    options = [board.key.option, *(each.option for each in chosen)]
    return ChoiceEntry(prompt, mixed(options, f"{draw} {about.scene.name}" if beside else draw), shuffle=True)


def _others(about: About) -> Sequence[Equation]:
    """The equations of the diagram along its other axes."""
    found = force_equations(about.problem, about.diagram, frozenset())
    return [each for each in found if each.kind != "inward"]


def _words_of(prompt: Paragraph) -> Iterator[str]:
    return (piece for each in prompt if isinstance(each, Words) for piece in pieces(each.text))


def _drawn(
    board: _Board, offered: Iterable[tuple[Offered, ...]], draw: str, beside: Beside | None
) -> list[tuple[Offered, ...]]:
    """Some of the sets of three wrong equations, as the draw decides; those first that go with what is asked before."""
    sets = list(dict.fromkeys(one for one in offered if board.tells_apart(one)))
    if beside:
        sets = [one for one in sets if beside.against(board.left_sides(one)) is not None] or sets
    return in_drawn_order(sets, draw, lambda one: " ".join(each.text for each in one))[:MOST_SETS]


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

    def left_sides(self, wrong_ones: Sequence[Offered]) -> frozenset[str]:
        """The left-hand sides, of the key as well."""
        return frozenset(each.left_side for each in (self.key, *wrong_ones))

    def tells(self, wrong_ones: Sequence[Offered], beside: Beside | None) -> float:
        """How much wrong ones are given away by what is known without a look at this question or by the step before."""
        changes = [each.change for each in wrong_ones if each.change]
        others = sum(each.is_of_acceleration for each in changes)
        before = (beside.against(self.left_sides(wrong_ones)) or 0.0) + ACCELERATIONS[others] if beside else 0.0
        return (
            before
            + ANOTHER_ACCELERATION * others
            + NAMED_BY_KEY * sum(len(self.key.names - each.names) for each in wrong_ones)
            + ALL_OUTWARD * sum(_points_outward(each.equation) for each in wrong_ones)
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
    for each in letter_changes(about.problem, true.right, _of_the_right_side(about)):
        right_side = each.made(true.right)
        if right_side is not None:
            yield each.mistake, replace(true, right=right_side)
    for mistake, edit in about.of(DrawnEdit):
        changed = drawn(edit, about.problem, about.diagram)
        if changed:
            yield mistake, replace(true, terms=tuple(terms_along(about.problem, changed, "inward")))


def _of_the_right_side(about: About) -> Iterator[Mistake]:
    """The mistakes in letters that can be made in m a before anything is solved."""
    return (mistake for mistake, edit in about.of(WrittenEdit) if edit.written.endswith(RIGHT_SIDE))


def _points_outward(each: Equation) -> bool:
    return all(term.could_extract_minus_sign() for term in each.terms)


def _inward(system: System, diagram: str) -> Equation | None:
    return next((each for each in system.equations if each.kind == "inward" and each.diagram == diagram), None)
