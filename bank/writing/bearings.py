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
_ON_PAGE = ("to the right", "up the page and to the right", "up the page", "up the page and to the left",
            "to the left", "down the page and to the left", "down the page",
            "down the page and to the right")  # fmt: skip
_COMPASS = ("east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east")
# along the radius (0 is inward) and the path (2 is forward)
_RADIUS = ("inwards", "inwards and forwards", "forwards", "outwards and forwards",
           "outwards", "outwards and backwards", "backwards", "inwards and backwards")  # fmt: skip

WAYS: Mapping[Ground, tuple[str, ...]] = MappingProxyType(
    {"above": _COMPASS, "side": _PAGE, "page": _ON_PAGE, "radius": _RADIUS}
)
# by quarters of a turn: where the centre lies, seen from the body, and where the body lies, seen from the centre
CENTRE_PLACES: Mapping[Ground, tuple[str, ...]] = MappingProxyType({
    "above": ("due east", "due north", "due west", "due south"),
    "side": ("to the right of {body}", "directly above {body}", "to the left of {body}", "directly below {body}"),
    "page": ("to the right of {body}", "further up the page", "to the left of {body}", "further down the page"),
    "radius": ("",) * 4,
})  # fmt: skip
BODY_PLACES: Mapping[Ground, tuple[str, ...]] = MappingProxyType({
    "above": ("due east of", "due north of", "due west of", "due south of"),
    "side": ("to the right of", "directly above", "to the left of", "directly below"),
    "page": ("to the right of", "directly up the page from", "to the left of", "directly down the page from"),
    "radius": ("",) * 4,
})  # fmt: skip
NOWHERE = "no direction, because it is zero"

# told by where the centre lies, and by where the body lies
SETTINGS: Mapping[Ground, tuple[str, str]] = MappingProxyType({
    "above": (
        "At one moment, {body} is moving {forward}, and the centre of the circular path lies {inward}.",
        "At one moment, {body} is {outward_of} the centre of the circular path and is moving {forward}.",
    ),
    "side": (
        "The motion is viewed from the side. At one moment, {body} is moving {forward}, and the centre of the circular "
        "path lies {inward}.",
        "The motion is viewed from the side. At one moment, {body} is {outward_of} the centre of the circular path and "
        "is moving {forward}.",
    ),
    "page": (
        "Let the circular path lie in the plane of the page. At one moment, {body} is moving {forward}, and the centre "
        "lies {inward}.",
        "Let the circular path lie in the plane of the page. At one moment, {body} is {outward_of} the centre and is "
        "moving {forward}.",
    ),
    "radius": (
        "“Inwards” means along the radius towards the centre, and “forwards” means along the tangent in the direction "
        "of motion.",
        "“Inwards” means along the radius towards the centre, and “forwards” means along the tangent in the direction "
        "of motion.",
    ),
})  # fmt: skip
ON_ITS_WAY: Mapping[str, str] = MappingProxyType({
    "bottom": "At one moment, {body} is moving upwards along the path, {where}.",
    "top": "At one moment, {body} is moving downwards along the path, {where}.",
})  # fmt: skip

STILL_TOUCHING = "still in contact with {agent}"
ACCELERATION = "What is the direction of the acceleration of {body} at that moment?"
NET_FORCE_TOO = " The net force has the same direction as the acceleration."
NET_FORCE = "What is the direction of the net force on {body} at that moment?"
SET_FREE = (
    "Suppose that, at that moment, the {force} exerted by {agent} on {body} suddenly becomes zero. In which direction "
    "does {body}, as seen by an observer at rest, move immediately afterwards?"
)
_GOES_ON = "{Body} continues along the same circular path at constant speed."
VELOCITY_LATER = f"{_GOES_ON} What is the direction of the velocity of {{body}} after {{part}}?"
ACCELERATION_LATER = f"{_GOES_ON} What is the direction of the acceleration of {{body}} after {{part}}?"
# the change may be zero, so the question does not say that it has a direction
CHANGE = (
    f"{_GOES_ON} Which of these describes the direction of the change in velocity of {{body}} over the next {{next}}?"
)
IN_RETURN = "What is the direction of the {returned} that {body} exerts on {agent} at that moment?"
# the story may have said that the speed is constant
_INSTEAD = "What is the direction of the acceleration of {body} then?"
SPEEDING_UP = f"Suppose, however, that the speed of {{body}} is increasing at that moment. {_INSTEAD}"
SLOWING_DOWN = f"Suppose, however, that the speed of {{body}} is decreasing at that moment. {_INSTEAD}"
# what passes, by eighths of a revolution, after "after" and after "over the next"
PARTS: Mapping[int, tuple[str, str]] = MappingProxyType({
    2: ("a quarter of a revolution", "quarter of a revolution"),
    4: ("half a revolution", "half revolution"),
    6: ("three quarters of a revolution", "three quarters of a revolution"),
    8: ("one complete revolution", "complete revolution"),
})  # fmt: skip

