"""The rules under which a candidate works through a pack."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

from ..errors import UsageError
from ..language import either, listed

Purpose: TypeAlias = Literal["practice", "exam"]


@dataclass(frozen=True)
class Sitting:
    """How often a question may be answered (0: as often as one likes), what is told, and how long it may take.

    ``shuffle`` gives each candidate the questions in another order, and options whose order means nothing. ``minutes``
    is for the whole pack, 0 for no limit.
    """

    attempts: int = 0
    hints: bool = True
    feedback: bool = True
    solution: bool = True
    shuffle: bool = False
    minutes: int = 0

    @property
    def told(self) -> tuple[str, ...]:
        """What a candidate is told beyond the question."""
        return tuple(each for each in ("hints", "feedback", "solution") if getattr(self, each))


PRACTICE = Sitting()
EXAM = Sitting(attempts=1, hints=False, feedback=False, solution=False, shuffle=True)
PRESETS: Mapping[Purpose, Sitting] = MappingProxyType({"practice": PRACTICE, "exam": EXAM})


class TellingExamError(UsageError):
    """An exam that would tell what it must not."""

    def __init__(self, told: tuple[str, ...]) -> None:
        self.told = told
        super().__init__(told)

    def __str__(self) -> str:
        options = listed([f"--{each}" for each in self.told])
        return f"an exam carries no {either(self.told)}; leave {options} out, or make the pack --for practice"


def checked(purpose: Purpose, sitting: Sitting) -> Sitting:
    """The same rules. Raises TellingExamError where an exam would tell anything."""
    if purpose == "exam" and sitting.told:
        raise TellingExamError(sitting.told)
    return sitting


def sitting_for(purpose: Purpose, **changes: Any) -> Sitting:
    """The usual rules for a purpose, but for those given and not None. Raises TellingExamError."""
    given = {name: value for name, value in changes.items() if value is not None}
    return checked(purpose, replace(PRESETS[purpose], **given))
