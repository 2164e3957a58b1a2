"""The questions of one solved question, in its own kinds: number, choice, expression, change, graph, limit, …"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property, partial
from typing import TypeAlias

from ..item.drawing import Drawing
from ..item.item import (
    ChoiceEntry,
    Entry,
    Item,
    Math,
    Metadata,
    NumberEntry,
    OrderEntry,
    Paragraph,
    Step,
    Words,
)
from ..item.pack import NO_ITEMS, ItemSeries
from ..model.mistake import Mistake
from ..model.once import once
from ..model.problem import Diagram, Problem, Question, Scene
from ..solving.solution import SAMPLE_GRAVITY, SolvedQuestion
from ..thinking.distractors import Diagnosis, WrongAnswer, diagnosis, telling_pool
from ..variants.variant import Variant
from ..writing import prompts
from ..writing.letters import introduced, letters_of, says_g, statement, stem_in_letters, with_meanings
from ..writing.solution import asked_diagram
from ..writing.stem import filled, joined
from . import change_keys, rank_keys
from .choice import ChoicePool, ExpressionChoice, number_choice
from .closing import answers, directions
from .graphs.keys import GraphQuestion
from .item_model import ItemModel, facts_of, once_a_scene, one_a_scene, with_last
from .items import Generator
from .kinds import Kind
from .limiting.changes import Turn
from .limiting.keys import NearLimit, PastLimit, near_limit
from .measured.keys import DataQuestion
from .measured.table import MeasuredTable
from .rank_keys import Ranking
from .stepwise import Steps, carried

Draw: TypeAlias = Callable[[Metadata, int, Decimal, int], ItemSeries]

TRIED = 5  # choices of numbers; where a few variants more give none, there is no such question
TABLES = (1, 2, 3)  # seeds of which each has to give a table of measured values, or there is no such question
SEARCHED = 30  # variants looked through for the ground of a ranking


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
    def near_limit(self) -> NearLimit | None:
        """What is asked about slight changes at its limit, if it has one."""
        return near_limit(self.solved)

    @cached_property
    def generator(self) -> Generator:
        """Makes the number items, and what the other kinds share with them."""
        return Generator(self.solved)

    @cached_property
    def stepwise_generator(self) -> Generator:
        """Makes the number items whose solution tells the diagram of the steps as well.

        The stem asks for nothing: the last part does. Where a step asks what happens past the limit, it does not call
        the limit a minimum or a maximum.
        """

        def closing(scene: Scene) -> Paragraph | str:
            past = self.steps.past_limit(scene)
            return past.setting if past else statement(self.problem, self.solved.question, scene)

        return Generator(self.solved, asked_diagram(self.solved), once_a_scene(closing))

    @property
    def scenes(self) -> tuple[Scene, ...]:
        """The scenes of the question."""
        return self.problem.scenes_of(self.solved.question)

    def facts_in(self, facts: Metadata, scene: Scene) -> Metadata:
        """The facts of a question in one of its scenes, with the caution that goes with that."""
        return replace(facts, scene=scene.name, caution=self.problem.caution_in(scene))

    def asked(self, kinds: Sequence[Kind]) -> Iterator[ItemModel]:
        """The questions of the wanted kinds; those that the question can't give are left out."""
        ways: dict[Kind, Callable[[], Iterator[ItemModel]]] = {
            "number": self._number_models,
            "choice": self._choice_models,
            "expression": self._expression_models,
            "change": self._change_models,
            "graph": self._graph_models,
            "limit": self._limit_models,
            "stepwise": self._stepwise_models,
            "data": self._data_models,
            "rank": self._rank_models,
        }
        for kind, models in ways.items():
            if kind in kinds:
                yield from once(self, ("models", kind), partial(tuple, models()))

    def _models(self, kind: Kind, draw: Draw, suffix: str = "", what: str = "") -> Iterator[ItemModel]:
        own = self.generator.metadata(self.scenes[0])
        yield model_of(kind, facts_of(kind, own, own.question, self.solved.question.title, suffix, what), draw)

    # --- numbers ---

    def _number_models(self) -> Iterator[ItemModel]:
        facts = self.generator.metadata(self.scenes[0])
        yield ItemModel(self.solved.id, "number", facts, self._numbers, self._tally)

    def _tally(self, wanted: int, gravity: Decimal, seed: int) -> int:
        return len(telling_pool(self.diagnosis, gravity).draw_up_to(wanted, seed))

    def _numbers(self, wanted: int, gravity: Decimal, seed: int, generator: Generator | None = None) -> ItemSeries:
        drawn = telling_pool(self.diagnosis, gravity).draw(wanted, seed)
        columns = list(self.diagnosis.columns(drawn))

        def make(place: int) -> Item:
            variant, values = drawn[place], columns[place]

            def as_choice() -> ChoiceEntry | None:
                draw = f"{self.solved.id} {seed} {drawn.numbers[place]}"
                return self._choice_entry(variant, self.diagnosis.options(variant, values, draw))

            maker = generator or self.generator
            return maker.item(variant, place + 1, self.diagnosis.recognised(variant, values), as_choice)

        scenes = [pool.scene.name for pool in drawn.pools]
        return ItemSeries([scenes[int(scene)] for scene in drawn.scenes], make)

    def _choice_models(self) -> Iterator[ItemModel]:
        found = ChoicePool(self.diagnosis, telling_pool(self.diagnosis, SAMPLE_GRAVITY)).draw(TRIED, 1)
        if any(True for _ in found):
            yield from self._models("choice", self._choices)

    def _choices(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        found = list(ChoicePool(self.diagnosis, telling_pool(self.diagnosis, gravity)).draw(wanted, seed))
        scenes = [variant.scene.name for variant, _ in found]
        return ItemSeries(scenes, lambda place: self._choice(facts, *found[place], place + 1))

    def _choice(self, facts: Metadata, variant: Variant, wrong: tuple[WrongAnswer, ...], number: int) -> Item:
        item = self.generator.item(variant, number)
        entry = self._choice_entry(variant, wrong)
        assert entry is not None
        return replace(item, entries=(entry,), metadata=self.facts_in(facts, variant.scene))

    def _choice_entry(self, variant: Variant, wrong: tuple[WrongAnswer, ...]) -> ChoiceEntry | None:
        """The key among wrong numbers; None where there are too few of them."""
        return number_choice(self.solved, variant, wrong, filled(prompts.WHICH_NUMBER)) if wrong else None

    # --- one item a scene ---

    def _told(
        self,
        make: Callable[[Scene], Entry | None],
        facts: Metadata,
        wanted: int,
        gravity: Decimal,
        seed: int,
        last: Callable[[Scene], Step] | None = None,
        *,
        also: str = "",
        closing: Callable[[Scene], Paragraph] | None = None,
    ) -> ItemSeries:
        """One item for each scene that has the entry, in an order that the seed decides.

        ``last`` gives the step that comes after the closed form in its solution; ``also`` is a quantity that its stem
        tells of besides the givens, ``closing`` what it says in place of its asking.
        """
        make_item = partial(self.letters, facts, last=last, also=also, closing=closing)
        return one_a_scene(self.scenes, facts, make, make_item, wanted, seed)

    def letters(
        self,
        facts: Metadata,
        scene: Scene,
        entry: Entry,
        number: int,
        last: Callable[[Scene], Step] | None = None,
        *,
        also: str = "",
        closing: Callable[[Scene], Paragraph] | None = None,
    ) -> Item:
        """An item without numbers: the question's own stem in letters, the entry, and the solution in letters."""
        notation = self.generator.notation(scene)
        told = stem_in_letters(self.solved, scene, notation, also, closing(scene) if closing else None)
        stem = (told, *self.introductions(scene, [entry], [told], self.solved.question))
        item = Item(
            variant=number,
            stem=stem,
            figure=self.sketch(scene, asked_diagram(self.solved), stem),
            entries=(entry,),
            solution=with_last(self.generator.letters(scene), last(scene) if last else None),
            metadata=self.facts_in(facts, scene),
            forces=self.generator.forces(scene),
        )
        return self.with_meanings(scene, item)

    def sketch(self, scene: Scene, diagram: Diagram | None, stem: Sequence[Paragraph]) -> Drawing | None:
        """The sketch of a scene, with the letters that the stem says."""
        told = letters_of(stem, self.problem, self.generator.notation(scene))
        return self.generator.sketch(scene, diagram, told)

    def with_meanings(self, scene: Scene, item: Item) -> Item:
        """An item without numbers whose solution says what each letter stands for that is new in it."""
        entries = [each for each in item.entries if not isinstance(each, NumberEntry)]
        told = (*item.stem, *(each.prompt for each in entries), *(one for each in entries for one in _options(each)))
        steps = with_meanings(item.solution, self.problem, scene, self.generator.notation(scene), told)
        return replace(item, solution=tuple(steps))

    def introductions(
        self,
        scene: Scene,
        entries: Sequence[Entry],
        told: Iterable[Paragraph],
        asked: Question | None = None,
        more: Iterable[Paragraph] = (),
    ) -> tuple[Paragraph, ...]:
        """What the letters among the options of some entries, and in ``more``, stand for.

        Those ``told`` there or in a prompt are left out.
        """
        notation = self.generator.notation(scene)
        prompts = [each.prompt for each in entries if not isinstance(each, NumberEntry)]
        known = letters_of((*told, *prompts), self.problem, notation)
        offered = (*(each for entry in entries for each in _options(entry)), *more)
        shown = [*letters_of(offered, self.problem, notation), *(["g"] if says_g((*told, *prompts)) else [])]
        new = dict.fromkeys(each for each in shown if each not in known)
        return introduced(self.problem, scene, notation, new, asked)

    def _expression_models(self) -> Iterator[ItemModel]:
        entry = once_a_scene(self._expression)

        def last(scene: Scene) -> Step:
            found = entry(scene)
            assert found is not None
            return answers.expression(found)

        if any(map(entry, self.scenes)):
            yield from self._models("expression", partial(self._told, entry, last=last))

    def _expression(self, scene: Scene) -> ChoiceEntry | None:
        notation = self.generator.notation(scene)
        prompt = filled(prompts.WHICH_EXPRESSION)
        return ExpressionChoice(self.solved, self.catalogue, notation, scene).entry(prompt)

    def _change_models(self) -> Iterator[ItemModel]:
        live = self.diagnosis.live
        for each in change_keys.changes(self.solved, live):
            name = each.symbol.replace("_", "-").lower()
            make = partial(change_keys.change, self.solved, asked=each, catalogue=self.catalogue, live=live)
            last = partial(change_keys.ratio, self.solved, asked=each)
            # the only letter that the stem does not have would be known for one without effect
            also = "" if each.symbol in self.solved.question.given else each.symbol
            draw = partial(self._told, once_a_scene(make), last=last, also=also)
            yield from self._models("change", draw, f"-{name}-{each.done}", f"{each.symbol} {each.done}")

    def _graph_models(self) -> Iterator[ItemModel]:
        graphs = GraphQuestion(self.solved, self.catalogue, self.diagnosis.live)
        entry = once_a_scene(graphs.entry)
        if graphs.asked and any(map(entry, self.scenes)):
            also = "" if graphs.asked.symbol in self.solved.question.given else graphs.asked.symbol
            told = partial(self._told, entry, last=graphs.step, also=also)

            def draw(facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
                # four graphs are enough to look at
                return told(facts, wanted, gravity, seed).changed(lambda item: replace(item, figure=None, forces=None))

            yield from self._models("graph", draw)

    def _limit_models(self) -> Iterator[ItemModel]:
        near = self.near_limit
        if near is None:
            return
        for turn in near.turns:
            asked = {scene.name: near.asked(scene, turn) for scene in self.scenes}
            suffix, what = self._named(turn)
            yield from self._models("limit", partial(self._limits, asked), suffix, what)

    def _named(self, turn: Turn) -> tuple[str, str]:
        """What a slight change is called in an id and in a title: ``-mu-less`` and ``mu slightly less``."""
        if turn.symbol == self.solved.question.ask:
            return f"-{turn.change}", f"slightly {turn.change}"
        return f"-{turn.symbol.replace('_', '-').lower()}-{turn.change}", f"{turn.symbol} slightly {turn.change}"

    def _limits(
        self, asked: Mapping[str, PastLimit | None], facts: Metadata, wanted: int, gravity: Decimal, seed: int
    ) -> ItemSeries:
        """What happens just past the limit, in each scene where that is asked."""

        def entry(scene: Scene) -> Entry | None:
            found = asked[scene.name]
            return found.entry(self.catalogue) if found else None

        def past(scene: Scene) -> PastLimit:
            found = asked[scene.name]
            assert found is not None
            return found

        step, setting = lambda scene: past(scene).step, lambda scene: past(scene).setting
        return self._told(entry, facts, wanted, gravity, seed, step, closing=setting)

    # --- measured values ---

    def _data_models(self) -> Iterator[ItemModel]:
        if all(any(self.measured.table(each, SAMPLE_GRAVITY, seed) for each in self.scenes) for seed in TABLES):
            yield from self._models("data", self._data)

    @cached_property
    def measured(self) -> DataQuestion:
        """The question about measured values."""
        return DataQuestion(self.solved)

    def _data(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        """One table for each scene that gives a straight line, drawn from the seed."""
        asked = self.measured
        tables = {each.name: asked.table(each, gravity, seed) for each in self.scenes}

        def table(scene: Scene) -> MeasuredTable:
            found = tables[scene.name]
            assert found is not None
            return found

        def item(scene: Scene, entry: Entry, number: int) -> Item:
            made = table(scene)
            plotted, result = asked.steps(scene, made)
            setting = partial(asked.setting, made=made)
            whole = self.letters(facts, scene, entry, number, lambda _: plotted, closing=setting)
            stem = (*whole.stem, *asked.told(scene, made))
            return replace(whole, forces=None, stem=stem, solution=with_last(whole.solution, result))

        def entry(scene: Scene) -> Entry | None:
            return asked.entry(scene, table(scene)) if tables[scene.name] else None

        return one_a_scene(self.scenes, facts, entry, item, wanted, seed)

    # --- step by step ---

    def _stepwise_models(self) -> Iterator[ItemModel]:
        if self.problem.diagrams and self.steps.may_exist:
            yield from self._models("stepwise", self._stepwise)

    @cached_property
    def steps(self) -> Steps:
        """The steps before the number."""
        return Steps(self.solved, self.catalogue, self.near_limit)

    def _stepwise(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        """The number question with the steps before it: direction, diagram, equation, limit, then the number."""
        steps = self.steps
        if not steps.exist:
            return NO_ITEMS
        introduced_in = once_a_scene(self._with_letters)
        past_limit = once_a_scene(steps.past_limit)
        scenes = {each.name: each for each in self.scenes}

        def stepwise(made: Item) -> Item:
            scene = scenes[made.metadata.scene]
            earlier, past = introduced_in(scene), past_limit(scene)
            stem = (*made.stem, *self._asked_letter(scene, made.stem))
            # the force diagram would show the way of the acceleration, which the first part asks for
            return replace(
                made,
                stem=stem,
                figure=self.sketch(scene, asked_diagram(self.solved), stem),
                forces=None,
                hints=made.hints[:1],  # the equations of the others are what its parts ask for
                entries=(
                    *earlier,
                    replace(made.entry, carried=tuple(carried(earlier, made.entry)), is_asked_here=True),
                ),
                solution=with_last(directions.with_direction(made.solution, earlier[:1]), past.step if past else None),
                metadata=self.facts_in(facts, scene),
            )

        count = len(telling_pool(self.diagnosis, gravity).draw_up_to(wanted, seed))
        return self._numbers(count, gravity, seed, self.stepwise_generator).changed(stepwise)

    def _asked_letter(self, scene: Scene, told: Iterable[Paragraph] = ()) -> tuple[Paragraph, ...]:
        """What the letter of the number that comes last stands for; () where it has been ``told``.

        Parts before a limiting case speak of the motion in general, and so has the letter its general name.
        """
        question = self.solved.question
        own = (Math(self.generator.notation(scene).symbol(self.solved.question.ask)),)
        return self.introductions(scene, (), told, None if question.limiting else question, more=(own,))

    def _with_letters(self, scene: Scene) -> tuple[ChoiceEntry, ...]:
        """The steps, each with what the letters among its options stand for, before what it asks.

        In the stem they would name the forces before the diagram asks for them.
        """
        told = list(self._asked_letter(scene))
        found = []
        for each in self.steps.of_scene[scene.name]:
            new = self.introductions(scene, [each], told)
            told += [*new, each.prompt]
            words = [part for paragraph in new for part in (*paragraph, Words(" "))]
            found.append(replace(each, prompt=tuple(joined([*words, *each.prompt]))))
        return tuple(found)

    # --- ranking ---

    def _rank_models(self) -> Iterator[ItemModel]:
        if any(self._rankings(SAMPLE_GRAVITY, 1).values()):
            yield from self._models("rank", self._ranks)

    def _rankings(self, gravity: Decimal, seed: int) -> dict[str, Ranking | None]:
        """Four cases for each scene; None where so many are not possible."""
        if not rank_keys.pairs_of(self.solved):
            return {}
        drawn = list(telling_pool(self.diagnosis, gravity).draw_up_to(SEARCHED, seed))
        return {
            scene.name: rank_keys.ranking(self.solved, scene, drawn, f"{self.solved.id} {scene.name} {seed}")
            for scene in self.scenes
        }

    def _ranks(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        """One ranking for each scene that has four possible cases."""
        found = self._rankings(gravity, seed)

        def entry(scene: Scene) -> Entry | None:
            made = found[scene.name]
            return made.entry if made else None

        def step(scene: Scene) -> Step:
            made = found[scene.name]
            assert made is not None
            return made.step

        return self._told(entry, facts, wanted, gravity, seed, step)


def questions_of(solved: SolvedQuestion, catalogue: Sequence[Mistake]) -> QuestionModels:
    """The questions of a solved one: the same ones for all who ask, so that what they make is made once."""
    return once(solved, "questions", lambda: QuestionModels(solved, tuple(catalogue)), *catalogue)


def model_of(kind: Kind, facts: Metadata, draw: Draw) -> ItemModel:
    """The question with these facts."""
    return ItemModel(f"{facts.problem}.{facts.question}", kind, facts, partial(draw, facts))


def _options(entry: Entry) -> Iterator[Paragraph]:
    """The options of an entry that are words and formulas."""
    if isinstance(entry, ChoiceEntry):
        yield from (each.content for each in entry.options if isinstance(each.content, tuple))
    elif isinstance(entry, OrderEntry):
        yield from entry.options