# --- the last step of a solution, which says which way it points ---

# by the end of the id of the question; ``way`` is the key, ``back`` its opposite
CLOSING: Mapping[str, str] = MappingProxyType({
    "": "The acceleration is directed towards the centre, so at that moment it points {way}.",
    "-net-force": (
        "The net force has the direction of the acceleration, which is towards the centre, so it points {way}."
    ),
    "-in-return": (
        "By Newton's third law, the two forces of a pair are opposite in direction. The force of the pair that acts on "
        "{body} points {back}, so the one that {body} exerts points {way}."
    ),
    "-set-free": (
        "Just before, the velocity of {body} points along the tangent, in the direction of motion. A velocity cannot "
        "change in an instant, so immediately afterwards {body} moves {way}."
    ),
    "-velocity-later": (
        "The velocity points along the tangent, in the direction of motion. {bends} In {part}, the velocity turns "
        "through {degrees} {sense}: at first it points {now}, and after {part} it points {way}."
    ),
    "-acceleration-later": (
        "The acceleration points towards the centre. {bends} In {part}, the acceleration turns through {degrees} "
        "{sense}: at first it points {now}, and after {part} it points {way}."
    ),
    "-change": (
        "{bends} In {part}, the velocity turns through {degrees} {sense}: at first it points {now}, and at the end it "
        "points {last}. "
        "The change in velocity is the final velocity minus the initial velocity, so it points {way}."
    ),
})  # fmt: skip
# where there is a component along the path as well
CLOSING_ALONG: Mapping[str, str] = MappingProxyType({
    "": (
        "The acceleration has a component towards the centre. The speed is {changing}, so there is also a component "
        "along the path, {along}. The acceleration points {way}."
    ),
    "-net-force": (
        "The net force has the direction of the acceleration. This has a component towards the centre and, because the "
        "speed is {changing}, a component along the path, {along}. The net force points {way}."
    ),
    "-changing-speed": (
        "The direction of the velocity changes, so the acceleration has a component towards the centre. The magnitude "
        "changes as well, so there is also a component along the path, which is {along} because the speed is "
        "{changing}. The acceleration points {way}."
    ),
})  # fmt: skip
IN_PART = "At the moment described in the first part, it points {way}."
BENDS = "The centre lies to the {side} of the direction of motion, so the motion is {sense}{seen}."
# by the turn from the way to the centre to the direction of motion
SENSES: Mapping[int, tuple[str, str]] = MappingProxyType({-1: ("left", "anticlockwise"), 1: ("right", "clockwise")})
FROM_ABOVE = " as seen from above"
CLOSING_UNCHANGED = (
    "After {part}, the velocity points {now} again, as at first. The final velocity is equal to the initial velocity, "
    "so the change in velocity has no direction, because it is zero."
)
ALONG: Mapping[bool, tuple[str, str]] = MappingProxyType({
    True: ("in the direction of motion", "increasing"),
    False: ("opposite to the direction of motion", "decreasing"),
})  # fmt: skip


def opposite(way: str) -> str:
    """The name of the opposite way: west for east."""
    names = next(names for names in WAYS.values() if way in names)
    return names[(names.index(way) + 4) % 8]
