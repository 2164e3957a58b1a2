"""What a question about measured values says, and what its solution says of the straight line."""

from __future__ import annotations

MEASURED = "The {name} {asked}{end} is measured for several values of the {means} {letter}{tail}."
HELD = "In all measurements, {held}."
UNCHANGED = {1: "{Kept} is the same in all measurements.", 2: "{Kept} are the same in all measurements."}
CONVERTED = "Each value of {letter} is converted to {unit}."
SCATTER = "The table shows the measured values. The uncertainty in each value of {asked} is about {percent} %."
ASKING = "Plot a suitable straight-line graph, and use its gradient to determine the {name} {wanted}{end}."

HEADING, RESULT = "Straight-line graph", "Gradient of the line"
ORIGIN, BESIDE = "a straight line through the origin", "a straight line that does not pass through the origin"
LAW = (
    "In theory, {row}. With {up} on the vertical axis and {across} on the horizontal axis, the points should lie close "
    "to {line}."
)
SLOPE = "The gradient of this line is equal to {slope}."
FITTED = "The least-squares line has a gradient of {slope}."
FITTED_FROM_ORIGIN = "The least-squares line through the origin has a gradient of {slope}."
HENCE = "Hence {row}."

TITLE = "Graph of {up} against {across} with the line of best fit"
ALTERNATIVE = "{title}. {count} crosses lie close to a straight line that {way}."
RISES, FALLS = "rises", "falls"
