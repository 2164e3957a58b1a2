"""What a question about graphs asks, how the line of a graph goes in words, and what its solution says."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, TypeAlias

Start: TypeAlias = Literal["origin", "above", "right", "high"]
Way: TypeAlias = Literal["rises", "falls", "level"]
Bend: TypeAlias = Literal["straight", "more", "less"]

# two forms of the asking; a scene has one of them
ASKING = (
    "Which graph shows how the {name} {asked}{end} depends on {varied}{held}?",
    "Which graph of the {name} {asked}{end} against {varied} is correct{held}?",
)
PLAIN = "the {means} {letter}{tail}"
SQUARED = "the square {letter} of the {means}{tail}"
HELD = ", with {held} unchanged"

TITLE = "Graph of the {up} against {across}"
ACROSS = MappingProxyType({False: "the {means}", True: "the square of the {means}"})
ALTERNATIVE = "{title}. The line {told}."

LEVEL = "is straight and horizontal, above the horizontal axis"
STARTS: Mapping[Start, str] = MappingProxyType({
    "origin": "begins at the origin",
    "above": "begins on the vertical axis above the origin",
    "right": "begins on the horizontal axis to the right of the origin",
    "high": "begins high up, close to the vertical axis,",
})  # fmt: skip
BENDS: Mapping[Bend, str] = MappingProxyType({
    "straight": "{way} in a straight line",
    "more": "{way} more and more steeply",
    "less": "{way} less and less steeply",
})  # fmt: skip
TO_THE_AXIS = " as far as the horizontal axis"

HEADING = "Shape of the graph"
NOT_IN_IT = "{letter} does not appear in the expression for {asked}, so {asked} does not depend on it."
PROPORTIONAL = "Here, {asked} is proportional to {power}."
ONE_TERM = "Here, only the factor {moving} varies."
OF_A_POWER, OF_NO_POWER = ", and it is proportional to {power}.", "."
TWO_TERMS = "In {row}, only the term {moving} contains {letter}"
AGAINST_THE_SQUARE = " On the horizontal axis, {square} is plotted."
THEREFORE = "Therefore, the line of the correct graph {told}."


def told(start: Start, way: Way, bend: Bend, *, to_the_axis: bool = False) -> str:
    """How a line goes, from its start on, to come after "the line"."""
    if way == "level":
        return LEVEL
    return f"{STARTS[start]} and {BENDS[bend].format(way=way)}{TO_THE_AXIS if to_the_axis else ''}"
