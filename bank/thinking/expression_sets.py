"""Sets of three wrong expressions beside which the right one does not stand out: two mistakes, each alone and both.

Each thing that is got wrong is wrong in two of the four options, so that the right one is not the one that is most like
the others. Of all pairs of mistakes some are drawn. No terms of different dimensions are added in any of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import combinations
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray
from sympy import Expr

from ..item.draw import lot
from ..model.edit import NumericEdit, SumEdit
from ..model.evaluation import SAME, Columns, agree, differ, evaluate
from ..model.mistake import Mistake
from ..model.once import once
from ..quantities.dimensions import dimension_of
from ..quantities.units import Unit, unit
from ..solving.algebra import rerooted
from ..solving.solution import SolvedQuestion, samples_of
from .edits import edited
from .letter_edits import INVERSE, LetterChange, letter_changes, one_root
from .mistaken_forms import MistakenForm

MOST_PAIRS = 120
# units with no simple ratio between any two of them: an amount is known by how it grows
OTHER_UNITS = {"[length]": 1.3, "[time]": 1.7, "[mass]": 2.3, "[current]": 3.1}
FURTHER = 4.3


@dataclass(frozen=True)
class WrongExpression:
    """A wrong expression, and the mistakes that lead to it, one or two."""

    form: Expr
    mistakes: tuple[Mistake, ...]


Three: TypeAlias = tuple[WrongExpression, WrongExpression, WrongExpression]


@dataclass(frozen=True)
class ExpressionSets:
    """Where the sets of a question come from: its mistaken forms, and what the mistakes in letters make of those."""

    solved: SolvedQuestion
    live: Sequence[MistakenForm]
    tried: Sequence[Mistake]

    def sets(self, draw: str) -> Iterator[Three]:
        """Some sets, as the draw decides: all four expressions differ, and none adds what can't be added."""
        pairs = sorted(self._pairs, key=lambda two: lot(draw, *(f"{each.mistake.id} {each.where}" for each in two)))
        for first, then in pairs[:MOST_PAIRS]:
            one, other = self._made(first), self._made(then)
            both = None if one is None or other is None else then.made(one)
            if one is None or other is None or both is None:
                continue
            if self._are_apart((self.key, one, other, both)):
                mistakes = (first.mistake, then.mistake)
                yield (
                    WrongExpression(one, mistakes[:1]),
                    WrongExpression(other, mistakes[1:]),
                    WrongExpression(both, mistakes),
                )

    def simplest(self, three: Three) -> Three:
        """The set, in which what two mistakes lead to is told of one alone, where one alone leads to it as well."""
        one, other, both = three
        samples = samples_of(self.solved.problem, self.solved.question)
        alone = (each.mistake for each in self.live if agree(each.closed_form, both.form, samples))
        mistake = next(alone, None)
        return three if mistake is None else (one, other, WrongExpression(both.form, (mistake,)))

    def lack_a_given(self, three: Three) -> bool:
        """Whether one of the expressions lacks a letter of the key that the question gives."""
        given = {each for each in self.key.free_symbols if each.name in self.solved.question.given}
        return any(given - each.form.free_symbols for each in three)

    def leave_the_key_alone(self, three: Three) -> bool:
        """Whether each lacks a letter of the key, so that the one with most letters is the key."""
        return all(self.key.free_symbols - each.form.free_symbols for each in three)

    @property
    def key(self) -> Expr:
        """The right expression."""
        return self.solved.solution.closed_form

    @cached_property
    def _pairs(self) -> list[tuple[LetterChange, LetterChange]]:
        """Two mistakes, of which the second can be made after any other: it changes an expression, no equation."""
        later = [*self._last_steps(), *letter_changes(self.solved.problem, self.key, self.tried)]
        found = list(combinations((each for each in later if self._made(each) is not None), 2))
        later_ids = {each.mistake.id for each in later}
        sooner = [each for each in self._in_letters if each.mistake.id not in later_ids]
        found += [(_solved(form), each) for form in sooner for each in later]
        return [(one, other) for one, other in found if one.mistake != other.mistake]

    def _made(self, change: LetterChange) -> Expr | None:
        """What a change makes of the right expression, made once."""
        return once(change, "of the key", lambda: change.made(self.key))

    @property
    def _in_letters(self) -> list[MistakenForm]:
        """The forms that are wrong expressions; a turned sign is a mistake in letters, which keeps the key's shape."""
        edits = [(each, each.mistake.edit) for each in self.live]
        turned = SumEdit("other-sign")
        return [each for each, edit in edits if isinstance(edit, NumericEdit) and edit.in_letters and edit != turned]

    def _last_steps(self) -> Iterator[LetterChange]:
        """The mistakes that lead to numbers and change nothing but the closed form."""
        for each in self._in_letters:
            if isinstance(edited(each.mistake.edit, self.solved), Expr):
                yield LetterChange(each.mistake, partial(self._edited, each.mistake))

    def _edited(self, mistake: Mistake, form: Expr) -> Expr | None:
        found = edited(mistake.edit, replace(self.solved, solution=replace(self.solved.solution, closed_form=form)))
        return rerooted(found) if isinstance(found, Expr) else None

    # --- what is apart, and what has the dimension of the key ---

    def _are_apart(self, forms: Sequence[Expr]) -> bool:
        """Whether any two differ where both are real, as they somewhere are; each has a dimension, and one root."""
        return all(self.fits(each) is not None and self._has_one_root(each) for each in forms) and all(
            differ(self._values(one), self._values(other)) for one, other in combinations(forms, 2)
        )

    def _values(self, form: Expr) -> NDArray[np.float64]:
        if form not in self._known:
            self._known[form] = np.broadcast_to(evaluate(form, self._samples), self._samples["g"].shape)
        return self._known[form]

    def _has_one_root(self, form: Expr) -> bool:
        if form not in self._rooted:
            self._rooted[form] = bool(form == one_root(form))
        return self._rooted[form]

    @cached_property
    def _rooted(self) -> dict[Expr, bool]:
        return {}

    @cached_property
    def _samples(self) -> Columns:
        return Columns(samples_of(self.solved.problem, self.solved.question))

    @cached_property
    def _known(self) -> dict[Expr, NDArray[np.float64]]:
        return {}

    def fits(self, form: Expr) -> bool | None:
        """Whether an expression has the dimension of the key; None where its terms have different ones."""
        if form not in self._fits:
            ratio, of_key = self._growth(form), self._growth(self.key)
            self._fits[form] = None if ratio is None else bool(np.isclose(ratio, of_key or np.nan))
        return self._fits[form]

    @cached_property
    def _fits(self) -> dict[Expr, bool | None]:
        return {}

    def _growth(self, form: Expr) -> float | None:
        """By what the value grows in other units of length, time, mass and current; None where that is no one number.

        Of an angle, by what its sine, cosine or tangent grows.
        """
        inside = form.args[0] if form.func in INVERSE.values() else form
        with np.errstate(all="ignore"):
            ratio = np.atleast_1d(evaluate(inside, self._other) / evaluate(inside, self._points))
        ratio = ratio[np.isfinite(ratio)]
        return float(ratio[0]) if len(ratio) and np.allclose(ratio, ratio[0], rtol=SAME, atol=0) else None

    @cached_property
    def _points(self) -> Columns:
        return Columns({name: _points(name) for name in self._scales})

    @cached_property
    def _other(self) -> Columns:
        """The same amounts in other units."""
        return Columns({name: values * self._scales[name] for name, values in self._points.items()})

    @cached_property
    def _scales(self) -> Mapping[str, float]:
        units = {name: spec.unit for name, spec in self.solved.problem.quantities.items()} | {"g": unit("m/s^2")}
        return {name: _scale(each) for name, each in units.items()}


def _solved(form: MistakenForm) -> LetterChange:
    """A mistaken form as what its mistake makes of the right one, which is all that it is made of."""
    return LetterChange(form.mistake, lambda _: form.closed_form)


def _points(name: str) -> NDArray[np.float64]:
    """Some values from 0.1 to 10 drawn for a letter, so that no term of a sum is lost beside another."""
    return np.array([10 ** (byte / 127.5 - 1) for byte in lot("point", name)])


def _scale(of: Unit) -> float:
    """By what an amount of this unit grows in the other units."""
    return float(
        dimension_of(of).replace(lambda part: part.is_Symbol, lambda base: OTHER_UNITS.get(base.name, FURTHER))
    )
