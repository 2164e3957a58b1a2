"""The questions of one solved question, in its own kinds: number, choice, expression, change, limit, rank, stepwise."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property, partial

from ..item.item import Carried, ChoiceEntry, Entry, Item, Metadata, NumberEntry, Words
from ..model.mistake import Mistake
from ..model.problem import Problem, Scene
from ..solving.solved import SolvedQuestion
from ..thinking.distractors import WrongAnswer
from ..variants.variant import Variant, VariantPool
from ..writing.stem import asked_name
from . import dependence_keys, force_keys
from .choice import ChoicePool, Diagnosis, ExpressionChoice, diagnosis, number_choice
from .force_keys import About
from .item_model import ItemModel, Kind, Maker, Makers
from .items import Generator

MINUTES = {
    "stepwise": 8,
    "direction": 1,
    "forces": 2,
    "diagram": 2,
    "equation": 2,
    "change": 2,
    "limit": 2,
    "rank": 4,
    "match": 5,
    "expression": 3,
}
CALCULATED = ("number", "choice", "expression", "stepwise")
SEARCHED = 60  # variants looked through for the cases of a ranking


@dataclass(frozen=True)
class QuestionModels:
    """The questions of one solved question of a problem file, in its own kinds."""

    solved: SolvedQuestion
    catalogue: tuple[Mistake, ...]

    @property
    def problem(self) -> Problem:
        """The problem."""
        return self.solved.problem

    @cached_property
    def diagnosis(self) -> Diagnosis:
        """The mistakes as they fall out here; solved on first use."""
        return diagnosis(self.solved, self.catalogue)

    @cached_property
    def generator(self) -> Generator:
        """Makes the number items, and what the other kinds share with them."""
        return Generator(self.solved)

    @property
    def scenes(self) -> tuple[Scene, ...]:
        """The scenes of the question."""
        return self.problem.scenes_of(self.solved.question)

    def metadata(self, kind: str, title: str, suffix: str = "") -> Metadata:
        """The facts of the question for another kind."""
        facts = self.generator.metadata(self.scenes[0])
        question = f"{facts.question}/{kind}{suffix}"
        return replace(
            facts, question=question, title=title, minutes=MINUTES.get(kind, facts.minutes), kind=kind,
            difficulty=facts.difficulty if kind in CALCULATED else None,
        )  # fmt: skip

    def asked(self, kinds: Sequence[Kind]) -> Iterator[ItemModel]:
        """The questions of the wanted kinds."""
        title = self.solved.question.title
        if "number" in kinds:
            facts = self.generator.metadata(self.scenes[0])
            yield ItemModel(self.solved.id, "number", facts, self._numbers, self._tally)
        if "choice" in kinds:
            facts = self.metadata("choice", f"{title}: choose")
            yield self._of("choice", facts, partial(self._choices, facts))
        if "expression" in kinds:
            facts = self.metadata("expression", f"{title}: which expression")
            yield self._of("expression", facts, partial(self._told, facts, self._expression))
        if "change" in kinds:
            yield from self._changes(title)
        if "limit" in kinds and dependence_keys.limit_of(self.solved):
            for word, factor in (("more", dependence_keys.STEP), ("less", 1 / dependence_keys.STEP)):
                facts = self.metadata("limit", f"{title}: a little {word}", f"-{word}")
                make = partial(dependence_keys.limit, self.solved, factor=factor, catalogue=self.catalogue)
                yield self._of("limit", facts, partial(self._told, facts, make))
        if "stepwise" in kinds and self.problem.diagrams:
            facts = self.metadata("stepwise", f"{title}: step by step")
            yield self._of("stepwise", facts, partial(self._stepwise, facts))
        if "rank" in kinds and len(self.solved.question.given) > 1:
            facts = self.metadata("rank", f"{title}: put in order")
            yield self._of("rank", facts, partial(self._ranks, facts))

    def _of(self, kind: Kind, facts: Metadata, draw: Callable[[int, Decimal, int], Makers]) -> ItemModel:
        return ItemModel(f"{facts.problem}.{facts.question}", kind, facts, draw)

    # --- numbers ---

    def _tally(self, wanted: int, gravity: Decimal, seed: int) -> int:
        return len(VariantPool(self.solved, gravity).draw_up_to(wanted, seed))

    def _numbers(self, wanted: int, gravity: Decimal, seed: int) -> Makers:
        drawn = VariantPool(self.solved, gravity).draw(wanted, seed)
        columns = list(ChoicePool(self.diagnosis, VariantPool(self.solved, gravity)).columns(drawn))

        def make(place: int) -> Item:
            variant, values = drawn[place], columns[place]

            def as_choice() -> ChoiceEntry | None:
                draw = f"{self.solved.id} {seed} {drawn.numbers[place]}"
                return self._choice_entry(variant, self.diagnosis.options(variant, values, draw))

            return self.generator.item(variant, place + 1, self.diagnosis.recognised(variant, values), as_choice)

        scenes = [pool.scene.name for pool in drawn.pools]
        return [Maker(scenes[int(scene)], partial(make, place)) for place, scene in enumerate(drawn.scenes)]

    def _choices(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> Makers:
        found = ChoicePool(self.diagnosis, VariantPool(self.solved, gravity)).draw(wanted, seed)
        return [
            Maker(each[0].scene.name, partial(self._choice, facts, *each, number))
            for number, each in enumerate(found, 1)
        ]

    def _choice(self, facts: Metadata, variant: Variant, wrong: tuple[WrongAnswer, ...], number: int) -> Item:
        item = self.generator.item(variant, number)
        entry = self._choice_entry(variant, wrong)
        assert entry is not None
        return replace(item, entries=(entry,), metadata=replace(facts, scene=variant.scene.name))

    def _choice_entry(self, variant: Variant, wrong: tuple[WrongAnswer, ...]) -> ChoiceEntry | None:
        """The key among wrong numbers; None where there are too few of them."""
        name = asked_name(self.problem, self.solved.question, variant.scene)
        return number_choice(variant, wrong, (Words(f"Choose the {name}."),)) if wrong else None

    # --- one item a scene ---

    def _told(
        self, facts: Metadata, make: Callable[[Scene], Entry | None], wanted: int, gravity: Decimal, seed: int
    ) -> Makers:
        """One item for each scene that has the entry, in an order that the seed decides."""
        return one_a_scene(self.scenes, facts, make, partial(self.letters, facts), wanted, seed)

    def letters(self, facts: Metadata, scene: Scene, entry: Entry, number: int) -> Item:
        """An item without numbers: the story, the entry, and the solution in letters."""
        return Item(
            variant=number,
            stem=(dependence_keys.opening(scene),),
            figure=self.generator.figure(scene),
            entries=(entry,),
            solution=self.generator.letters(scene),
            metadata=replace(facts, scene=scene.name),
        )

    def _expression(self, scene: Scene) -> ChoiceEntry | None:
        notation = self.generator.notation(scene)
        name = asked_name(self.problem, self.solved.question, scene)
        prompt = (Words(f"Which expression gives the {name}?"),)
        return ExpressionChoice(self.diagnosis, notation).entry(prompt)

    def _changes(self, title: str) -> Iterator[ItemModel]:
        for each in dependence_keys.changes(self.solved):
            name = each.symbol.replace("_", "-").lower()
            facts = self.metadata("change", f"{title}: {each.symbol} {each.done}", f"-{name}-{each.done}")
            make = partial(dependence_keys.change, self.solved, asked=each, catalogue=self.catalogue)
            yield self._of("change", facts, partial(self._told, facts, make))

    # --- step by step ---

    def _stepwise(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> Makers:
        """The number question with the steps before it: direction, diagram, equation, limit, then the number."""
        first = {scene.name: tuple(self._parts(scene)) for scene in self.scenes}
        if not any(first.values()):
            return []

        def item(numbered: Maker) -> Item:
            made = numbered.make()
            earlier = first[numbered.scene]
            entries: tuple[Entry, ...] = (*earlier, replace(made.entry, carried=tuple(carried(earlier, made.entry))))
            # the figure would show the way of the acceleration, which the first part asks for
            return replace(made, figure=None, entries=entries, metadata=replace(facts, scene=numbered.scene))

        numbers = self._numbers(min(wanted, VariantPool(self.solved, gravity).count), gravity, seed)
        return [Maker(each.scene, partial(item, each)) for each in numbers]

    def _parts(self, scene: Scene) -> Iterator[ChoiceEntry]:
        diagram = self.problem.diagram(self.solved.question.diagram)
        assert diagram is not None
        about = About(self.problem, diagram, scene, self.catalogue)
        limiting = dependence_keys.limit_of(self.solved)
        for entry in (
            force_keys.direction(about),
            force_keys.diagram(about),
            force_keys.equation(about, self.solved),
            dependence_keys.limit(self.solved, scene, dependence_keys.STEP, self.catalogue) if limiting else None,
        ):
            if entry:
                yield entry

    # --- ranking ---

    def _ranks(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> Makers:
        """One ranking for each scene: four of its first variants that are far enough apart."""
        pool = VariantPool(self.solved, gravity)
        drawn = pool.draw_up_to(SEARCHED, seed)
        variants = [drawn[place] for place in range(len(drawn))]

        def ranking(scene: Scene) -> Entry | None:
            chosen = dependence_keys.cases([each for each in variants if each.scene.name == scene.name])
            return dependence_keys.rank(self.solved, scene, chosen) if chosen else None

        return self._told(facts, ranking, wanted, gravity, seed)


def carried(earlier: Sequence[ChoiceEntry], number: NumberEntry) -> Iterator[Carried]:
    """The numbers that follow from wrong options of earlier entries: those known to come from the same mistake."""
    for place, entry in enumerate(earlier):
        for at, option in enumerate(entry.options):
            for known in number.recognised:
                if set(option.mistakes) & set(known.mistakes):
                    yield Carried(place, at, known.value, known.half_width)


def one_a_scene(
    scenes: Sequence[Scene],
    facts: Metadata,
    make: Callable[[Scene], Entry | None],
    item: Callable[[Scene, Entry, int], Item],
    wanted: int,
    seed: int,
) -> Makers:
    """One item for each scene that has an entry, in an order that the seed decides, alike on every machine."""
    draw = f"{facts.problem} {facts.question} {seed}"
    ordered = sorted(scenes, key=lambda each: hashlib.sha256(f"{draw} {each.name}".encode()).digest())
    entries = [(scene, entry) for scene in ordered if (entry := make(scene))]
    return [
        Maker(scene.name, partial(item, scene, entry, number))
        for number, (scene, entry) in enumerate(entries[:wanted], 1)
    ]
