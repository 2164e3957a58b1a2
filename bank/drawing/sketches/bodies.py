"""What bodies look like: each is drawn about its own middle, ``half`` from there to its foot and to its head."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from .pen import Frame, Pen


@dataclass(frozen=True)
class BodyLook:
    """How a body is drawn in a frame about its middle; ``half``: from there to what it stands on or hangs by."""

    half: float
    draw: Callable[[Pen, Frame], None]


def _ball(pen: Pen, frame: Frame) -> None:
    pen.disc(frame.origin, 8.0 * frame.scale)


def _box(pen: Pen, frame: Frame) -> None:
    pen.shape(frame.points((-10, -9), (10, -9), (10, 9), (-10, 9)))


def _car(pen: Pen, frame: Frame) -> None:
    """A small car from the side."""
    outline = ((-19, -5), (-19, 1), (-12, 2), (-7, 9), (6, 9), (11, 2), (19, 0), (19, -5))
    pen.shape(frame.points(*outline))
    pen.line(*frame.points((-9, 2), (9, 2)), weight="thin")
    for x in (-10, 10):
        pen.disc(frame.at(x, -5), 4.0 * frame.scale)


LOOKS: Mapping[str, BodyLook] = {"ball": BodyLook(8.0, _ball), "box": BodyLook(9.0, _box), "car": BodyLook(9.0, _car)}
