"""What a candidate is told about a wrong answer, as whole sentences; ``thinking.advice`` chooses and fills them."""

from __future__ import annotations

from typing import Literal, TypeAlias

Stage: TypeAlias = Literal[
    "forces", "contact", "components", "acceleration", "direction", "radius", "energy",
    "limit", "given", "units", "calculator", "last-step", "power",
]  # fmt: skip

ONE = "Your answer matches this thinking: “{thought}” {advice}"
SEVERAL = "Several different mistakes can lead to this answer. {advice}"
BOTH = "This option contains more than one mistake. {advice}"

# What helps whichever of the mistakes of one stage it was.
NEXT_MOVE: dict[Stage, str] = {
    "forces": "List the forces again, each with the body that exerts it, and mark which way each one points.",
    "contact": "Write one equation for each axis, and get every force from the equations.",
    "components": "Mark the angle in your sketch, and resolve each inclined force into its two components again.",
    "acceleration": "Write down the acceleration in symbols, and check its unit, before you put any number in.",
    "direction": "Draw the velocity a moment earlier and a moment later, and compare the two arrows.",
    "radius": "Mark in your sketch from where to where the radius goes, and give it a line of its own.",
    "energy": "Write down the energies at both places, one line each, before you put any number in.",
    "limit": "Say in words what is special about the limiting case, and then write it as an equation.",
    "given": "Write down each given value with its name and its unit, and compare them with the text.",
    "units": "Convert every given value to SI units first, each on a line of its own.",
    "calculator": "Check the last calculation once more, and the settings of your calculator.",
    "last-step": "Solve your equation once more for the quantity that is asked for, and check the unit of the result.",
    "power": "Find the quantity in the expression for the answer. Where does it stand, and to which power?",
}
ONWARDS = "Check your working line by line, starting with {place}."
PLACES: dict[Stage, str] = {
    "forces": "the forces in your diagram",
    "contact": "the magnitude of each contact force",
    "components": "the components of each inclined force",
    "acceleration": "the acceleration",
    "direction": "the direction of the acceleration",
    "radius": "the radius",
    "energy": "the energies at both places",
    "limit": "the equation of the limiting case",
    "given": "the given values",
    "units": "the units of the given values",
    "calculator": "the settings of your calculator",
    "last-step": "the last step of your algebra",
    "power": "the power to which the quantity stands in the expression",
}
