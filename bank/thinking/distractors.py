"""Mistakes that stay apart from the key and from each other in one variant: options of a choice, feedback on a number.

Rules (ids from the trade's list of checks on items; gaps are house limits): M3 every wrong answer is solved from a
named mistake; M4 options differ by 5 % and three tolerances at least, and by two units in the last printed figure; M5
they stand in order of size; M6, M13 the places of keys are balanced over the bank; M7 all options are in one notation;
M12 none is 40 times the key or more, or a fortieth or less, and none leaves the world of its scene (``world``): what
lies farther off is known when it is typed, and no option.

In a variant that is offered no mistake leads to the key itself: at 45° the sine is the cosine, and of a body twice as
heavy k² is 2 k, so that who thinks wrong there would be told that it is right.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_HALF_EVEN, ROUND_UP, Context, Decimal
from itertools import accumulate, compress
from math import isfinite
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..item.draw import drawn_number
from ..item.item import Cause, Recognised
from ..model.draws import Numbers
from ..model.evaluation import to_figures
from ..model.mistake import Mistake, likeliest_first
from ..model.once import once
from ..model.problem import Scene
from ..quantities.quantity import Quantity, from_float, half_unit, print_figures, round_figures
from ..solving.solution import SolvedQuestion
from ..variants.census import Mask
from ..variants.variant import Drawn, ScenePool, Variant, VariantPool
from .advice import cause, feedback, told_in
from .centres import choices, telling
from .mistaken_forms import MistakenForm, Unsolved, mistaken_forms, wrong_values
from .options import FEWEST_WRONG
from .world import within_world

LEAST_GAP = Decimal("0.05")
TOLERANCES_APART = 3
LAST_PLACES_APART = 2
FARTHEST = 3600.0  # of a typed number: hours for seconds
FARTHEST_OPTION = 40.0
SAME = 1e-3  # two mistakes that give one number are named together
MOST_WRONG = 4
TURNS = 6  # places of the key that are tried where its number would tell it
RECOGNISED_WIDTH = Decimal("0.005")
# How often the key is drawn into each place, by the number of wrong answers. Mistakes lie on both sides of most keys,
# so that an even draw would put most keys in the middle; with these, places come out evenly over the shipped bank.
PLACE_WEIGHTS = {
    2: (208, 49, 147),
    3: (385, 155, 147, 340),
    4: (700, 305, 268, 295, 880),
}


@dataclass(frozen=True)
class WrongAnswer:
    """A wrong answer in the printed unit, rounded as the key is, with the mistakes that lead to it."""

    value: Decimal
    forms: tuple[MistakenForm, ...]

    @property
    def mistakes(self) -> tuple[Mistake, ...]:
        """The mistakes alone, the likeliest first."""
        return likeliest_first(each.mistake for each in self.forms)


def candidates(pool: ScenePool, forms: Sequence[MistakenForm], numbers: Numbers) -> NDArray[np.float64]:
    """Wrong answers (mistaken forms x combinations) in the printed unit; nan where one is no possible answer.

    Possible: real, of a sign that the quantity can have, and at most 3600 times the key, as hours for seconds.
    """
    if not forms:
        return np.empty((0, len(numbers)))
    found = np.stack([wrong_values(form, pool, numbers) for form in forms])
    key = pool.exact(numbers) / pool.answer.unit.factor
    with np.errstate(all="ignore"):
        ratio = np.abs(found / key)
        possible = np.isfinite(found) & (ratio < FARTHEST + SAME) & (ratio > 1 / (FARTHEST + SAME))
    if pool.answer.positive:
        possible &= found > 0
    if pool.answer.unit.symbol == "deg":
        possible &= found < 90
    return np.where(possible, found, np.nan)


@dataclass
class _Kept:
    """A wrong answer, unrounded and rounded as the key is, with the mistakes that lead to it."""

    exact: float
    value: Decimal
    forms: list[MistakenForm]

    def is_same(self, other: _Kept) -> bool:
        """Whether another mistake gives this number too."""
        return abs(self.exact - other.exact) <= SAME * abs(self.exact)

    @property
    def answer(self) -> WrongAnswer:
        """The wrong answer with all its mistakes."""
        return WrongAnswer(self.value, tuple(self.forms))


def _finite(variant: Variant, values: NDArray[np.float64], forms: Sequence[MistakenForm]) -> Iterator[_Kept]:
    for exact, form in zip(values.tolist(), forms, strict=True):
        if isfinite(exact):
            yield _Kept(exact, round_figures(from_float(exact), variant.answer.figures), [form])


def apart(variant: Variant, values: NDArray[np.float64], forms: Sequence[MistakenForm]) -> list[WrongAnswer]:
    """The wrong answers of one variant that are far enough from the key and from each other, the telling ones first.

    ``values`` has the shape (forms,), nan where a form gives no number.
    """
    key = round_figures(variant.answer.value, variant.answer.figures)
    refused = _roundings(variant.answer)
    kept: list[_Kept] = []
    for new in _finite(variant, values, forms):
        same = next((each for each in kept if each.is_same(new)), None)
        if same:
            same.forms += new.forms
        elif (
            new.value not in refused
            and _is_in_sight(new.exact, float(variant.answer.value))
            and _has_power(new.value, variant) == _has_power(key, variant)
            and all(_are_apart(new.value, other, variant) for other in (key, *(each.value for each in kept)))
        ):
            kept.append(new)
    return [each.answer for each in kept]


def _roundings(answer: Quantity) -> frozenset[Decimal]:
    """The key cut off or rounded up or to the nearest, at two figures or more: right answers, however printed."""
    return frozenset(
        Context(prec=figures, rounding=way).plus(answer.value)
        for figures in range(2, answer.figures + 1)
        for way in (ROUND_DOWN, ROUND_UP, ROUND_HALF_EVEN)
    )


def _is_in_sight(value: float, key: float) -> bool:
    return 1 / FARTHEST_OPTION < abs(value / key) < FARTHEST_OPTION


def _has_power(value: Decimal, variant: Variant) -> bool:
    return "×" in print_figures(value, variant.answer.figures)


def _are_apart(first: Decimal, second: Decimal, variant: Variant) -> bool:
    """Whether two printed options differ by 5 % of each and of the key, three tolerances and two last places."""
    greatest = max(abs(first), abs(second), abs(variant.answer.value))
    last_place = 2 * half_unit(max(abs(first), abs(second)), variant.answer.figures)
    least = max(LEAST_GAP * greatest, TOLERANCES_APART * variant.half_width, LAST_PLACES_APART * last_place)
    return abs(first - second) >= least


def chosen(variant: Variant, wrong: Sequence[WrongAnswer], draw: str) -> tuple[WrongAnswer, ...]:
    """Two to four of the wrong answers in order of size; () if too few.

    ``draw`` names the variant: the same name gives the same place of the key on every machine. Now and then there is
    one option less than there could be, where else the number of options would tell the place of the key.
    """
    key = variant.answer.value
    below, above = ([each for each in wrong if (each.value < key) == side] for side in (True, False))
    ways = [
        (lower, total - lower)
        for total in range(FEWEST_WRONG, min(MOST_WRONG, len(wrong)) + 1)
        for lower in range(total + 1)
        if lower <= len(below) and total - lower <= len(above)
    ]
    if not ways:
        return ()
    numbers = _apart(_drawn(ways, f"{draw}{' again' * turn}") for turn in range(TURNS))
    sets = (each for lower, upper in numbers for each in choices(below, above, lower, upper))
    return tuple(sorted(_least_telling(variant.answer, sets), key=lambda each: each.value))


def _apart(numbers: Iterable[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Each of them once."""
    known = set()
    for each in numbers:
        if each not in known:
            known.add(each)
            yield each


