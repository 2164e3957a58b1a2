"""Forms that meet a blueprint, each question in its own variant: what is packed, printed and written down."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import fsum

from ..errors import BlueprintError, TooFewVariantsError
from ..item.item import Item
from ..item.pack import ItemSeries, Pack, Section
from ..model.problem import Problem
from .blueprint import Blueprint
from .candidate import Candidate
from .choosing import MOST_VARIANTS, Choice, FormSlot, FormVariant, choose, with_turns
from .demand import THINKING
from .explanation import conflict
from .pool import allowed, check_names, pool
from .programme import Assembled, assemble
from .requirements import programme_of

NODES = 2000
ROUNDS = 12
NAMES = "ABCDEFGHIJKL"

Done = Callable[[int], None]


@dataclass(frozen=True)
class Form:
    """One form: its letter, and its questions from the easier to the harder thinking."""

    name: str
    questions: tuple[FormVariant, ...]

    @property
    def facility(self) -> float:
        """The mean facility, each question in its scene."""
        return fsum(each.candidate.facility_in(each.scene) for each in self.questions) / len(self.questions)

    @property
    def minutes(self) -> int:
        """How long it takes."""
        return sum(each.candidate.minutes for each in self.questions)

    @property
    def marks(self) -> int:
        """The most that it can earn."""
        return sum(each.item.marks for each in self.questions)

    @property
    def letters(self) -> dict[str, int]:
        """How often each letter is the key."""
        found = [each.letter for each in self.questions if each.letter]
        return {letter: found.count(letter) for letter in sorted(set(found))}


@dataclass(frozen=True)
class Assessment:
    """All forms of a blueprint, and how they were found."""

    blueprint: Blueprint
    forms: tuple[Form, ...]
    assembled: Assembled
    choice: Choice
    candidates: int

    @property
    def measured(self) -> int:
        """For how many places in forms the facility comes from results."""
        return sum(each.candidate.measured is not None for form in self.forms for each in form.questions)


def declared_enemies(problems: Sequence[Problem]) -> tuple[tuple[str, ...], ...]:
    """The pairs of enemies that problem files declare."""
    return tuple(
        (f"{problem.id}.{question.name}", other)
        for problem in problems
        for question in problem.questions
        for other in question.enemies
    )


def assess(
    blueprint: Blueprint, candidates: Sequence[Candidate], problems: Sequence[Problem] = (), done: Done = lambda _: None
) -> Assessment:
    """The forms of a blueprint from some questions; ``done`` is called for each round of the search.

    Raises BankFaultsError for names that the bank does not have, BlueprintError where no forms meet the blueprint, or
    UnsolvedError.
    """
    check_names(blueprint, candidates)
    return _FormSearch(blueprint, candidates, declared_enemies(problems)).assessment(done)


class _FormSearch:
    """Chooses questions, then variants, and questions anew where their variants clash."""

    def __init__(
        self, blueprint: Blueprint, candidates: Sequence[Candidate], declared: Sequence[tuple[str, ...]]
    ) -> None:
        self.blueprint = blueprint
        self.candidates = list(candidates)
        self.declared = declared
        self.found: list[tuple[str, ...]] = []
        self.made: dict[str, tuple[FormVariant, ...]] = {}
        self.kept: list[list[str]] = []

    def assessment(self, done: Done) -> Assessment:
        for _ in range(ROUNDS):
            done(1)
            usable = pool(self.blueprint, allowed(self.blueprint, self.candidates))
            assembled = self._assembled(usable)
            if assembled is None:
                raise self._explained()
            chosen = [[usable[at] for at in form] for form in assembled.forms]
            if not self._corrected(chosen):
                choice = choose(self.blueprint, self._slots(chosen))
                if not choice.clashes:
                    return self._made(assembled, choice, chosen, len(usable))
                self.found += choice.clashes
            clashing = {name for pair in self.found for name in pair}
            known = {each.id for each in self.candidates} - clashing
            self.kept = [[each.id for each in form if each.id in known] for form in chosen]
        raise self._explained(given_up=True)

    def _assembled(self, usable: Sequence[Candidate]) -> Assembled | None:
        """The forms, mended where there were some; all anew where mended ones are not as alike as any can be."""
        programme = programme_of(self.blueprint, usable, self.found, self.declared)
        if self.kept:
            places = {each.id: at for at, each in enumerate(usable)}
            # every fourth question is free as well, so that what was lost can be made good
            kept = [[places[name] for at, name in enumerate(form) if at % 4 and name in places] for form in self.kept]
            mended = assemble(programme, NODES, kept)
            if mended and mended.difference <= programme.enough:
                return mended
        return assemble(programme, NODES)

    def _explained(self, *, given_up: bool = False) -> BlueprintError:
        everything = programme_of(self.blueprint, pool(self.blueprint, self.candidates), self.found, self.declared)
        if given_up:
            place = self.blueprint.place("scenes")
            return BlueprintError([(place, "no variants were found that keep scenes and keys apart in all forms")])
        return BlueprintError([(rule.place, rule.words) for rule in conflict(everything)])

    def _corrected(self, chosen: Sequence[Sequence[Candidate]]) -> bool:
        """Whether making items showed something else than was thought: no item at all, or other marks."""
        changed = False
        for candidate in {each.id: each for form in chosen for each in form}.values():
            made = self._variants(candidate)
            at = next(place for place, each in enumerate(self.candidates) if each.id == candidate.id)
            if not made:
                del self.candidates[at]
                changed = True
            elif made[0].item.marks != candidate.marks:
                self.candidates[at] = replace(candidate, found_marks=made[0].item.marks)
                del self.made[candidate.id]
                changed = True
        return changed

    def _variants(self, candidate: Candidate) -> tuple[FormVariant, ...]:
        if candidate.id not in self.made:
            self.made[candidate.id] = with_turns(variants_of(candidate, self.blueprint))
        return self.made[candidate.id]

    def _slots(self, chosen: Sequence[Sequence[Candidate]]) -> list[FormSlot]:
        forms: dict[str, list[int]] = {}
        for number, form in enumerate(chosen):
            for each in form:
                forms.setdefault(each.id, []).append(number)
        return [FormSlot(tuple(where), self.made[name]) for name, where in forms.items()]

    def _made(
        self, assembled: Assembled, choice: Choice, chosen: Sequence[Sequence[Candidate]], size: int
    ) -> Assessment:
        by_id = {each.candidate.id: each for each in choice.variants}
        forms = tuple(
            Form(NAMES[number], tuple(sorted((by_id[each.id] for each in form), key=_order)))
            for number, form in enumerate(chosen)
        )
        return Assessment(self.blueprint, forms, assembled, choice, size)


def _order(variant: FormVariant) -> tuple[int, float, str]:
    candidate = variant.candidate
    return THINKING.index(candidate.thinking), -candidate.facility, candidate.id


def variants_of(candidate: Candidate, blueprint: Blueprint, most: int = MOST_VARIANTS) -> list[FormVariant]:
    """The first variants of a question under the seed and the g of a blueprint; [] where it has none in its kind."""
    asked = candidate.asked
    assert asked is not None, "a question that is to be drawn comes from a bank"
    try:
        items = asked.draw(most, blueprint.gravity, blueprint.seed)
    except TooFewVariantsError as error:
        if not error.found:
            return []
        items = asked.draw(error.found, blueprint.gravity, blueprint.seed)
    return [FormVariant(candidate, number, timed(item, candidate.minutes)) for number, item in enumerate(items, 1)]


def timed(item: Item, minutes: int) -> Item:
    """The item with the minutes that its form counts on."""
    return replace(item, metadata=replace(item.metadata, minutes=minutes))


# --- to packs -----------------------------------------------------------------------------------------


def pack_of(assessment: Assessment, form: Form) -> Pack:
    """A form as a pack: one section with one item for each question."""
    blueprint = assessment.blueprint
    sections = tuple(_section(each, blueprint) for each in form.questions)
    return Pack(
        title=f"{blueprint.title}, form {form.name}",
        purpose=blueprint.purpose,
        gravity=f"{blueprint.gravity} N/kg",
        seed=blueprint.seed,
        sections=sections,
    )


def _section(variant: FormVariant, blueprint: Blueprint) -> Section:
    asked = variant.candidate.asked
    assert asked is not None
    alone = ItemSeries((variant.scene,), lambda _: variant.item)
    facts = replace(asked.metadata, minutes=variant.candidate.minutes)
    single = replace(asked, metadata=facts, draw=lambda *_: alone)
    section = single.section(1, blueprint.gravity, blueprint.seed)
    assert section is not None
    return section
