"""One problem file: its bytes, what it declares, and the problem in it when that is asked for.

What it declares is as much as names, lists and selections ask: plain data, and nothing about answers.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..documents.bounds import LARGEST_FILE
from ..reading.finding import short
from ..storage.dependencies import everything
from ..storage.entries import Tree, forget, kept
from ..storage.files import ordinary_bytes

if TYPE_CHECKING:
    from ..documents.document import Document
    from ..model.problem import Problem

FILE, COUNTS = "file", "counts"  # the two sorts of entries


@dataclass(frozen=True)
class DeclaredQuestion:
    """What is asked from what, in which scenes; ``enemies`` are ids of questions."""

    name: str
    title: str
    ask: str
    given: tuple[str, ...]
    scenes: tuple[str, ...]
    level: str
    objectives: tuple[str, ...]
    enemies: tuple[str, ...]


@dataclass(frozen=True)
class DeclaredProblem:
    """One situation with all its questions, and the names of its diagrams."""

    id: str
    title: str
    family: str
    level: str
    licence: str
    objectives: tuple[str, ...]
    diagrams: tuple[str, ...]
    questions: tuple[DeclaredQuestion, ...]


def declared_by(problem: Problem) -> DeclaredProblem:
    """What a problem declares."""
    return DeclaredProblem(
        id=problem.id,
        title=problem.title,
        family=problem.family,
        level=problem.level,
        licence=problem.licence,
        objectives=problem.objectives,
        diagrams=tuple(each.name for each in problem.diagrams),
        questions=tuple(
            DeclaredQuestion(
                name=each.name,
                title=each.title,
                ask=each.ask,
                given=each.given,
                scenes=tuple(scene.name for scene in problem.scenes_of(each)),
                level=each.level,
                objectives=each.objectives,
                enemies=each.enemies,
            )
            for each in problem.questions
        ),
    )


def dumped(declared: DeclaredProblem) -> Tree:
    """The same as plain data."""
    return asdict(declared)


def loaded(data: Any) -> DeclaredProblem:
    """What these data declare. Raises ValueError, TypeError or LookupError for data of another shape."""
    questions = tuple(DeclaredQuestion(**_fields(DeclaredQuestion, each)) for each in data["questions"])
    return DeclaredProblem(**_fields(DeclaredProblem, data), questions=questions)


def _fields(declared: type[DeclaredProblem | DeclaredQuestion], data: Any) -> dict[str, Any]:
    """The fields that are texts, or lists of texts, by their types."""
    readers = _QUESTION if declared is DeclaredQuestion else _PROBLEM
    return {name: read(data[name]) for name, read in readers}


def _readers(declared: type[Any]) -> tuple[tuple[str, Callable[[Any], Any]], ...]:
    readers: dict[Any, Callable[[Any], Any]] = {"str": text, "tuple[str, ...]": _texts}
    return tuple((each.name, readers[each.type]) for each in fields(declared) if each.type in readers)


def text(value: Any) -> str:
    """A text. Raises ValueError for anything else."""
    if not isinstance(value, str):
        raise ValueError("no text")
    return value


def _texts(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list | tuple) or not _TEXT.issuperset(map(type, value)):
        raise ValueError("no list of texts")
    return tuple(value)


_TEXT = frozenset({str})
_PROBLEM, _QUESTION = map(_readers, (DeclaredProblem, DeclaredQuestion))


class BankFile:
    """A file of a bank. ``id`` is that of its problem, with faults or without; empty where none can be read.

    ``declared`` is what an entry says, or the file itself; None where it has faults. What has not passed before is read
    at once. ``key`` is what an entry depends on.
    """

    def __init__(self, path: Path, *, is_ours: bool) -> None:
        self.path, self.is_ours = path, is_ours
        self._raw = _bytes_of(path)
        self.key: Tree = [*everything(), hashlib.sha256(self._raw or b"").hexdigest()]
        self._document: Document | None = None
        self._problem: Problem | None = None
        self.id, self.declared = self._looked_up()
        if self.declared is None and self._document is None:
            self._read()  # its faults are to be told; it may have none by now, where a slow machine had called it slow

    @property
    def document(self) -> Document:
        """The document of the file, read by now."""
        self.problem()
        assert self._document is not None
        return self._document

    def problem(self) -> Problem | None:
        """The problem in the file; None where it has faults, which its document tells.

        One that does not hold what its entry declares is read anew, and ``declared`` changes.
        """
        if self._document is None and not self._holds_what_it_declared():
            forget(FILE, self.key)
            self._read()
        return self._problem

    def speaks_of(self, name: str) -> bool:
        """Whether a name stands in the file as an id or a family, as far as that can be seen without reading it."""
        word = re.escape(name.encode(errors="replace"))
        return re.search(rb"(?m)^[\"']?(id|family)[\"']?:\s*[\"']?" + word, self._raw or b"") is not None

    # --- what was read before ---

    def _looked_up(self) -> tuple[str, DeclaredProblem | None]:
        if self._raw is None:
            return self._read()
        return kept(FILE, self.key, self._data, _identity)

    def _data(self) -> Tree:
        name, declared = self._read()
        return {"id": name, "declared": dumped(declared) if declared else None}

    def _holds_what_it_declared(self) -> bool:
        """Opens the file without checking what has passed before; False where its entry was wrong."""
        from ..reading.files import problem_of

        self._document = self._parsed()
        try:
            self._problem = problem_of(self._document, has_passed=True)
        except Exception:  # a forged entry may vouch for anything; what then goes wrong is told by the checks
            return False
        return self._problem is not None and declared_by(self._problem) == self.declared

    # --- the file itself ---

    def _read(self) -> tuple[str, DeclaredProblem | None]:
        """Reads and checks the file; its faults are in its document then."""
        from ..reading.files import problem_or_faults

        self._document = self._parsed()
        self._problem = problem_or_faults(self._document)
        data = self._document.data
        name = data.get("id") if isinstance(data, Mapping) else ""
        self.id = name if isinstance(name, str) else ""
        self.declared = declared_by(self._problem) if self._problem else None
        return self.id, self.declared

    def _parsed(self) -> Document:
        from ..documents.document import parse_document, read_document

        name = short(self.path)
        document = read_document(self.path, name) if self._raw is None else parse_document(self._raw, name)
        document.is_ours = self.is_ours
        return document


def _identity(data: Any) -> tuple[str, DeclaredProblem | None]:
    name, declared = text(data["id"]), data["declared"]
    found = None if declared is None else loaded(declared)
    if found and found.id != name:
        raise ValueError("two ids")
    return name, found


def _bytes_of(path: Path) -> bytes | None:
    """What stands in an ordinary file, up to one byte more than is read; None for anything else."""
    try:
        return ordinary_bytes(path, LARGEST_FILE + 1)
    except (OSError, ValueError):
        return None
