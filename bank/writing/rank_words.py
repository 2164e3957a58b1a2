"""Questions that put cases in order: what is asked, and the lines that compare the cases in ratios."""

from __future__ import annotations

# two forms of the asking; a scene has one of them
ASKING = (
    "Four cases differ only in the {first_means} {first} and the {second_means} {second}. Rank the cases by the "
    "{name}, from smallest to largest.",
    "Rank these four cases by the {name}, from smallest to largest. They differ only in the {first_means} {first} and "
    "the {second_means} {second}.",
)
HINT = "Write the {name} in letters first. By what factor does each of the two quantities change it?"

CASE = "{first} = {first_value}, {second} = {second_value}"
HEADING = "Compare the cases as ratios"
LAW = (
    "With all else alike, {asked} is proportional to {law}. Put in {first} as a multiple of {first_value}, and "
    "{second} as a multiple of {second_value}."
)
WORKED = "{first} = {first_value}, {second} = {second_value}: {worked}"
