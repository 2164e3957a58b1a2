"""Directions as a candidate reads them: due north, to the left, straight up; and what is asked about directions.

Which way the centre lies and the body moves is told in the prompt, anew in each scene, so that no name of a direction
is right more often than another. Directions are given in eighths of a turn, anticlockwise on the page from the right
(from the east, seen from above).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, TypeAlias

Ground: TypeAlias = Literal["above", "side", "page", "radius"]

_PAGE = ("to the right", "up and to the right", "upwards", "up and to the left",
         "to the left", "down and to the left", "downwards", "down and to the right")  # fmt: skip
_PAGE_PLACES = ("to the right of", "", "straight above", "", "to the left of", "", "straight below", "")
_COMPASS = ("east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east")
_COMPASS_PLACES = tuple(f"due {each} of" for each in _COMPASS)
# along the radius (0 is inward) and the path (2 is forward)
_RADIUS = ("inwards", "inwards and forwards", "forwards", "outwards and forwards",
           "outwards", "outwards and backwards", "backwards", "inwards and backwards")  # fmt: skip

WAYS: Mapping[Ground, tuple[str, ...]] = MappingProxyType(
    {"above": _COMPASS, "side": _PAGE, "page": _PAGE, "radius": _RADIUS}
)
PLACES: Mapping[Ground, tuple[str, ...]] = MappingProxyType(
    {"above": _COMPASS_PLACES, "side": _PAGE_PLACES, "page": _PAGE_PLACES, "radius": ("",) * 8}
)
NOWHERE = "none, for it is zero"

# told by where the centre lies, and by where the body lies
SETTINGS: Mapping[Ground, tuple[str, str]] = MappingProxyType({
    "above": (
        "Seen from above, {body} moves {forward} at one moment, and the centre of its circle lies {inward} it.",
        "Seen from above, {body} moves {forward} at one moment, and it is {outward} the centre of its circle.",
    ),
    "side": (
        "Seen from the side, {body} moves {forward} at one moment, and the centre of its circle lies {inward} it.",
        "Seen from the side, {body} moves {forward} at one moment, and it is {outward} the centre of its circle.",
    ),
    "page": (
        "In a sketch of the circle, {body} moves {forward} at one moment, and the centre lies {inward} it.",
        "In a sketch of the circle, {body} moves {forward} at one moment, and it is {outward} the centre.",
    ),
    "radius": (
        "“Inwards” means along the radius to the centre, and “forwards” along the tangent as {body} moves.",
        "“Inwards” means along the radius to the centre, and “forwards” along the tangent as {body} moves.",
    ),
})  # fmt: skip
ON_ITS_WAY: Mapping[str, str] = MappingProxyType({
    "bottom": "At one moment {body} is on its way up, {contact}{place}.",
    "top": "At one moment {body} is on its way down, {contact}{place}.",
})  # fmt: skip

STILL_TOUCHING = "still in contact with {agent}, "
ACCELERATION = "In which direction does its acceleration point at that moment?"
NET_FORCE = "In which direction does the net force on it point at that moment?"
SET_FREE = (
    "Suppose that the {force} suddenly drops to zero. In which direction does {body} move immediately afterwards?"
)
VELOCITY_LATER = (
    "It continues round the same circle at constant speed. In which direction does its velocity point after {part} "
    "revolution?"
)
ACCELERATION_LATER = (
    "It continues round the same circle at constant speed. In which direction does its acceleration point after {part} "
    "revolution?"
)
CHANGE = (
    "It continues round the same circle at constant speed. In which direction does the change in its velocity point, "
    "from that moment until after {part} revolution?"
)
IN_RETURN = (
    "At that moment {agent} exerts the {force} on {body}. In which direction does the force point that {body} exerts "
    "on {agent}?"
)
SPEEDING_UP = "At that moment its speed is increasing. In which direction does its acceleration point?"
SLOWING_DOWN = "At that moment its speed is decreasing. In which direction does its acceleration point?"
PARTS: Mapping[int, str] = MappingProxyType({
    2: "a quarter of a", 4: "half a", 6: "three quarters of a", 8: "one complete",
})  # fmt: skip
