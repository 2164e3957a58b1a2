"""A view to its sketch: the setting draws, then letters are put beside lengths and angles."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache

from ...item.drawing import Drawing
from ...writing.sketched.view import SketchView
from . import cords, coupled, level, space, tracks, turning, wheels
from .pen import HEIGHT, WIDTH, Pen

SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {
    **tracks.SETTINGS,
    **cords.SETTINGS,
    **wheels.SETTINGS,
    **level.SETTINGS,
    **space.SETTINGS,
    **turning.SETTINGS,
    **coupled.SETTINGS,
}


@lru_cache(maxsize=1024)  # all questions about one scene show the same
def draw_sketch(view: SketchView) -> Drawing:
    """The sketch with its title and text alternative."""
    pen = Pen(dict(view.marks))
    SETTINGS[view.setting](pen, view)
    return Drawing(WIDTH, HEIGHT, (*pen.marks, *pen.labels()), view.title, view.alternative, subject="situation")
