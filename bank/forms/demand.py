"""What kind of thinking a question asks for."""

from __future__ import annotations

from ..questions.kinds import KIND, Kind, Thinking

THINKING: tuple[Thinking, ...] = ("recall", "qualitative", "one-step", "multi-step")


def thinking_of(kind: Kind, steps: int) -> Thinking:
    """The thinking behind a question of a kind that takes ``steps`` (unknowns to eliminate and limits to set).

    Numbers, choices between numbers and between expressions are one-step where a single equation gives the answer.
    """
    return KIND[kind].thinking or ("multi-step" if steps > 1 else "one-step")
