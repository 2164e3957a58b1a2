"""What questions about a diagram ask and offer, as whole sentences; a question fills their gaps."""

from __future__ import annotations

# --- which number, which expression ---

CHOOSE_NUMBER = "Choose the {name}."
WHICH_EXPRESSION = "Which expression gives the {name}?"

# --- which forces, which diagram, which equation ---

WHICH_FORCES = "Which forces act on {body} {place}? Choose all that do."
FORCE_BY = "{force}, by {agent}"
FORCE_ACTS = "Yes: {agent} {acts} it."
MADE_UP = {"outward": "outward force", "inward": "centripetal force", "forward": "driving force"}
WHICH_DIAGRAM = "Which force diagram of {body} {place} is right?"
WHICH_EQUATION = "{Place}, which equation is right along the inward axis of {body}?"

# --- the same problem in other stories ---

MATCH = (
    "Two situations are the same problem when their equations of net force, along the inward axis and across it, are "
    "the same but for names. Match each situation with the one that is the same problem. One is left over."
)
MATCH_FEEDBACK = (
    "Draw the force diagram of each, write net force = m a along the inward axis and then across it, and compare signs "
    "and angles; what a force is called does not count."
)
MATCH_STEP = "The same but for names, pair by pair"
SITUATION = "{title}: {body} {place} ({forces})"
FORCE_OF_SITUATION = "{force} by {agent}"
ITS_EQUATION = "{Body} {place}: {equation}"
ITS_EQUATIONS = "{Body} {place}: {equation} and {second}"
