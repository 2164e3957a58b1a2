"""The steps of a question before its number: the direction, the diagram, the equation, what happens at the limit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import compress

from ..item.item import Carried, ChoiceEntry, NumberEntry, Step
from ..model.mistake import Mistake
from ..model.problem import Scene
from ..solving.solution import SolvedQuestion
from ..writing.solution import asked_diagram
from . import diagram_keys, direction_keys, equation_keys
from .about import About
from .equation_keys import Beside
from .limiting.keys import NearLimit, PastLimit


@dataclass(frozen=True)
class Steps:
    """The steps of one question in each of its scenes, in which they are the same, so that all are worth the same."""

    solved: SolvedQuestion
    catalogue: tuple[Mistake, ...]
    near_limit: NearLimit | None

    @property
    def exist(self) -> bool:
        """Whether there is a step that all scenes have: nearly always the first, so that the others can wait."""
        first = (direction_keys.acceleration(self._about(scene)) for scene in self._scenes)
        return all(first) or any(self.of_scene.values())

    @cached_property
    def of_scene(self) -> Mapping[str, tuple[ChoiceEntry, ...]]:
        """The steps by the names of scenes."""
        found = {scene.name: self._parts(scene) for scene in self._scenes}
        shared = [all(parts) for parts in zip(*found.values(), strict=True)]
        return {name: tuple(each for each in compress(parts, shared) if each) for name, parts in found.items()}

    def at_the_limit(self, scene: Scene) -> Step | None:
        """What the solution says of the step about the limit; None where there is none."""
        asked = self._limit(scene)
        is_asked = asked and any(each.prompt == asked.prompt for each in self.of_scene[scene.name])
        return asked.step if asked and is_asked else None

    @property
    def _scenes(self) -> tuple[Scene, ...]:
        return self.solved.problem.scenes_of(self.solved.question)

    def _about(self, scene: Scene) -> About:
        """The diagram that the question asks about, in a scene."""
        diagram = asked_diagram(self.solved)
        assert diagram is not None
        return About(self.solved.problem, diagram, scene, self.catalogue)

    def _parts(self, scene: Scene) -> tuple[ChoiceEntry | None, ...]:
        """Direction, diagram, equation and limit; None for what the scene does not have."""
        about, limit = self._about(scene), self._limit(scene)
        step = diagram_keys.DiagramStep(about, self.solved.question.name)
        equation = equation_keys.equation(about, self.solved, Beside(step.of, step.against))
        return (
            direction_keys.acceleration(about, self.solved.question.name),
            step.entry(equation) if equation else diagram_keys.diagram(about),
            equation,
            limit.entry(self.catalogue) if limit else None,
        )

    def _limit(self, scene: Scene) -> PastLimit | None:
        """A slight change at the limit: of the asked quantity itself, if that is one of the changes asked about."""
        near = self.near_limit
        if near is None or not near.turns:
            return None
        turn = next((each for each in near.turns if each.symbol == self.solved.question.ask), near.turns[0])
        return near.asked(scene, turn)


def carried(earlier: Sequence[ChoiceEntry], number: NumberEntry) -> Iterator[Carried]:
    """The numbers that follow from wrong options of earlier entries: those known to come from the same mistake."""
    for place, entry in enumerate(earlier):
        for at, option in enumerate(entry.options):
            for known in number.recognised:
                alone = len(option.mistakes) == 1  # two mistakes at once lead to another number than each of them
                if alone and option.mistakes[0] in known.mistakes:
                    yield Carried(place, at, known.value, known.half_width)
