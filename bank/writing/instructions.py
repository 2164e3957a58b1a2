"""What stands around the questions of a pack or a paper: how to answer, what an answer is told, what a marker is told.

Sentences only: the rooms that write packs and papers decide which of them are needed.
"""

from __future__ import annotations

# --- how to answer, in a pack ---

SEVERAL = "Choose all the correct options. There may be more than one."
TYPE_NUMBERS = (
    "Type each answer as a number in the unit printed after the box. Do not type the unit.",
    "Use digits and a decimal point: no comma and no spaces. A minus sign is typed as a hyphen.",
    "A power of ten may be typed with the letter e: 1.2e3 means 1200.",
)
SEVERAL_SHARES = (
    "Where several options may be chosen, each option that is correctly chosen or correctly left out earns an equal "
    "share of the marks. Choose at least one option."
)
ORDER_MARKS = (
    "The correct order earns all the marks. An order in which only two neighbouring entries are exchanged earns half "
    "of them."
)
MATCH_MARKS = "In a matching question, each correct pair earns an equal share of the marks."
PARTNERS_AGAIN = "A partner may be used more than once."

MINUTES = "You have {minutes} for all questions together."
ATTEMPTS = "You have {attempts} at each question."
ENDLESS = "You may answer each question as often as you like."
SOLUTION = "Once you have answered, the worked solution appears."
PARTS = "In a question with several parts, it appears once every part has been answered."
HINTS = "Asking for a hint costs no marks."
HINTS_UNCOUNTED = "Asking for a hint costs no marks and does not count as an attempt."

GIVE_FIGURES = "Give the answer to {figures}, with a decimal point where one is needed."
GIVE_FIGURES_POWER = "{give} A power of ten is typed with the letter e: 2.5 × 10⁻⁷ as 2.5e-7."
GIVE_TYPED = "{give} Type no comma and no spaces."
GIVE_LISTED = (
    "Give the answer to {figures} or {more} significant figures. Type the number only, with a decimal point where one "
    "is needed and without spaces."
)
POWER_TYPED = "{give} A power of ten is typed as in 1.2e3."
TYPE_IN = "Type the {name}, {symbol}, in {unit}, without the unit."
TYPE = "Type the {name}, {symbol}."
STATE_IN = "State the {name}, {symbol}, in {unit}."
STATE = "State the {name}, {symbol}."
WITH_WORKING = "Give it to {figures}. Show your working, and explain each step in words."
DEGREES = "degrees (°)"

# --- what an answer is told ---

NUMBER_TYPED = "Type digits and a decimal point, without the unit."
NUMBER_UNREAD = f"No number was read. {NUMBER_TYPED}"
NUMBER_RIGHT = "Right: your answer lies within the tolerance."
NUMBER_CARRIED = (
    "This number follows from your answer to an earlier part, so it earns its marks here. Correct the "
    "earlier part, and then work this one out again."
)
NUMBER_WRONG = "Your answer does not lie within the tolerance."
COMPARE = "Compare your working with the worked solution."
FIND = "Find the first step of the worked solution that differs from your working."
CHECK_FIGURES = "Check the number of significant figures and the unit as well."
NOTHING_CHOSEN = "No option was chosen."
WRONG_OPTION = "This option is not correct."
SEVERAL_RIGHT = "Right: you chose all the correct options and no others."
SEVERAL_PARTLY = "You chose an incorrect option or left out a correct one."
NOT_RIGHT = "This answer is not correct."
NOT_ALL = "This answer is not correct, or not complete."
NOTHING_MATCHED = "Nothing was matched."
MATCH_RIGHT = "Right: all pairs are correct."
MATCH_PARTLY = "Not all pairs are correct."
NOTHING_ORDERED = "Nothing was put in order."
ORDER_RIGHT = "Right: the order is correct."
ORDER_NEARLY = "Two neighbouring entries are exchanged; the others are in the correct place."
ORDER_WRONG = "This order is not correct."

# --- where a format cannot ask for an order or for pairs ---

WHICH_ORDER = "Which order is correct?"
REVERSED = "This order is reversed."
EXCHANGED = "In this order, two neighbouring entries are exchanged."
REVERSED_AND_EXCHANGED = "This order is reversed, and two neighbouring entries are exchanged."
WHICH_PARTNER = "Which of these goes with the following? "

# --- on paper ---

CHOOSE_ONE = "Choose one."
CHOOSE_SEVERAL = "Choose all the correct options. There may be more than one."
IN_ORDER = "Write the letters in the correct order."
PARTNERS = "Write a letter beside each number. A letter may be used more than once."
CALCULATE = "Calculate the {name}."
SHOW_WORKING = "Show your working: a correct step earns its marks even if the final answer is wrong."
NO_DESIGN = (
    "These calculations are for teaching. They are not a design, a rating or an operating limit of a road, ride or "
    "rig: those are for local regulations and licensed engineers to decide."
)

# --- for those who mark ---

MARKS_OF_NUMBER = (
    "The marks in brackets stand beside the step that earns them: one for each equation set up, one for the algebra "
    "and one for the number. Steps without a mark are given by the figure or are not asked for.",
    "Allow error carried forward: a wrong value that is then used correctly loses no further marks. Award the same "
    "marks for any other valid method.",
    "Accept any number within the range of the key, which allows for rounding of intermediate results.",
)
MARKS_OF_SEVERAL = (
    "Where several options may be chosen, each option that is correctly chosen or correctly left out earns an equal "
    "share of the marks; award none where no option is chosen."
)
PROPOSAL = "The marks are a proposal: your department's own rules come first."
