"""Where the axes of a diagram lie on the page, and directions in words.

Page directions are degrees anticlockwise from the right. A vertical circle is seen face on, with the body on its right
half where the place is not the top or the bottom; a horizontal circle is seen from the side, its centre to the right.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin

from ..model.problem import Diagram

_PLACES = {
    "top": "at the top of the circle",
    "bottom": "at the bottom of the circle",
    "side": "at the height of the centre of the circle",
    "level": "moving in a horizontal circle",
    "space": "on the circular path",
    "rest": "at rest",
}
_INWARD_WORDS = {
    "top": "vertically downwards",
    "bottom": "vertically upwards",
    "side": "horizontally, towards the centre",
    "angle": "along the radius, towards the centre",
    "level": "horizontally, towards the centre",
    "space": "towards the centre",
}
NEGLIGIBLE = 0.02


@dataclass(frozen=True)
class Axes:
    """The two axes on the page: ``inward`` (None at rest) and ``second`` (up or forward), in degrees.

    ``upright`` tells whether up and down mean anything there; in space they do not.
    """

    inward: float | None
    second: float
    second_label: str
    upright: bool = True

    def page(self, inward: float, second: float) -> float:
        """The page direction of a vector with these parts along the axes."""
        first = radians(self.inward if self.inward is not None else 0.0)
        other = radians(self.second)
        x = inward * cos(first) + second * cos(other)
        y = inward * sin(first) + second * sin(other)
        return round(degrees(atan2(y, x)) % 360, 3)


def axes(plane: str, diagram: Diagram, angle: float) -> Axes:
    """The axes of a diagram; ``angle`` (degrees) is used where the place on the circle is given by one."""
    if diagram.spot == "rest":
        return Axes(None, 90.0, "up")
    if plane == "horizontal":
        return Axes(0.0, 90.0, "up")
    lowest = {"bottom": 0.0, "side": 90.0, "top": 180.0, "space": 180.0}.get(diagram.spot)
    if lowest is None:
        lowest = angle if diagram.angle_from == "bottom" else 180.0 - angle
    # forward is anticlockwise round the circle, but away from the top where the angle is measured from there
    forward = lowest + (180.0 if diagram.angle_from == "top" else 0.0)
    return Axes((90.0 + lowest) % 360, forward % 360, "forward", upright=diagram.spot != "space")


def place_words(diagram: Diagram) -> str:
    """The place as it ends a sentence: ``at the top of the circle``."""
    if diagram.place:
        return diagram.place
    if diagram.spot == "angle":
        half = "lower" if diagram.angle_from == "bottom" else "upper"
        return f"on the {half} half of the circle"
    return _PLACES[diagram.spot]


def placeless(diagram: Diagram, name: str) -> str:
    """``tension`` for the tension at the top."""
    return name.removesuffix(diagram.apart)


def inward_words(diagram: Diagram) -> str:
    """Which way the centre lies: ``vertically downwards``."""
    return _INWARD_WORDS[diagram.spot]


def words(axes: Axes, page: float) -> str:
    """A page direction in words: ``vertically downwards, towards the centre``; ``upwards at an angle``."""
    upright = _upright(page) if axes.upright else ""
    if axes.inward is None:
        return upright
    towards = cos(radians(page - axes.inward))
    side = "towards the centre" if towards > 0 else "away from the centre"
    if abs(towards) < NEGLIGIBLE:
        return upright if upright.startswith("vertically") else _along_path(axes, page)
    if abs(towards) > 1 - NEGLIGIBLE / 10:
        return f"{upright}, {side}" if upright.startswith("vertically") else side
    return f"{upright}, partly {side}"


def _along_path(axes: Axes, page: float) -> str:
    onward = cos(radians(page - axes.second)) > 0
    return f"along the path, {'in' if onward else 'opposite to'} the direction of motion"


def _upright(page: float) -> str:
    height = sin(radians(page))
    if abs(height) > 1 - NEGLIGIBLE / 10:
        return "vertically upwards" if height > 0 else "vertically downwards"
    if abs(height) < NEGLIGIBLE:
        return "horizontally"
    return "upwards at an angle" if height > 0 else "downwards at an angle"
