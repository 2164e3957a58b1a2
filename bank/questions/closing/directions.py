"""Which way it points: the reason and the key of a question about a direction, as the last step of its solution."""

from __future__ import annotations

from collections.abc import Mapping

from ...item.item import ChoiceEntry, Stage, Step, Words
from ...writing import bearings, prompts
from ...writing.stem import filled
from .. import direction_keys
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
    if suffix == "-in-return":
        gaps["back"] = bearings.opposite(way)
    elif suffix in direction_keys.TURNING:
        gaps |= direction_keys.turning(suffix, about)
        told = bearings.CLOSING_UNCHANGED if way == bearings.NOWHERE else told
    elif suffix == "-changing-speed":
        along, changing = bearings.ALONG[direction_keys.is_speeding_up(about)]
        gaps |= {"along": along, "changing": changing}
    if suffix in bearings.CLOSING_ALONG and (suffix not in bearings.CLOSING or _is_changing(about)):
        told = bearings.CLOSING_ALONG[suffix]
        along, changing = bearings.ALONG[bearings.FORWARDS in way]
        gaps = {"along": along, "changing": changing, **gaps}
    return Step(0, prompts.ANSWER, (filled(told, **gaps),))


def _is_changing(about: About) -> bool:
    """Whether the acceleration has a component along the path."""
    way = direction_keys.acceleration_way(about)
    return way is not None and way % 2 == 1


def _key(entry: ChoiceEntry) -> str:
    """The name of the right way."""
    (content,) = (each.content for each in entry.options if each.right)
    assert isinstance(content, tuple)
    return "".join(each.text for each in content if isinstance(each, Words))
