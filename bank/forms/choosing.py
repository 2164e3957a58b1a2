"""Which variant each question of a form shows: scenes and given-away keys are kept apart, keys spread over letters.

The questions are chosen first and the variants after them, each by a 0-1 programme: what a variant decides (its scene,
where its key stands, which numbers it prints) is known once items are made, which takes long for a whole bank.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import combinations

from ..item.item import ChoiceEntry, Item
from .blueprint import Blueprint
from .candidate import Candidate
from .linear import INFINITY, Model
from .requirements import ALIKE_FACILITY
from .telling import amounts, gives_away, key_letter, shared, shown

MOST_VARIANTS = 6  # numbers and stories of a question, among which is chosen
MOST_TURNED = 12  # with their options turned round
NODES = 500
APART = 1000.0  # what a clash costs: more than anything that is only better or worse
SMALLER = 0.02
SHARED = 0.01  # known wrong answers that several thoughts lead to: they decide where all else is alike
TINY = 1e-6


@dataclass(frozen=True)
class FormVariant:
    """One item of a question with what it tells; ``number`` counts from 1.

    ``turn`` says how far its options were turned round, where their order means nothing: the key may stand under any
    letter then.
    """

    candidate: Candidate
    number: int
    item: Item = field(repr=False)
    turn: int = 0

    @property
    def scene(self) -> str:
        """The name of its scene."""
        return self.item.metadata.scene

    @cached_property
    def told(self) -> str:
        """What it shows."""
        return shown(self.item)

    @cached_property
    def keys(self) -> frozenset[str]:
        """Its keys that are amounts."""
        return amounts(self.item)

    @cached_property
    def letter(self) -> str:
        """Where its key stands."""
        return key_letter(self.item)

    @cached_property
    def shared(self) -> float:
        """The share of its known wrong answers that do not tell two thoughts apart."""
        return shared(self.item)


def turned(item: Item, turn: int) -> Item:
    """The item with its options turned round by some places."""
    (entry,) = item.entries
    assert isinstance(entry, ChoiceEntry)
    return replace(item, entries=(replace(entry, options=(*entry.options[turn:], *entry.options[:turn])),))


def with_turns(variants: Sequence[FormVariant]) -> tuple[FormVariant, ...]:
    """The variants, and turned ones of those whose options may stand in any order."""
    found = list(variants)
    for turn in range(1, max((_turns(each.item) for each in variants), default=1)):
        found += [
            replace(each, item=turned(each.item, turn), turn=turn) for each in variants if turn < _turns(each.item)
        ]
    return tuple(found[:MOST_TURNED])


def _turns(item: Item) -> int:
    """In how many ways the options can be turned round; 1 where they can't."""
    first = item.entries[0]
    free = len(item.entries) == 1 and isinstance(first, ChoiceEntry) and first.shuffle and not first.several
    return len(first.options) if free and isinstance(first, ChoiceEntry) else 1


@dataclass(frozen=True)
class FormSlot:
    """A place to fill: the variants of a question, and the forms that show the same one."""

    forms: tuple[int, ...]
    variants: tuple[FormVariant, ...]

    @property
    def id(self) -> str:
        """The id of the question."""
        return self.variants[0].candidate.id


@dataclass(frozen=True)
class Choice:
    """The variant of each slot, the questions that clash all the same (by two), and the largest difference of forms."""

    variants: tuple[FormVariant, ...]
    clashes: tuple[tuple[str, str], ...]
    difference: float
    gap: float


def choose(blueprint: Blueprint, slots: Sequence[FormSlot]) -> Choice:
    """Variants whose forms differ least in where keys stand and in facility by scene, and which tell thoughts apart."""
    return _Chooser(blueprint, slots).choice()


def clash(blueprint: Blueprint, first: FormVariant, second: FormVariant) -> bool:
    """Whether two variants may not stand in one form: one scene for both, or one gives the other away."""
    return _same_scene(blueprint, first, second) or (
        gives_away(first.told, second.keys) or gives_away(second.told, first.keys)
    )


