"""Durations as results tell them: seconds, ISO 8601, or a clock's hours and minutes, with a point or a comma."""

from __future__ import annotations

import math
import re

_ISO = re.compile(r"P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:\.\d+)?)S)?)?")
_CLOCK = re.compile(r"(?:(\d+):)?(\d{1,2}):(\d{1,2}(?:\.\d+)?)")
_SECONDS = re.compile(r"\d{1,12}(?:\.\d{1,12})?")
_WEIGHTS = (86_400, 3_600, 60, 1)


def seconds(text: str) -> float:
    """The seconds that are meant, NaN where none are."""
    text = text.strip().replace(",", ".")[:64]
    if _SECONDS.fullmatch(text):
        return float(text)
    if (iso := _ISO.fullmatch(text)) and any(iso.groups()):
        return sum(float(each or 0) * weight for each, weight in zip(iso.groups(), _WEIGHTS, strict=True))
    if clock := _CLOCK.fullmatch(text):
        return sum(float(each or 0) * weight for each, weight in zip(clock.groups(), _WEIGHTS[1:], strict=True))
    return math.nan
