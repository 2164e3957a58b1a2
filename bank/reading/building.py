"""Plain data that fits the schema to a Problem; what does not parse is noted, and something harmless stands for it.

A required field may be missing: its fault is noted, and the rest is still built, so that one run finds all faults.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

from ..documents.document import Document, Path_
from ..errors import ExpressionError, UnitError
from ..item.curriculum import Alignment
from ..language import either
from ..model.expression import Relation, parse, parse_relation
from ..model.problem import (
    Bystander,
    Diagram,
    Draw,
    Energy,
    Force,
    ForceKind,
    ForceWords,
    Level,
    Motion,
    Problem,
    QuantitySpec,
    Question,
    Reason,
    Scene,
    Sketch,
    Tolerance,
)
from ..quantities.units import Unit, unit
from .mistakes import mistakes_of

MOST_DRAWN = 500
NOTHING = Relation(parse("0"), "=", parse("0"))


def build_problem(document: Document) -> Problem:
    """The problem in a document that fits the schema; what does not parse is noted in the document."""
    data: Mapping[str, Any] = document.data
    numbers = _Numbers(document)
    texts = _Texts(document)
    quantities = {name: numbers.quantity(name, spec) for name, spec in data.get("quantities", {}).items()}
    motion = Motion(**{"plane": "", **{key.replace("-", "_"): name for key, name in data.get("motion", {}).items()}})
    return Problem(
        id=data.get("id", ""),
        version=data.get("version", 1),
        title=data.get("title", ""),
        family=data.get("family", ""),
        level=data.get("level", ""),
        licence=data.get("licence", ""),
        objectives=tuple(data.get("objectives", ())),
        motion=motion,
        diagrams=tuple(diagram_of(document, name, each, motion) for name, each in data.get("diagrams", {}).items()),
        relations=texts.reasons("relations", "equation"),
        energies=tuple(texts.energy(each, ("energy", at)) for at, each in enumerate(data.get("energy", ()))),
        holds=texts.reasons("holds", "that"),
        quantities=quantities,
        scenes=tuple(numbers.scene(name, each, quantities) for name, each in data.get("scenes", {}).items()),
        questions=tuple(_question(document, name, each) for name, each in data.get("questions", {}).items()),
        caution=data.get("caution", ""),
        alignment=_alignment(data.get("alignment", ())),
        mistakes=tuple(mistakes_of(document, ("mistakes",), data.get("mistakes", {}))),
        without=data.get("without", {}),
        demonstration=data.get("demonstration", {}),
        answered=data.get("answered", {}),
        document=document,
    )


def _alignment(entries: Iterable[Mapping[str, str]]) -> tuple[Alignment, ...]:
    return tuple(Alignment(**{"framework": "", "label": "", **each}) for each in entries)


def _relation(document: Document, text: Any, path: Path_) -> Relation:
    try:
        return parse_relation(str(text))
    except ExpressionError as error:
        document.fault(path, f"{error.wrong} in '{error.text}'", error.right, inside=error.column - 1)
        return NOTHING


def _unit(document: Document, symbol: str | None, path: Path_) -> Unit:
    """The unit, or one of no known dimension with the fault noted."""
    try:
        if symbol is not None:
            return unit(symbol)
    except UnitError as error:
        document.fault(path, error.wrong, error.right)
    return Unit(symbol or "1", 1.0, "")


class _Texts:
    """Builds what holds formulas with their reasons."""

    def __init__(self, document: Document) -> None:
        self.document = document

    def reasons(self, field: str, key: str) -> tuple[Reason, ...]:
        """The relations under a field, each from the text under ``key``; what does not parse is noted."""
        found = []
        for at, each in enumerate(self.document.data.get(field, ())):
            text = each.get(key)
            relation = NOTHING if text is None else _relation(self.document, text, (field, at, key))
            found.append(Reason(relation, str(text or ""), each.get("because", "")))
        return tuple(found)

    def energy(self, data: Mapping[str, Any], path: Path_) -> Energy:
        """The balance of energy at ``path``."""
        start, end = (self._level(data.get(key, {}), (*path, key)) for key in ("from", "to"))
        return Energy(start, end, data.get("because", ""), data.get("heights") == "centre", data.get("loss"))

    def _level(self, data: Any, path: Path_) -> Level:
        if isinstance(data, str):
            if data not in self.document.names("diagrams"):
                self.document.fault(path, f"no diagram is called '{data}'", "name a diagram, or give height and speed")
            return Level(diagram=data)
        height, speed = (formula(self.document, data.get(key, "0"), (*path, key)) for key in ("height", "speed"))
        return Level(None, height, speed)


class _Numbers:
    """Builds what holds units and values."""

    def __init__(self, document: Document) -> None:
        self.document = document

    def quantity(self, symbol: str, data: Mapping[str, Any]) -> QuantitySpec:
        """A quantity with its unit, draw and bounds; an unknown unit is noted."""
        path = ("quantities", symbol)
        return QuantitySpec(
            symbol=symbol,
            unit=_unit(self.document, data.get("unit"), (*path, "unit")),
            means=data.get("means", ""),
            figures=data.get("figures", 3),
            draw=self._draw(data.get("draw"), (*path, "draw")),
            constant=data.get("constant"),
            plausible=range_of(data),
            positive=data.get("sign") != "any",
        )

    def scene(self, name: str, data: Mapping[str, Any], quantities: Mapping[str, QuantitySpec]) -> Scene:
        """A scene with its words and with the quantities that it has otherwise."""
        path = ("scenes", name)
        forces = {
            role: ForceWords(
                each.get("name", ""),
                each.get("symbol"),
                each.get("by", ""),
                each.get("acts", "pulls"),
                each.get("kind"),
            )
            for role, each in data.get("forces", {}).items()
        }
        changes = {
            symbol: self._changed(quantities[symbol], change, (*path, "quantities", symbol))
            for symbol, change in data.get("quantities", {}).items()
            if symbol in quantities
        }
        bystanders = {
            diagram: Bystander(each.get("name", ""), each.get("by", ""))
            for diagram, each in data.get("bystanders", {}).items()
        }
        own = data.get("caution", "")
        story, words = data.get("story", ""), data.get("words", {})
        drawn = data.get("sketch")
        sketch = Sketch(drawn.get("of", ""), drawn.get("body", "ball"), drawn.get("marks", {})) if drawn else None
        return Scene(name, story, words, forces, changes, own, bystanders, "imagined" in data, sketch)

    def _changed(self, spec: QuantitySpec, data: Mapping[str, Any], path: Path_) -> QuantitySpec:
        """The quantity with what a scene changes; values in another unit are not taken over."""
        own = _unit(self.document, data["unit"], (*path, "unit")) if "unit" in data else spec.unit
        if own != spec.unit:
            spec = replace(spec, unit=own, plausible=None, draw=None)
        return replace(
            spec,
            draw=self._draw(data.get("draw"), (*path, "draw")) or spec.draw,
            figures=data.get("figures", spec.figures),
            plausible=range_of(data) or spec.plausible,
        )

    def _draw(self, data: Any, path: Path_) -> Draw | None:
        if data is None:
            return None
        if isinstance(data, list):
            return Draw(tuple(Decimal(value) for value in data))
        start, stop, step = (Decimal(data[key]) for key in ("from", "to", "step"))
        steps = (stop - start) / step
        whole = int(steps) if abs(steps) < 10**9 else 10**9
        wrong = f"from {start} to {stop} by {step}"
        if steps < 0:
            self.document.fault(path, f"{wrong} has its end before its start", "swap 'from' and 'to'")
        elif whole >= MOST_DRAWN:
            self.document.fault(path, f"{wrong} makes {whole + 1:,} values", f"keep to {MOST_DRAWN}, with a wider step")
        elif start + whole * step != stop:
            right = f"end at {start + whole * step} or {start + (whole + 1) * step}"
            self.document.fault(path, f"{wrong} is no whole number of steps", right)
        else:
            return Draw(tuple(start + step * number for number in range(whole + 1)))
        return Draw(())


def range_of(data: Mapping[str, Any]) -> tuple[Decimal, Decimal] | None:
    """The plausible range that a quantity or a question states."""
    stated = data.get("plausible", {})
    return (Decimal(stated["from"]), Decimal(stated["to"])) if {"from", "to"} <= set(stated) else None


def _question(document: Document, name: str, data: Mapping[str, Any]) -> Question:
    path = ("questions", name)
    limiting = data.get("limiting")
    tolerance = {key: Decimal(value) for key, value in data.get("tolerance", {}).items()}
    return Question(
        name=name,
        title=data.get("title", ""),
        ask=data.get("ask", ""),
        given=tuple(data.get("given", ())),
        stem=data.get("stem", ""),
        asked_name=data.get("name", ""),
        extra=tuple(data.get("extra", ())),
        limiting=_relation(document, limiting, (*path, "limiting")) if limiting is not None else None,
        figures=data.get("figures", 3),
        unit=_unit(document, data["unit"], (*path, "unit")) if "unit" in data else None,
        tolerance=Tolerance(tolerance.get("percent"), tolerance.get("absolute")) if tolerance else None,
        plausible=range_of(data),
        scenes=tuple(data.get("scenes", ())),
        diagram=data.get("diagram"),
        objectives=tuple(data.get("objectives", document.data.get("objectives", ()))),
        alignment=_alignment(data.get("alignment", document.data.get("alignment", ()))),
        level=data.get("level", document.data.get("level", "")),
        minutes=data.get("minutes", 4),
        enemies=tuple(data.get("enemies", ())),
        about=tuple(data.get("about", ())),
        answered=data.get("answered", {}),
    )


_TOWARD: dict[str, dict[str, str]] = {
    "inward": {"inward": "1"},
    "outward": {"inward": "-1"},
    "up": {"up": "1"},
    "down": {"up": "-1"},
    "forward": {"forward": "1"},
    "backward": {"forward": "-1"},
}
NO_KIND: ForceKind = "support"  # stands for a kind that is missing: a support contradicts nothing
# in the order of the fields of a force
_OF_LAW: dict[str, tuple[str, ...]] = {
    "centre-mass": ("gravitation",),
    "charge": ("magnetic", "electric"),
    "field": ("magnetic",),
    "centre-charge": ("electric",),
    "distance": ("gravitation", "electric"),
}


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
    if law in ("gravitation", "magnetic", "electric"):
        along = along or {"inward": "1"}
    if law is None:
        _refuse_too_little(document, data, path)
    parts = tuple((axis, formula(document, part, (*path, "components", axis))) for axis, part in along.items())
    kind: ForceKind = law or data.get("kind") or NO_KIND
    symbol, size = (None, data.get("symbol")) if law else (data.get("symbol"), None)
    of_law = {each.replace("-", "_"): data.get(each) for each in _OF_LAW}
    return Force(role, kind, parts, symbol, size=size, **of_law)


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
        spare["kind"] = (f"the law of {law} says the kind of this force", "leave the kind out")
    if law == "weight":
        spare |= dict.fromkeys(
            ("toward", "components"), ("the weight points down by itself", "leave the direction out")
        )
    elif "toward" in data:
        spare["components"] = ("the direction is stated twice", "keep 'toward' or 'components'")
    spare |= {
        each: (f"only a force with the law {either(repr(owner) for owner in owners)} has this", "leave it out")
        for each, owners in _OF_LAW.items()
        if law not in owners
    }
    for field in (each for each in spare if each in data):
        document.fault((*path, field), *spare[field], key=True)
