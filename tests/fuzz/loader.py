"""Bytes as a problem file, a blueprint or a catalogue of mistakes: read, held against the schema, built, judged."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Any

from turnwright.bank.documents.document import MOST_NODES, Document, Path_, parse_document
from turnwright.bank.documents.shape import check_shape
from turnwright.bank.errors import Fault, hidden_in
from turnwright.bank.model.problem import Problem
from turnwright.bank.reading.files import judged, shipped_files
from turnwright.bank.reading.mistakes import mistakes_of

from tests.fuzz.bounds import is_harmless, within
from tests.fuzz.text_changes import line_changed

LONGEST = 12_000
NAME = "fair.yaml"
SECONDS = 10  # of an instrumented run, about four times those of a plain one
MOST_FAULTS = 2 * MOST_NODES
_BREAK = re.compile("\r\n|\r|\n")


def check(data: bytes) -> None:
    """Any bytes end as a problem or as faults, each at a place in the text."""
    with within(SECONDS):
        document = parse_document(data, NAME)
        plain = document.data if document.whole and not document.faults else None
        if plain is not None:
            _stays_itself(document)
        problems, faults = _read(document, data)
    lines = _BREAK.split(data.decode("utf-8-sig", "replace"))
    assert len(faults) <= MOST_FAULTS
    assert len(problems) + bool(faults) == 1, "neither a problem nor a fault, or both"
    for fault in faults:
        _is_told_well(fault, lines)
    _places_are_true(document, lines)


def _read(document: Document, data: bytes) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
    """The problem, or the faults; a catalogue is also read as such."""
    if document.whole and isinstance(document.data, dict) and "mistakes" in document.data:
        catalogue = parse_document(data, NAME)
        if not catalogue.faults and check_shape(catalogue, "mistakes"):
            mistakes_of(catalogue, ("mistakes",), catalogue.data["mistakes"])
    return judged([document])


def _is_told_well(fault: Fault, lines: list[str]) -> None:
    place = fault.place
    assert is_harmless(str(fault)), f"a message that should not be printed: {str(fault)!r}"
    assert place.file == NAME
    assert 1 <= place.line <= len(lines), f"line {place.line} of {len(lines)}: {fault}"
    assert 1 <= place.column <= len(lines[place.line - 1]) + 1, f"column {place.column} is behind its line: {fault}"


def _places_are_true(document: Document, lines: list[str]) -> None:
    """Every value stands in the text; one that is said to stand there letter by letter does."""
    for path, place in (*document.values.items(), *document.keys.items()):
        assert place.line <= len(lines) and place.column <= len(lines[place.line - 1]) + 1, f"{path} at {place}"
    for path, opens in document.opens.items():
        value = _value(document.data, path)
        if isinstance(value, str) and not hidden_in("".join(lines)):
            place = document.values[path]
            start = place.column - 1 + opens
            written = lines[place.line - 1][start : start + len(value)]
            assert written == value, f"{path}: {value!r} is said to stand where {written!r} is"


def _value(data: Any, path: Path_) -> Any:
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None  # dropped since it did not fit the schema
    return data


def _stays_itself(document: Document) -> None:
    """Plain data written out as JSON, which YAML has within it, are the same data when they are read again."""
    if any(len(str(path[-1])) > 100 for path in document.keys):
        return  # YAML ends a key on one line after 1,024 characters
    again = parse_document(_written(document.data).encode(), NAME)
    assert again.data == document.data, f"{again.data!r} of {document.data!r}: {again.faults[:2]}"


def _written(data: Any) -> str:
    if isinstance(data, dict):
        return "{" + ", ".join(f"{_written(key)}: {_written(each)}" for key, each in data.items()) + "}"
    if isinstance(data, list):
        return "[" + ", ".join(map(_written, data)) + "]"
    if isinstance(data, Decimal) or (isinstance(data, int) and not isinstance(data, bool)):
        return str(data)
    return json.dumps(data, ensure_ascii=False)  # an escape of half a character would be no character in YAML


def mutated(data: bytes, longest: int, seed: int, plain: Callable[[bytes, int], bytes]) -> bytes:
    """The same with another value or block of lines, so that it is still YAML; at times other bytes."""
    dice = random.Random(seed)
    return plain(data, longest) if dice.random() < 0.3 else line_changed(data, dice)[:longest]


def samples() -> Iterator[bytes]:
    """The shipped problems that are short."""
    for path in shipped_files():
        data = path.read_bytes()
        if len(data) <= LONGEST // 2:
            yield data
