"""What a candidate is told about a wrong answer, as whole sentences; ``thinking.advice`` chooses and fills them."""

from __future__ import annotations

from typing import Literal, TypeAlias

Stage: TypeAlias = Literal[
    "forces", "contact", "components", "acceleration", "direction", "radius", "way-round", "arc", "spring", "energy",
    "two-states", "limit", "given", "units", "calculator", "last-step", "power",
]  # fmt: skip

ONE = "Your answer corresponds to this statement: “{thought}” {advice}"
SEVERAL = "Several different mistakes can lead to this answer. {advice}"
BOTH = "This option contains more than one mistake. {advice}"
# All forces turned round at once, which is one thought.
OTHER_SIDE = "The centre of the circle is on the other side of {body}."
# A letter of m a that stands where it should not.
CHECK_UNIT = "Check the units: does the right-hand side have the unit of a force?"
# The units of an equation with more than one such letter.
CHECK_UNITS = "Write down the unit of each symbol. Do the two sides of the equation have the same unit?"
# A force that may act either way, whose letter is positive towards the centre.
OTHER_SENSE = "{force} acts away from the centre here, so its term has a minus sign."
WHICH_SENSE = (
    "In this question, {force} is taken as positive towards the centre. Which sign does its term then have, even where "
    "the force acts away from the centre?"
)
WHICH_SIDE = "In which direction does the path bend here?"

# What helps whichever of the mistakes of one stage it was.
NEXT_MOVE: dict[Stage, str] = {
    "forces": "List the forces again, each with the object that exerts it, and mark which way each one points.",
    "contact": "Write Newton's second law along each axis, and find every force from these equations.",
    "components": "Mark the angle in your sketch, and resolve the forces into components again.",
    "acceleration": "Write down the acceleration in symbols, and check its unit, before you substitute any numbers.",
    "direction": "Draw the velocity a moment earlier and a moment later, and compare the two arrows.",
    "radius": "Mark the radius of the circle in your sketch, and write it down on a line of its own.",
    "way-round": "Write down in symbols what one revolution is: a distance round the circle, or an angle in radians.",
    "arc": "Sketch the arc, and mark the distance along it and the displacement.",
    "spring": "Mark the length and the unstretched length of the spring in your sketch.",
    "energy": "Write down the kinetic and the potential energy at both points before you substitute any numbers.",
    "two-states": "List the angular speed at the start and at the end, and write down the equation in symbols.",
    "limit": "State the limiting condition in words, and then write it as an equation.",
    "given": "List each given value with its name and its unit, and compare the list with the question.",
    "units": "Check the unit of each quantity, and convert where necessary.",
    "calculator": "Repeat the calculation with the angle, and check the angle setting of your calculator.",
    "last-step": "Solve your equation again, line by line, for the quantity that is asked for.",
    "power": "Does the expression for the answer contain this quantity? If so, to which power?",
}
ONWARDS = "Check your working line by line, starting with {place}."
PLACES: dict[Stage, str] = {
    "forces": "the forces in your diagram",
    "contact": "the magnitude of each force",
    "components": "the components of the forces",
    "acceleration": "the acceleration",
    "direction": "the direction of the acceleration",
    "radius": "the radius",
    "way-round": "the distance or the angle of one revolution",
    "arc": "the distance and the displacement",
    "spring": "the extension of the spring",
    "energy": "the energies at both points",
    "two-states": "the angular speeds at the start and at the end",
    "limit": "the limiting condition",
    "given": "the given values",
    "units": "the units",
    "calculator": "the calculation with the angle",
    "last-step": "the last step of your algebra",
    "power": "the power of the quantity in the expression",
}
