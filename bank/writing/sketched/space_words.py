"""Settings of orbits, fields and turning wheels in words."""

from __future__ import annotations

from collections.abc import Mapping

SETTINGS: Mapping[str, str] = {}
