"""A blueprint file to a checked blueprint: every fault at its place, then one raise."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from ..documents.document import Document, Path_, read_document
from ..documents.shape import check_shape
from ..errors import BankFaultsError
from ..quantities.gravity import GRAVITY
from ..questions.kinds import KINDS
from .blueprint import Blueprint, BlueprintRow, Range, Scenes

PLAIN = ("id", "title", "forms", "questions", "seed", "purpose", "level")


def read_blueprint(path: Path) -> Blueprint:
    """The blueprint in a file. Raises BankFaultsError with all its faults."""
    document = read_document(path)
    if not document.whole or document.faults or not check_shape(document, "blueprint"):
        raise BankFaultsError(sorted(document.faults, key=lambda fault: (fault.place.line, fault.place.column)))
    _check_ranges(document)
    _check_counts(document)
    if document.faults:
        raise BankFaultsError(sorted(document.faults, key=lambda fault: (fault.place.line, fault.place.column)))
    return _blueprint(document)


def _check_ranges(document: Document) -> None:
    data = document.data
    places: list[Path_] = [(name,) for name in ("marks", "minutes", "difficulty") if name in data]
    places += [("rows", at, "count") for at in range(len(data["rows"]))]
    for path in places:
        found = data
        for part in path:
            found = found[part]
        if "from" in found and "to" in found and found["from"] > found["to"]:
            document.fault(path, f"'from' is {found['from']} and 'to' is {found['to']}", "put the smaller one first")


def _check_counts(document: Document) -> None:
    data = document.data
    if len(data.get("anchors", ())) > data["questions"]:
        wrong = f"there are {len(data['anchors'])} anchors, and each form has {data['questions']} questions"
        document.fault(("anchors",), wrong, "name fewer anchors, or ask for more questions")


def _range(data: Mapping[str, Any] | None) -> Range | None:
    if data is None:
        return None
    return Range(*(float(data[side]) if side in data else None for side in ("from", "to")))


def _row(data: Mapping[str, Any]) -> BlueprintRow:
    lists = {name: tuple(data.get(name, ())) for name in ("content", "thinking", "kinds")}
    return BlueprintRow(_range(data["count"]) or Range(), data.get("name", ""), **lists)


def _blueprint(document: Document) -> Blueprint:
    data: Mapping[str, Any] = document.data
    scenes: Scenes = data.get("scenes", "once")
    plain = {name: data[name] for name in PLAIN if name in data}
    return Blueprint(
        **plain,
        rows=tuple(map(_row, data["rows"])),
        gravity=Decimal(data.get("gravity", GRAVITY)),
        kinds=tuple(each for each in KINDS if each in data.get("kinds", KINDS)),
        marks=_range(data.get("marks")),
        minutes=_range(data.get("minutes")),
        difficulty=_range(data.get("difficulty")),
        anchors=tuple(data.get("anchors", ())),
        scenes=tuple(scenes) if isinstance(scenes, list) else scenes,
        same_equations=data.get("same-equations"),
        enemies=tuple(map(tuple, data.get("enemies", ()))),
        document=document,
    )
