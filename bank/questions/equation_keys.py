"""Which equation is right along the inward axis: wrong ones among which the right one does not stand out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from functools import cached_property, partial

from sympy import Expr, Symbol, cos, sin, tan

from ..item.draw import mixed as in_drawn_order
from ..item.formula import Row, text
from ..item.item import Cause, ChoiceEntry, Math, Option
from ..mechanics.equations import Equation, System, force_equations, magnitudes, terms_along
from ..model.edit import DrawnEdit, ExtraForceEdit, WrittenEdit
from ..model.mistake import Mistake
from ..model.wording import force_words, with_article
from ..solving.solution import SolvedQuestion
from ..thinking.advice import cause, of_another_unit, of_other_sense, of_other_units, turned_all_round
from ..thinking.balance import Counterweights, balanced
from ..thinking.edits import edited
from ..thinking.equation_changes import EquationChange, cannot_hold, change, is_true_as_well, sets_of_changes
from ..thinking.force_edits import changed_roles, drawn
from ..thinking.letter_edits import letter_changes
from ..thinking.options import mixed, right, wrong
from ..writing import prompts
from ..writing.directions import placeless
from ..writing.notation import Notation
from ..writing.stem import filled
from ..writing.view import notation_of
from .about import About

# searched for over the shipped bank; nothing here finds them again, `tests/bank/checking/test_surface.py` holds them
COUNTERWEIGHTS = Counterweights(
    has={
        "+": -0.33, "/": 2.22, "2": 1.21, "bottom": 0.2, "bottom²": 5, "cos": 3.42, "f": 7.59, "g": -3.02,
        "letter": 0.06, "n": -3.02, "power": 2.11, "r": 7.82, "r²": 3.67, "s": -1.97, "sin": 4.76, "t": 1.38,
        "top": 0.53, "top²": 4.23, "v": 1.57, "v²": 6.22, "θ": 5.7, "ω²": 2.11, "−": -0.26,
    },
    lacks={
        "(": 3.09, ")": 3.05, "+": 0.31, "/": -2.24, "1": -0.04, "2": -1.1, "cos": -3.54, "g": 2.94, "n": 2.85,
        "power": -1.75, "r²": -3.83, "s": 2.01, "sin": -4.6, "v": -1.74, "½": 1.78, "ω": 1.83, "−": 0.28,
    },
    length=(-0.93, 0.67, -1.32, 0.7, 1.41, 2.06, -2.62),
    terms=(0.65, 0.69, -1.65, -3.14, 4.01, 5.07, -6.23),
    alike=(-0.97, -0.41, -0.18, 1.11, -1.05, 2.09, -0.76),
    off=0.0,
    drawn=1.0,
)  # fmt: skip
# the same for the steps of questions, whose equations go with the diagrams before them
STEP_COUNTERWEIGHTS = Counterweights(
    has={
        "+": -6.73, "/": 5.31, "2": 38.14, "bottom": 5.07, "bottom²": 58.77, "cos": 15.11, "f": 90.19,
        "g": -28.01, "letter": 1.29, "n": -21.87, "power": 14.28, "r": 91.5, "r²": 34.76, "s": -31.63,
        "sin": 37.29, "t": 5.66, "top": 2.95, "top²": 58.19, "v": 36.57, "v²": 75.75, "θ": 74.17, "ω²": 24.33,
        "−": -12.84,
    },
    lacks={
        "(": 45.17, ")": 45.07, "+": 6.73, "/": -5.31, "1": 0.17, "2": -37.99, "cos": -15.41, "g": 28.25,
        "n": 22.17, "power": -14.31, "r": -91.21, "r²": -35.1, "s": 31.69, "sin": -37.14, "v": -36.77,
        "v²": -75.85, "½": 28.12, "ω": 24.16, "−": 12.62,
    },
    length=(-6.27, 10.99, -13.99, 12.42, 8.07, 21.1, -32.04),
    terms=(8.76, 8.33, -14.52, -21.29, 31.37, 35.99, -48.57),
    alike=(4.82, 6.52, -1.64, -1.59, -8.96, 12.57, -11.87),
    off=0.0,
    drawn=1.0,
)  # fmt: skip
OTHER_UNIT = ("-other-side", "-squared")  # what a mistake in letters may do to m a: its unit is another one
RIGHT_SIDE = (*OTHER_UNIT, "pi-half", "pi-left-out")
MOST_SETS = 200  # among which the best is looked for
# What counts against a set by how many of its equations have another acceleration, which many strike by heart
ACCELERATIONS = (0.0, 0.75, 1.5, 7.5)
# and for each that lacks a force other than the weight, or an angle, which the key names
NAMED_BY_KEY = 0.45
# and for each with several mistakes that are no single thought, and with more than two
TOGETHER, MORE_THAN_TWO = 0.5, 0.5


@dataclass(frozen=True, eq=False)  # a board makes one of each change: to compare its trees would take most of the time
class Offered:
    """An equation as an option: with the changes that lead to it, none for the right one.

    ``names`` tell whether it holds a force other than the weight, and an angle; ``body`` is the one that it is about;
    ``either_way`` are the names of the forces, by their symbols, that may act towards the centre or away from it.
    """

    equation: Equation
    row: Row
    names: frozenset[str]
    body: str
    either_way: Mapping[str, str]
    change: EquationChange | None = None

    @cached_property
    def text(self) -> str:
        """The equation in one line."""
        return text(self.row)

    @cached_property
    def left_side(self) -> str:
        """The sum of the forces in one line."""
        return text(self.row.parts[0])

    @cached_property
    def says_something(self) -> bool:
        """Whether it is an equation that a reader of its signs alone does not strike."""
        one = self.equation
        return bool(one.terms) and one.left != one.right and not cannot_hold(one)

    @cached_property
    def is_of_several_thoughts(self) -> bool:
        """Whether several mistakes lead to it that are not one thought together."""
        made = self.change
        return bool(made and len(made.mistakes) > 1 and not made.turns_all(self.equation) and not made.puts_another)

    @property
    def option(self) -> Option:
        """The option that shows it."""
        if self.change is None:
            return right((Math(self.row),))
        both = len(self.change.mistakes) > 1
        why = _two_as_one(self, self.change) if both else _of_its_letters(self, self.change)
        return wrong((Math(self.row),), *self.change.mistakes, both=both, why=why)


def _two_as_one(offered: Offered, made: EquationChange) -> Cause | None:
    """The thought that two mistakes are together: all forces turned round, one taken for another, or other units."""
    if made.turns_all(offered.equation):
        return turned_all_round(offered.body)
    written = all(isinstance(each.edit, WrittenEdit) for each in made.mistakes)
    if written and any(map(_changes_unit, made.mistakes)):
        return of_other_units(made.mistakes)
    return cause(made.mistakes[-1:]) if made.puts_another else None


def _of_its_letters(offered: Offered, made: EquationChange) -> Cause | None:
    """The advice to look at the unit of m a, or at the sense in which the letter of a force counts as positive."""
    (mistake,) = made.mistakes
    if made.is_of_acceleration:
        return of_another_unit(mistake) if _changes_unit(mistake) else None
    turned = next((each for each in offered.either_way if made.only_turns and made.gone[0].has(Symbol(each))), None)
    return of_other_sense(offered.either_way[turned]) if turned else None


def _changes_unit(mistake: Mistake) -> bool:
    """Whether a letter with a unit stands on the wrong side, or has another power."""
    edit = mistake.edit
    return isinstance(edit, WrittenEdit) and edit.written.endswith(OTHER_UNIT) and not edit.written.startswith("pi-")


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
    weights = STEP_COUNTERWEIGHTS if beside else COUNTERWEIGHTS
    weigh = partial(weights.against, draw=draw)
    here = _where_it_is_asked(solved, beside)
    key, others = here(true), tuple(map(here, _others(about)))
    chosen = None
    for sets in _drawn(board, offered, draw, beside):
        while sets and chosen is None:
            texts = [tuple(each.text for each in one) for one in sets]
            best = balanced(board.key.text, texts, weigh, [board.tells(one, beside) for one in sets])
            assert best is not None
            found = sets.pop(best)
            chosen = None if any(is_true_as_well(here(each.equation), key, others) for each in found) else found
    if chosen is None:
        return None
    prompt = filled(prompts.WHICH_EQUATION, place=about.view.place, body=about.body)
    options = [board.key.option, *(each.option for each in chosen)]
    return ChoiceEntry(prompt, mixed(options, f"{draw} {about.scene.name}" if beside else draw), shuffle=True)


def _where_it_is_asked(solved: SolvedQuestion, beside: Beside | None) -> Callable[[Equation], Equation]:
    """An equation as it is in the limiting case that a step goes with: without the force that vanishes there."""
    limiting = solved.question.limiting if beside else None
    if limiting is None or not limiting.left.is_Symbol:
        return lambda each: each
    known = {limiting.left: limiting.right}
    return lambda each: replace(
        each, terms=tuple(term.subs(known) for term in each.terms), right=each.right.subs(known)
    )


def _others(about: About) -> Sequence[Equation]:
    """The equations of the diagram along its other axes."""
    found = force_equations(about.problem, about.diagram, frozenset())
    return [each for each in found if each.kind != "inward"]


def _drawn(
    board: _Board, offered: Iterable[tuple[Offered, ...]], draw: str, beside: Beside | None
) -> Iterator[list[tuple[Offered, ...]]]:
    """Some of the sets of three wrong equations, as the draw decides; those first that go with what is asked before."""
    sets = list(dict.fromkeys(one for one in offered if board.tells_apart(one)))
    if beside:
        yield _some((one for one in sets if beside.against(board.left_sides(one)) is not None), draw)
    yield _some(sets, draw)


def _some(sets: Iterable[tuple[Offered, ...]], draw: str) -> list[tuple[Offered, ...]]:
    return in_drawn_order(sets, draw, lambda one: " ".join(each.text for each in one))[:MOST_SETS]


@dataclass(frozen=True)
class _Board:
    """Where equations of one diagram are written."""

    about: About
    true: Equation

    @cached_property
    def key(self) -> Offered:
        """The right one."""
        return self._as_offered(self.true, None)

    @cached_property
    def _made(self) -> dict[EquationChange, Offered]:
        return {}

    def offered(self, made: EquationChange) -> Offered:
        """The equation with some changes, its terms in the order of the board."""
        if made not in self._made:
            changed = made.made(self.true)
            found = replace(changed, terms=tuple(sorted(changed.terms, key=self._place)))
            self._made[made] = self._as_offered(found, made)
        return self._made[made]

    def _as_offered(self, found: Equation, made: EquationChange | None) -> Offered:
        either_way = dict(_either_way(self.about))
        return Offered(found, self._shown(found), self._names(found), self.about.body, either_way, made)

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
        """Whether all differ from the right one and each other, and each may hold by its signs."""
        texts = {each.text for each in (self.key, *wrong_ones)}
        says = all(each.says_something for each in wrong_ones)
        return says and len(texts) == len(wrong_ones) + 1

    def left_sides(self, wrong_ones: Sequence[Offered]) -> frozenset[str]:
        """The left-hand sides, of the key as well."""
        return frozenset(each.left_side for each in (self.key, *wrong_ones))

    def tells(self, wrong_ones: Sequence[Offered], beside: Beside | None) -> float:
        """How much wrong ones are given away by what is known without a look at this question or by the step before."""
        changes = [each.change for each in wrong_ones if each.change]
        before = beside.against(self.left_sides(wrong_ones)) or 0.0 if beside else 0.0
        return (
            before
            + ACCELERATIONS[sum(each.is_of_acceleration for each in changes)]
            + NAMED_BY_KEY * sum(len(self.key.names - each.names) for each in wrong_ones)
            + TOGETHER * sum(each.is_of_several_thoughts for each in wrong_ones)
            + MORE_THAN_TWO * sum(len(each.mistakes) > 2 for each in changes)
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
    if _of_a_law(about, true):
        for each in letter_changes(about.problem, true.left, _of_a_power(about)):
            left_side = each.made(true.left)
            if left_side is not None:
                yield each.mistake, replace(true, terms=(left_side,))
    either_way = {force.role for force in about.either_way}
    for mistake, edit in about.of(DrawnEdit):
        changed = drawn(edit, about.problem, about.diagram)
        # of a force that may act either way, or vanish, only the sign of its term can be got wrong
        if changed and (edit.way == "turned" or not either_way & set(changed_roles(about.diagram, changed))):
            yield mistake, replace(true, terms=tuple(terms_along(about.problem, changed, "inward")))


def _of_a_law(about: About, true: Equation) -> bool:
    """Whether a law gives the only force, so that its letters can be got wrong."""
    return len(true.terms) == 1 and not any(force.symbol in true.symbols for force in about.diagram.forces)


def _either_way(about: About) -> Iterator[tuple[str, str]]:
    """The forces that may act towards the centre or away from it, as that of a rod: their symbols and names."""
    for force in about.either_way:
        shown = force_words(about.scene, force.role)
        if force.symbol and shown:
            yield force.symbol, with_article(placeless(about.diagram, shown.name), "the")


def _of_the_right_side(about: About) -> Iterator[Mistake]:
    """The mistakes in letters that can be made in m a before anything is solved."""
    return (mistake for mistake, edit in about.of(WrittenEdit) if edit.written.endswith(RIGHT_SIDE))


def _of_a_power(about: About) -> Iterator[Mistake]:
    """The mistakes in letters that put a square where there is none, or leave one out."""
    return (mistake for mistake, edit in about.of(WrittenEdit) if edit.written.endswith("squared"))


def _inward(system: System, diagram: str) -> Equation | None:
    return next((each for each in system.equations if each.kind == "inward" and each.diagram == diagram), None)
