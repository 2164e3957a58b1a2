"""A mistake: what a student thinks, the edit that it makes, the feedback that helps, and how often it is met."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal, TypeAlias, get_args

from ..errors import Place
from .edit import Edit

Weight: TypeAlias = Literal["often", "sometimes", "seldom"]
WEIGHTS: tuple[Weight, ...] = get_args(Weight)  # likeliest first
Trigger: TypeAlias = Literal[
    "gives-diameter",
    "asks-diameter",
    "asks-radius",
    "gives-circumference",
    "gives-turns",
    "gives-turns-of-angle",
    "asks-turns",
    "gives-angle-turned",
    "gives-angle-of-arc",
    "gives-angle-between",
    "asks-angle-of-arc",
    "asks-angle-turned",
    "square-of-the-speed",
    "no-vanishing-force",
    "unknown-contact",
    "radius-of-one-length",
    "radius-of-two-lengths",
    "steady-speed",
    "held-by-a-body",
]
TRIGGERS: tuple[Trigger, ...] = get_args(Trigger)  # what each looks for: ``thinking.triggers``


@dataclass(frozen=True)
class Prior:
    """How often a mistake is met, before any answer is seen, and who says so."""

    weight: Weight = "sometimes"
    source: str = "common practice, no source"


@dataclass(frozen=True)
class Mistake:
    """A named mistake: what a student thinks, and the edit that the thought makes.

    ``needs`` is what a question must have before anybody can think so; None for what can be thought of any.
    ``written`` are thinking and feedback with their slots for the words of a scene, where they have any.
    """

    id: str
    thinking: str
    edit: Edit
    feedback: str
    source: str
    families: tuple[str, ...] = ()
    place: Place = field(default_factory=lambda: Place(""))
    prior: Prior = Prior()
    needs: Trigger | None = None
    written: tuple[str, str] | None = None

    def suits(self, family: str) -> bool:
        """Whether it is tried in a family of problems."""
        return not self.families or family in self.families


def likeliest_first(found: Iterable[Mistake]) -> tuple[Mistake, ...]:
    """Mistakes by how often each is met; those met equally often stay in their order."""
    return tuple(sorted(found, key=lambda each: WEIGHTS.index(each.prior.weight)))
