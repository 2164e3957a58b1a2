"""A graph as it is to be seen: a line between two axes that carry letters and no numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from ...item.formula import Node

Points: TypeAlias = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class GraphView:
    """One line in the plane of two quantities, both from 0.

    ``across`` and ``up`` are what stands at the axes, ``across_words`` and ``up_words`` the same in words ("the square
    of the speed"). ``points`` are shares of the axes, 1 at their ends. ``told`` is how the line goes ("begins at ...").
    """

    across: Node
    up: Node
    across_words: str
    up_words: str
    points: Points
    told: str


@dataclass(frozen=True)
class DataView:
    """Measured points with the line through them; ``across`` and ``up`` stand at the axes, which carry numbers.

    ``points`` are numbers in the units of the axes, ``slope`` and ``intercept`` those of the line.
    """

    across: Node
    up: Node
    across_unit: str
    up_unit: str
    points: Points
    slope: float
    intercept: float
