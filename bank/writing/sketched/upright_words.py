"""Settings of vertical circles in words."""

from __future__ import annotations

from collections.abc import Mapping

_RAMP = "A ramp leads down to a vertical circular loop of {track}. {{Body}} on the inside of the loop, {{place}}."
_HUMP = "{Body} on the highest point of a "
_DIP = "{Body} at the lowest point of a dip in a "
_DOME = "{Body} on the outside of a "
_SWING = "{Body} on a cord from {above}, with the arc along which it swings"
_RELEASED = "{{Body}} on a cord from {above}: pulled aside with the cord taut, and at the lowest point of its arc."

SETTINGS: Mapping[str, str] = {
    "loop": "{Body} on the inside of a vertical circular loop of track, {place}.",
    "flown-loop": "An aircraft with {body} high above the ground, {place}. Its top is towards the centre.",
    "ramp-and-loop": _RAMP.format(track="track"),
    "ride-ramp-and-loop": _RAMP.format(track="track on posts"),
    "full-pipe": "{Body} on the inside of a pipe, which is a whole circle in section, {place}.",
    "half-pipe": "{Body} in a half-pipe with a deck on both sides, {place}.",
    "channel": "{Body} in a curved channel on two feet, {place}.",
    "hump-bridge": _HUMP + "humpback bridge over water. The road over it is an arc of a circle.",
    "hump-grass": _HUMP + "grassy mound with a flag, whose top is an arc of a circle.",
    "hump-track": _HUMP + "hump in a track on posts, which is an arc of a circle.",
    "dip-road": _DIP + "road with trees. The bottom of the dip is an arc of a circle.",
    "dip-coaster": _DIP + "track on a lattice of posts. The bottom of the dip is an arc of a circle.",
    "dip-track": _DIP + "track on posts. The bottom of the dip is an arc of a circle.",
    "dome-bowl": _DOME + "bowl that stands upside down, at one side of its top.",
    "dome-museum": _DOME + "dome that is a hemisphere, at one side of its top.",
    "dome-observatory": _DOME + "dome with a slit, a hemisphere, at one side of its top.",
    "swung-by-hand": "Somebody on the ground swings {body} on a cord in a vertical circle about one hand, {place}.",
    "cord-from-a-pin": "{Body} on a cord from a pin at the centre of a vertical circle, {place}.",
    "rod-on-a-pin": "{Body} at the end of a rod that turns about a pin at the centre of a vertical circle, {place}.",
    "arm-on-an-axle": "{Body} at the end of an arm on a stand, {place}. The arm turns about an axle at the centre.",
    "swing-ceiling": _SWING.replace("{above}", "above") + ", {place}.",
    "swing-beam": _SWING.replace("{above}", "a beam") + ", {place}.",
    "swing-scaffold": _SWING.replace("{above}", "a scaffold") + ", {place}.",
    "released-branch": _RELEASED.format(above="a branch"),
    "released-ceiling": _RELEASED.format(above="a ceiling"),
    "released-beam": _RELEASED.format(above="a beam"),
    "big-wheel": "A big wheel with eight cabins on a stand. {Body} in one of them, {place}.",
    "wheel-of-shelves": "A vertical wheel with eight shelves on a stand. {Body} on one of them, {place}.",
}
