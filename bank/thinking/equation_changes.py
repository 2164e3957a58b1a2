"""What mistakes change in the inward equation, and sets of changes beside which the right one does not stand out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import combinations, permutations

import sympy
from sympy import Expr, Poly, expand

from ..mechanics.equations import Equation
from ..model.mistake import Mistake
from ..solving.algebra import letters

M_A = "m a"  # the right side, as a place that a change can touch
SET = 3
MOST_AT_ONCE = 3  # mistakes in one equation: one force in place of another is two


@dataclass(frozen=True)
class EquationChange:
    """What some mistakes change in the right equation: terms that go, terms that come, a factor of m a."""

    mistakes: tuple[Mistake, ...]
    gone: tuple[Expr, ...]
    new: tuple[Expr, ...]
    factor: Expr

    @cached_property
    def _hash(self) -> int:
        return hash((tuple(each.id for each in self.mistakes), self.gone, self.new, self.factor))

    def __hash__(self) -> int:
        return self._hash  # a board looks the same ones up again and again

    @property
    def is_none(self) -> bool:
        """Whether it leaves the equation as it is."""
        return not self.gone and not self.new and not self.is_of_acceleration

    @cached_property
    def is_of_acceleration(self) -> bool:
        """Whether it puts another acceleration in place of the right one."""
        return bool(self.factor != 1)

    @cached_property
    def places(self) -> frozenset[Expr | str]:
        """What it touches: the terms that go and come, whatever their signs, and the side of m a."""
        terms = frozenset(_unsigned(each) for each in (*self.gone, *self.new))
        return terms | {M_A} if self.is_of_acceleration else terms

    @property
    def puts_another(self) -> bool:
        """Whether one force stands in place of another, and nothing else is changed."""
        one_for_one = len(self.gone) == len(self.new) == 1 and _unsigned(self.gone[0]) != _unsigned(self.new[0])
        return one_for_one and not self.is_of_acceleration

    @cached_property
    def only_turns(self) -> bool:
        """Whether it turns forces round, and changes nothing else."""
        return Counter(-each for each in self.gone) == Counter(self.new) and not self.is_of_acceleration

    def turns_all(self, made: Equation) -> bool:
        """Whether the equation that it makes has every force turned round, and nothing else wrong."""
        return self.only_turns and Counter(self.new) == Counter(made.terms)

    def made(self, equation: Equation) -> Equation:
        """An equation with the change; what comes stands last."""
        kept = (each for each in equation.terms if each not in self.gone)
        return replace(equation, terms=(*kept, *self.new), right=equation.right * self.factor)

    def joined(self, other: EquationChange) -> EquationChange:
        """Both changes at once."""
        mistakes, gone, new = (*self.mistakes, *other.mistakes), (*self.gone, *other.gone), (*self.new, *other.new)
        return EquationChange(mistakes, gone, new, self.factor * other.factor)


def change(mistake: Mistake, true: Equation, false: Equation) -> EquationChange:
    """What leads from the right equation to that of a mistake."""
    before, after = Counter(true.terms), Counter(false.terms)
    gone, new = tuple((before - after).elements()), tuple((after - before).elements())
    return EquationChange((mistake,), gone, new, false.right / true.right)


def is_true_as_well(one: Equation, true: Equation, others: Sequence[Equation]) -> bool:
    """Whether an equation holds wherever the equations of its diagram hold, though it is not written as the right one.

    It is the right one with both sides multiplied by a product of letters, as q B = m v/r is; or one of the ``others``
    is added or taken away, as where N and m g change places though they are equal.
    """
    return _is_true_as_well(_zero(one), _zero(true), tuple(map(_zero, others)))


@lru_cache(maxsize=2048)  # alike in all scenes
def _is_true_as_well(one: Expr, true: Expr, others: tuple[Expr, ...]) -> bool:
    more = expand(one - true)
    return any(more in (zero, -zero) for zero in map(expand, others)) or _is_multiple(one, true)


def cannot_hold(equation: Equation) -> bool:
    """Whether the signs alone rule an equation out: all terms of one side are negative, and the other is positive.

    All letters stand for what is positive here, also one that may turn out negative: a reader of signs sees no more.
    """
    left = {term.could_extract_minus_sign() for term in equation.terms}
    right = {term.could_extract_minus_sign() for term in sympy.Add.make_args(equation.right)}
    return len(left) == len(right) == 1 and left != right


def _is_multiple(one: Expr, other: Expr) -> bool:
    """Whether what is zero in an equation is that of another one, multiplied by a product of letters."""
    (above, below), (other_above, other_below) = (_fraction(each) for each in (one, other))
    products = above * other_below, other_above * below
    names = sorted(products[0].free_symbols | products[1].free_symbols, key=str)
    first, second = (Poly(each, *names).terms_gcd()[1].monic() for each in products)
    return bool(first == second)


def _zero(equation: Equation) -> Expr:
    """What is zero where an equation is true, without sines and cosines."""
    return letters(equation.left - equation.right)


@lru_cache(maxsize=2048)
def _fraction(zero: Expr) -> tuple[Expr, Expr]:
    above, below = sympy.fraction(sympy.together(zero))
    return above, below


@lru_cache(maxsize=2048)
def _unsigned(term: Expr) -> Expr:
    return -term if term.could_extract_minus_sign() else term


def sets_of_changes(changes: Sequence[EquationChange]) -> Iterator[tuple[EquationChange, ...]]:
    """Sets of three: two changes, each alone and both at once; or any three that change forces alone.

    In the first, each thing that is got wrong is wrong in two of the four options, so that the right one is not the one
    that is most like the others. One force that takes the place of another counts as one change.
    """
    every = [*changes, *_other_forces(changes)]
    for one, other in combinations([*every, *(each for each in _two_at_once(changes) if each.only_turns)], 2):
        if len(one.mistakes) + len(other.mistakes) > MOST_AT_ONCE:
            continue
        if not one.places & other.places or _of_other_letters(one, other):
            yield one, other, one.joined(other)
    of_forces = [each for each in every if not each.is_of_acceleration]
    yield from combinations([*of_forces, *_two_at_once(of_forces)], SET)


def _two_at_once(of_forces: Sequence[EquationChange]) -> Iterator[EquationChange]:
    """Two forces got wrong in one equation, where neither change is of two mistakes itself."""
    single = [each for each in of_forces if len(each.mistakes) == 1]
    return (one.joined(other) for one, other in combinations(single, 2) if not one.places & other.places)


def _of_other_letters(one: EquationChange, other: EquationChange) -> bool:
    """Whether both change m a alone, each in letters of its own: both at once are then still what each of them says."""
    apart = not one.factor.free_symbols & other.factor.free_symbols
    return one.places == other.places == {M_A} and apart


def _other_forces(changes: Sequence[EquationChange]) -> Iterator[EquationChange]:
    """A force that is left out, and another that is taken to point inward or outward for it."""
    of_forces = [each for each in changes if not each.is_of_acceleration]
    for one, other in permutations(of_forces, 2):
        if not one.new and not other.gone:
            yield one.joined(other)
