"""Force diagrams from plain data that fits the schema; what says too little or too much is noted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..documents.document import Document, Path_
from ..errors import ExpressionError
from ..model.expression import parse
from ..model.problem import Diagram, Force, ForceKind, Motion

_TOWARD: dict[str, dict[str, str]] = {
    "inward": {"inward": "1"},
    "outward": {"inward": "-1"},
    "up": {"up": "1"},
    "down": {"up": "-1"},
    "forward": {"forward": "1"},
    "backward": {"forward": "-1"},
}
NO_KIND: ForceKind = "support"  # stands for a kind that is missing: a support contradicts nothing
_OF_LAW = {"centre-mass": "gravitation", "charge": "magnetic", "field": "magnetic"}


def formula(document: Document, text: Any, path: Path_) -> str:
    """The text where it is a formula; ``0`` with a fault noted where it is none."""
    try:
        parse(str(text))
    except ExpressionError as error:
        document.fault(path, f"{error.wrong} in '{error.text}'", error.right, inside=error.column - 1)
        return "0"
    return str(text)


def diagram_of(document: Document, name: str, data: Mapping[str, Any], motion: Motion) -> Diagram:
    """The diagram of one body at one place."""
    path = ("diagrams", name)
    at: Any = data.get("at") or _unstated_place(document, path, motion)
    angled = isinstance(at, dict)
    return Diagram(
        name=name,
        body=data.get("body", ""),
        mass=data.get("mass", ""),
        spot="angle" if angled else at,
        forces=tuple(_force(document, role, each, (*path, "forces", role)) for role, each in _forces(data)),
        speed=data.get("speed"),
        radius=data.get("radius"),
        angle=at["angle"] if angled else None,
        angle_from=at["from"] if angled else None,
        tilt=data.get("tilt"),
        surface=data.get("surface"),
        place=data.get("place", ""),
    )


def _forces(data: Mapping[str, Any]) -> list[tuple[str, Mapping[str, Any]]]:
    return list(data.get("forces", {}).items())


def _unstated_place(document: Document, path: Path_, motion: Motion) -> str:
    """A level circle, or one in space, is alike all round; on a vertical one the place decides what the weight does."""
    if motion.plane == "vertical" and document.is_sound(*path, "at"):
        wrong = "the place on the vertical circle is not stated"
        document.fault(path, wrong, "add 'at: top' (or bottom, side, rest, {angle: theta, from: top})", key=True)
    return "space" if motion.plane == "space" else "level"


def _force(document: Document, role: str, data: Mapping[str, Any], path: Path_) -> Force:
    law: Any = data.get("law") or ("weight" if role == "weight" and "symbol" not in data else None)
    _refuse_too_much(document, law, data, path)
    along: dict[Any, Any] = data.get("components") or _TOWARD.get(data.get("toward", ""), {})
    if law in ("gravitation", "magnetic"):
        along = along or {"inward": "1"}
    if law is None:
        _refuse_too_little(document, data, path)
    parts = tuple((axis, formula(document, part, (*path, "components", axis))) for axis, part in along.items())
    kind: ForceKind = law or data.get("kind") or NO_KIND
    return Force(role, kind, parts, data.get("symbol"), *(data.get(each) for each in _OF_LAW))


def _refuse_too_little(document: Document, data: Mapping[str, Any], path: Path_) -> None:
    if "symbol" not in data and document.is_sound(*path, "symbol") and document.is_sound(*path, "law"):
        document.fault(path, "the size of this force is not named", "add 'symbol: N' or 'law: gravitation'")
    if "kind" not in data and document.is_sound(*path, "kind") and document.is_sound(*path, "law"):
        right = "add 'kind: normal' (or tension, friction, spring, lift, support; contact where the scenes state it)"
        document.fault(path, "the kind of this force is not stated", right)
    ways = {"toward", "components"}
    if not ways & set(data) and all(document.is_sound(*path, each) for each in ways):
        document.fault(path, "this force has no direction", "add 'toward: inward' or 'components: {...}'")


def _refuse_too_much(document: Document, law: str | None, data: Mapping[str, Any], path: Path_) -> None:
    """Refuse what would be left aside without a word."""
    spare: dict[str, tuple[str, str]] = {}
    if law:
        spare["symbol"] = (f"a force with the law of {law} has a known size", "leave the symbol out")
        spare["kind"] = (f"the law of {law} says the kind of this force", "leave the kind out")
    if law == "weight":
        spare |= dict.fromkeys(
            ("toward", "components"), ("the weight points down by itself", "leave the direction out")
        )
    elif "toward" in data:
        spare["components"] = ("the direction is stated twice", "keep 'toward' or 'components'")
    spare |= {
        each: (f"only a force with the law '{owner}' has this", "leave it out")
        for each, owner in _OF_LAW.items()
        if law != owner
    }
    for field in (each for each in spare if each in data):
        document.fault((*path, field), *spare[field], key=True)
