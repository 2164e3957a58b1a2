"""Questions that match situations of one structure: what is asked, how a situation is told, the equation they share."""

from __future__ import annotations

MATCH = (
    "Write Newton's second law for the body in each situation, along the radius and perpendicular to it. Two "
    "situations match if their equations have the same form, even if the symbols differ. Match each of the first three "
    "situations with one of the other four. One of the four is left over."
)
FEEDBACK = (
    "Draw the force diagram of each body. Write net force = m a towards the centre and then perpendicular to the "
    "radius, and compare signs and angles. The names of the forces do not matter."
)
HEADING = "The equations that each pair shares"
SITUATION = "{story}"
OF_SEVERAL = "{story} Consider {body}."
AT_A_PLACE = "{story} Consider {body} {place}."
FORCE = "{force} exerted by {agent}"
SHARED_ONE = "{Body} {place}, and {other_body} {other_place}: {equation}"
SHARED_TWO = "{Body} {place}, and {other_body} {other_place}: {equation} and {second}"
STANDS_FOR = "Here {letter} is the {first} in the first situation and the {second} in the second."
STANDS_FOR_ALIKE = (
    "Here {letter} is the {name}, exerted by {first} in the first situation and by {second} in the second."
)
