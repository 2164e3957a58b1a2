"""Every text that a file of a bank carries, held against the glossary of examination English.

What is found is a note to the author, never a fault: a good reason for another word can't be seen by a program.
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Any, Final

from ..documents.document import Document, Path_, read_document
from ..model.note import note_of_word
from ..reading.files import short
from ..writing.glossary import avoided
from .note import Note

_OF_PROBLEMS = ("title", "story", "caution", "because", "means", "name", "stem", "place", "by", "words")
_OF_DEMONSTRATIONS = ("do", "predict", "seen", "none", "caution")
_OF_MISTAKES = ("thinking", "feedback", "hint", "hints")
TEXTS: Final = frozenset((*_OF_PROBLEMS, *_OF_DEMONSTRATIONS, *_OF_MISTAKES))


def documents_beside() -> tuple[Document, ...]:
    """What the shipped bank carries beside its problem files: the catalogue of mistakes and the blueprints."""
    root = Path(str(resources.files("turnwright.bank")))
    files = (path for folder in ("mistakes", "blueprints") for path in sorted((root / folder).glob("*.yaml")))
    return tuple(read_document(path, short(path)) for path in files)


def term_notes(document: Document) -> Iterator[Note]:
    """A note for each avoided term in a problem file, a catalogue of mistakes or a blueprint."""
    for path, text in _texts(document.data, ()):
        where = ".".join(map(str, path))
        for each in avoided(text):
            yield Note(
                note_of_word(each.found),
                _about(document, path),
                f"{where} has '{each.found}'",
                f"write '{each.term.prefer}' ({each.term.why})",
                document.place(path, inside=each.at),
            )


def _about(document: Document, path: Path_) -> str:
    """The id of the question or problem that a text belongs to; nothing in a file of another kind."""
    problem = str(document.data.get("id", "")) if "questions" in document.data else ""
    return f"{problem}.{path[1]}" if problem and path[0] == "questions" else problem


def _texts(data: Any, path: Path_) -> Iterator[tuple[Path_, str]]:
    """The texts that people read, each with its path."""
    if isinstance(data, str):
        if not TEXTS.isdisjoint(path[-2:]):
            yield path, data
        return
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, each in pairs:
        yield from _texts(each, (*path, key))
