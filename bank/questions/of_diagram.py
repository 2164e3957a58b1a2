"""The questions that one diagram of a problem gives by itself, whatever is asked about it in numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import TypeAlias

from ..item.item import ChoiceEntry, Entry, Item, Metadata, Paragraph, Stage, Step
from ..item.pack import ItemSeries
from ..model.once import once
from ..model.problem import Diagram, Scene
from ..writing import match_words
from ..writing.letters import story_alone
from . import direction_keys, equation_keys, force_keys
from .about import About, about_in
from .closing import answers, directions, pairs
from .diagrams import keys as diagram_keys
from .item_model import ItemModel, facts_of, once_a_scene, one_a_scene, with_last
from .kinds import Kind
from .matching.composing import Matching, match
from .matching.situations import Groups
from .of_question import Draw, QuestionModels, model_of

Make: TypeAlias = Callable[[About], ChoiceEntry | None]
Close: TypeAlias = Callable[[About, ChoiceEntry], Step]


@dataclass(frozen=True)
class _Way:
    """A question about a diagram: its kind, what tells it from others, its entry, and how its solution ends.

    ``stages`` are the steps of the diagram that the answer needs, and ``close`` gives the last step, which says it.
    """

    kind: Kind
    make: Make
    close: Close
    stages: tuple[Stage, ...]
    suffix: str = ""
    what: str = ""


@dataclass(frozen=True)
class DiagramModels:
    """The questions that one diagram of a problem gives by itself."""

    base: QuestionModels
    diagram: Diagram
    groups: Groups = ()

    def asked(self, kinds: Sequence[Kind]) -> Iterator[ItemModel]:
        """The questions of the wanted kinds; those that the diagram can't give are left out."""
        for way in self._ways():
            entry = once(self.base, (self.diagram.name, way.kind, way.suffix), partial(self._once_a_scene, way.make))
            if way.kind in kinds and entry(self.base.problem.scenes[0]):
                yield self._model(way.kind, partial(self._draw, way, entry), way.suffix, way.what)
        if "match" in kinds and any(self._matching(each, "") for each in self.base.problem.scenes):
            yield self._model("match", self._matches)

    def _ways(self) -> Iterator[_Way]:
        for each in direction_keys.ASKED:
            stages = directions.STAGES.get(each.suffix, ())
            close = partial(directions.step, each.suffix)
            yield _Way("direction", each.make, close, stages, each.suffix, each.what)
        equation = partial(equation_keys.equation, solved=self.base.solved)
        yield _Way("forces", force_keys.forces, answers.forces, ("acceleration", "free body"))
        yield _Way("diagram", diagram_keys.diagram, answers.diagram, ("acceleration", "free body"))
        yield _Way("equation", equation, answers.equation, ("acceleration", "free body", "equations"))

    def _about(self, scene: Scene) -> About:
        return about_in(scene, self.base.problem, self.diagram, self.base.catalogue)

    def _once_a_scene(self, make: Make) -> Callable[[Scene], ChoiceEntry | None]:
        return once_a_scene(lambda scene: make(self._about(scene)))

    def _model(self, kind: Kind, draw: Draw, suffix: str = "", what: str = "") -> ItemModel:
        problem = self.base.problem
        own = self.base.generator.metadata(problem.scenes[0])
        facts = facts_of(kind, own, self.diagram.name, problem.title, suffix, what)
        return model_of(kind, replace(facts, objectives=problem.objectives, alignment=problem.alignment), draw)

    def _draw(
        self,
        way: _Way,
        made: Callable[[Scene], ChoiceEntry | None],
        facts: Metadata,
        wanted: int,
        gravity: Decimal,
        seed: int,
    ) -> ItemSeries:
        def item(scene: Scene, entry: Entry, number: int) -> Item:
            assert isinstance(entry, ChoiceEntry)
            steps = self.base.generator.of_diagram(scene, self.diagram, way.stages)
            solution = with_last(steps, way.close(self._about(scene), entry))
            stem = self._stem(scene, entry)
            figure = self.base.sketch(scene, self.diagram, stem)
            whole = replace(self._item(facts, scene, entry, number), stem=stem, figure=figure, solution=solution)
            return self.base.with_meanings(scene, whole)

        return one_a_scene(self.base.problem.scenes, facts, made, item, wanted, seed)

    def _item(self, facts: Metadata, scene: Scene, entry: Entry, number: int) -> Item:
        """An item without stem and solution; a force diagram would tell the answer."""
        return Item(
            variant=number,
            stem=(),
            figure=None,
            entries=(entry,),
            solution=(),
            metadata=self.base.facts_in(facts, scene),
        )

    def _stem(self, scene: Scene, entry: Entry) -> tuple[Paragraph, ...]:
        """The story, and what the letters of the options stand for."""
        return (story_alone(scene), *self.base.introductions(scene, [entry], ()))

    # --- the same problem in other stories ---

    def _matching(self, scene: Scene, draw: str) -> Matching | None:
        known = ((each.problem.id, each.diagram.name, each) for group in self.groups for each in group)
        asked = self.base.problem.id, self.diagram.name
        own = next((each for *name, each in known if tuple(name) == asked), None)
        return match(own, scene, self.groups, draw) if own else None

    def _matches(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        made = {
            each.name: self._matching(each, f"{facts.question} {each.name} {seed}") for each in self.base.problem.scenes
        }

        def item(scene: Scene, entry: Entry, number: int) -> Item:
            whole = self._item(facts, scene, entry, number)
            matching = made[scene.name]
            assert matching is not None
            # the entry tells each story in its own words
            own = replace(whole.metadata, caution=match_words.CAUTION)
            return replace(whole, solution=with_last((), pairs.step(matching)), metadata=own)

        def entry_of(scene: Scene) -> Entry | None:
            found = made[scene.name]
            return found.entry if found else None

        return one_a_scene(self.base.problem.scenes, facts, entry_of, item, wanted, seed)
