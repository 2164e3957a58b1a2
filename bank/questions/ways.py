"""Which way something points, worked out as vectors from the force diagram.

A way is counted in eighths of a turn from inward towards forward: 0 inward, 2 forward, 4 outward, 6 backward; None is
no way at all.
"""

from __future__ import annotations

from math import atan2, cos, degrees, radians, sin
from typing import TypeAlias

from ..writing.directions import axes
from ..writing.view import typical_angle
from .about import About

Way: TypeAlias = int | None
INWARD, FORWARD, OUTWARD, BACKWARD = 0, 2, 4, 6
NONE_SEEN = 0.02  # of a component, as a share of the whole


def way_of(inward: float, forward: float) -> Way:
    """The way of a vector with these components."""
    size = (inward**2 + forward**2) ** 0.5
    if size < NONE_SEEN:
        return None
    first, second = (0.0 if abs(part) < NONE_SEEN * size else part for part in (inward, forward))
    if first and second:
        return {(True, True): 1, (False, True): 3, (False, False): 5, (True, False): 7}[first > 0, second > 0]
    return round(degrees(atan2(second, first)) / 45) % 8


def components(about: About, page: float) -> tuple[float, float]:
    """The components along inward and forward of a direction of the force diagram; a level circle is seen edge on."""
    on_page = axes(about.problem.motion.plane, about.diagram, typical_angle(about.problem, about.diagram))
    inward = cos(radians(page - (on_page.inward or 0.0)))
    if about.problem.motion.plane == "horizontal":
        return inward, 0.0
    return inward, cos(radians(page - on_page.second))


def net_way(about: About) -> Way:
    """The way of the net force: the sum of the forces of the diagram, as long as their arrows."""
    x = sum(force.length * cos(radians(force.direction)) for force in about.view.forces)
    y = sum(force.length * sin(radians(force.direction)) for force in about.view.forces)
    size = (x**2 + y**2) ** 0.5
    if size < NONE_SEEN:
        return None
    return way_of(*components(about, degrees(atan2(y, x))))


def acceleration_way(about: About) -> Way:
    """The way of the acceleration."""
    page = about.view.acceleration
    return None if page is None else way_of(*components(about, page))


def speeds_up(about: About) -> bool | None:
    """Whether the acceleration has a component in the direction of motion; None where it has none along the path."""
    way = acceleration_way(about)
    return None if way is None or way in (INWARD, OUTWARD) else way < OUTWARD


def change_way(eighths: int) -> Way:
    """The way of the last velocity less the first one; on the circle velocity turns from forward towards inward."""
    first, last = radians(45 * FORWARD), radians(45 * (FORWARD - eighths))
    return way_of(cos(last) - cos(first), sin(last) - sin(first))
