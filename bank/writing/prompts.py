"""What questions about a diagram ask and offer, as whole sentences; a question fills their gaps."""

from __future__ import annotations

# --- which number, which expression ---

WHICH_NUMBER = "Choose the correct value."
WHICH_EXPRESSION = "Which of these equations is correct?"

# --- which forces, which diagram, which equation ---

WHICH_FORCES = "Which of these forces act on {body} {place}? Choose all that apply."
FORCE_BY = "the {force} exerted by {agent} on {body}"
OTHER_NAMES = {"weight": "gravitational force", "tension": "pull"}  # as a force of one body on another
FRICTION, GRAVITY = "frictional force", "gravitational force"
NO_FORCE = {
    "outward": ("the centrifugal force{by} on {body}", "the outward force{by} on {body}"),
    "inward": ("the centripetal force{by} on {body}",),
    "forward": ("the forward force{by} on {body}", "the driving force{by} on {body}"),
}
SAID_BY = " exerted by {agent}"
FEWEST_FORCES = 3  # to choose from
FORCE_ACTS = "Yes: {agent} exerts this force."
MADE_UP = {"outward": "outward force", "inward": "centripetal force", "forward": "driving force"}
WHICH_DIAGRAM = "Which is the correct force diagram for {body} {place}?"
WHICH_MAY_BE = "Which diagram could be the correct force diagram for {body} {place}?"
WHICH_EQUATION = "Which equation is correct for {body} {place}, taking the direction towards the centre as positive?"
# of a part of a question about a limiting case
IN_GENERAL = "Consider the motion in general, not only at this limit. "
AND_ANY = IN_GENERAL[:-2] + "; {asked} is then the {name}, whatever its value. "

# --- the last step of a solution, which says the answer ---

ANSWER = "Answer"
ONE_FORCE = "Of the forces listed, only this one acts on {body}: {forces}."
FORCES = "Of the forces listed, these act on {body}: {forces}."
DIAGRAM = "The correct diagram shows exactly {count}: {forces}."
MAY_BE = "The only one of these diagrams that can be correct shows exactly {count}: {forces}."
DRAWN_FORCE = "the {force} {label} ({direction})"
EQUATION = (
    "Components towards the centre are positive, and those away from it are negative. The correct equation is {row}."
)
EXPRESSION = "The correct equation is {row}."
