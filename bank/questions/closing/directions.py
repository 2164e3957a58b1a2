"""Which way it points: the reason and the key of a question about a direction, as the last step of its solution."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ...item.item import ChoiceEntry, Stage, Step, Words
from ...writing import bearings, prompts
from ...writing.stem import filled
from .. import direction_keys, ways
from ..about import About

# the steps before the last one, by the end of the id of the question: what needs no force says nothing of forces
STAGES: Mapping[str, tuple[Stage, ...]] = {
    "": ("acceleration",),
    "-net-force": ("acceleration", "free body"),
    "-in-return": ("free body",),
}


def step(suffix: str, about: About, entry: ChoiceEntry) -> Step:
    """The last step; its number is given where it stands."""
    way = _key(entry)
    gaps = {"body": about.body, "way": way}
    told = bearings.CLOSING.get(suffix, "")
    speeds_up = _speeds_up(suffix, about)
    if suffix == "-in-return":
        gaps["back"] = bearings.opposite(way)
    elif suffix in direction_keys.TURNING:
        gaps |= direction_keys.turning(suffix, about)
        told = bearings.CLOSING_UNCHANGED if way == bearings.NOWHERE else told
    elif speeds_up is not None:
        told = bearings.CLOSING_ALONG[suffix]
        gaps["along"], gaps["changing"] = bearings.ALONG[speeds_up]
    return Step(0, prompts.ANSWER, (filled(told, **gaps),))


def with_direction(steps: Sequence[Step], parts: Sequence[ChoiceEntry]) -> tuple[Step, ...]:
    """The steps of a question in parts, of which the first may ask which way the acceleration points."""
    way = _key(parts[0]) if parts else ""
    if not any(way in ways for ways in bearings.WAYS.values()):
        return tuple(steps)
    told = filled(bearings.IN_PART, way=way)
    return tuple(
        replace(each, paragraphs=(*each.paragraphs, told)) if each.stage == "acceleration" else each for each in steps
    )


def _speeds_up(suffix: str, about: About) -> bool | None:
    """Whether the speed increases, as is said or by the forces; None where the answer has no part along the path."""
    if suffix == "-changing-speed":
        return direction_keys.is_said_to_speed_up(about)
    return ways.speeds_up(about) if suffix in bearings.CLOSING_ALONG else None


def _key(entry: ChoiceEntry) -> str:
    """The name of the right way; nothing where pictures are offered."""
    (content,) = (each.content for each in entry.options if each.right)
    if not isinstance(content, tuple):
        return ""
    return "".join(each.text for each in content if isinstance(each, Words))
