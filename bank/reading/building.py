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
from ..model.expression import Relation, parse, parse_relation
from ..model.problem import (
    Draw,
    Energy,
    ForceWords,
    Level,
    Motion,
    Problem,
    QuantitySpec,
    Question,
    Reason,
    Scene,
    Tolerance,
)
from ..quantities.units import Unit, unit
from .forces import diagram_of, formula
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
        return Energy(start, end, data.get("because", ""))

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
        return Scene(name, data.get("story", ""), data.get("words", {}), forces, changes)

    def _changed(self, spec: QuantitySpec, data: Mapping[str, Any], path: Path_) -> QuantitySpec:
        """The quantity with what a scene changes; values in another unit are not taken over."""
        if "unit" in data and data["unit"] != spec.unit.symbol:
            spec = replace(spec, unit=_unit(self.document, data["unit"], (*path, "unit")), plausible=None, draw=None)
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
    )
