"""Settings of orbits, habitats, fields and turning wheels."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ...writing.sketched.view import SketchView
from .pen import Pen

SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {}
