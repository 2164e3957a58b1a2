"""Questions about a slight change in a limiting case, as whole sentences: the change, and what is then seen to happen.

What is seen follows from what the limit is (see ``Failure``), never from the name of a force alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

Failure: TypeAlias = Literal[
    "slides outwards", "slides inwards", "slides up the slope", "slides down the slope", "slides down the wall",
    "goes slack", "falls", "takes off", "breaks", "breaks on a table", "breaks among others",
]  # fmt: skip
Rate: TypeAlias = Literal["speed", "angular speed", "period"]
Change: TypeAlias = Literal["more", "less"]
Sense: TypeAlias = Literal["greater", "same", "smaller"]
Outcome: TypeAlias = Literal["lost", "greater", "same", "smaller"]  # the body is not held, or by what force
Path: TypeAlias = Literal["with-friction", "straight", "curved", "outward"]
Seeing: TypeAlias = Literal["lost", "greater", "same", "smaller", "astray"]

# what the stem says of the limit; to call it the minimum or maximum rate would tell which way the motion ends
SETTING = "When the {rate}{end} is {asked}, {about}{where}."
# two forms of each asking; a scene has one of them. No word of theirs stands in one outcome and not in another: it
# would seem to answer. First the rate itself passes its limit
ASKING: tuple[str, str] = (
    "Suppose that the {rate}{end} is slightly {more} than {asked}. What happens{whom}{near}?",
    "What happens{whom}{near} if the {rate}{end} is slightly {more} than {asked}?",
)
# then another quantity is changed, and the rate is kept
ASKING_OTHERS: tuple[str, str] = (
    "The {rate}{end} is kept at {asked}. What happens{whom}{near} if the {means} {letter}{tail} is slightly {more}?",
    "Suppose that the {means} {letter}{tail} is slightly {more} while the {rate}{end} is kept at {asked}. "
    "What happens{whom}{near}?",
)
WHOM = " to {body}"
NEAR = " near {place}"
THAN: Mapping[Change, str] = MappingProxyType({"more": "greater", "less": "less"})
MORE: Mapping[Change, str] = MappingProxyType({"more": "increased", "less": "reduced"})

CLOSING = "Close to the limit"
# what becomes of a force, and of the greatest one possible: where both change alike, one of them does so by more
CHANGED: Mapping[Sense, str] = MappingProxyType(
    {"greater": "is now greater", "same": "is the same as before", "smaller": "is now less"}
)
ALIKE: Mapping[Sense, str] = MappingProxyType(
    {"greater": "has increased by {how}", "smaller": "has decreased by {how}"}
)
WITHIN, BEYOND = ", so the limit is not reached.", ", so the limit is exceeded."
TOUCHING = "{Body} stays in contact with {agent}, which"


@dataclass(frozen=True)
class Seen:
    """What may be seen near a limit of one sort: sentences without a full stop, with gaps for ``body`` and ``agent``.

    By ``what``: the body is ``lost``, or held with a force that is greater, the same or smaller. ``astray`` is always
    wrong: it slides as the friction points, or its path is not that of its velocity and the forces on it. Which path it
    is stands under ``path``. ``about`` says what is about to happen at the limit. The rest says why: ``safe`` and
    ``beyond``, with gaps for what becomes of the force ``needed`` and of its ``ceiling`` where it has one, and ``edge``
    where a mass has cancelled.
    """

    what: Mapping[Seeing, str]
    about: str
    safe: str
    beyond: str
    edge: str
    path: Path = "straight"


def _slides(lost: str, astray: str, where: str = "on its circle") -> Seen:
    held = f"{{Body}} stays {where} with"
    return Seen(
        {
            "lost": lost,
            "astray": astray,
            "greater": f"{held} a greater frictional force",
            "same": f"{held} the same frictional force",
            "smaller": f"{held} a smaller frictional force",
        },
        about="{body} is about to slide",
        safe=f"The frictional force required {{needed}}, and the limiting friction {{ceiling}}{WITHIN}",
        beyond=f"The frictional force required {{needed}}, and the limiting friction {{ceiling}}{BEYOND}",
        edge=(
            "The frictional force required and the limiting friction are both proportional to the mass, "
            "so they are still equal."
        ),
        path="with-friction",
    )  # fmt: skip


def _breaks(lost: str, astray: str, path: Path) -> Seen:
    held = "{Agent} holds, and the tension in it"
    return Seen(
        {
            "lost": lost,
            "astray": astray,
            "greater": f"{held} is greater",
            "same": f"{held} is the same",
            "smaller": f"{held} is smaller",
        },
        about="{agent} is about to break",
        safe=f"The tension required {{needed}}, and the breaking tension {{ceiling}}{WITHIN}",
        beyond=f"The tension required {{needed}}, and the breaking tension {{ceiling}}{BEYOND}",
        edge="",
        path=path,
    )


# gravity bends the path of what is free, unless a table carries it: either path is right somewhere, wrong elsewhere
_CURVED, _STRAIGHT = "continues along a curved path", "continues in a straight line"
_EDGE = (
    "The net force required and the inward component of the weight are both proportional to the mass, "
    "so they are still equal."
)


def _leaves(safe: str, beyond: str) -> Seen:
    return Seen(
        {
            "lost": f"{{Body}} loses contact with {{agent}} and {_CURVED}",
            "greater": f"{TOUCHING} pushes on it",
            "same": "{Body} is still about to lose contact with {agent}",
            "smaller": f"{TOUCHING} pulls on it",
            "astray": f"{{Body}} loses contact with {{agent}} and {_STRAIGHT}",
        },
        about="{body} is about to lose contact with {agent}",
        safe=safe,
        beyond=beyond,
        edge=_EDGE,
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
        {
            "lost": f"{{Agent}} goes slack, and {{body}} {_CURVED}",
            "greater": "{Agent} stays taut and pulls {body} inwards",
            "same": "{Agent} is still taut, and still about to go slack",
            "smaller": "{Agent} stays taut and pushes {body} outwards",
            "astray": f"{{Agent}} goes slack, and {{body}} {_STRAIGHT}",
        },
        about="{agent} is about to go slack",
        safe=(
            "The net force required is now greater than the inward component of the weight, "
            "and {agent} can pull {body} inwards."
        ),
        beyond=(
            "The net force required is now less than the inward component of the weight, "
            "and {agent} cannot push {body} outwards."
        ),
        edge=_EDGE,
    ),
    "falls": _leaves(
        safe=(
            "The net force required is now greater than the inward component of the weight, "
            "and {agent} can push {body} inwards."
        ),
        beyond=(
            "The net force required is now less than the inward component of the weight, "
            "and {agent} cannot pull {body} outwards."
        ),
    ),
    "takes off": _leaves(
        safe=(
            "The inward component of the weight is now greater than the net force required, "
            "so {agent} still pushes {body} outwards."
        ),
        beyond=(
            "The inward component of the weight is now less than the net force required, "
            "and {agent} cannot pull {body} inwards."
        ),
    ),
    "breaks": _breaks(
        f"{{Agent}} breaks, and {{body}} {_CURVED}", f"{{Agent}} breaks, and {{body}} {_STRAIGHT}", "straight"
    ),
    "breaks on a table": _breaks(
        f"{{Agent}} breaks, and {{body}} {_STRAIGHT}", f"{{Agent}} breaks, and {{body}} {_CURVED}", "curved"
    ),
    "breaks among others": _breaks(
        "{Agent} breaks, and {body} at first moves along the tangent",
        "{Agent} breaks, and {body} at first moves straight outwards",
        "outward",
    ),
})  # fmt: skip
