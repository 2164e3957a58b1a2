"""Questions that rank cases: two quantities in the ratios 1 : 2 : 3, so that the order is reasoned, not calculated."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from itertools import combinations, count, pairwise, product
from typing import TypeAlias, TypeVar

import numpy as np
import sympy
from numpy.typing import NDArray

from ..item.draw import lot, mixed
from ..item.formula import Group, Node, Number, equals, replaced
from ..item.item import Given, OrderEntry, Paragraph, Step, Words, neighbours_exchanged
from ..language import capital
from ..model.evaluation import evaluate, holds
from ..model.problem import QuantitySpec, Scene
from ..quantities.quantity import Quantity, needs_power, round_figures
from ..quantities.unit_kinds import OWN_TO_A_BODY, kind_of
from ..solving.solution import SolvedQuestion
from ..variants.variant import Variant
from ..writing import ratio_words
from ..writing.letters import head_and_tail, name_of
from ..writing.notation import Notation
from ..writing.numeric_steps import power_law
from ..writing.stem import asked_name, filled, joined
from ..writing.view import notation_of
from .change_keys import held_in
from .fixed import is_fixed

CASES = 4
APART = 0.05  # no two cases of a ranking are closer than this
MULTIPLES = (1, 2, 3)
UNITS = (Decimal(1), Decimal("0.5"))  # what a multiple counts: a drawn value or half of it
REACH = Decimal("1.75")  # beyond its draws by this factor at most, also where more is plausible somewhere else

_Any = TypeVar("_Any")
Cell: TypeAlias = tuple[int, int]
_CELLS: tuple[Cell, ...] = tuple(product(MULTIPLES, MULTIPLES))


@dataclass(frozen=True)
class RankedPair:
    """Two givens of which the asked quantity is a product of powers, all else held."""

    first: str
    second: str
    powers: tuple[sympy.Rational, sympy.Rational]

    def size(self, cell: Cell) -> sympy.Expr:
        """How many times the value of the cell (1, 1) a cell has."""
        return sympy.Integer(cell[0]) ** self.powers[0] * sympy.Integer(cell[1]) ** self.powers[1]

    def plain_size(self, cell: Cell) -> float:
        """The size for who forgets squares and roots: each quantity with its first power, on its side of the stroke."""
        return float(cell[0] ** sympy.sign(self.powers[0]) * cell[1] ** sympy.sign(self.powers[1]))

    @property
    def law(self) -> sympy.Expr:
        """The product of powers, under one root where both are roots."""
        first, second = (sympy.Symbol(name) ** power for name, power in zip(self.names, self.powers, strict=True))
        return sympy.sqrt(first**2 * second**2) if self._is_root else first * second

    @property
    def is_even(self) -> bool:
        """Whether both stand with one power but for the sign, so that no order depends on it."""
        return bool(abs(self.powers[0]) == abs(self.powers[1]))

    @property
    def names(self) -> tuple[str, str]:
        """Both names."""
        return self.first, self.second

    @property
    def _is_root(self) -> bool:
        return all(power.q == 2 for power in self.powers)


@dataclass(frozen=True)
class Ranking:
    """Four cases of a question in one scene: pairs of multiples of two ``units``, with the ``values`` of all cells."""

    solved: SolvedQuestion
    scene: Scene
    pair: RankedPair
    units: tuple[Quantity, Quantity]
    cells: tuple[Cell, ...]
    answers: tuple[float, ...]

    @cached_property
    def _notation(self) -> Notation:
        return notation_of(self.solved.problem, self.scene)

    @property
    def _name(self) -> str:
        return asked_name(self.solved.problem, self.solved.question, self.scene)

    @property
    def entry(self) -> OrderEntry:
        """The cases to be put in order, the smallest first."""
        problem, notation = self.solved.problem, self._notation
        draw = lot(self.solved.id, "rank", self.scene.name)
        first, first_tail = head_and_tail(name_of(problem, self.scene, self.pair.first))
        second, second_tail = head_and_tail(name_of(problem, self.scene, self.pair.second))
        question = self.solved.question
        whose = self._name if question.asked_name else name_of(problem, self.scene, question.ask)
        name, end = head_and_tail(whose)
        held, letters = held_in(self.solved, self.scene, (self.pair.first, self.pair.second))
        told = ratio_words.ALIKE.format(Held=capital(held), are="are" if len(letters) > 1 else "is") if letters else ""
        prompt = filled(
            ratio_words.RANK_ASKING[draw[0] % len(ratio_words.RANK_ASKING)].replace("{held}", told),
            name=name,
            end=end,
            asked=notation.symbol(self.solved.question.ask),
            first=notation.symbol(self.pair.first),
            second=notation.symbol(self.pair.second),
            first_means=first,
            second_means=second,
            first_tail=first_tail,
            second_tail=second_tail,
            **letters,
        )
        options = tuple(self._case(ratio_words.CASE, cell) for cell in self.cells)
        return OrderEntry(prompt, options, self._ranking, ratio_words.RANK_HINT.format(name=self._name))

    @property
    def step(self) -> Step:
        """The ratios of the answers, case by case; the number of the step is given where it stands."""
        law = self._notation.node(self.pair.law)
        asked = self._notation.symbol(self.solved.question.ask)
        first = self._case(ratio_words.LAW, (1, 1), law=law, asked=asked)
        return Step(0, ratio_words.RANK_HEADING, (first, *map(self._worked, self.cells), self._in_order(asked)))

    def _in_order(self, asked: Node) -> Paragraph:
        """The cases from the smallest answer to the largest."""
        parts = [*filled(ratio_words.ORDER, asked=asked)]
        for place, case in enumerate(self._ranking):
            parts += [Words(ratio_words.NEXT_CASE)] if place else []
            parts += self._case(ratio_words.CASE, self.cells[case])
        return tuple(joined([*parts, Words(".")]))

    @property
    def _ranking(self) -> tuple[int, ...]:
        """The places of the cases, the smallest answer first."""
        return tuple(sorted(range(CASES), key=self.answers.__getitem__))

    def _worked(self, cell: Cell) -> Paragraph:
        symbols = (self._notation.symbol(name) for name in (self.pair.first, self.pair.second))
        numbers: dict[Node, Node] = {}
        for symbol, multiple in zip(symbols, cell, strict=True):
            numbers |= dict.fromkeys((symbol, Group(symbol)), Number(str(multiple)))
        put_in = replaced(self._notation.for_numbers.node(self.pair.law), numbers)
        size = self.pair.size(cell)
        if not size.is_Rational:
            about = Number(f"{float(size):#.3g}")
            return self._case(ratio_words.WORKED, cell, worked=equals(put_in, about, "≈"))
        value = self._notation.node(size)
        return self._case(ratio_words.WORKED, cell, worked=put_in if put_in == value else equals(put_in, value))

    def _case(self, sentence: str, cell: Cell, **more: object) -> Paragraph:
        names = (self.pair.first, self.pair.second)
        shown = [
            Given(name, each.number, each.unit.in_text)
            for name, each in zip(names, _cell_of(self.units, cell), strict=True)
        ]
        symbols = [self._notation.symbol(name) for name in names]
        gaps = {"first": symbols[0], "second": symbols[1], "first_value": shown[0], "second_value": shown[1]}
        return filled(sentence, **gaps, **more)  # type: ignore[arg-type]


# --- which two quantities ---------------------------------------------------------------------------


def pairs_of(solved: SolvedQuestion) -> tuple[RankedPair, ...]:
    """Pairs of givens that the asked quantity goes with by powers; those first whose powers pull apart."""
    if kind_of(solved.problem.quantities[solved.question.ask].unit) in OWN_TO_A_BODY:
        return ()  # the cases would differ in it
    powers = {name: power for name in _varied(solved) if (power := power_law(solved.solution.closed_form, name))}
    found = [RankedPair(*names, (powers[names[0]], powers[names[1]])) for names in combinations(powers, 2)]
    return tuple(sorted(found, key=_likeness))


def _varied(solved: SolvedQuestion) -> Iterator[str]:
    for name in solved.question.given:
        spec = solved.problem.quantities[name]
        if spec.draw and len(spec.draw.values) > 1 and kind_of(spec.unit) != "angle":
            yield name


def _likeness(pair: RankedPair) -> tuple[bool, bool]:
    """Two quantities of one power and one sign are the easiest to rank."""
    first, second = pair.powers
    return pair.is_even, bool(first * second > 0)


# --- the cases --------------------------------------------------------------------------------------


def ranking(solved: SolvedQuestion, scene: Scene, variants: Iterable[Variant], draw: str) -> Ranking | None:
    """Four cases of a scene on the ground of one of its variants; None where no four are possible.

    ``draw`` names the draw: it decides alike on every machine which cases are taken, and their order.
    """
    mine = [each for each in variants if each.scene.name == scene.name]
    pairs = [each for each in pairs_of(solved) if not any(is_fixed(solved, scene, one) for one in each.names)]
    for pair, variant, scale in product(pairs, mine, product(UNITS, UNITS)):
        units = _units(variant, pair, scale)
        found = _possible(solved, scene, variant, pair, units) if units else None
        cells = _chosen(pair, found, draw) if found is not None else ()
        if units and found is not None and cells:
            return Ranking(solved, scene, pair, units, cells, tuple(float(found[_CELLS.index(each)]) for each in cells))
    return None


def _units(variant: Variant, pair: RankedPair, scale: tuple[Decimal, Decimal]) -> tuple[Quantity, Quantity] | None:
    """The values of which the cases are multiples; None where one is not exact as printed."""
    given = (variant.given[pair.first], variant.given[pair.second])
    first, second = (
        Quantity(each.value * part, each.unit, each.figures) for each, part in zip(given, scale, strict=True)
    )
    exact = all(
        round_figures(value := each.value * multiple, each.figures) == value
        for each in (first, second)
        for multiple in MULTIPLES
    )
    return (first, second) if exact else None


def _cell_of(units: Sequence[Quantity], cell: Cell) -> tuple[Quantity, ...]:
    return tuple(_times(unit, multiple) for unit, multiple in zip(units, cell, strict=True))


def _times(each: Quantity, multiple: int) -> Quantity:
    """A multiple with all its digits: 1380 g for three times 460 g, where three figures need a power of ten."""
    value = each.value * multiple
    return Quantity(value, each.unit, max(each.figures, 0 if needs_power(value) else value.adjusted() + 1))


def _possible(
    solved: SolvedQuestion, scene: Scene, variant: Variant, pair: RankedPair, units: tuple[Quantity, Quantity]
) -> NDArray[np.float64]:
    """The answers of all cells in SI, of shape (9,); nan for one that could not be."""
    values: Mapping[str, NDArray[np.float64]] = {
        **{name: np.full(len(_CELLS), each.si) for name, each in variant.given.items()},
        **{
            name: np.array([_cell_of(units, cell)[place].si for cell in _CELLS])
            for place, name in enumerate((pair.first, pair.second))
        },
    }
    answer = solved.problem.answer_spec(solved.question, scene)
    found = np.broadcast_to(np.asarray(evaluate(solved.solution.closed_form, values)), (len(_CELLS),))
    good = np.isfinite(found) & _within(answer, found) & ((found > 0) | (not answer.positive))
    for name in (pair.first, pair.second):
        good = good & _within(solved.problem.spec(name, scene), values[name])
    for kept in solved.kept:
        if kept.expression is not None:
            good = good & holds(kept.expression, values, strict=kept.strict)
    return np.where(good, found, np.nan)


def _within(spec: QuantitySpec, values: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether values in SI are plausible, and near the draws, if there are any."""
    near = np.ones(values.shape, dtype=bool)
    drawn = spec.draw.values if spec.draw else ()
    for low, high in filter(None, (spec.plausible, (min(drawn) / REACH, max(drawn) * REACH) if drawn else None)):
        near &= (values >= float(low) * spec.unit.factor) & (values <= float(high) * spec.unit.factor)
    return near


