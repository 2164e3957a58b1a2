"""Questions that match situations of one structure: what is asked, how a situation is told, the equation they share."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

MATCH = (
    "For the body in each situation, write Newton's second law in components: along the radius, with the direction "
    "towards the centre as positive, and perpendicular to it. Measure all angles from the vertical. Two situations "
    "match if their equations become identical when the same symbols are used for the forces, angles and other "
    "quantities. "
    "Match each of the first three situations with one of the other four. One of the four is left over."
)
FEEDBACK = (
    "Draw the force diagram of each body. Write net force = m a towards the centre and then perpendicular to the "
    "radius, and compare signs and angles. The names of the forces do not matter."
)
# seven stories, each with a caution of its own, are a page; nobody tries seven things at once
CAUTION = (
    "These situations are for written work only. Bodies that move fast can cause injury: leave demonstrations to a "
    "teacher."
)
SITUATION = "{story}"
OF_SEVERAL = "{story} Consider {body}."
AT_A_PLACE = "{story} Consider {body} {place}."

# --- the last step of the solution ---

HEADING = "The equations that each pair shares"
LETTERS = "In these equations, {letters}."
LETTER = "{letter} is {meaning}"
# what the letters stand for that belong to no story, in the order in which they are told
MEANINGS: Mapping[str, str] = MappingProxyType(
    {
        "m": "the mass of the body",
        "v": "its speed",
        "r": "the radius of its circle",
        "a_t": "the component of its acceleration along the path",
        "theta": "the angle from the vertical",
        "g": "the gravitational field strength",
        "G": "the gravitational constant",
        "M": "the mass of the central body",
        "d": "the distance between the two bodies",
        "k": "the Coulomb constant",
        "q": "the magnitude of the charge",
        "Q": "the magnitude of the other charge",
        "B": "the magnetic flux density",
    }
)
PAIR = "{Body} {place} and {other_body} {other_place} match. The equations of both are {equation}{across}."
PAIR_OF_ONE = "{Body} {place} and {other_body} {other_place} match. The equation of both is {equation}."
LEFT_OVER = "{Body} {place} is left over, because no other situation has its equations: {equation}{across}."
LEFT_OVER_OF_ONE = "{Body} {place} is left over, because no other situation has this equation alone: {equation}."
ACROSS = " and {second}"
HERE = " For {body}, {first}; for {other_body}, {second}."
HERE_ALONE = " For {body}, {first}."
STANDS_FOR = "{letter} is the {force} exerted by {agent}"
