"""The steps of a question before its number: the direction, the diagram, the equation, what happens at the limit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import compress

import sympy

from ..item.drawing import Drawing
from ..item.item import Carried, ChoiceEntry, NumberEntry, Paragraph, Words
from ..model.mistake import Mistake
from ..model.problem import Scene
from ..solving.solution import SolvedQuestion
from ..writing import prompts
from ..writing.letters import letters_of, name_of
from ..writing.solution import asked_diagram
from ..writing.stem import filled, joined
from ..writing.view import notation_of
from . import direction_keys, equation_keys
from .about import About, about_in
from .diagrams import keys as diagram_keys
from .equation_keys import Beside
from .limiting.failures import rate_of
from .limiting.keys import NearLimit, PastLimit


@dataclass(frozen=True)
class Steps:
    """The steps of one question in each of its scenes, in which they are the same, so that all are worth the same."""

    solved: SolvedQuestion
    catalogue: tuple[Mistake, ...]
    near_limit: NearLimit | None

    @property
    def may_exist(self) -> bool:
        """Whether there may be a step; none where no force leads to the number, and the speed changes on the way."""
        return self._uses_forces or self._about(self._scenes[0]).diagram.spot != "angle"

    @property
    def exist(self) -> bool:
        """Whether there is a step that all scenes have: nearly always the first, so that the others can wait."""
        name = self.solved.question.name
        first = (direction_keys.acceleration(self._about(scene), name) for scene in self._scenes)
        return all(first) or any(self.of_scene.values())

    @cached_property
    def of_scene(self) -> Mapping[str, tuple[ChoiceEntry, ...]]:
        """The steps by the names of scenes."""
        found = {scene.name: self._parts(scene) for scene in self._scenes}
        shared = [all(parts) for parts in zip(*found.values(), strict=True)]
        return {name: tuple(each for each in compress(parts, shared) if each) for name, parts in found.items()}

    def past_limit(self, scene: Scene) -> PastLimit | None:
        """What the step about the limit asks, and what the solution says of it; None where there is no such step."""
        asked = self._limit(scene)
        is_asked = asked and any(each.prompt == asked.prompt for each in self.of_scene[scene.name])
        return asked if is_asked else None

    @property
    def _scenes(self) -> tuple[Scene, ...]:
        return self.solved.problem.scenes_of(self.solved.question)

    def _about(self, scene: Scene) -> About:
        """The diagram that the question asks about, in a scene."""
        diagram = asked_diagram(self.solved)
        assert diagram is not None
        return about_in(scene, self.solved.problem, diagram, self.catalogue)

    def _parts(self, scene: Scene) -> tuple[ChoiceEntry | None, ...]:
        """Direction, diagram, equation and limit; None for what the scene does not have."""
        about, limit = self._about(scene), self._limit(scene)
        direction = direction_keys.acceleration(about, self.solved.question.name)
        if not self._uses_forces:
            return (direction, None, None, None)
        step = diagram_keys.DiagramStep(about, self.solved.question.name)
        equation = equation_keys.equation(about, self.solved, Beside(step.of, step.against))
        drawn = step.entry(equation) if equation else diagram_keys.diagram(about)
        return (
            direction,
            drawn and self._in_general(drawn, scene),
            equation and self._in_general(equation, scene),
            limit.entry(self.catalogue) if limit else None,
        )

    @property
    def _uses_forces(self) -> bool:
        """Whether the number follows from an equation of motion; a step that leads nowhere would be one too many."""
        path = self.solved.solution.path
        return any(self.solved.system.equations[each.origin].diagram for each in path if each.origin >= 0)

    def _in_general(self, entry: ChoiceEntry, scene: Scene) -> ChoiceEntry:
        """The entry, asked of the motion in general where something is zero in the limiting case: more would hold then.

        The letter of a rate or an acceleration at the limit stands for any value then.
        """
        problem, question = self.solved.problem, self.solved.question
        if question.limiting is None or sympy.Integer(0) not in (question.limiting.left, question.limiting.right):
            return entry
        notation = notation_of(problem, scene)
        options = [each.content for each in entry.options if not isinstance(each.content, Drawing)]
        lead: Paragraph = (Words(prompts.IN_GENERAL),)
        is_of_motion = rate_of(problem, question) or question.ask == problem.motion.acceleration
        if question.ask in letters_of(options, problem, notation) and is_of_motion:
            name = name_of(problem, scene, question.ask)
            lead = filled(prompts.AND_ANY, asked=notation.symbol(question.ask), name=name)
        return replace(entry, prompt=tuple(joined([*lead, *entry.prompt])))

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
