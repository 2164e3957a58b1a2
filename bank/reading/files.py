"""Problem files to checked problems: every fault of every file, then one raise."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, lru_cache, partial
from pathlib import Path
from typing import TypeAlias

from ..documents.document import Document, read_document
from ..errors import BankFaultsError, Fault, OverBudgetError, Place, TurnwrightError, broken_off
from ..limits import budget
from ..limits.apart import apart
from ..model.problem import Problem
from .building import build_problem
from .finding import problem_files, shipped_files, short
from .mistakes import shipped_mistakes

__all__ = [
    "agreed",
    "collect",
    "judged",
    "problem_files",
    "problem_of",
    "problem_or_faults",
    "read_bank",
    "read_problem",
    "shipped_files",
    "short",
]


def read_problem(path: Path | str) -> Problem:
    """The problem in one file. Raises BankFaultsError with all its faults."""
    (problem,) = read_bank([Path(path)])
    return problem


def read_bank(files: Sequence[Path] | None = None) -> tuple[Problem, ...]:
    """The problems in the files, or in the shipped bank. Raises BankFaultsError with all faults of all files.

    Files that come with the library are read again in a process only where they were changed or are told otherwise.
    """
    shipped = shipped_files()
    if files is None or set(files) <= set(shipped):
        return _read(tuple(map(_state, shipped if files is None else files)))
    return _without_fault(files)


_FileState: TypeAlias = tuple[Path, str, int, int]  # where it is, how it is told, when it was changed, its size


def _state(path: Path) -> _FileState:
    found = path.stat()
    return path, short(path), found.st_mtime_ns, found.st_size


@lru_cache(maxsize=8)
def _read(states: tuple[_FileState, ...]) -> tuple[Problem, ...]:
    return _without_fault([path for path, *_ in states])


def _without_fault(files: Sequence[Path]) -> tuple[Problem, ...]:
    problems, faults = collect(files)
    if faults:
        raise BankFaultsError(faults)
    return problems


def collect(files: Sequence[Path], *, is_apart: bool = False) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
    """The problems without fault, and every fault found, file by file from top to bottom; nothing is raised.

    With ``is_apart`` strangers' files are looked through in processes of their own, so that one that has to be ended
    leaves no trace in this one.
    """
    documents = [read_document(path, short(path)) for path in files]
    ours = set(shipped_files())
    for path, document in zip(files, documents, strict=True):
        document.is_ours = path in ours
    if not is_apart:
        return agreed(documents, [problem_or_faults(document) for document in documents])
    if not all(each.is_ours for each in documents):
        _load()
    pairs = [apart(document, partial(_with_document, document)) for document in documents]
    return agreed([document for document, _ in pairs], [problem for _, problem in pairs])


@cache
def _load() -> None:
    """Load what a check needs, by one of our own files: else each process would, on the time of its stranger."""
    document = read_document(shipped_files()[0])
    document.is_ours = True
    _checked(document)
    shipped_mistakes()


def _with_document(document: Document) -> tuple[Document, Problem | None]:
    """The document with the faults that were noted in it, and the problem."""
    problem = problem_or_faults(document)
    return document, problem


def judged(documents: Sequence[Document]) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
    """The problems without fault in the documents of one bank, and every fault found in them."""
    return agreed(documents, [problem_of(document) for document in documents])


def agreed(
    documents: Sequence[Document], problems: Sequence[Problem | None]
) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
    """The same, of documents that were looked at one by one: here they are held against each other."""
    _refuse_repeated_ids(documents)
    _refuse_unknown_enemies([each for each in problems if each])
    faults = tuple(fault for document in documents for fault in sorted(document.faults, key=_position))
    return tuple(each for each in problems if each and not each.document.faults), faults


def _position(fault: Fault) -> tuple[int, int]:
    return fault.place.line, fault.place.column


def _refuse_repeated_ids(documents: Sequence[Document]) -> None:
    first: dict[str, Document] = {}
    for document in documents:
        name = document.data.get("id") if isinstance(document.data, dict) else None
        if not isinstance(name, str):
            continue
        earlier = first.setdefault(name, document)
        if earlier is not document:
            wrong = f"'{name}' is taken by {earlier.place(('id',))}"
            document.fault(("id",), wrong, "give every problem an id of its own")


def _refuse_unknown_enemies(problems: Sequence[Problem]) -> None:
    """Note each declared enemy of a problem of this bank that it does not ask; other problems may stand elsewhere."""
    asked = {problem.id: {question.name for question in problem.questions} for problem in problems}
    for problem in problems:
        for question in problem.questions:
            for at, enemy in enumerate(question.enemies):
                owner, _, name = enemy.partition(".")
                if owner in asked and name not in asked[owner] and "/" not in enemy:
                    wrong = f"no question is called '{enemy}'"
                    problem.document.fault(
                        ("questions", question.name, "enemies", at),
                        wrong,
                        "name a question of the bank, or take it out",
                    )


def problem_of(document: Document, *, has_passed: bool = False) -> Problem | None:
    """The problem in a document, or None where it has faults (all are noted in the document now).

    One that ``has_passed`` its checks before, letter by letter, is not checked again.
    """
    if not document.whole:
        return None
    try:
        with budget.within(document, document.file, Place(document.file), budget.READING):
            problem = build_problem(document) if has_passed else _checked(document)
    except OverBudgetError as error:
        document.fault((), error.wrong, "use fewer and shorter relations, or split the file")
    return None if document.faults else problem


def problem_or_faults(document: Document) -> Problem | None:
    """The problem in a document of a bank; where the program itself fails with it, that is its fault."""
    try:
        return problem_of(document)
    except TurnwrightError:
        raise
    except Exception as error:  # whatever it is, the other files of the bank are still to be told of
        document.fault((), *broken_off(error))
        return None


def _checked(document: Document) -> Problem:
    """The problem, with all that is wrong noted in the document."""
    from ..documents.shape import fit  # these load much, and only for a file that has not passed before
    from .consistency import check_consistency

    fit(document, "problem")
    problem = build_problem(document)
    check_consistency(problem)
    return problem
