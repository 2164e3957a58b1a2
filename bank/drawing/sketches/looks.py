"""All bodies by the names that a file gives them."""

from __future__ import annotations

from collections.abc import Mapping

from . import bodies, level_bodies, space_bodies
from .bodies import Look

LOOKS: Mapping[str, Look] = {**bodies.LOOKS, **space_bodies.LOOKS, **level_bodies.LOOKS}
