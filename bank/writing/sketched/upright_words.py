"""Settings of vertical circles in words."""

from __future__ import annotations

from collections.abc import Mapping

SETTINGS: Mapping[str, str] = {
    "loop": "{Body} on the inside of a vertical circular loop of track, {place}.",
    "cord-upright": "{Body} on a cord that is fixed at the centre of a vertical circle, {place}.",
}