def _same_scene(blueprint: Blueprint, first: FormVariant, second: FormVariant) -> bool:
    if first.scene != second.scene or blueprint.scenes == "any":
        return False
    if blueprint.scenes == "once":
        return first.candidate.problem == second.candidate.problem
    return first.scene in blueprint.scenes


class _Chooser:
    """The programme of a choice."""

    def __init__(self, blueprint: Blueprint, slots: Sequence[FormSlot]) -> None:
        self.blueprint, self.slots = blueprint, slots
        self.model = Model()
        self.z = [
            [self.model.variable(SHARED * each.shared + TINY * place) for place, each in enumerate(slot.variants)]
            for slot in slots
        ]
        self.y = self.model.variable(1.0, INFINITY, whole=False)
        for mine in self.z:
            self.model.row(dict.fromkeys(mine, 1.0), 1.0, 1.0)
        self.clashing = list(self._clashes())
        self._spread_letters()
        self._spread_facility()

    def choice(self) -> Choice:
        answer = self.model.solve(NODES)
        assert answer is not None, "clashes can be paid for, so some choice is always possible"
        variants = tuple(
            slot.variants[max(range(len(mine)), key=lambda place: answer.values[mine[place]])]
            for slot, mine in zip(self.slots, self.z, strict=True)
        )
        found = [(a, b) for a, b in self.clashing if clash(self.blueprint, variants[a], variants[b])]
        pairs = tuple((self.slots[a].id, self.slots[b].id) for a, b in found)
        return Choice(variants, pairs, float(answer.values[self.y]), max(answer.cost - answer.bound, 0.0))

    def _clashes(self) -> Iterator[tuple[int, int]]:
        """The pairs of slots of which some variants clash; two such variants together cost more than all else."""
        for a, b in combinations(range(len(self.slots)), 2):
            if not set(self.slots[a].forms) & set(self.slots[b].forms):
                continue
            found = [
                (one, other)
                for one, first in zip(self.z[a], self.slots[a].variants, strict=True)
                for other, second in zip(self.z[b], self.slots[b].variants, strict=True)
                if clash(self.blueprint, first, second)
            ]
            for one, other in found:
                slack = self.model.variable(APART, whole=False)
                self.model.row({one: 1.0, other: 1.0, slack: -1.0}, high=1.0)
            if found:
                yield a, b

    def _spread_letters(self) -> None:
        """No letter is the key much more often in one form than in another, nor in a form than other letters."""
        letters = sorted({each.letter for slot in self.slots for each in slot.variants if each.letter})
        most_often = self.model.variable(0.1, INFINITY, whole=False)
        for letter in letters:
            sums = self._sums({id(each): 1.0 for slot in self.slots for each in slot.variants if each.letter == letter})
            self._alike(sums, 1.0)
            for terms in sums:
                self.model.row({**terms, most_often: -1.0}, high=0.0)

    def _spread_facility(self) -> None:
        values = {id(each): each.candidate.facility_in(each.scene) for slot in self.slots for each in slot.variants}
        self._alike(self._sums(values), ALIKE_FACILITY * self.blueprint.questions)

    def _sums(self, values: Mapping[int, float]) -> list[dict[int, float]]:
        """The sum of the values of the chosen variants in each form."""
        return [
            {
                variable: values[id(each)]
                for slot, mine in zip(self.slots, self.z, strict=True)
                if form in slot.forms
                for variable, each in zip(mine, slot.variants, strict=True)
                if id(each) in values
            }
            for form in range(self.blueprint.forms)
        ]

    def _alike(self, sums: Sequence[Mapping[int, float]], unit: float) -> None:
        # below the largest difference, smaller ones count a little
        least, most = (self.model.variable(cost, INFINITY, whole=False) for cost in (-SMALLER / unit, SMALLER / unit))
        for terms in sums:
            self.model.row({**terms, least: -1.0}, low=0.0)
            self.model.row({**terms, most: -1.0}, high=0.0)
        self.model.row({most: 1.0, least: -1.0, self.y: -unit}, high=0.0)
