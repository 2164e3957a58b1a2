"""The catalogue of mistakes from its YAML files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from ..documents.document import Document, read_document
from ..documents.shape import check_shape
from ..errors import BankFaultsError, ExpressionError, Fault
from ..model.expression import parse, parse_relation
from ..model.mistake import Mistake

_FORMULAS = ("acceleration", "contact-is", "contact-inward-is", "round", "answer")


def read_mistakes(files: Sequence[Path]) -> tuple[Mistake, ...]:
    """The mistakes of some catalogue files. Raises BankFaultsError with all faults of all files."""
    found: list[Mistake] = []
    faults: list[Fault] = []
    for path in files:
        document = read_document(path)
        if not document.faults and check_shape(document, "mistakes"):
            found += mistakes_of(document, ("mistakes",), document.data["mistakes"])
        faults += document.faults
    ids = [each.id for each in found]
    repeated = [each for number, each in enumerate(found) if each.id in ids[:number]]
    faults += [Fault(each.place, f"the mistake '{each.id}' stands twice", "give it another id") for each in repeated]
    if faults:
        raise BankFaultsError(faults)
    return tuple(found)


@cache
def shipped_mistakes() -> tuple[Mistake, ...]:
    """The catalogue that comes with the library; its files are numbered, the more telling mistakes first."""
    root = Path(str(resources.files("turnwright.bank") / "mistakes"))
    return read_mistakes(sorted(root.glob("*.yaml")))


def mistakes_of(document: Document, path: tuple[str, ...], data: Mapping[str, Any]) -> list[Mistake]:
    """The mistakes under ``path`` of a document; formulas that do not parse are noted in it.

    One that misses a part is passed over: its shape was found wrong already.
    """
    found = []
    for name, each in data.items():
        if not each.get("edit") or not each.keys() >= {"thinking", "feedback", "source"}:
            continue
        ((kind, argument),) = each["edit"].items()
        _check_formula(document, (*path, name, "edit", kind), kind, argument)
        found.append(
            Mistake(
                id=name,
                thinking=each["thinking"],
                edit=(kind, argument),
                feedback=each["feedback"],
                source=each["source"],
                families=tuple(each.get("families", ())),
                place=document.place((*path, name), key=True),
            )
        )
    return found


def _check_formula(document: Document, path: tuple[str, ...], kind: str, argument: Any) -> None:
    try:
        if kind in _FORMULAS:
            parse(str(argument))
        elif kind == "given" and "is" in argument:  # a missing part was noted already
            parse(str(argument["is"]))
        elif kind == "limit":
            parse_relation(str(argument))
    except ExpressionError as error:
        document.fault(path, f"{error.wrong} in '{error.text}'", error.right)
