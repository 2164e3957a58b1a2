"""What a listener hears of a force diagram: forces, who exerts them, and directions in the words of the view."""

from __future__ import annotations

import re
from collections.abc import Iterator

from turnwright.bank.item.drawing import Drawing

_FORCE = re.compile(r"(?:: |; )(([^,;:.()]+) \([^()]+\)) ([^;.]+)")
_AGENT = re.compile(r"[Tt]he ([^,.()]+ \([^()]+\)) is exerted by (.+?)(?=(?:,| and) the [^,.()]+ \([^()]+\) is|\.)")
_LEANING = re.compile(r"(up|down) and (in|out)wards")
_LEANS = {"in": "partly towards the centre", "out": "partly away from the centre"}
_ALONG = {
    "along the motion": "along the path, in the direction of motion",
    "against the motion": "along the path, opposite to the direction of motion",
}


def told_forces(drawing: Drawing) -> Iterator[tuple[str, str, str]]:
    """Name, agent and direction of each force; nobody exerts a made-up one."""
    agents = dict(_AGENT.findall(drawing.more))
    for marked, name, way in _FORCE.findall(drawing.alternative):
        yield name, agents.get(marked, ""), _in_full(way)


def _in_full(way: str) -> str:
    if leaning := _LEANING.fullmatch(way):
        return f"{leaning[1]}wards at an angle, {_LEANS[leaning[2]]}"
    return _ALONG.get(way) or re.sub(r"^(up|down)\b", r"vertically \1wards", way)
