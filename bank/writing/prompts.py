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
