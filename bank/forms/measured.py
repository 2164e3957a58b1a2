"""What results have told of questions, read from the ``statistics`` files beside problem files."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from ..documents.document import read_document
from ..documents.shape import check_shape
from ..errors import BankFaultsError, Fault
from ..model.problem import Problem

FEWEST = 30  # candidates from whom a facility is taken, its standard error being below 0.1 then; house limit


@dataclass(frozen=True)
class Measured:
    """The facility of a question among ``n`` candidates."""

    facility: float
    n: int
    date: str


def statistics_file(problem: Problem) -> Path:
    """Where the statistics of a problem lie: beside its file."""
    file = Path(problem.document.file)
    return file.with_name(f"{file.stem}.statistics.json")


def measured(problems: Iterable[Problem]) -> Mapping[str, Measured]:
    """The measured questions by id, where there are such files. Raises BankFaultsError with all faults of all files."""
    found: dict[str, Measured] = {}
    faults: list[Fault] = []
    for problem in problems:
        path = statistics_file(problem)
        if not path.is_file():
            continue
        document = read_document(path)
        if document.whole and not document.faults and check_shape(document, "statistics"):
            found |= {
                name if name.startswith(f"{problem.id}.") else f"{problem.id}.{name}": Measured(
                    float(each["facility"]), each["n"], each["date"]
                )
                for name, each in document.data.items()
            }
        faults += document.faults
    if faults:
        raise BankFaultsError(faults)
    return found
