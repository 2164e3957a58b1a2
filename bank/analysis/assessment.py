"""The manifest of an assessment: what each item of each form asked, and which answer came from which mistake."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import isnan, nan
from pathlib import Path
from typing import Any

from ..documents.document import hidden_texts
from ..errors import FileError, visible

KEYS = ("number", "options", "order", "pairs")
MOST_ITEMS = 100_000
LARGEST = 256 * 1024 * 1024
_RIGHT = "give the manifest that was written with the packs"


@dataclass(frozen=True)
class SatOption:
    """An option under its name in the pack, with the ids of the mistakes behind it."""

    name: str
    right: bool
    mistakes: tuple[str, ...]


@dataclass(frozen=True)
class RecognisedBand:
    """A wrong number that is known: answers within ``half_width`` of ``value`` come from these mistakes."""

    value: float
    half_width: float
    mistakes: tuple[str, ...]


@dataclass(frozen=True)
class CarriedBand:
    """A number that is right after ``option`` was chosen in an earlier part, counted from 1."""

    part: int
    option: str
    value: float
    half_width: float


@dataclass(frozen=True)
class SatPart:
    """What an item asks for in one place: ``key`` as in the manifest, empty where none is stated.

    ``marks`` is NaN where the manifest does not say what the part is worth.
    """

    key: Mapping[str, Any]
    marks: float
    options: tuple[SatOption, ...]
    bands: tuple[RecognisedBand, ...]
    carried: tuple[CarriedBand, ...]


@dataclass(frozen=True)
class SatItem:
    """An item of a form; ``name`` is how rows call it, with ``#row`` for the row of a template item.

    ``by_people``: people mark it and give marks for the working, so that the answer alone does not tell its marks.
    """

    name: str
    question: str
    version: int
    kind: str
    variant: int
    scene: str
    marks: float
    objectives: tuple[str, ...]
    predicted: float | None
    parts: tuple[SatPart, ...]
    fingerprint: str
    by_people: bool = False

    @property
    def can_be_marked(self) -> bool:
        """Whether the manifest tells what a response earns."""
        return not self.by_people and all(part.key and not isnan(part.marks) for part in self.parts)

    @property
    def problem(self) -> str:
        """The id of the problem that the question belongs to."""
        return self.question.partition(".")[0]


@dataclass(frozen=True)
class SatForm:
    """A form of the assessment with all its items; a candidate meets one variant of each question."""

    name: str
    items: tuple[SatItem, ...]


@dataclass(frozen=True)
class SatAssessment:
    """What a manifest tells."""

    id: str
    title: str
    bank: str
    forms: tuple[SatForm, ...]


def read_assessment(path: Path) -> SatAssessment:
    """The assessment of a manifest file. Raises FileError that says what is wrong in it."""
    try:
        size = path.stat().st_size
        text = path.read_text("utf-8-sig") if size <= LARGEST else ""
    except OSError as error:
        raise FileError(str(path), f"the manifest can't be read ({error.strerror})", _RIGHT) from None
    except UnicodeDecodeError:
        raise FileError(str(path), "the manifest is not written in UTF-8", _RIGHT) from None
    if size > LARGEST:
        raise FileError(str(path), f"has {size} bytes, at most {LARGEST} are read", _RIGHT)
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise FileError(str(path), "is no JSON", _RIGHT) from None
    _refuse_repeated(path, data)
    _check(path, data)
    return assessment(data)


def _refuse_repeated(path: Path, data: Any) -> None:
    """Raises FileError where a form names an item twice, or items are too many: told before each is looked into."""
    forms = data.get("forms") if isinstance(data, dict) else None
    total = 0
    for number, form in enumerate(forms if isinstance(forms, list) else (), 1):
        items = form.get("items") if isinstance(form, dict) else None
        held: set[str] = set()
        for place, item in enumerate(items if isinstance(items, list) else ()):
            name = item.get("item") if isinstance(item, dict) else None
            if not isinstance(name, str):
                continue
            name = row_name(name, item.get("row"))
            if name in held:
                told = visible(f"item {place + 1} of form {number} is {name} once more"[:200])
                raise FileError(str(path), told, _RIGHT)
            held.add(name)
        total += len(held)
    if total > MOST_ITEMS:
        raise FileError(str(path), f"holds {total:,} items, at most {MOST_ITEMS:,} are read", _RIGHT)


def _check(path: Path, data: Any) -> None:
    from ..documents.shape import validator

    error = next(validator("assessment").iter_errors(data), None)
    if error is not None:
        place = "/".join(map(str, error.absolute_path)) or "the whole"
        told = " ".join(error.message.split())
        raise FileError(str(path), f"at {place}: {told[:200]}", _RIGHT)
    where, found = next(hidden_texts(data), ((), ""))
    if found:
        place = "/".join(map(str, where))
        raise FileError(str(path), f"at {place}: found the invisible character {found}", _RIGHT)


def assessment(data: Mapping[str, Any]) -> SatAssessment:
    """The assessment of manifest data that fit the schema."""
    forms = tuple(SatForm(form["form"], tuple(map(_placed, form["items"]))) for form in data["forms"])
    return SatAssessment(data["assessment"], data["title"], data["bank"]["version"], forms)


def _placed(data: Mapping[str, Any]) -> SatItem:
    predicted = data.get("predicted")
    return SatItem(
        name=row_name(data["item"], data.get("row")),
        question=data["question"],
        version=data["version"],
        kind=data["kind"],
        variant=data["variant"],
        scene=data.get("scene", ""),
        marks=float(data["marks"]),
        objectives=tuple(data.get("objectives", ())),
        predicted=None if predicted is None else float(predicted),
        parts=tuple(_parts(data)),
        fingerprint=data["fingerprint"],
        by_people=data.get("by_people", False),
    )


def _parts(data: Mapping[str, Any]) -> Iterator[SatPart]:
    """The parts of an item; that of an item of one is the item itself."""
    for part in data.get("parts") or (data,):
        key = part.get("key", {})
        yield SatPart(
            key if any(each in key for each in KEYS) else {},
            float(part.get("marks", nan)),
            tuple(
                SatOption(each["name"], bool(each.get("right", False)), _mistakes(each))
                for each in part.get("options", ())
            ),
            tuple(
                RecognisedBand(float(each["value"]), float(each["half_width"]), _mistakes(each))
                for each in part.get("recognised", ())
            ),
            tuple(
                CarriedBand(each["part"], each["option"], float(each["value"]), float(each["half_width"]))
                for each in part.get("carried", ())
            ),
        )


def row_name(item: str, row: int | None) -> str:
    """How rows call an item, or a row of a template item."""
    return f"{item}#{row}" if row else item


def _mistakes(data: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(data.get("mistakes", ()))