def _chosen(pair: RankedPair, answers: NDArray[np.float64], draw: str) -> tuple[Cell, ...]:
    """Four possible cells whose answers are apart and whose order tells something; () if there are none.

    Neither quantity alone has the order, nor has who forgets a square or a root, where these can make a difference.
    """
    possible = [cell for cell, answer in zip(_CELLS, answers, strict=True) if np.isfinite(answer)]
    for cells in mixed(combinations(possible, CASES), draw):
        rising = sorted(cells, key=pair.size)
        sizes = [float(pair.size(each)) for each in rising]
        apart = all(high - low > APART * high for low, high in pairwise(sizes))
        if not apart or not all(len({cell[place] for cell in cells}) in (2, 3) for place in (0, 1)):
            continue
        if pair.is_even or not is_rising([pair.plain_size(each) for each in rising]):
            return _out_of_order(cells, rising, draw)
    return ()


def _out_of_order(cells: Sequence[Cell], rising: Sequence[Cell], draw: str) -> tuple[Cell, ...]:
    """The cells in an order that is drawn, but not in one that earns marks untouched, nor in the key from its end.

    Marks are earned by the key, and by one exchange of neighbours from it.
    """
    refused = {tuple(rising), tuple(reversed(rising)), *neighbours_exchanged(tuple(rising))}
    orders = (tuple(mixed(cells, f"{draw} {again}" if again else draw)) for again in count())
    return next(each for each in orders if each not in refused)


def is_rising(sizes: Sequence[float]) -> bool:
    """Whether each is greater than the one before, so that they order the cases in the same way."""
    return all(high > low for low, high in pairwise(sizes))
