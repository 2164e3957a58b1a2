"""Questions about a value just past a limit, as whole sentences: the change, and what is then seen to happen.

What is seen follows from what the limit is (see ``Failure``), never from the name of a force alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

Failure: TypeAlias = Literal[
    "slides outwards", "slides inwards", "slides up the slope", "slides down the slope", "slides down the wall",
    "goes slack", "falls", "takes off", "breaks", "breaks among others",
]  # fmt: skip
Rate: TypeAlias = Literal["speed", "angular speed", "period"]
Change: TypeAlias = Literal["more", "less"]

# two forms of each asking; a scene has one of them
ASKING: Mapping[tuple[Rate, Change], tuple[str, str]] = MappingProxyType({
    ("speed", "more"): (
        "Suppose that {body} moves at slightly more than the {name}. What happens to {body}?",
        "What happens to {body} at a speed slightly greater than the {name}?",
    ),
    ("speed", "less"): (
        "Suppose that {body} moves at slightly less than the {name}. What happens to {body}?",
        "What happens to {body} at a speed slightly less than the {name}?",
    ),
    ("angular speed", "more"): (
        "Suppose that {body} moves at slightly more than the {name}. What happens to {body}?",
        "What happens to {body} at an angular speed slightly greater than the {name}?",
    ),
    ("angular speed", "less"): (
        "Suppose that {body} moves at slightly less than the {name}. What happens to {body}?",
        "What happens to {body} at an angular speed slightly less than the {name}?",
    ),
    ("period", "more"): (
        "Suppose that one revolution takes slightly longer than the {name}. What happens to {body}?",
        "What happens to {body} if one revolution takes slightly longer than the {name}?",
    ),
    ("period", "less"): (
        "Suppose that one revolution takes slightly less time than the {name}. What happens to {body}?",
        "What happens to {body} if one revolution takes slightly less time than the {name}?",
    ),
})  # fmt: skip

CLOSING = "Close to the limit"


@dataclass(frozen=True)
class Seen:
    """What may be seen past a limit of one sort: sentences without a full stop, with gaps for ``body`` and ``agent``.

    ``eased`` is true on the safe side of the limit and ``lost`` beyond it; each is wrong on the other. Always wrong
    are ``lasting`` (it holds out beyond the limit), ``same`` (it stays just at the limit), ``with_friction`` (it slides
    as the friction points) and ``straight`` (free, it forgets its speed); "" where there is none. The rest says
    why: ``safe`` and ``beyond``.
    """

    eased: str
    lasting: str
    same: str
    lost: str
    safe: str
    beyond: str
    with_friction: str = ""
    straight: str = ""


def _slides(lost: str, with_friction: str, where: str = "on its circle") -> Seen:
    return Seen(
        eased=f"{{Body}} stays {where}, no longer about to slide",
        lasting=f"{{Body}} stays {where}, held by greater friction",
        same=f"{{Body}} stays {where}, still just about to slide",
        lost=lost,
        with_friction=with_friction,
        safe="The frictional force that is required is now less than the limiting friction.",
        beyond="The frictional force that is required is now greater than the limiting friction.",
    )


SEEN: Mapping[Failure, Seen] = MappingProxyType({
    "slides outwards": _slides(
        "{Body} slides outwards, away from the centre", "{Body} slides inwards, towards the centre"
    ),
    "slides inwards": _slides(
        "{Body} slides inwards, towards the centre", "{Body} slides outwards, away from the centre"
    ),
    "slides up the slope": _slides(
        "{Body} slides up the slope, away from the centre", "{Body} slides down the slope, towards the centre"
    ),
    "slides down the slope": _slides(
        "{Body} slides down the slope, towards the centre", "{Body} slides up the slope, away from the centre"
    ),
    "slides down the wall": _slides(
        "{Body} slides down {agent} while going round",
        "{Body} slides up {agent} while going round",
        "at the same height",
    ),
    "goes slack": Seen(
        eased="{Agent} stays taut and pulls {body} inwards",
        lasting="{Agent} stays taut and pushes {body} outwards",
        same="{Agent} stays taut without pulling {body}",
        lost="{Agent} goes slack, and {body} falls along a curve",
        straight="{Agent} goes slack, and {body} falls straight down",
        safe=(
            "The force required is now greater than the inward component of the weight, "
            "and {agent} can pull that way."
        ),
        beyond=(
            "The force required is now less than the inward component of the weight, "
            "and {agent} cannot push {body} outwards."
        ),
    ),
    "falls": Seen(
        eased="{Body} stays in contact with {agent} and presses against it",
        lasting="{Body} stays in contact with {agent} and is pulled by it",
        same="{Body} stays in contact with {agent} without pressing on it",
        lost="{Body} loses contact with {agent} and falls along a curve",
        straight="{Body} loses contact with {agent} and falls straight down",
        safe=(
            "The force required is now greater than the inward component of the weight, "
            "and {agent} can push that way."
        ),
        beyond=(
            "The force required is now less than the inward component of the weight, "
            "and {agent} cannot pull {body} outwards."
        ),
    ),
    "takes off": Seen(
        eased="{Body} stays in contact with {agent} and presses against it",
        lasting="{Body} stays in contact with {agent} and is pulled by it",
        same="{Body} stays in contact with {agent} without pressing on it",
        lost="{Body} loses contact with {agent} but keeps moving forwards",
        straight="{Body} loses contact with {agent} and rises straight up",
        safe=(
            "The inward component of the weight is now greater than the force required, "
            "so {agent} still pushes {body} outwards."
        ),
        beyond=(
            "The inward component of the weight is now less than the force required, "
            "and {agent} cannot pull {body} inwards."
        ),
    ),
    "breaks": Seen(
        eased="{Agent} holds and is no longer about to break",
        lasting="{Agent} holds, pulling harder than it did before",
        same="{Agent} holds and is still just about to break",
        lost="{Agent} breaks and {body} moves off along the tangent",
        straight="{Agent} breaks and {body} moves straight outwards",
        safe="The tension that is required is now less than the breaking tension.",
        beyond="The tension that is required is now greater than the breaking tension.",
    ),
    "breaks among others": Seen(
        eased="{Agent} holds and is no longer about to break",
        lasting="{Agent} holds, pulling harder than it did before",
        same="{Agent} holds and is still just about to break",
        lost="{Agent} breaks and {body} leaves its circle",
        safe="The tension that is required is now less than the breaking tension.",
        beyond="The tension that is required is now greater than the breaking tension.",
    ),
})  # fmt: skip
