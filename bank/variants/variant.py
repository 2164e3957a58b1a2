"""Variants of a solved question: combinations of draws that keep what holds and give a plausible answer.

Everything is decided with the numbers as printed, over arrays; a combination that breaks anything is never a variant.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_UP, Context, Decimal
from functools import cached_property, partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..errors import TooFewVariantsError
from ..item.draw import lot
from ..model.draws import Grid, Numbers, grid_of
from ..model.evaluation import SAME, evaluate, holds, to_figures
from ..model.once import once
from ..model.problem import QuantitySpec, Scene, Tolerance
from ..quantities.quantity import Quantity, from_float, half_unit, round_figures
from ..solving.solution import SolvedQuestion
from .census import Census, Judgement, Mask, census
from .magnification import GUARD_FIGURES, MOST, WIDEST, greatest, needed_share

FIRST, BLOCK = 256, 4096  # combinations that are judged at once; few at first, for most draws end there
SAMPLE = 2048  # combinations of a scene by which it is decided whether those that magnify rounding are dropped
LEAST_LEFT = 0.6  # share of combinations that must be left where those that magnify rounding are dropped
TIE = 1e-7  # of the last place: nearer to a half than any solution shows
_TWICE = "two givens print the same number"


@dataclass(frozen=True)
class Variant:
    """One combination: its scene, its printed givens, and the answer before rounding, in SI."""

    scene: Scene
    given: Mapping[str, Quantity]
    exact_si: float
    answer: Quantity
    half_width: Decimal


@dataclass(frozen=True)
class ScenePool:
    """The combinations of one scene; ``widened`` where those that magnify rounding stay, with a wider tolerance."""

    solved: SolvedQuestion
    scene: Scene
    grid: Grid
    widened: bool = False

    @cached_property
    def answer(self) -> QuantitySpec:
        """The asked quantity in this scene and question."""
        return self.solved.problem.answer_spec(self.solved.question, self.scene)

    def exact(self, numbers: Numbers) -> Any:
        """The unrounded answers of combinations, in SI; nan where one is not real."""
        return np.broadcast_to(evaluate(self.solved.solution.closed_form, self.grid.values(numbers)), numbers.shape)

    def judged(self, numbers: Numbers) -> Judgement:
        """Which of the combinations are variants."""
        values = self.grid.values(numbers)
        exact = self.exact(numbers)
        good = np.isfinite(exact)
        broken = {"the answer is not real": int((~good).sum())}
        for name, mask in (*self._checks(values, exact), (_TWICE, self.grid.distinct(numbers))):
            broken[name] = int((good & ~mask).sum())
            good = good & mask
        magnifies = self._magnifies(values, good)
        broken["a rounded term would move the answer too far"] = int(magnifies.sum())
        good = good & ~magnifies
        return Judgement(good, {name: count for name, count in broken.items() if count})

    def _checks(self, values: Mapping[str, Any], exact: Any) -> Iterator[tuple[str, Mask]]:
        printed = exact / self.answer.unit.factor
        if self.answer.positive:
            yield "the answer is negative", exact > 0
        for kept in self.solved.kept:
            if kept.expression is not None:
                keeps = holds(kept.expression, values, strict=kept.strict)
                yield f"{kept.reason.text} is broken", np.broadcast_to(keeps, exact.shape)
        low, high = (float(edge) for edge in self.answer.plausible or (0, 0))
        yield "the answer is outside its plausible range", (printed >= low) & (printed <= high)
        key = to_figures(self.answer.figures)(printed)
        yield "rounding on the way would miss the tolerance", self._survives_rounding(values, key)
        yield "the answer equals a given, 0 or 1", self._tells_nothing(values, key)
        yield "the answer lies half-way between two rounded ones", ~_is_tie(printed, self.answer.figures)

    def _magnifies(self, values: Mapping[str, Any], good: Mask) -> Mask:
        """Which of the good combinations magnify rounding: see ``magnification``."""
        found = np.zeros_like(good)
        kept = {name: each[good] for name, each in values.items()}
        if self.widened:
            found[good] = self._needed_share(kept) > WIDEST
        else:
            found[good] = greatest(self.solved.solution.closed_form, kept) > MOST
        return found

    @cached_property
    def sample(self) -> Numbers:
        """The variants among some combinations, always the same ones."""
        numbers = self.grid.shuffled(self.scene.name, 0, SAMPLE)
        return numbers[self.judged(numbers).good]

    @cached_property
    def loses_much(self) -> bool:
        """Whether dropping what magnifies rounding would cost too many variants, or all variants of a drawn value."""
        wide = replace(self, widened=True).sample
        strict = wide[greatest(self.solved.solution.closed_form, self.grid.values(wide)) <= MOST]
        if len(strict) < LEAST_LEFT * len(wide):
            return True
        drawn = (np.unravel_index(each, self.grid.shape) for each in (strict, wide))
        return any(len(np.unique(few)) < len(np.unique(many)) for few, many in zip(*drawn, strict=True))

    def _survives_rounding(self, values: Mapping[str, Any], key: Any) -> Mask:
        """Whether a student who rounds every step to one figure more than asked still meets the tolerance."""
        rounding = to_figures(self.answer.figures + GUARD_FIGURES)
        worked = evaluate(self.solved.solution.closed_form, values, rounding) / self.answer.unit.factor
        rounded = to_figures(self.answer.figures)(np.broadcast_to(worked, key.shape))
        return np.asarray(np.abs(rounded - key) <= self._widths(values, key))

    def widths(self, numbers: Numbers, key: Any) -> Any:
        """How far an answer may be from the rounded keys of combinations, before ``half_width`` rounds that up."""
        return self._widths(self.grid.values(numbers), key)

    def _widths(self, values: Mapping[str, Any], key: Any) -> Any:
        tolerance = self.solved.question.tolerance or default_tolerance(self.answer)
        width = float(tolerance.absolute) if tolerance.absolute else np.abs(key) * float(tolerance.percent or 0) / 100
        if self.widened:
            width = np.maximum(width, np.abs(key) * np.minimum(self._needed_share(values), 1.0))
        return np.maximum(width, 0.5 * _last_place(key, self.answer.figures))

    def _needed_share(self, values: Mapping[str, Any]) -> Any:
        return needed_share(self.solved.solution.closed_form, values, self.answer.figures)

    def _tells_nothing(self, values: Mapping[str, Any], key: Any) -> Mask:
        plain = ~np.isclose(key, 1.0) & (key != 0)
        for name, quantities in self.grid.choices.items():
            if quantities[0].unit == self.answer.unit:
                plain &= ~np.isclose(key, np.asarray(values[name]) / self.answer.unit.factor, rtol=SAME, atol=0)
        return np.asarray(plain)

    def variants(self, numbers: Numbers) -> Callable[[int], Variant]:
        """The variants of combinations, each by its place among them: arrays are worked out once for all."""
        exact = self.exact(numbers)
        shares = self._needed_share(self.grid.values(numbers)) if self.widened else np.zeros(numbers.shape)
        shares = np.broadcast_to(shares, numbers.shape)
        return lambda place: self._variant(int(numbers[place]), float(exact[place]), float(shares[place]))

    def variant(self, number: int) -> Variant:
        """The variant of one combination."""
        return self.variants(np.array([number]))(0)

    def _variant(self, number: int, exact: float, share: float) -> Variant:
        answer = Quantity(from_float(exact / self.answer.unit.factor), self.answer.unit, self.answer.figures)
        tolerance = self.solved.question.tolerance or default_tolerance(self.answer)
        return Variant(self.scene, self.grid.printed(number), exact, answer, half_width(answer, tolerance, share))


def default_tolerance(answer: QuantitySpec) -> Tolerance:
    """2 percent (common practice, no source), or half a degree for an angle."""
    if answer.unit.symbol == "deg":
        return Tolerance(None, Decimal("0.5"))
    return Tolerance()


def half_width(answer: Quantity, tolerance: Tolerance, share: float = 0.0) -> Decimal:
    """How far an answer may be from the key: the tolerance at two figures, rounded up; at least what rounding moves.

    ``share`` is the share of the key that rounding on the way may move (``magnification``).
    """
    key = round_figures(answer.value, answer.figures)
    width = tolerance.absolute or abs(key) * (tolerance.percent or Decimal(0)) / 100
    width = max(width, abs(key) * from_float(share), half_unit(key, answer.figures))
    rounded = Context(prec=2, rounding=ROUND_UP).plus(width)
    # half a unit more: no answer that is typed with ordinary figures falls on the edge, where floats decide
    return rounded + Decimal(5).scaleb(rounded.adjusted() - 2)


def _last_place(value: Any, figures: int) -> Any:
    size = np.where(value == 0, 1.0, np.abs(value))
    return 10.0 ** (np.floor(np.log10(size)) - figures + 1)


def _is_tie(value: Any, figures: int) -> Mask:
    """Where a value to so many figures may be rounded either way: one is taught to round it up, another to even."""
    places = np.where(np.isfinite(value), value, 0.0) / _last_place(np.where(np.isfinite(value), value, 1.0), figures)
    return np.asarray(np.abs(places - np.floor(places) - 0.5) < TIE)


@dataclass(frozen=True)
class Drawn:
    """The variants that were drawn: for the k-th one its scene's number and its combination."""

    pools: tuple[ScenePool, ...]
    scenes: NDArray[np.int64]
    numbers: Numbers

    def __len__(self) -> int:
        return len(self.numbers)

    def __getitem__(self, place: int) -> Variant:
        scene = int(self.scenes[place])
        return self._variants[scene](int(self._places[place]))

    @cached_property
    def _variants(self) -> tuple[Callable[[int], Variant], ...]:
        """The variants of each scene."""
        return tuple(pool.variants(self.numbers[self.scenes == scene]) for scene, pool in enumerate(self.pools))

    @cached_property
    def _places(self) -> NDArray[np.int64]:
        """The place of each among those of its scene."""
        found = np.zeros_like(self.scenes)
        for scene in range(len(self.pools)):
            mine = self.scenes == scene
            found[mine] = np.arange(mine.sum())
        return found

    def __iter__(self) -> Iterator[Variant]:
        return (self[place] for place in range(len(self)))


