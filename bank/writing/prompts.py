"""What questions about a diagram ask and offer, as whole sentences; a question fills their gaps."""

from __future__ import annotations

# --- which number, which expression ---

WHICH_NUMBER = "Which of these values is correct?"
WHICH_EXPRESSION = "Which expression gives the {name}?"

# --- which forces, which diagram, which equation ---

WHICH_FORCES = "Which forces act on {body} {place}? Choose all that apply."
FORCE_BY = "{force}, exerted by {agent}"
FORCE_ACTS = "Yes: {agent} exerts this force."
MADE_UP = {"outward": "outward force", "inward": "centripetal force", "forward": "driving force"}
WHICH_DIAGRAM = "Which is the correct force diagram for {body} {place}?"
WHICH_EQUATION = "Which equation is correct for {body} {place}, taking the direction towards the centre as positive?"
