"""What a candidate is told about a wrong answer, as whole sentences; ``thinking.advice`` chooses and fills them."""

from __future__ import annotations

from typing import Literal, TypeAlias

Stage: TypeAlias = Literal[
    "forces", "contact", "components", "acceleration", "direction", "radius", "way-round", "spring", "energy",
    "limit", "given", "units", "calculator", "last-step", "power",
]  # fmt: skip

ONE = "Your answer corresponds to this statement: “{thought}” {advice}"
SEVERAL = "Several different mistakes can lead to this answer. {advice}"
BOTH = "This option contains more than one mistake. {advice}"
# All forces turned round at once, which is one thought.
OTHER_SIDE = "The centre of the circle is on the other side of {body}."
# A letter of m a that stands where it should not.
CHECK_UNIT = "Check the units: does the right-hand side have the unit of a force?"
WHICH_SIDE = "In which direction does the path bend here?"

# What helps whichever of the mistakes of one stage it was.
NEXT_MOVE: dict[Stage, str] = {
    "forces": "List the forces again, each with the object that exerts it, and mark which way each one points.",
    "contact": "Write Newton's second law along each axis, and find every force from these equations.",
    "components": "Mark the angle in your sketch, and resolve the forces into components again.",
    "acceleration": "Write down the acceleration in symbols, and check its unit, before you substitute any numbers.",
    "direction": "Draw the velocity a moment earlier and a moment later, and compare the two arrows.",
    "radius": "Mark the radius of the circle in your sketch, and write it down on a line of its own.",
    "way-round": "Sketch the path, and mark the distance travelled in one revolution.",
    "spring": "Mark the length and the unstretched length of the spring in your sketch.",
    "energy": "Write down the kinetic and the potential energy at both points before you substitute any numbers.",
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
    "way-round": "the distance travelled in one revolution",
    "spring": "the extension of the spring",
    "energy": "the energies at both points",
    "limit": "the limiting condition",
    "given": "the given values",
    "units": "the units",
    "calculator": "the calculation with the angle",
    "last-step": "the last step of your algebra",
    "power": "the power of the quantity in the expression",
}
