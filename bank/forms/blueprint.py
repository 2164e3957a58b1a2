"""A checked blueprint: what a blueprint file says, frozen. Nothing is looked up in a bank."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal, TypeAlias

from ..documents.document import Document, Key
from ..errors import Place
from ..item.sitting import Purpose
from ..language import either
from ..quantities.gravity import GRAVITY
from ..questions.kinds import KINDS, Kind, Thinking

Scenes: TypeAlias = Literal["once", "any"] | tuple[str, ...]


@dataclass(frozen=True)
class Range:
    """From one number to another; None where that side is open."""

    low: float | None = None
    high: float | None = None

    def __str__(self) -> str:
        if self.low == self.high:
            return f"{self.low:g}"
        if self.low is None or self.high is None:
            return f"at least {self.low:g}" if self.low is not None else f"at most {self.high:g}"
        return f"{self.low:g} to {self.high:g}"


@dataclass(frozen=True)
class BlueprintRow:
    """One row of the table: how many questions of some content, thinking and kinds; empty means any."""

    count: Range
    name: str = ""
    content: tuple[str, ...] = ()
    thinking: tuple[Thinking, ...] = ()
    kinds: tuple[Kind, ...] = ()

    @property
    def words(self) -> str:
        """The row in the words of the blueprint."""
        what = self.name or ", ".join(filter(None, map(either, (self.content, self.thinking, self.kinds))))
        return f"{what or 'any question'}: {self.count}"


@dataclass(frozen=True)
class Blueprint:
    """A table of specifications; ``document`` remembers where each part stands in its file."""

    id: str
    title: str
    forms: int
    questions: int
    rows: tuple[BlueprintRow, ...]
    gravity: Decimal = GRAVITY
    seed: int = 1
    purpose: Purpose = "exam"
    level: str = ""
    kinds: tuple[Kind, ...] = KINDS
    marks: Range | None = None
    minutes: Range | None = None
    difficulty: Range | None = None
    anchors: tuple[str, ...] = ()
    scenes: Scenes = "once"
    same_equations: int | None = None
    enemies: tuple[tuple[str, ...], ...] = ()
    document: Document = field(default_factory=lambda: Document("blueprint"), repr=False, compare=False)

    def place(self, *path: Key) -> Place:
        """Where a part stands in the file."""
        return self.document.place(path, key=not path or isinstance(path[-1], str))
