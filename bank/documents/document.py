"""YAML text to plain data that remembers where each part stands; bounded, and blind to every tag and alias."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any, NoReturn, TypeAlias

import yaml

from ..errors import HIDDEN, Fault, Place, hidden_in
from .bounds import DEEPEST, LARGEST_FILE
from .events import events_of
from .yaml_fault import place_after, yaml_fault

MOST_NODES = 10_000
MOST_ITEMS = 500
MOST_HIDDEN = 20
LONGEST_NUMBER = 40

Key: TypeAlias = str | int
Path_: TypeAlias = tuple[Key, ...]

_INTEGER = re.compile(r"[-+]?[0-9]+")
_NUMBER = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]{1,2})?")
_WORDS: dict[str, Any] = {"true": True, "false": False, "null": None, "~": None, "": None}
_LINE_BREAK = re.compile(r" *[\t\n\r]+ *")


def hidden_texts(data: Any) -> Iterator[tuple[Path_, str]]:
    """The path to each text (or key) in plain data that holds an invisible character, with the first such character."""
    left: list[tuple[Path_, Any]] = [((), data)]
    while left:
        path, value = left.pop()
        if isinstance(value, str):
            if found := hidden_in(value) or ("U+000A" if "\n" in value else ""):
                yield path, found
        elif isinstance(value, dict):
            left += [((*path, key), each) for key, each in value.items()]
            left += [((*path, key), key) for key in value if hidden_in(key)]
        elif isinstance(value, list):
            left += [((*path, at), each) for at, each in enumerate(value)]


@dataclass(eq=False)
class Document:
    """The data of one file with the place of every key and value. Numbers are Decimal or int, as written.

    ``whole`` says that the file was read to its end; ``opens`` tells how far behind its place the text of a value
    begins, for values that stand there letter by letter. ``is_ours`` says that it came with the library, so that its
    algebra is known to end.
    """

    file: str
    data: Any = None
    whole: bool = False
    is_ours: bool = False
    values: dict[Path_, Place] = field(default_factory=dict)
    keys: dict[Path_, Place] = field(default_factory=dict)
    opens: dict[Path_, int] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    faulty: set[Path_] = field(default_factory=set)
    unsound: set[Path_] = field(default_factory=set)
    _inside: tuple[int, dict[Path_, set[str]]] = field(default=(0, {}), init=False, repr=False, compare=False)

    def place(self, path: Path_, *, key: bool = False, inside: int | None = None) -> Place:
        """Where the value (or the key) at ``path`` stands, or its nearest parent; ``inside`` counts its letters."""
        for length in range(len(path), -1, -1):
            found = (self.keys if key and length else self.values).get(path[:length])
            if found:
                shift = self.opens[path] + inside if inside is not None and path in self.opens else 0
                return Place(found.file, found.line, found.column + shift)
        return Place(self.file)

    def fault(self, path: Path_, wrong: str, right: str, *, key: bool = False, inside: int | None = None) -> None:
        """Note a fault at ``path``; its dotted name goes in front of what is wrong. The same fault is noted once."""
        where = ".".join(str(part)[:40] for part in path)
        noted = Fault(self.place(path, key=key, inside=inside), f"{where}: {wrong}" if where else wrong, right)
        if path not in self.faulty or noted not in self.faults:
            self.faults.append(noted)
        self.mark(path)

    def mark(self, path: Path_) -> None:
        """Remember that something was wrong at ``path``, and so in all that it is a part of."""
        self.faulty.add(path)
        self.unsound.update(path[:length] for length in range(len(path) + 1))

    def is_sound(self, *path: Key) -> bool:
        """Whether no fault was noted at ``path`` or in a part of it."""
        return path not in self.unsound

    def names(self, *path: Key) -> frozenset[str]:
        """The keys that stand in the file under ``path``, also those of parts that were dropped."""
        many, inside = self._inside
        if many != len(self.keys):
            inside = {}
            for *parents, last in self.keys:
                inside.setdefault(tuple(parents), set()).add(str(last))
            self._inside = len(self.keys), inside
        return frozenset(inside.get(path, ()))

    def drop(self, path: Path_) -> None:
        """Take what stands at ``path`` out of the data; the places of later list items move up with them."""
        *parents, last = path
        holder = self.data
        for part in parents:
            holder = holder[part]
        del holder[last]
        if isinstance(last, int):
            self._inside = 0, {}
            for places in (self.values, self.keys, self.opens):
                _move_up(places, tuple(parents), last)


def _move_up(places: dict[Path_, Any], parents: Path_, dropped: int) -> None:
    depth = len(parents)
    kept = [(path, place) for path, place in places.items() if path[: depth + 1] != (*parents, dropped)]
    places.clear()
    for path, place in kept:
        number = path[depth] if len(path) > depth and path[:depth] == parents else None
        later = isinstance(number, int) and number > dropped
        places[(*parents, path[depth] - 1, *path[depth + 1 :]) if later else path] = place  # type: ignore[operator]


def read_document(path: Path, name: str | None = None) -> Document:
    """The document in a file; everything wrong with its YAML is in ``faults``, never raised."""
    document = Document(name or str(path))
    try:
        if path.exists() and not path.is_file():
            document.fault((), "this is not an ordinary file", "name a problem file")
            return document
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "this is no file name"
        document.fault((), f"the file can't be read ({reason})", "name a readable problem file")
        return document
    return _fill(document, raw)


def parse_document(raw: bytes, name: str) -> Document:
    """The document in ``raw``; as ``read_document``, for data already at hand."""
    return _fill(Document(name), raw)


def _fill(document: Document, raw: bytes) -> Document:
    text = _decoded(document, raw)
    if text is None or not _all_is_visible(document, text):
        return document
    try:
        _Builder(document).build(text)
        document.whole = bool(document.values)
    except (yaml.YAMLError, ValueError, OverflowError) as error:  # chr() refuses an escape beyond U+10FFFF
        document.faults.append(yaml_fault(document.file, text, error))
    except _TooMuchError as error:
        document.faults.append(error.fault)
    return document


def _decoded(document: Document, raw: bytes) -> str | None:
    if len(raw) > LARGEST_FILE:
        document.fault((), "the file is too long", f"a problem file has at most {LARGEST_FILE:,} bytes")
        return None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = error.object[: error.start].decode("utf-8")
        place = place_after(document.file, before)
        wrong = f"the file is not UTF-8 (found the byte {error.object[error.start]:02X})"
        document.faults.append(Fault(place, wrong, "save it as UTF-8"))
        return None


def _all_is_visible(document: Document, text: str) -> bool:
    hidden = list(HIDDEN.finditer(text))
    for found in hidden[:MOST_HIDDEN]:
        place = place_after(document.file, text[: found.start()])
        document.faults.append(Fault(place, f"found the invisible character U+{ord(found[0]):04X}", "remove it"))
    return not hidden


def _length(event: yaml.ScalarEvent) -> int:
    """How many letters a value has where it is written, quotation marks included; -1 over several lines."""
    start, end = event.start_mark, event.end_mark
    return end.index - start.index if start and end and start.line == end.line else -1


class _TooMuchError(Exception):
    def __init__(self, fault: Fault) -> None:
        self.fault = fault
        super().__init__(fault)


class _Builder:
    """Builds the data from YAML's events, so that depth and size are bounded before anything is made."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.nodes = 0

    def build(self, text: str) -> None:
        """Fills the document with data and places; what is too deep, too long or no plain data is noted."""
        events = events_of(text)
        for event in events:
            if isinstance(event, yaml.NodeEvent):
                if self.document.values:
                    self._stop(event, "a second document starts here", "keep one problem in a file")
                self.document.data = self._node(event, events, ())
        if not self.document.values:
            self.document.fault((), "the file is empty", "write a problem, or remove the file")

    def _note(self, event: Any, wrong: str, right: str) -> None:
        self.document.faults.append(Fault(self._at(event), wrong, right))

    def _stop(self, event: Any, wrong: str, right: str) -> NoReturn:
        raise _TooMuchError(Fault(self._at(event), wrong, right))

    def _at(self, event: Any) -> Place:
        return Place(self.document.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _node(self, event: Any, events: Iterator[Any], path: Path_) -> Any:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self._stop(event, "there are too many values", f"a problem file has at most {MOST_NODES:,}")
        if len(path) > DEEPEST:
            self._stop(event, "this is nested too deeply", f"keep to {DEEPEST} levels")
        self._refuse_marks(event)
        self.document.values[path] = self._at(event)
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event, path)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(events, path)
        return self._mapping(events, path)

    def _refuse_marks(self, event: Any) -> None:
        """Refuse what could stand for something else; a tag or anchor is left aside, so that the rest can be read."""
        if isinstance(event, yaml.AliasEvent):
            self._stop(event, f"found the alias '*{str(event.anchor)[:40]}'", "write the value out")
        if event.anchor:
            self._note(event, f"found the anchor '&{str(event.anchor)[:40]}'", "remove it, and write each value out")
        if event.tag is not None and event.tag != "!":
            self._note(event, f"found the tag '{str(event.tag)[:40]}'", "remove it; a problem file has no tags")

    def _scalar(self, event: yaml.ScalarEvent, path: Path_) -> Any:
        text = self._visible(event)
        value = self._plain(text) if event.implicit[0] else text
        quotes = 1 if event.style else 0
        if text == event.value == str(value) and _length(event) == len(text) + 2 * quotes:
            self.document.opens[path] = quotes
        return value

    def _plain(self, text: str) -> Any:
        """What a text without quotation marks stands for."""
        if text.lower() in _WORDS:
            return _WORDS[text.lower()]
        if len(text) <= LONGEST_NUMBER and _INTEGER.fullmatch(text):
            return int(text)
        return Decimal(text) if len(text) <= LONGEST_NUMBER and _NUMBER.fullmatch(text) else text

    def _visible(self, event: yaml.ScalarEvent) -> str:
        """The text on one line; an escape such as ``\\u200b`` may bring in what the file itself may not hold."""
        hidden = hidden_in(event.value)
        if hidden:
            self._note(event, f"found the invisible character {hidden}, written as an escape", "remove it")
        return _LINE_BREAK.sub(" ", HIDDEN.sub("", event.value).strip("\n"))

    def _sequence(self, events: Iterator[Any], path: Path_) -> list[Any]:
        items: list[Any] = []
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            if len(items) == MOST_ITEMS:
                self._stop(event, "this list is too long", f"keep to {MOST_ITEMS} items")
            items.append(self._node(event, events, (*path, len(items))))
        return items

    def _mapping(self, events: Iterator[Any], path: Path_) -> dict[str, Any]:
        mapping: dict[str, Any] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            if not isinstance(event, yaml.ScalarEvent):
                self._stop(event, "found a key that is not a word", "keys are plain words")
            self._refuse_marks(event)
            key = self._visible(event)
            if key in mapping:
                first = self.document.keys[(*path, key)]
                wrong = f"the key '{key[:40]}' stands twice (first in line {first.line})"
                self._note(event, wrong, "keep one of the two")
                self._pass_over(next(events), events, (*path, key))
                continue
            self.document.keys[(*path, key)] = self._at(event)
            mapping[key] = self._node(next(events), events, (*path, key))
        return mapping

    def _pass_over(self, event: Any, events: Iterator[Any], path: Path_) -> None:
        """Reads a second value for its faults alone: data and places are those of the first."""
        first, self.document = self.document, Document(self.document.file, faults=self.document.faults)
        self._node(event, events, path)
        self.document = first
