"""The questions that one diagram of a problem gives by itself, whatever is asked about it in numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import TypeAlias

from ..item.item import ChoiceEntry, Entry, Item, Metadata, Paragraph
from ..item.pack import ItemSeries
from ..mechanics.sameness import form_of
from ..model.problem import Diagram, Scene
from ..writing.letters import story_alone
from . import diagram_keys, direction_keys, equation_keys, force_keys, story_keys
from .about import About
from .item_model import ItemModel
from .kinds import Kind
from .of_question import Draw, QuestionModels, facts_of, model_of, once_a_scene, one_a_scene, with_last
from .story_keys import Groups, Matching, Situation

Make: TypeAlias = Callable[[About], ChoiceEntry | None]


@dataclass(frozen=True)
class DiagramModels:
    """The questions that one diagram of a problem gives by itself."""

    base: QuestionModels
    diagram: Diagram
    groups: Groups = ()

    def asked(self, kinds: Sequence[Kind]) -> Iterator[ItemModel]:
        """The questions of the wanted kinds; those that the diagram can't give are left out."""
        ways: tuple[tuple[Kind, str, str, Make], ...] = (
            *(("direction", each.suffix, each.what, each.make) for each in direction_keys.ASKED),
            ("forces", "", "", force_keys.forces),
            ("diagram", "", "", diagram_keys.diagram),
            ("equation", "", "", partial(equation_keys.equation, solved=self.base.solved)),
        )
        for kind, suffix, what, make in ways:
            entry = once_a_scene(partial(self._made, make))
            if kind in kinds and entry(self.base.problem.scenes[0]):
                yield self._model(kind, partial(self._draw, entry), suffix, what)
        if "match" in kinds and self._matching(self.base.problem.scenes[0], ""):
            yield self._model("match", self._matches)

    def _made(self, make: Make, scene: Scene) -> ChoiceEntry | None:
        return make(About(self.base.problem, self.diagram, scene, self.base.catalogue))

    def _model(self, kind: Kind, draw: Draw, suffix: str = "", what: str = "") -> ItemModel:
        problem = self.base.problem
        own = self.base.generator.metadata(problem.scenes[0])
        facts = facts_of(kind, own, self.diagram.name, problem.title, suffix, what)
        return model_of(kind, replace(facts, objectives=problem.objectives, alignment=problem.alignment), draw)

    def _draw(
        self, made: Callable[[Scene], ChoiceEntry | None], facts: Metadata, wanted: int, gravity: Decimal, seed: int
    ) -> ItemSeries:
        def item(scene: Scene, entry: Entry, number: int) -> Item:
            return replace(self._item(facts, scene, entry, number), stem=self._stem(scene, entry))

        return one_a_scene(self.base.problem.scenes, facts, made, item, wanted, seed)

    def _item(self, facts: Metadata, scene: Scene, entry: Entry, number: int) -> Item:
        """An item with the solution of this diagram alone, without stem; a figure would tell the answer."""
        return Item(
            variant=number,
            stem=(),
            figure=None,
            entries=(entry,),
            solution=self.base.generator.of_diagram(scene, self.diagram),
            metadata=self.base.facts_in(facts, scene),
        )

    def _stem(self, scene: Scene, entry: Entry) -> tuple[Paragraph, ...]:
        """The story, and what the letters of the options stand for."""
        return (story_alone(scene), *self.base.introductions(scene, [entry], ()))

    # --- the same problem in other stories ---

    def _matching(self, scene: Scene, draw: str) -> Matching | None:
        form = form_of(self.base.problem, self.diagram)
        if form is None:
            return None
        own = Situation(self.base.problem, self.diagram, form)
        if not any(own in group for group in self.groups):
            return None
        return story_keys.match(own, scene, self.groups, draw)

    def _matches(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        made = {
            each.name: self._matching(each, f"{facts.question} {each.name} {seed}") for each in self.base.problem.scenes
        }

        def item(scene: Scene, entry: Entry, number: int) -> Item:
            whole = self._item(facts, scene, entry, number)
            matching = made[scene.name]
            assert matching is not None
            # the entry tells each story in its own words
            return replace(whole, solution=with_last(whole.solution, matching.step))

        def entry_of(scene: Scene) -> Entry | None:
            found = made[scene.name]
            return found.entry if found else None

        return one_a_scene(self.base.problem.scenes, facts, entry_of, item, wanted, seed)
