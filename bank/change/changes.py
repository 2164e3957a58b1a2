"""A change between two banks: where, of which kind, what it was and is, and whether it needs a raised version."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from ..model.problem import Problem, Question

Kind: TypeAlias = Literal[
    "new", "retired", "moved", "key", "reworded", "numbers", "solution", "distractor", "figure", "metadata"
]
ORDER: tuple[Kind, ...] = (
    "new", "retired", "moved", "key", "reworded", "numbers", "solution", "distractor", "figure", "metadata"
)  # fmt: skip


@dataclass(frozen=True)
class Shown:
    """A variant of the old question that shows a changed key: the same givens in print, the old key and the new one."""

    scene: str
    given: Mapping[str, str]
    old: str
    new: str


@dataclass(frozen=True)
class Change:
    """One change. ``question`` is empty for what all questions of a problem share.

    ``needs_version`` says that a key, a stem or a limit is another one.
    """

    kind: Kind
    what: str
    old: str = ""
    new: str = ""
    problem: str = ""
    question: str = ""
    shown: Shown | None = None
    needs_version: bool = False

    @property
    def where(self) -> str:
        """The id of the question, or of the problem where all its questions share the change."""
        return f"{self.problem}.{self.question}" if self.question else self.problem


@dataclass(frozen=True)
class Pair:
    """A question as it was and as it is. ``letters`` maps old names of givens to new ones where only names changed."""

    old_problem: Problem
    new_problem: Problem
    old: Question
    new: Question
    letters: Mapping[str, str] = field(default_factory=dict)

    def named(self, symbol: str) -> str:
        """What an old symbol is called now."""
        return self.letters.get(symbol, symbol)

    @property
    def scenes(self) -> tuple[str, ...]:
        """The names of the scenes that the question has on both sides."""
        new = {each.name for each in self.new_problem.scenes_of(self.new)}
        return tuple(each.name for each in self.old_problem.scenes_of(self.old) if each.name in new)