@dataclass(frozen=True)
class VariantPool:
    """All variants of a question under one g: counted, and drawn in a seeded order, scenes in turn.

    ``refuses`` tells which of a scene's variants are not to be drawn.
    """

    solved: SolvedQuestion
    gravity: Decimal
    refuses: Callable[[ScenePool, Numbers], Mask] | None = None

    @property
    def pools(self) -> tuple[ScenePool, ...]:
        """One pool a scene, in file order; all are widened where one would lose too much."""
        return once(self.solved, ("pools", str(self.gravity)), self._pools)

    def _pools(self) -> tuple[ScenePool, ...]:
        problem, question = self.solved.problem, self.solved.question
        scenes = problem.scenes_of(question)
        found = [ScenePool(self.solved, each, grid_of(problem, question, each, self.gravity)) for each in scenes]
        widened = any(each.loses_much for each in found)
        return tuple(replace(each, widened=widened) for each in found)

    @property
    def count(self) -> int:
        """How many variants can be drawn; of a large grid, at least so many."""
        return sum(each.left for each in self.censuses)

    @property
    def censuses(self) -> tuple[Census, ...]:
        """What became of all combinations, one census a scene."""
        return once(self.solved, ("censuses", str(self.gravity)), self._censuses, self.refuses)

    def _censuses(self) -> tuple[Census, ...]:
        return tuple(census(pool.scene, pool.grid, pool.judged, partial(self._left, pool)) for pool in self.pools)

    def breaking(self) -> dict[str, int]:
        """How many combinations of each scene break what, as ``scene: what``."""
        return {f"{each.scene.name}: {what}": many for each in self.censuses for what, many in each.broken.items()}

    def _left(self, pool: ScenePool, good: Numbers) -> Numbers:
        """Those of a scene's variants that are not refused."""
        return good[~self.refuses(pool, good)] if self.refuses else good

    def draw(self, wanted: int, seed: int) -> Drawn:
        """The first ``wanted`` variants of the order that the seed gives. Raises TooFewVariantsError.

        Where the answer is one number, whatever is drawn, there are as many as there are.
        """
        drawn = self.draw_up_to(wanted, seed)
        if len(drawn) < (wanted if self.solved.has_numbers else 1):
            raise TooFewVariantsError(self.solved.id, len(drawn), wanted)
        return drawn

    def draw_up_to(self, wanted: int, seed: int) -> Drawn:
        """The first ``wanted`` variants of the order that the seed gives, or all there are."""
        streams = [self._stream(pool, seed) for pool in self.pools]
        turn = int(np.frombuffer(lot(self.solved.id, seed), dtype="<u4")[0]) % len(streams)
        scenes: list[int] = []
        numbers: list[int] = []
        open_scenes = [(turn + step) % len(streams) for step in range(len(streams))]
        while open_scenes and len(numbers) < wanted:
            for scene in tuple(open_scenes):
                number = next(streams[scene], None)
                if number is None:
                    open_scenes.remove(scene)
                elif len(numbers) < wanted:
                    scenes.append(scene)
                    numbers.append(number)
        return Drawn(self.pools, np.array(scenes, dtype=np.int64), np.array(numbers, dtype=np.int64))

    def _stream(self, pool: ScenePool, seed: int) -> Iterator[int]:
        key = f"{self.solved.id} {pool.scene.name} {seed}"
        start, stop = 0, FIRST
        while start < len(pool.grid):
            block = partial(self._good, pool, key, start, stop)
            # nearly every draw ends in the first block, and many kinds of questions begin with the same one
            yield from once(pool, ("first block", key), block, self.refuses) if start == 0 else block()
            start, stop = stop, stop + BLOCK

    def _good(self, pool: ScenePool, key: str, start: int, stop: int) -> list[int]:
        """The variants among these places of a seeded order that may be drawn."""
        numbers = pool.grid.shuffled(key, start, stop)
        return list(map(int, self._left(pool, numbers[pool.judged(numbers).good])))
