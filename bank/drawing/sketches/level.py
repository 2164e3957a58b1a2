"""Settings of horizontal circles: bends, banks, cones, tables, drums and discs."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ...writing.sketched.view import SketchView
from .pen import Pen

SETTINGS: Mapping[str, Callable[[Pen, SketchView], None]] = {}
