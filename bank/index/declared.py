"""What a problem file declares, as far as names, lists and selections ask: plain data, and nothing about answers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, dataclass, fields
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ..model.problem import Problem
    from ..storage.entries import Tree


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