def _least_telling(key: Quantity, sets: Iterator[tuple[WrongAnswer, ...]]) -> tuple[WrongAnswer, ...]:
    """The first set beside which no simple relations point to the key, or that beside which they do least."""

    def told(wrong: Sequence[WrongAnswer]) -> int:
        return telling(key.value, [each.value for each in wrong], in_degrees=key.unit.symbol == "deg")

    kept = next(sets)
    least = told(kept)
    while least and (each := next(sets, None)):
        again = told(each)
        kept, least = (each, again) if again < least else (kept, least)
    return kept


def _drawn(ways: Sequence[tuple[int, int]], draw: str) -> tuple[int, int]:
    """One of the numbers of options below and above the key, by their weights."""
    ends = list(accumulate(PLACE_WEIGHTS[lower + upper][lower] for lower, upper in ways))
    number = drawn_number(draw) % ends[-1]
    return ways[bisect_right(ends, number)]


def recognisable(
    variant: Variant, values: NDArray[np.float64], forms: Sequence[MistakenForm]
) -> Iterator[tuple[WrongAnswer, Decimal]]:
    """Wrong answers that a typed number is known by, with half-widths; their bands meet no other and not the key's.

    ``values`` has the shape (forms,), nan where a form gives no number.
    """
    key = round_figures(variant.answer.value, variant.answer.figures)
    kept: list[_Kept] = []
    taken = [(key, variant.half_width)]
    for new in _finite(variant, values, forms):
        same = next((each for each in kept if each.is_same(new)), None)
        width = _band(new.value, variant)
        if same:
            same.forms += new.forms
        elif all(abs(new.value - other) > reach + width for other, reach in taken):
            kept.append(new)
            taken.append((new.value, width))
    for each, (_, width) in zip(kept, taken[1:], strict=True):
        yield each.answer, width


def _band(value: Decimal, variant: Variant) -> Decimal:
    """Half the width of the band around a wrong answer: one unit of its last figure at least, for halves rounded up."""
    last_place = 2 * half_unit(value, variant.answer.figures)
    return max(last_place, round_figures(RECOGNISED_WIDTH * abs(value), 2))


