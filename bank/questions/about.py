"""A diagram in a scene with the mistakes that may be made about it: what questions about diagrams are made from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from ..model.edit import Edit
from ..model.mistake import Mistake
from ..model.once import once
from ..model.problem import Diagram, Force, Problem, Scene
from ..model.wording import with_article
from ..thinking.advice import phrases_of, told
from ..thinking.triggers import may_be_thought
from ..writing.view import DiagramView, view_of

SomeEdit = TypeVar("SomeEdit", bound=Edit)


@dataclass(frozen=True)
class About:
    """A diagram of a problem in a scene, with the catalogue of mistakes."""

    problem: Problem
    diagram: Diagram
    scene: Scene
    catalogue: tuple[Mistake, ...]

    @cached_property
    def view(self) -> DiagramView:
        """What is to be seen."""
        return view_of(self.problem, self.diagram, self.scene)

    @property
    def body(self) -> str:
        """The body with its article."""
        return with_article(self.scene.words[self.diagram.body], "the")

    @cached_property
    def either_way(self) -> tuple[Force, ...]:
        """The forces that may point the other way, or vanish, at another speed: a rod pushes or pulls at the top."""
        may_be = self.diagram.spot in ("top", "angle")
        return tuple(each for each in self.diagram.forces if may_be and each.kind == "support")

    @cached_property
    def mistakes(self) -> tuple[Mistake, ...]:
        """The mistakes that may be made about it, in the words of the scene."""
        phrases = phrases_of(self.scene, self.diagram)
        return tuple(told(each, phrases) for each in self.problem.mistakes_from(self.catalogue))

    def of(self, kind: type[SomeEdit]) -> Iterator[tuple[Mistake, SomeEdit]]:
        """The mistakes of one kind of edit, with it, that may be thought of this motion."""
        told = (each for each in self.mistakes if may_be_thought(each, self.problem))
        return ((each, each.edit) for each in told if isinstance(each.edit, kind))


def about_in(scene: Scene, problem: Problem, diagram: Diagram, catalogue: tuple[Mistake, ...]) -> About:
    """A diagram in a scene: one for all questions about it, so that what is made of it is made once."""
    return once(scene, "about", lambda: About(problem, diagram, scene, catalogue), problem, diagram, *catalogue)
