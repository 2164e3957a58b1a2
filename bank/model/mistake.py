"""A mistake: what a student thinks, the edit that it makes, and the feedback that helps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ..errors import Place
from .edit import Edit


@dataclass(frozen=True)
class Mistake:
    """A named mistake: what a student thinks, and the edit that the thought makes."""

    id: str
    thinking: str
    edit: Edit
    feedback: str
    source: str
    families: tuple[str, ...] = ()
    place: Place = field(default_factory=lambda: Place(""))

    def suits(self, family: str) -> bool:
        """Whether it is tried in a family of problems."""
        return not self.families or family in self.families


def feedback(found: Sequence[Mistake]) -> str:
    """What to tell about a wrong answer: the thinking that leads to it, and the next move."""
    thoughts = " Or: ".join(f"“{each.thinking}”" for each in found[:2])
    return f"Your answer matches this thinking: {thoughts} {found[0].feedback}"
