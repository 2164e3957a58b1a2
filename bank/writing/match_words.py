"""Questions that match situations of one structure: what is asked, how a situation is told, the equation they share."""

from __future__ import annotations

MATCH = (
    "Two situations have the same structure if the equations of net force, along the inward axis and across it, are "
    "the same apart from the symbols. Match each situation with the one of the same structure. One is left over."
)
FEEDBACK = (
    "Draw the force diagram of each. Write net force = m a along the inward axis and then across it, and compare signs "
    "and angles. The names of the forces do not matter."
)
HEADING = "The equations that each pair shares"
SITUATION = "{title}: {body} {place} ({forces})"
FORCE = "{force} by {agent}"
SHARED_ONE = "{Body} {place}, and {other_body} {other_place}: {equation}"
SHARED_TWO = "{Body} {place}, and {other_body} {other_place}: {equation} and {second}"
STANDS_FOR = "Here {letter} is {first} in the first and {second} in the second."
