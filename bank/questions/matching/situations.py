"""Same problem or not: situations of a bank in groups of the same equations but for names, and how each is told."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, TypeAlias

from ...errors import Place
from ...limits import budget
from ...mechanics.sameness import EquationForm, form_of, renaming
from ...model.problem import Diagram, Problem, Scene
from ...model.wording import force_words, sentence
from ...writing import match_words
from ...writing.letters import sense_of
from ...writing.view import DiagramView, view_of

_PLACED = ("top", "bottom", "side", "angle")  # of a vertical circle, on which forces change from place to place
_WORD: Final = re.compile(r"[a-z]+")
_ENDING: Final = re.compile(r"(?<=...)(?:ing|ed|es|s|e)$")  # "banked" is "bank", "rotates" is "rotating"


@dataclass(frozen=True)
class Situation:
    """A diagram of a problem, with its equations."""

    problem: Problem
    diagram: Diagram
    form: EquationForm

    @cached_property
    def told(self) -> tuple[ToldStory, ...]:
        """The situation in each of its scenes."""
        return tuple(ToldStory(self, scene) for scene in self.problem.scenes)


Groups: TypeAlias = tuple[tuple[Situation, ...], ...]


def alike(problems: Sequence[Problem]) -> Groups:
    """All situations of a bank in groups: those of one group are the same problem, no two groups are."""
    groups: list[list[Situation]] = []
    for problem in problems:
        with budget.within(problem.document, problem.id, Place(problem.document.file), budget.seconds()):
            for diagram in problem.diagrams:
                _join(groups, problem, diagram)
    return tuple(map(tuple, groups))


def _join(groups: list[list[Situation]], problem: Problem, diagram: Diagram) -> None:
    """Put a situation to those that are the same problem, or into a group of its own."""
    form = form_of(problem, diagram)
    if form is None or _is_either_way(problem, diagram):
        return
    own = next((group for group in groups if renaming(form, group[0].form) is not None), None)
    if own is None:
        groups.append([])
        own = groups[-1]
    own.append(Situation(problem, diagram, form))


def _is_either_way(problem: Problem, diagram: Diagram) -> bool:
    """Whether a force may act either way, as that of a rod: its story does not tell the sign that it has."""
    return any(sense_of(problem, force.symbol) for force in diagram.forces if force.symbol)


@dataclass(frozen=True)
class ToldStory:
    """A situation in one of its scenes."""

    situation: Situation
    scene: Scene

    @property
    def view(self) -> DiagramView:
        """What is to be seen."""
        return view_of(self.situation.problem, self.situation.diagram, self.scene)

    @cached_property
    def story(self) -> str:
        """What it is about: the story, with the body and the place that are meant where there are several."""
        problem = self.situation.problem
        several = len({each.body for each in problem.diagrams}) > 1
        told = match_words.OF_SEVERAL if several else match_words.SITUATION
        if self.place:
            told = match_words.AT_A_PLACE
        return told.format(story=sentence(self.scene.story, self.scene), body=self.view.body, place=self.place)

    @cached_property
    def place(self) -> str:
        """The place on the circle as it is told: ``at the top of the circle``; empty where none is."""
        diagram = self.situation.diagram
        return self.view.place if diagram.spot in _PLACED and not diagram.place else ""

    @cached_property
    def marks(self) -> frozenset[str]:
        """By what it is known without physics: its words without their endings, and the kinds of what holds its body.

        A thread is a cord for who compares words, and a road a track.
        """
        forces = [each for each in self.situation.diagram.forces if each.law != "weight"]
        held = {f"={self.scene.kind_of(each)}" for each in forces if force_words(self.scene, each.role)}
        return frozenset(_ENDING.sub("", each) for each in _WORD.findall(self.story.lower())) | held

    @property
    def body(self) -> str:
        """What its body is called."""
        return self.scene.words[self.situation.diagram.body]
