"""What the class thinks: mistakes ranked by what the answers show of them, and the questions that showed it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from .mixture import evidence
from .outcome import QuestionOutcome, Thought


@dataclass
class _Met:
    """What was met of one mistake on the way through the questions."""

    offered: int = 0
    alone: int = 0
    rivals: Counter[str] = field(default_factory=Counter)
    places: Counter[tuple[str, str]] = field(default_factory=Counter)

    def thought(self, mistake: str) -> Thought:
        ordered = sorted(((*place, count) for place, count in self.places.items()), key=lambda each: (-each[2], each))
        rivals = sorted(self.rivals, key=lambda each: (-self.rivals[each], each))
        return Thought(mistake, self.places.total(), self.offered, tuple(ordered), self.alone, tuple(rivals))


def thoughts(questions: Sequence[QuestionOutcome]) -> tuple[Thought, ...]:
    """The mistakes that were met: first those that are shown, the most frequent first, then by their answers."""
    known = evidence(questions)
    found = [replace(each, evidence=known[each.mistake]) for each in counted(questions)]
    return tuple(sorted(found, key=lambda each: -_rate(each)))


def _rate(thought: Thought) -> float:
    return thought.evidence.rate if thought.evidence and thought.is_shown else 0.0


def counted(questions: Iterable[QuestionOutcome]) -> list[Thought]:
    """The mistakes by the number of their answers. Where one number has several mistakes, it counts for each."""
    found: dict[str, _Met] = {}
    for question in questions:
        for each in question.chosen:
            for mistake in each.mistakes:
                met = found.setdefault(mistake, _Met())
                met.offered += each.offered
                if each.count:
                    met.places[question.id, question.form] += each.count
                    met.alone += each.count if len(each.mistakes) == 1 else 0
                    met.rivals.update({name: each.count for name in each.mistakes if name != mistake})
    made = [met.thought(mistake) for mistake, met in found.items() if met.places]
    return sorted(made, key=lambda each: (-each.count, each.mistake))


def by_objective(questions: Sequence[QuestionOutcome]) -> Mapping[str, tuple[Thought, ...]]:
    """The counts for the questions of each objective, in alphabetical order; one without a mistake is left out."""
    names = sorted({name for each in questions for name in each.objectives})
    found = {name: tuple(counted(each for each in questions if name in each.objectives)) for name in names}
    return {name: each for name, each in found.items() if each}
