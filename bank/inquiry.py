"""All questions of a bank, of every kind: those that problem files ask, and those derived from their models."""

from __future__ import annotations

import difflib
import hashlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property, partial

from turnwright.bank import about_change, about_forces
from turnwright.bank.about_forces import About
from turnwright.bank.asked import KINDS, Asked, Kind, Maker, Makers, Settings
from turnwright.bank.cache import solved_question
from turnwright.bank.catalogue import find_question
from turnwright.bank.choice import ChoicePool, Diagnosis, ExpressionChoice, diagnosis, number_choice
from turnwright.bank.distractor import WrongAnswer
from turnwright.bank.errors import UnknownNameError
from turnwright.bank.generation import Generator
from turnwright.bank.item import ChoiceEntry, Entry, Item, Metadata, Pack, Words
from turnwright.bank.mistake import Mistake
from turnwright.bank.mistake_reader import shipped_mistakes
from turnwright.bank.problem import Diagram, Problem, Scene
from turnwright.bank.solving import SolvedQuestion
from turnwright.bank.stem import asked_name
from turnwright.bank.variant import Variant, VariantPool

MINUTES = {
    "stepwise": 6,
    "direction": 1,
    "forces": 2,
    "diagram": 2,
    "equation": 2,
    "change": 2,
    "limit": 2,
    "rank": 4,
    "expression": 3,
}
TITLES = {
    "direction": "Which way the acceleration points",
    "forces": "Which forces act",
    "diagram": "Which force diagram is right",
    "equation": "Which equation is right",
}
STEPS_TO_EQUATIONS = 3
SEARCHED = 60  # variants looked through for the cases of a ranking


