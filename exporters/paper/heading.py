"""What a school puts on its papers: names on top, what candidates fill in, its own instructions, lines."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ...bank.documents.document import read_document
from ...bank.documents.shape import check_shape
from ...bank.errors import BankFaultsError

FIELDS = ("Name", "Class", "Date")


@dataclass(frozen=True)
class Heading:
    """The head of a paper; ``lines`` is how many lines every number question has, None for as many as its marks ask."""

    school: str = ""
    course: str = ""
    date: str = ""
    fields: tuple[str, ...] = FIELDS
    instructions: tuple[str, ...] = ()
    lines: int | None = None


def read_heading(path: Path) -> Heading:
    """The heading in a YAML file (schema ``heading``). Raises BankFaultsError with all its faults."""
    document = read_document(path)
    if not document.whole or document.faults or not check_shape(document, "heading"):
        raise BankFaultsError(sorted(document.faults, key=lambda fault: (fault.place.line, fault.place.column)))
    data: dict[str, Any] = {
        name: tuple(each) if isinstance(each, list) else each for name, each in document.data.items()
    }
    return Heading(**data)
