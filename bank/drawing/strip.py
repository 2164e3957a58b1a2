"""A strip of positions at equal times as a drawing: what holds the body in thin lines, small discs, no numbers."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, TypeAlias

from ..item.drawing import Disc, Drawing, Shape
from ..writing.plots.view import Points
from .parts import Point, along
from .sketches.pen import HEAD, HEAD_HALF, MARGIN, WIDTH, Pen

Holder: TypeAlias = Literal["cord", "loop", "hump"]

DISC = 4.0  # radius
ROOM = 1.0  # between a disc and the track
LOOP, HUMP = 76.0, 112.0  # radius of the path of the body where it is on its circle
HUMP_AT = 76.0  # of its highest point, from the left
ARC = (12.0, 122.0)  # the part of a hump that is drawn, in degrees
HUMP_HEIGHT = 124.0
WAY, WAY_OFF = 34.0, 13.0  # length of the arrow that tells the way of the motion, and how far it is from the body
FREE = (3.0, 3.0)  # dashes


@dataclass(frozen=True)
class StripView:
    """A body at equal times on a vertical circle, and off it.

    Places are in radii of the circle, from its centre, x in the direction of motion at the top and y up. ``held`` are
    those with contact, ``free`` those without, ``trace`` the way that these lie on. A loop and a cord are gone round
    anticlockwise, as all vertical circles are; a hump is passed to the right.
    """

    holder: Holder
    held: Points
    free: Points
    trace: Points
    title: str
    alternative: str


@lru_cache(maxsize=1024)  # all questions about one limit show the same
def draw_strip(view: StripView) -> Drawing:
    """The strip with its title and text alternative."""
    pen = Pen()
    is_hump = view.holder == "hump"
    height = HUMP_HEIGHT if is_hump else 2 * (LOOP + DISC + ROOM + MARGIN) + WAY_OFF
    top = MARGIN + DISC + (WAY_OFF if is_hump else ROOM)
    scale = _Scale((HUMP_AT, top + HUMP), HUMP, 1.0) if is_hump else _Scale((WIDTH / 2, top + LOOP), LOOP, -1.0)
    _holder(pen, scale, view)
    _way(pen, scale.at((0.0, 1.0)) if is_hump else scale.at((0.0, -1.0)), -1.0 if is_hump else 1.0)
    if view.trace:
        pen.line(*map(scale.at, view.trace), weight="thin", tone="accent", dashes=FREE)
    discs = [Disc(*scale.at(each), DISC, "thin", "ink", filled=True) for each in view.held]
    discs += [Disc(*scale.at(each), DISC, "medium", "accent") for each in view.free]
    return Drawing(WIDTH, height, (*pen.marks, *discs), view.title, view.alternative)


@dataclass(frozen=True)
class _Scale:
    """Radii to places on the page; ``way`` is -1 where the motion at the top is to the left."""

    centre: Point
    radius: float
    way: float

    def at(self, point: Point) -> Point:
        """The place of a point."""
        return self.centre[0] + self.way * self.radius * point[0], self.centre[1] - self.radius * point[1]


def _holder(pen: Pen, scale: _Scale, view: StripView) -> None:
    """The track, or the cord wherever it is taut, with the centre of the circle."""
    if view.holder == "hump":
        pen.solid_arc(scale.centre, scale.radius - DISC - ROOM, *ARC, outside=False)
    elif view.holder == "loop":
        pen.arc(scale.centre, scale.radius + DISC + ROOM, weight="thin")
        pen.dot(scale.centre)
    else:
        pen.path(scale.centre, scale.radius)
        for place in view.held:
            pen.line(scale.centre, scale.at(place), weight="thin", tone="soft")


def _way(pen: Pen, start: Point, below: float) -> None:
    """An arrow to the right, ``below`` the place where the motion begins or above it."""
    x, y = start[0] - DISC, start[1] + below * WAY_OFF
    tip = (x + WAY, y)
    pen.line((x, y), (tip[0] - HEAD, y), weight="thin")
    pen.marks.append(Shape((tip, along(tip, 180.0, HEAD, HEAD_HALF), along(tip, 180.0, HEAD, -HEAD_HALF))))
