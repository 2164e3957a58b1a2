"""The catalogue of mistakes from its YAML files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from ..documents.document import Document, read_document
from ..errors import BankFaultsError, ExpressionError, Fault
from ..language import either
from ..model.edit import Edit, edit_of
from ..model.mistake import WEIGHTS, Mistake, Prior
from ..model.wording import IN_GENERAL, Slot, in_phrases, pieces
from ..storage.dependencies import everything
from ..storage.entries import kept
from .needs import trigger_of


def read_mistakes(files: Sequence[Path], *, has_passed: bool = False) -> tuple[Mistake, ...]:
    """The mistakes of some catalogue files; their shape is not checked again where it ``has_passed`` before.

    Raises BankFaultsError with all faults of all files.
    """
    found: list[Mistake] = []
    faults: list[Fault] = []
    known: set[str] = set()
    repeated: list[Fault] = []
    for path in files:
        document = read_document(path)
        if not document.faults and (has_passed or _has_its_shape(document)):
            found += mistakes_of(document, ("mistakes",), document.data["mistakes"])
            repeated += _repeated(document, known)
        faults += document.faults
    if faults or repeated:
        raise BankFaultsError([*faults, *repeated])
    return tuple(found)


def _has_its_shape(document: Document) -> bool:
    from ..documents.shape import check_shape  # which loads much

    return check_shape(document, "mistakes")


def _repeated(document: Document, known: set[str]) -> Iterator[Fault]:
    """A fault for each mistake of a document whose id is among the known ones; its own ids are added to them."""
    for name in document.data["mistakes"]:
        if name in known:
            place = document.place(("mistakes", name), key=True)
            yield Fault(place, f"the mistake '{name}' stands twice", "give it another id")
        known.add(name)


@cache
def shipped_mistakes() -> tuple[Mistake, ...]:
    """The catalogue that comes with the library; its files are numbered, the more telling mistakes first."""
    files = sorted((Path(__file__).parents[1] / "mistakes").glob("*.yaml"))
    fresh: list[tuple[Mistake, ...]] = []

    def checked() -> bool:
        fresh.append(read_mistakes(files))
        return True

    kept("catalogue", everything(), checked, bool)
    return fresh[-1] if fresh else read_mistakes(files, has_passed=True)


def mistakes_of(document: Document, path: tuple[str, ...], data: Mapping[str, Any]) -> list[Mistake]:
    """The mistakes under ``path`` of a document; formulas that do not parse are noted in it.

    One that misses a part is passed over: its shape was found wrong already.
    """
    found = []
    for name, each in data.items():
        if not each.get("edit") or not each.keys() >= {"thinking", "feedback", "source"}:
            continue
        edit = _edit(document, (*path, name, "edit"), each["edit"])
        texts = {part: str(each[part]) for part in ("thinking", "feedback")}
        if edit and _slots_are_known(document, (*path, name), texts):
            general = {part: in_phrases(text, IN_GENERAL) for part, text in texts.items()}
            found.append(
                Mistake(
                    id=name,
                    thinking=general["thinking"],
                    edit=edit,
                    feedback=general["feedback"],
                    written=None if general == texts else (texts["thinking"], texts["feedback"]),
                    source=each["source"],
                    families=tuple(each.get("families", ())),
                    prior=_prior(each.get("prior")),
                    needs=trigger_of(document, (*path, name), each, edit),
                    place=document.place((*path, name), key=True),
                )
            )
    return found


def _slots_are_known(document: Document, path: tuple[str, ...], texts: Mapping[str, str]) -> bool:
    """Whether every slot of these texts is one that scenes fill; another one is noted."""
    unknown = [(part, each.name) for part, text in texts.items() for each in pieces(text) if isinstance(each, Slot)]
    unknown = [each for each in unknown if each[1] not in IN_GENERAL]
    for part, name in unknown:
        document.fault((*path, part), f"found the unknown slot '{{{name}}}'", f"write {either(sorted(IN_GENERAL))}")
    return not unknown


def _prior(data: Mapping[str, Any] | None) -> Prior:
    """How often a mistake is met; as usual where nothing is said, or said in a wrong shape, which is noted already."""
    known = isinstance(data, Mapping) and data.get("weight") in WEIGHTS and "source" in data
    return Prior(data["weight"], data["source"]) if data and known else Prior()


def _edit(document: Document, path: tuple[str, ...], data: Mapping[str, Any]) -> Edit | None:
    """The edit that is written at ``path``; None where a part is missing, or a formula does not parse: it is noted."""
    ((name, argument),) = data.items()
    try:
        return edit_of(name, argument)
    except ExpressionError as error:
        document.fault((*path, name), f"{error.wrong} in '{error.text}'", error.right)
    except KeyError:
        pass  # a missing part was noted already
    return None
