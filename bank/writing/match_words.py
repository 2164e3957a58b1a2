"""Questions that match situations of one structure: what is asked, how a situation is told, the equation they share."""

from __future__ import annotations

MATCH = (
    "For the body in each situation, write Newton's second law along the radius, taking the direction towards the "
    "centre as positive, and perpendicular to the radius. Measure all angles from the vertical. Two situations match "
    "if their equations become identical when the same symbols are used for the forces, angles and other quantities. "
    "Match each of the first three situations with one of the other four. One of the four is left over."
)
FEEDBACK = (
    "Draw the force diagram of each body. Write net force = m a towards the centre and then perpendicular to the "
    "radius, and compare signs and angles. The names of the forces do not matter."
)
SITUATION = "{story}"
OF_SEVERAL = "{story} Consider {body}."
AT_A_PLACE = "{story} Consider {body} {place}."

# --- the last step of the solution ---

HEADING = "The equations that each pair shares"
PAIR = "{Body} {place} and {other_body} {other_place} match. The equations of both are {equation}{across}."
PAIR_OF_ONE = "{Body} {place} and {other_body} {other_place} match. The equation of both is {equation}."
LEFT_OVER = "{Body} {place} is left over, because no other situation has its equations: {equation}{across}."
LEFT_OVER_OF_ONE = "{Body} {place} is left over, because no other situation has its equation: {equation}."
ACROSS = " and {second}"
HERE = " For {body}, {first}; for {other_body}, {second}."
STANDS_FOR = "{letter} is the {force} exerted by {agent}"
