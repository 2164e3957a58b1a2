"""Problem files to checked problems: every fault of every file, then one raise."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from importlib import resources
from itertools import islice
from pathlib import Path

from ..documents.document import Document, read_document
from ..documents.shape import fit
from ..errors import BankFaultsError, Fault, FileError, OverBudgetError, Place
from ..limits import budget
from ..model.problem import Problem
from .building import build_problem
from .consistency import check_consistency

_ENDINGS = (".yaml", ".yml")
MOST_FILES = 2_000  # of a bank
MOST_ENTRIES = 100_000  # looked through in a folder


def shipped_files() -> list[Path]:
    """The problem files that come with the library, in a fixed order."""
    root = Path(str(resources.files("turnwright.bank") / "problems"))
    return sorted(root.rglob("*.yaml"))


def problem_files(paths: Iterable[Path]) -> list[Path]:
    """The files meant by paths, each once; a folder stands for all ``.yaml`` and ``.yml`` files below it.

    Raises FileError for a path that leads to none.
    """
    files: dict[str, Path] = {}
    for path in paths:
        try:
            for each in _files_at(path):
                files.setdefault(_resolved(each), each)
                if len(files) > MOST_FILES:
                    raise FileError(
                        str(path), f"there are more than {MOST_FILES:,} problem files", "name fewer at once"
                    )
        except OSError as error:
            raise FileError(str(path), f"it can't be read ({error.strerror})", "name a readable path") from None
    return list(files.values())


def _files_at(path: Path) -> list[Path]:
    if path.is_dir():
        entries = list(islice(path.rglob("*"), MOST_ENTRIES + 1))
        if len(entries) > MOST_ENTRIES:
            wrong = f"there are more than {MOST_ENTRIES:,} files and folders in it"
            raise FileError(str(path), wrong, "name a folder that holds a bank and little else")
        found = sorted(each for each in entries if each.suffix.lower() in _ENDINGS and each.is_file())
        if not found:
            raise FileError(str(path), "there is no problem file in this folder", "problem files end in .yaml")
        return found
    if not path.exists():
        raise FileError(str(path), "there is no such file or folder", "name a problem file or a folder of them")
    return [path]


def _resolved(path: Path) -> str:
    try:
        return str(path.resolve())
    except (OSError, RuntimeError):
        return str(path)


def read_problem(path: Path | str) -> Problem:
    """The problem in one file. Raises BankFaultsError with all its faults."""
    (problem,) = read_bank([Path(path)])
    return problem


def read_bank(files: Sequence[Path] | None = None) -> tuple[Problem, ...]:
    """The problems in the files, or in the shipped bank. Raises BankFaultsError with all faults of all files."""
    problems, faults = collect(shipped_files() if files is None else files)
    if faults:
        raise BankFaultsError(faults)
    return problems


def collect(files: Sequence[Path]) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
    """The problems without fault, and every fault found, file by file from top to bottom; nothing is raised."""
    documents = [read_document(path, short(path)) for path in files]
    ours = set(shipped_files())
    for path, document in zip(files, documents, strict=True):
        document.is_ours = path in ours
    return judged(documents)


def judged(documents: Sequence[Document]) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
    """The problems without fault in the documents of one bank, and every fault found in them."""
    problems = [problem_of(document) for document in documents]
    _refuse_repeated_ids(documents)
    _refuse_unknown_enemies([each for each in problems if each])
    faults = tuple(fault for document in documents for fault in sorted(document.faults, key=_position))
    return tuple(each for each in problems if each and not each.document.faults), faults


def _position(fault: Fault) -> tuple[int, int]:
    return fault.place.line, fault.place.column


def short(path: Path) -> str:
    """The path as an editor can open it from here: relative where that is shorter."""
    try:
        return str(path.resolve().relative_to(Path.cwd()))
    except (ValueError, OSError, RuntimeError):
        return str(path)


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


def problem_of(document: Document) -> Problem | None:
    """The problem in a document, or None where it has faults (all are noted in the document now)."""
    if not document.whole:
        return None
    try:
        with budget.within(document, document.file, Place(document.file), budget.READING):
            fit(document, "problem")
            problem = build_problem(document)
            check_consistency(problem)
    except OverBudgetError as error:
        document.fault((), error.wrong, "use fewer and shorter relations, or split the file")
    return None if document.faults else problem
