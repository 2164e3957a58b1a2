"""What the class thinks: mistakes ranked by how many answers showed them, and the questions that showed it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from .outcome import QuestionOutcome, Thought


def thoughts(questions: Iterable[QuestionOutcome]) -> tuple[Thought, ...]:
    """The mistakes that were met, most frequent first. Where one number has several mistakes, it counts for each."""
    shown: dict[str, list[tuple[str, str, int]]] = {}
    offered: dict[str, int] = {}
    for question in questions:
        counts: dict[str, int] = {}
        for each in question.chosen:
            for mistake in each.mistakes:
                counts[mistake] = counts.get(mistake, 0) + each.count
                offered[mistake] = offered.get(mistake, 0) + each.offered
        for mistake, count in counts.items():
            if count:
                shown.setdefault(mistake, []).append((question.id, question.form, count))
    made = [_thought(mistake, places, offered[mistake]) for mistake, places in shown.items()]
    return tuple(sorted(made, key=lambda each: (-each.count, each.mistake)))


def _thought(mistake: str, places: list[tuple[str, str, int]], offered: int) -> Thought:
    ordered = tuple(sorted(places, key=lambda each: (-each[2], each)))
    return Thought(mistake, sum(count for *_, count in ordered), offered, ordered)


def by_objective(questions: Sequence[QuestionOutcome]) -> Mapping[str, tuple[Thought, ...]]:
    """The same for the questions of each objective, in alphabetical order; one without a mistake is left out."""
    names = sorted({name for each in questions for name in each.objectives})
    found = {name: thoughts(each for each in questions if name in each.objectives) for name in names}
    return {name: each for name, each in found.items() if each}
