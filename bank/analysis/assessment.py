"""The manifest of an assessment: what each item of each form asked, and which answer came from which mistake."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..documents.document import hidden_texts
from ..errors import FileError

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
class SatItem:
    """An item of a form; ``name`` is how rows call it, with ``#row`` for the row of a template item."""

    name: str
    question: str
    version: int
    kind: str
    variant: int
    scene: str
    marks: float
    objectives: tuple[str, ...]
    predicted: float | None
    key: Any
    options: tuple[SatOption, ...]
    bands: tuple[RecognisedBand, ...]
    fingerprint: str

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
    _check(path, data)
    return assessment(data)


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
        key=data.get("key"),
        options=tuple(_options(data)),
        bands=tuple(_bands(data)),
        fingerprint=data["fingerprint"],
    )


def _options(data: Mapping[str, Any]) -> Iterator[SatOption]:
    """The options; those of an item of several parts as results have them, ``RESPONSE_2=A`` in the second."""
    for before, part in _parts(data):
        for each in part.get("options", ()):
            yield SatOption(before + each["name"], bool(each.get("right", False)), _mistakes(each))


def _bands(data: Mapping[str, Any]) -> Iterator[RecognisedBand]:
    for _, part in _parts(data):
        for each in part.get("recognised", ()):
            yield RecognisedBand(float(each["value"]), float(each["half_width"]), _mistakes(each))


def _parts(data: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The item itself, then its parts, each with what stands before the names of its options."""
    yield "", data
    for number, part in enumerate(data.get("parts", ()), 1):
        yield f"RESPONSE_{number}=", part


def row_name(item: str, row: int | None) -> str:
    """How rows call an item, or a row of a template item."""
    return f"{item}#{row}" if row else item


def _mistakes(data: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(data.get("mistakes", ()))
