"""Questions that may not stand in one form, because one gives the other away or both ask the same."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from ..item.item import Metadata
from ..item.pack import Pack, Section
from ..model.problem import Problem
from ..questions.kinds import KIND, Kind
from ..solving.cache import solved_question
from ..writing.solution import asked_diagram


class Asked(Protocol):
    """What is known of a question that may have enemies, as of a ``Candidate``."""

    @property
    def kind(self) -> Kind:
        """Its kind."""

    @property
    def question(self) -> str:
        """The question of the problem file that it asks in its own way, empty for one about a diagram alone."""

    @property
    def diagram(self) -> str:
        """The diagram that it is about."""


def same_question(candidates: Sequence[Asked]) -> Iterator[tuple[int, ...]]:
    """Groups that ask the same of one situation: one question in its kinds (number, choice, change and so on)."""
    yield from _groups((each.question for each in candidates), range(len(candidates)))


def same_diagram(candidates: Sequence[Asked]) -> Iterator[tuple[int, ...]]:
    """Groups that answer each other: the kinds of one diagram, since the right diagram shows direction and forces."""
    members = [at for at, each in enumerate(candidates) if KIND[each.kind].tells_diagram]
    yield from _groups((candidates[at].diagram for at in members), members)


def shown_in_figure(candidates: Sequence[Asked]) -> Iterator[tuple[int, ...]]:
    """Groups of the questions that a figure answers, each with the kinds of one question that show the figure."""
    answered: dict[str, list[int]] = {}
    showing: dict[tuple[str, str], list[int]] = {}
    for at, each in enumerate(candidates):
        if each.diagram and KIND[each.kind].figure == "answers it":
            answered.setdefault(each.diagram, []).append(at)
        elif each.diagram and KIND[each.kind].figure == "shown":
            showing.setdefault((each.diagram, each.question), []).append(at)
    for (diagram, _), group in showing.items():
        if diagram in answered:
            yield tuple(sorted((*group, *answered[diagram])))


def derived(candidates: Sequence[Asked]) -> tuple[tuple[int, ...], ...]:
    """All groups of enemies that follow from the bank; a form may have one question of each group."""
    groups = (*same_question(candidates), *same_diagram(candidates))
    return tuple(dict.fromkeys(groups))


@dataclass(frozen=True)
class _OfPack:
    """A question of a pack, as far as its enemies ask."""

    kind: Kind
    question: str
    diagram: str


def answering_each_other(pack: Pack, bank: Sequence[Problem]) -> tuple[tuple[str, ...], ...]:
    """The ids of the questions of a pack that answer each other, group by group, in the order of the pack."""
    members = [_of_pack(section.metadata, bank) for section in pack.sections]
    shown = [group for group in shown_in_figure(members) if any(_shows_forces(pack.sections[at]) for at in group)]
    groups = [set(group) for group in dict.fromkeys((*same_question(members), *same_diagram(members), *shown))]
    widest = [group for group in groups if not any(group < other for other in groups)]
    return tuple(tuple(pack.sections[at].question_id for at in sorted(group)) for group in widest)


def _shows_forces(section: Section) -> bool:
    return any(each.subject == "forces" for each in section.figures)


def _of_pack(facts: Metadata, bank: Sequence[Problem]) -> _OfPack:
    """The question of these facts, found in the bank; its solution is in the cache since it was packed."""
    name = facts.question.partition("/")[0]
    problem = next(each for each in bank if each.id == facts.problem)
    own = next((each for each in problem.questions if each.name == name), None)
    diagram = asked_diagram(solved_question(problem, own)) if own else problem.diagram(name)
    kind = next(each for each in KIND if each == facts.kind)
    return _OfPack(kind, f"{problem.id}.{name}" if own else "", f"{problem.id}.{diagram.name}" if diagram else "")


def _groups(names: Iterator[str], places: Sequence[int]) -> Iterator[tuple[int, ...]]:
    found: dict[str, list[int]] = {}
    for name, place in zip(names, places, strict=True):
        if name:
            found.setdefault(name, []).append(place)
    yield from (tuple(group) for group in found.values() if len(group) > 1)
