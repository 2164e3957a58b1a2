"""The questions that one diagram of a problem gives by itself, whatever is asked about it in numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial

from ..item.item import ChoiceEntry, Entry, Item, Metadata
from ..mechanics.sameness import form_of
from ..model.problem import Diagram, Scene
from . import force_keys, story_keys
from .force_keys import About
from .item_model import ItemModel, Kind, Makers
from .of_question import MINUTES, QuestionModels, one_a_scene
from .story_keys import Groups, Matching, Situation

TITLES = {
    "direction": "Which way the acceleration points",
    "direction-net-force": "Which way the net force points",
    "forces": "Which forces act",
    "diagram": "Which force diagram is right",
    "equation": "Which equation is right",
    "match": "Which situation is the same problem",
}
STEPS_TO_EQUATIONS = 3


@dataclass(frozen=True)
class DiagramModels:
    """The questions that one diagram of a problem gives by itself."""

    base: QuestionModels
    diagram: Diagram
    groups: Groups = ()

    def asked(self, kinds: Sequence[Kind]) -> Iterator[ItemModel]:
        """The questions of the wanted kinds; those that the diagram can't give are left out."""
        makers: tuple[tuple[Kind, str, Callable[[About], ChoiceEntry | None]], ...] = (
            ("direction", "", force_keys.direction),
            ("direction", "-net-force", force_keys.net_force),
            ("forces", "", force_keys.forces),
            ("diagram", "", force_keys.diagram),
            ("equation", "", partial(force_keys.equation, solved=self.base.solved)),
        )
        for kind, suffix, make in makers:
            if kind in kinds and make(self._about(self.base.problem.scenes[0])):
                facts = self._facts(kind, suffix)
                yield ItemModel(f"{facts.problem}.{facts.question}", kind, facts, partial(self._draw, facts, make))
        if "match" in kinds and self._matching(self.base.problem.scenes[0], ""):
            facts = self._facts("match")
            yield ItemModel(f"{facts.problem}.{facts.question}", "match", facts, partial(self._matches, facts))

    def _about(self, scene: Scene) -> About:
        return About(self.base.problem, self.diagram, scene, self.base.catalogue)

    def _facts(self, kind: Kind, suffix: str = "") -> Metadata:
        facts = self.base.generator.metadata(self.base.problem.scenes[0])
        return replace(
            facts, question=f"{self.diagram.name}/{kind}{suffix}",
            title=f"{self.base.problem.title}: {TITLES[kind + suffix].lower()}",
            minutes=MINUTES[kind], objectives=self.base.problem.objectives, kind=kind, difficulty=None,
            alignment=self.base.problem.alignment,
        )  # fmt: skip

    def _draw(
        self, facts: Metadata, make: Callable[[About], ChoiceEntry | None], wanted: int, gravity: Decimal, seed: int
    ) -> Makers:
        def item(scene: Scene, entry: Entry, number: int) -> Item:
            whole = self.base.letters(facts, scene, entry, number)
            # the figure would tell the answer, and what follows the equations is not asked here
            return replace(whole, figure=None, solution=whole.solution[:STEPS_TO_EQUATIONS])

        return one_a_scene(self.base.problem.scenes, facts, lambda scene: make(self._about(scene)), item, wanted, seed)

    # --- the same problem in other stories ---

    def _matching(self, scene: Scene, draw: str) -> Matching | None:
        form = form_of(self.base.problem, self.diagram)
        if form is None or not self.groups:
            return None
        return story_keys.match(Situation(self.base.problem, self.diagram, form), scene, self.groups, draw)

    def _matches(self, facts: Metadata, wanted: int, gravity: Decimal, seed: int) -> Makers:
        made = {
            each.name: self._matching(each, f"{facts.question} {each.name} {seed}") for each in self.base.problem.scenes
        }

        def item(scene: Scene, entry: Entry, number: int) -> Item:
            whole = self.base.letters(facts, scene, entry, number)
            matching = made[scene.name]
            assert matching is not None
            # the entry tells each story in its own words
            steps = (*whole.solution[:STEPS_TO_EQUATIONS], matching.step)
            return replace(whole, stem=(), figure=None, solution=steps)

        def entry_of(scene: Scene) -> Entry | None:
            found = made[scene.name]
            return found.entry if found else None

        return one_a_scene(self.base.problem.scenes, facts, entry_of, item, wanted, seed)
