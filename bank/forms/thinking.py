"""What kind of thinking a question asks for; the one place where kinds and features are told apart."""

from __future__ import annotations

from typing import Literal, TypeAlias

from ..questions.item_model import Kind

Thinking: TypeAlias = Literal["recall", "qualitative", "one-step", "multi-step"]
THINKING: tuple[Thinking, ...] = ("recall", "qualitative", "one-step", "multi-step")

# a rule that was learnt answers these: which way to the centre, which forces act
RECALL: frozenset[Kind] = frozenset({"direction", "forces"})
# these are thought through without calculating
QUALITATIVE: frozenset[Kind] = frozenset({"diagram", "equation", "change", "limit", "match"})
# several answers in a row, or the same calculation for several cases
SEVERAL_STEPS: frozenset[Kind] = frozenset({"stepwise", "rank"})


def thinking_of(kind: Kind, steps: int) -> Thinking:
    """The thinking behind a question of a kind that takes ``steps`` (unknowns to eliminate and limits to set).

    Numbers, choices between numbers and between expressions are one-step where a single equation gives the answer.
    """
    if kind in RECALL:
        return "recall"
    if kind in QUALITATIVE:
        return "qualitative"
    return "multi-step" if kind in SEVERAL_STEPS or steps > 1 else "one-step"
