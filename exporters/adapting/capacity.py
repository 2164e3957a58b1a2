"""What a format can carry as it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Pools: TypeAlias = Literal["drawn", "one each", "bank"]


@dataclass(frozen=True)
class Capacity:
    """Whether a format marks numbers within a tolerance, orders, pairs, several entries, and parts of a mark.

    ``mathml`` tells whether formulas may be MathML, ``buttons`` whether a candidate can ask for a hint. ``pools``: each
    candidate is given one variant of each question; or each assessment holds one variant of each; or all items
    are a bank, from which a teacher draws. ``attempts`` is the most that it can count, None for any number; ``limits``
    tells whether it carries attempts and minutes at all, ``mixing`` whether it shuffles questions, not options alone.
    """

    tolerance: bool = True
    order: bool = True
    match: bool = True
    parts: bool = True
    partial: bool = True
    mathml: bool = True
    buttons: bool = True
    pools: Pools = "drawn"
    attempts: int | None = None
    limits: bool = True
    mixing: bool = True