@dataclass(frozen=True)
class Diagnosis:
    """A question with its mistakes solved: what each variant's wrong answers are, and what they tell."""

    solved: SolvedQuestion
    live: tuple[MistakenForm, ...]
    idle: tuple[Unsolved, ...]

    def columns(self, drawn: Drawn) -> Iterator[NDArray[np.float64]]:
        """The possible wrong answers of each drawn variant, one row a mistake."""
        tables = {}
        for scene, pool in enumerate(drawn.pools):
            mine = drawn.numbers[drawn.scenes == scene]
            tables[scene] = iter(candidates(pool, self.live, mine).T)
        return (next(tables[int(scene)]) for scene in drawn.scenes)

    def options(self, variant: Variant, values: NDArray[np.float64], draw: str) -> tuple[WrongAnswer, ...]:
        """The wrong options of a variant, two to four in order of size; () where fewer are honest.

        ``values`` has the shape (forms,).
        """
        asked = self.solved.problem.answer_spec(self.solved.question, variant.scene)
        return chosen(variant, apart(variant, within_world(asked, values), self.live), draw)

    def recognised(self, variant: Variant, values: NDArray[np.float64]) -> tuple[Recognised, ...]:
        """The wrong numbers of a variant that bring their own feedback; ``values`` has the shape (forms,)."""
        found = []
        for each, width in recognisable(variant, values, self.live):
            said, why, ids = self._told(variant.scene, each)
            found.append(Recognised(each.value, width, said, ids, cause=why))
        return tuple(found)

    def _told(self, scene: Scene, wrong: WrongAnswer) -> tuple[str, Cause, tuple[str, ...]]:
        """Feedback, cause and ids of mistakes that lead to one number; the same in all variants of a scene."""

        def made() -> tuple[str, Cause, tuple[str, ...]]:
            mistakes = wrong.mistakes
            why = cause(told_in(self.solved, scene, mistakes))
            return feedback(why), why, tuple(each.id for each in mistakes)

        return once(self, "told", made, scene, *wrong.forms)


def diagnosis(solved: SolvedQuestion, catalogue: Sequence[Mistake]) -> Diagnosis:
    """The question with the mistakes that come out in it."""
    return once(solved, "diagnosis", lambda: Diagnosis(solved, *mistaken_forms(solved, catalogue)), *catalogue)


# --- variants that tell right from wrong --------------------------------------------------------

MARGIN: Final = 1.25  # of a tolerance, which is rounded up, and for the rounding of a wrong number
EVERYWHERE: Final = 0.9  # share of a scene's variants in which a mistake makes no difference there: units that cancel


@dataclass(frozen=True)
class _Blur:
    """Which combinations of a question tell nothing of some mistake."""

    diagnosis: Diagnosis

    def __call__(self, pool: ScenePool, numbers: Numbers) -> Mask:
        """Whether a mistake leads to the key, of each combination."""
        if not len(numbers) or not self.diagnosis.live:
            return np.zeros(numbers.shape, dtype=bool)
        return np.asarray(self._near(pool, numbers)[~self.everywhere(pool)].any(axis=0))

    def everywhere(self, pool: ScenePool) -> Mask:
        """Which of the mistakes lead to the key in nearly all variants of a scene, whatever is drawn."""
        under = pool.grid.choices["g"][0]
        return once(self.diagnosis, ("everywhere", pool.scene.name, under), lambda: self._everywhere(pool))

    def _everywhere(self, pool: ScenePool) -> Mask:
        if not len(pool.sample):
            return np.zeros(len(self.diagnosis.live), dtype=bool)
        return np.asarray(self._near(pool, pool.sample).mean(axis=1) > EVERYWHERE)

    def _near(self, pool: ScenePool, numbers: Numbers) -> NDArray[np.bool_]:
        """Mistakes x combinations: whether the mistake's number would be taken for the key."""
        wrong = candidates(pool, self.diagnosis.live, numbers)
        key = to_figures(pool.answer.figures)(pool.exact(numbers) / pool.answer.unit.factor)
        return np.asarray(np.abs(wrong - key) <= MARGIN * pool.widths(numbers, key))


def telling_pool(diagnosis: Diagnosis, gravity: Decimal) -> VariantPool:
    """The variants of a question under one g in which every mistake leads away from the key."""
    blur = once(diagnosis, "blur", lambda: _Blur(diagnosis))  # one, so that what is counted is counted once
    return VariantPool(diagnosis.solved, gravity, blur)


def blind_to(diagnosis: Diagnosis, gravity: Decimal) -> dict[str, tuple[str, ...]]:
    """The mistakes that no variant of a scene tells from the right way, by the names of scenes."""
    ids, blur = [each.mistake.id for each in diagnosis.live], _Blur(diagnosis)
    return {
        pool.scene.name: tuple(compress(ids, blur.everywhere(pool)))
        for pool in VariantPool(diagnosis.solved, gravity).pools
    }
