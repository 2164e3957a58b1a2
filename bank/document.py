"""YAML text to plain data that remembers where each part stands; bounded, and blind to every tag and alias."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeAlias

import yaml
from turnwright.bank.errors import Fault, Place

LARGEST_FILE = 200_000
DEEPEST = 16
MOST_NODES = 20_000
LONGEST_NUMBER = 40

Key: TypeAlias = str | int
Path_: TypeAlias = tuple[Key, ...]

_INTEGER = re.compile(r"[-+]?[0-9]+$")
_NUMBER = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]{1,3})?$")
_WORDS: dict[str, Any] = {"true": True, "false": False, "null": None, "~": None, "": None}
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2066-\u2069\ufeff]")


@dataclass
class Document:
    """The data of one file with the place of every key and value. Numbers are Decimal or int, as written."""

    file: str
    data: Any = None
    values: dict[Path_, Place] = field(default_factory=dict)
    keys: dict[Path_, Place] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def place(self, path: Path_, *, key: bool = False) -> Place:
        """Where the value (or the key) at ``path`` stands, or its nearest parent."""
        for length in range(len(path), -1, -1):
            found = (self.keys if key and length else self.values).get(path[:length])
            if found:
                return found
        return Place(self.file)

    def fault(self, path: Path_, wrong: str, right: str, *, key: bool = False) -> None:
        """Note a fault at ``path``; its dotted name goes in front of what is wrong."""
        where = ".".join(str(part) for part in path)
        self.faults.append(Fault(self.place(path, key=key), f"{where}: {wrong}" if where else wrong, right))


def read_document(path: Path, name: str | None = None) -> Document:
    """The document in a file; everything wrong with its YAML is in ``faults``, never raised."""
    document = Document(name or str(path))
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_FILE + 1)
    except OSError as error:
        document.fault((), f"the file can't be read ({error.strerror})", "name a readable problem file")
        return document
    return _fill(document, raw)


def parse_document(raw: bytes, name: str) -> Document:
    """The document in ``raw``; as ``read_document``, for data already at hand."""
    return _fill(Document(name), raw)


def _fill(document: Document, raw: bytes) -> Document:
    if len(raw) > LARGEST_FILE:
        document.fault((), "the file is too long", f"a problem file has at most {LARGEST_FILE:,} bytes")
        return document
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        document.faults.append(Fault(Place(document.file, line), "the file is not UTF-8", "save it as UTF-8"))
        return document
    hidden = _CONTROL.search(text)
    if hidden:
        line, column = text.count("\n", 0, hidden.start()) + 1, hidden.start() - text.rfind("\n", 0, hidden.start())
        wrong = f"found the invisible character U+{ord(hidden[0]):04X}"
        document.faults.append(Fault(Place(document.file, line, column), wrong, "remove it"))
        return document
    try:
        _Builder(document).build(text)
    except yaml.YAMLError as error:
        document.faults.append(_yaml_fault(document.file, error))
    except _TooMuchError as error:
        document.faults.append(error.fault)
    return document


class _TooMuchError(Exception):
    def __init__(self, fault: Fault) -> None:
        self.fault = fault
        super().__init__(fault)


def _yaml_fault(file: str, error: yaml.YAMLError) -> Fault:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    problem = getattr(error, "problem", None) or "it can't be read"
    return Fault(place, f"this is not YAML: {problem}", "check indentation, colons and quotation marks near here")


class _Builder:
    """Builds the data from YAML's events, so that depth and size are bounded before anything is made."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.nodes = 0

    def build(self, text: str) -> None:
        events = yaml.parse(text, Loader=yaml.SafeLoader)
        for event in events:
            if isinstance(event, yaml.NodeEvent):
                if self.document.values:
                    self._stop(event, "a second document starts here", "keep one problem in a file")
                self.document.data = self._node(event, events, ())
        if not self.document.values:
            self.document.fault((), "the file is empty", "write a problem, or remove the file")

    def _stop(self, event: Any, wrong: str, right: str) -> None:
        raise _TooMuchError(Fault(self._at(event), wrong, right))

    def _at(self, event: Any) -> Place:
        return Place(self.document.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _node(self, event: Any, events: Iterator[Any], path: Path_) -> Any:
        self.nodes += 1
        if self.nodes > MOST_NODES or len(path) > DEEPEST:
            self._stop(event, "too much, or too deeply nested", f"keep to {DEEPEST} levels and {MOST_NODES:,} values")
        if isinstance(event, yaml.AliasEvent) or event.anchor:
            self._stop(event, "found an anchor or alias", "write the value out; bank files have no anchors")
        if event.tag is not None and event.tag != "!":
            self._stop(event, f"found the tag '{event.tag[:40]}'", "remove it; bank files have no tags")
        self.document.values[path] = self._at(event)
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(events, path)
        return self._mapping(events, path)

    def _scalar(self, event: yaml.ScalarEvent) -> Any:
        text = event.value
        if not event.implicit[0]:
            return text
        if text.lower() in _WORDS:
            return _WORDS[text.lower()]
        if len(text) <= LONGEST_NUMBER and _INTEGER.match(text):
            return int(text)
        return Decimal(text) if len(text) <= LONGEST_NUMBER and _NUMBER.match(text) else text

    def _sequence(self, events: Iterator[Any], path: Path_) -> list[Any]:
        items: list[Any] = []
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            items.append(self._node(event, events, (*path, len(items))))
        return items

    def _mapping(self, events: Iterator[Any], path: Path_) -> dict[str, Any]:
        mapping: dict[str, Any] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            if not isinstance(event, yaml.ScalarEvent):
                self._stop(event, "found a key that is not a word", "keys are plain words")
            key = event.value
            if key in mapping:
                first = self.document.keys[(*path, key)]
                wrong = f"the key '{key[:40]}' stands twice (first in line {first.line})"
                self.document.faults.append(Fault(self._at(event), wrong, "keep one of the two"))
            self.document.keys[(*path, key)] = self._at(event)
            mapping[key] = self._node(next(events), events, (*path, key))
        return mapping
