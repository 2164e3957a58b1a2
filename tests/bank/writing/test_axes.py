"""Which way the axes of a diagram point on the page, worked out from where the body is and where it will be.

A vertical circle is seen face on and gone round anticlockwise, but away from the top where the angle is measured from
there; the body lies on its right half. So the inward axis points from the body to the centre, and the forward one from
the body to where it is a moment later.
"""

from __future__ import annotations

from cmath import phase, rect
from math import degrees, pi, radians

import pytest
from turnwright.bank.model.problem import Diagram
from turnwright.bank.writing.directions import axes
from turnwright.bank.writing.view import ForceView, view_of

from tests.bank import models

LITTLE = 1e-6
ANGLE = 25.0
# where the body is: by how much it has turned from the lowest point, anticlockwise; which way it goes on
PLACES = {
    "{at: bottom": (0.0, 1),
    "{at: side": (pi / 2, 1),
    "{at: top": (pi, 1),
    "{at: {angle: theta, from: bottom}": (radians(ANGLE), 1),
    "{at: {angle: theta, from: top}": (pi - radians(ANGLE), -1),
}


def place(turned: float) -> complex:
    """Where a body is on a circle of radius 1, to the right and up from the centre."""
    return rect(1, turned - pi / 2)


def on_page(way: complex) -> float:
    return degrees(phase(way)) % 360


def diagram(at: str) -> tuple[Diagram, list[ForceView]]:
    """A diagram at a place with a force along the way, and the forces as they are drawn."""
    made = models.problem(
        "motion: {plane: vertical, radius: r, speed: v, tangential-acceleration: a_t}\n"
        f"diagrams: {{here: {at}, N: inward, F: forward}}}}\n"
        "quantities: {theta: deg 21 25 33}\n",
        one={"ask": "N", "given": ["m", "r", "v", *(["theta"] if "theta" in at else [])]},
    )
    (found,) = made.diagrams
    return found, list(view_of(made, found, made.scenes[0]).forces)


@pytest.mark.parametrize("at", PLACES)
def test_the_axes_point_to_the_centre_and_to_where_the_body_will_be(at: str) -> None:
    found, _ = diagram(at)
    turned, onward = PLACES[at]
    here, later = place(turned), place(turned + onward * LITTLE)
    drawn = axes("vertical", found, ANGLE)
    assert drawn.inward == pytest.approx(on_page(-here), abs=1e-6)
    assert drawn.second == pytest.approx(on_page(later - here) % 360, abs=1e-3)


@pytest.mark.parametrize("at", [each for each in PLACES if "theta" not in each])
def test_a_force_along_the_way_is_drawn_to_that_side(at: str) -> None:
    _, forces = diagram(at)
    turned, onward = PLACES[at]
    way = on_page(place(turned + onward * LITTLE) - place(turned))
    (driving,) = [each for each in forces if each.name == "force-f"]
    assert driving.direction == pytest.approx(way, abs=0.01)
