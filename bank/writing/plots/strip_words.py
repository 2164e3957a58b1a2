"""What a solution says of the positions of a body past the limit at which a vertical circle holds it.

By what is seen to fail there, and whether it does; with gaps for the ``body`` and for the ``agent`` that holds it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ..limit_words import Failure


@dataclass(frozen=True)
class StripWords:
    """The sentences before a drawing, its title and its text alternative."""

    lead: str
    title: str
    alternative: str


_DRAWN = "The drawing shows {body} at equal time intervals."
_LARGER = f"{_DRAWN} The change is larger here, so that its effect is easy to see."
_ROUND = f"{_DRAWN} The change is larger here, so that its effect is easy to see, and mechanical energy is conserved."
_OPEN = "Open circles mark positions without contact."
_SLACK = "Open circles mark positions in which {agent} is slack."
_BETWEEN = "The positions are closest together at the top, where {body} is slowest."

LOST: Mapping[Failure, StripWords] = MappingProxyType({
    "goes slack": StripWords(
        f"{_ROUND} {{Agent}} goes slack before {{body}} reaches the top. {_SLACK}",
        "{Body} at equal time intervals: {agent} goes slack before the top",
        "{Body} at equal time intervals, anticlockwise from the bottom of the circle. Before the top, {agent} goes "
        "slack, and {body} moves along a parabola inside the circle until {agent} is taut again.",
    ),
    "falls": StripWords(
        f"{_ROUND} {{Body}} loses contact before it reaches the top. {_OPEN}",
        "{Body} at equal time intervals: contact is lost before the top",
        "{Body} at equal time intervals, anticlockwise from the bottom of the circle. Before the top, {body} loses "
        "contact with {agent} and moves along a parabola inside the circle until it meets {agent} again.",
    ),
    "takes off": StripWords(
        f"{_LARGER} The drawing begins at the highest point. {_OPEN}",
        "{Body} at equal time intervals: without contact from the highest point on",
        "{Body} at equal time intervals, from the highest point. {Body} is no longer in contact with {agent} and moves "
        "along a parabola, which lies above the circular arc.",
    ),
})  # fmt: skip
HELD: Mapping[Failure, StripWords] = MappingProxyType({
    "goes slack": StripWords(
        _ROUND,
        "{Body} at equal time intervals: {agent} stays taut all round the circle",
        "{Body} at equal time intervals, once round the circle from the bottom. {Agent} is taut in all positions. "
        + _BETWEEN,
    ),
    "falls": StripWords(
        _ROUND,
        "{Body} at equal time intervals: contact is kept all round the circle",
        "{Body} at equal time intervals, once round the circle from the bottom. {Body} touches {agent} in all "
        "positions. " + _BETWEEN,
    ),
})  # fmt: skip
