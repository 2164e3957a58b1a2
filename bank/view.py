"""What is to be seen in a force diagram: directions on the page and the words for them, before any layout.

Page directions are degrees, anticlockwise from the right: 0 points right, 90 up, 180 left, 270 down.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, sin
from typing import Literal, TypeAlias

from turnwright.bank import formula

Setting: TypeAlias = Literal["vertical-circle", "level-circle", "at-rest"]
LEVEL = 0.02  # the sine of an angle that nobody sees


@dataclass(frozen=True)
class ForceView:
    """One force on the body: ``name`` ("tension") by ``agent`` ("the cord"), which ``verb`` ("pulls" or "pushes").

    ``length`` is the magnitude over that of the longest force of the diagram, 0 to 1 (beyond, the nearer of the two);
    a small force is drawn with the least length that can be seen. ``direction_words`` finish "the tension ...":
    "straight down, towards the centre".
    """

    label: formula.Node
    name: str
    agent: str
    verb: str
    direction: float
    length: float
    direction_words: str


@dataclass(frozen=True)
class AngleView:
    """An angle at the body between two page directions; ``words``: "theta between the cord and the vertical"."""

    label: formula.Node
    start: float
    end: float
    words: str


@dataclass(frozen=True)
class DiagramView:
    """One body with all the forces on it.

    ``body`` ("the paper lantern") and ``place`` ("at the top of a vertical circle", "at rest") are read one after the
    other. ``inward`` is None for a body at rest, ``acceleration`` None where it is zero or not to be shown.
    A level circle whose ``inward`` lies level on the page is seen from the side, any other circle face on.
    ``surface`` is the direction of the line of a road, bank or wall, and ``surface_words`` finish "a hatched line shows
    ..."; the body lies on that side of it to which a pushing force at a right angle points, else above it.
    ``second_axis_label`` ("up") stands at the end of the second axis; ``inward_words`` and ``second_axis_words``
    ("straight up") finish "which points ...".
    """

    body: str
    place: str
    setting: Setting
    inward: float | None
    inward_words: str
    acceleration: float | None
    acceleration_words: str
    forces: tuple[ForceView, ...]
    angles: tuple[AngleView, ...] = ()
    surface: float | None = None
    surface_words: str = ""
    second_axis: float | None = None
    second_axis_label: str = ""
    second_axis_words: str = ""

    @property
    def side_view(self) -> bool:
        """Whether the circle is level and seen from the side, so that it is drawn flat."""
        return self.setting == "level-circle" and self.inward is not None and abs(sin(radians(self.inward))) < LEVEL