@dataclass(frozen=True)
class Inquiry:
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
        return replace(facts, question=question, title=title, minutes=MINUTES.get(kind, facts.minutes), kind=kind)

    def asked(self, kinds: Sequence[Kind]) -> Iterator[Asked]:
        """The questions of the wanted kinds."""
        title = self.solved.question.title
        if "number" in kinds:
            yield Asked(self.solved.id, "number", self.generator.metadata(self.scenes[0]), self._numbers)
        if "choice" in kinds:
            facts = self.metadata("choice", f"{title}: choose")
            yield self._of("choice", facts, partial(self._choices, facts))
        if "expression" in kinds:
            facts = self.metadata("expression", f"{title}: which expression")
            yield self._of("expression", facts, partial(self._told, facts, self._expression))
        if "change" in kinds:
            yield from self._changes(title)
        if "limit" in kinds and about_change.limit_of(self.solved):
            for word, factor in (("more", about_change.STEP), ("less", 1 / about_change.STEP)):
                facts = self.metadata("limit", f"{title}: a little {word}", f"-{word}")
                make = partial(about_change.limit, self.solved, factor=factor)
                yield self._of("limit", facts, partial(self._told, facts, make))
        if "stepwise" in kinds and self.problem.diagrams:
            facts = self.metadata("stepwise", f"{title}: step by step")
            yield self._of("stepwise", facts, partial(self._stepwise, facts))
        if "rank" in kinds and len(self.solved.question.given) > 1:
            facts = self.metadata("rank", f"{title}: put in order")
            yield self._of("rank", facts, partial(self._ranks, facts))

    def _of(self, kind: Kind, facts: Metadata, draw: Callable[[int, Decimal, int], Makers]) -> Asked:
        return Asked(f"{facts.problem}.{facts.question}", kind, facts, draw)

    # --- numbers ---

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
            stem=(about_change.opening(scene),),
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

    def _changes(self, title: str) -> Iterator[Asked]:
        for symbol in about_change.changes(self.solved):
            facts = self.metadata("change", f"{title}: {symbol} doubled", f"-{symbol.replace('_', '-').lower()}")
            make = partial(about_change.change, self.solved, symbol=symbol, catalogue=self.catalogue)
            yield self._of("change", facts, partial(self._told, facts, make))

    # --- step by step ---

    def _stepwise(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> Makers:
        """The number question with the steps before it as parts: the direction, the equation, then the number."""
        first = {scene.name: tuple(self._parts(scene)) for scene in self.scenes}
        if not any(first.values()):
            return []

        def item(numbered: Maker) -> Item:
            made = numbered.make()
            entries = (*first[numbered.scene], *made.entries)
            # the figure would show the way of the acceleration, which the first part asks for
            return replace(made, figure=None, entries=entries, metadata=replace(facts, scene=numbered.scene))

        numbers = self._numbers(min(wanted, VariantPool(self.solved, gravity).count), gravity, seed)
        return [Maker(each.scene, partial(item, each)) for each in numbers]

    def _parts(self, scene: Scene) -> Iterator[ChoiceEntry]:
        diagram = self.problem.diagram(self.solved.question.diagram)
        assert diagram is not None
        about = About(self.problem, diagram, scene, self.catalogue)
        for entry in (about_forces.direction(about), about_forces.equation(about, self.solved)):
            if entry:
                yield entry

    # --- ranking ---

    def _ranks(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> Makers:
        """One ranking for each scene: four of its first variants that are far enough apart."""
        pool = VariantPool(self.solved, gravity)
        drawn = pool.draw_up_to(SEARCHED, seed)
        variants = [drawn[place] for place in range(len(drawn))]

        def ranking(scene: Scene) -> Entry | None:
            chosen = about_change.cases([each for each in variants if each.scene.name == scene.name])
            return about_change.rank(self.solved, scene, chosen) if chosen else None

        return self._told(facts, ranking, wanted, gravity, seed)


@dataclass(frozen=True)
class DiagramInquiry:
    """The questions that one diagram of a problem gives by itself."""

    base: Inquiry
    diagram: Diagram

    def asked(self, kinds: Sequence[Kind]) -> Iterator[Asked]:
        """The questions of the wanted kinds; those that the diagram can't give are left out."""
        makers: tuple[tuple[Kind, Callable[[About], ChoiceEntry | None]], ...] = (
            ("direction", about_forces.direction),
            ("forces", about_forces.forces),
            ("diagram", about_forces.diagram),
            ("equation", partial(about_forces.equation, solved=self.base.solved)),
        )
        for kind, make in makers:
            if kind in kinds and make(self._about(self.base.problem.scenes[0])):
                facts = self._facts(kind)
                yield Asked(f"{facts.problem}.{facts.question}", kind, facts, partial(self._draw, facts, make))

    def _about(self, scene: Scene) -> About:
        return About(self.base.problem, self.diagram, scene, self.base.catalogue)

    def _facts(self, kind: str) -> Metadata:
        facts = self.base.generator.metadata(self.base.problem.scenes[0])
        return replace(
            facts, question=f"{self.diagram.name}/{kind}", title=f"{self.base.problem.title}: {TITLES[kind].lower()}",
            minutes=MINUTES[kind], objectives=self.base.problem.objectives, kind=kind,
        )  # fmt: skip

    def _draw(
        self, facts: Metadata, make: Callable[[About], ChoiceEntry | None], wanted: int, gravity: Decimal, seed: int
    ) -> Makers:
        def item(scene: Scene, entry: Entry, number: int) -> Item:
            whole = self.base.letters(facts, scene, entry, number)
            # the figure would tell the answer, and what follows the equations is not asked here
            return replace(whole, figure=None, solution=whole.solution[:STEPS_TO_EQUATIONS])

        return one_a_scene(self.base.problem.scenes, facts, lambda scene: make(self._about(scene)), item, wanted, seed)


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


def inquiries(solved: Sequence[SolvedQuestion], catalogue: Sequence[Mistake], kinds: Sequence[Kind]) -> Iterator[Asked]:
    """All questions of the wanted kinds, problem by problem; those of a diagram come with its first question."""
    seen: set[tuple[str, str]] = set()
    for each in solved:
        base = Inquiry(each, tuple(catalogue))
        for diagram in each.problem.diagrams:
            if (each.problem.id, diagram.name) not in seen and each.solution.path:
                seen.add((each.problem.id, diagram.name))
                yield from DiagramInquiry(base, diagram).asked(kinds)
        yield from base.asked(kinds)


def find_asked(problems: Sequence[Problem], name: str) -> Asked:
    """The question with that id, of any kind: ``problem.question``, or that with ``/kind`` behind it.

    A number question is shown without its mistakes solved. Raises UnknownNameError with near ids.
    """
    if "/" not in name:
        return next(Inquiry(solved_question(*find_question(problems, name)), ()).asked(("number",)))
    owner = name.partition(".")[0]
    solved = [solved_question(each, question) for each in problems if each.id == owner for question in each.questions]
    found = {each.id: each for each in inquiries(solved, shipped_mistakes(), KINDS)}
    if name not in found:
        raise UnknownNameError("question", name, difflib.get_close_matches(name, found, n=2, cutoff=0.5))
    return found[name]


def one_of_each_derived(asked: Iterable[Asked]) -> Iterator[Asked]:
    """All number and choice questions, and from each problem the first question of every other kind."""
    seen: set[tuple[str, str]] = set()
    for each in asked:
        owner = (each.metadata.problem, each.kind)
        if each.kind in ("number", "choice") or owner not in seen:
            seen.add(owner)
            yield each


def pack(solved: Sequence[SolvedQuestion], catalogue: Sequence[Mistake], settings: Settings) -> Pack:
    """The pack of some questions.

    Raises TooFewVariantsError for the first number question that has fewer variants than wanted; other kinds give what
    they have.
    """
    asked = inquiries(solved, catalogue, settings.kinds)
    chosen = asked if settings.every else one_of_each_derived(asked)
    found = (each.section(settings.variants, settings.gravity, settings.seed) for each in chosen)
    return Pack(
        title=settings.title,
        purpose=settings.purpose,
        gravity=f"{settings.gravity} N/kg",
        seed=settings.seed,
        sections=tuple(each for each in found if each),
    )
