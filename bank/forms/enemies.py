"""Questions that may not stand in one form, because one gives the other away or both ask the same."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..questions.kinds import KIND
from .candidate import Candidate


def same_question(candidates: Sequence[Candidate]) -> Iterator[tuple[int, ...]]:
    """Groups that ask the same of one situation: one question in its kinds (number, choice, change and so on)."""
    yield from _groups((each.question for each in candidates), range(len(candidates)))


def same_diagram(candidates: Sequence[Candidate]) -> Iterator[tuple[int, ...]]:
    """Groups that answer each other: the kinds of one diagram, since the right diagram shows direction and forces."""
    members = [at for at, each in enumerate(candidates) if KIND[each.kind].tells_diagram]
    yield from _groups((candidates[at].diagram for at in members), members)


def shown_in_figure(candidates: Sequence[Candidate]) -> Iterator[tuple[int, ...]]:
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


def derived(candidates: Sequence[Candidate]) -> tuple[tuple[int, ...], ...]:
    """All groups of enemies that follow from the bank; a form may have one question of each group."""
    groups = (*same_question(candidates), *same_diagram(candidates), *shown_in_figure(candidates))
    return tuple(dict.fromkeys(groups))


def _groups(names: Iterator[str], places: Sequence[int]) -> Iterator[tuple[int, ...]]:
    found: dict[str, list[int]] = {}
    for name, place in zip(names, places, strict=True):
        if name:
            found.setdefault(name, []).append(place)
    yield from (tuple(group) for group in found.values() if len(group) > 1)
