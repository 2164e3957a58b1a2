"""All bodies by the names that a file gives them."""

from __future__ import annotations

from collections.abc import Mapping

from . import bodies, level_bodies, space_bodies, upright_bodies
from .bodies import BodyLook

LOOKS: Mapping[str, BodyLook] = {**bodies.LOOKS, **space_bodies.LOOKS, **level_bodies.LOOKS, **upright_bodies.LOOKS}
