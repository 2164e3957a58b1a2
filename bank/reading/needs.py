"""What a mistake needs, held against its edit and its own words: who speaks of a diameter needs one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..documents.document import Document
from ..language import either
from ..model.edit import DiagramEdit, DirectionEdit, DrawnEdit, Edit, NumericEdit
from ..model.mistake import TRIGGERS, Trigger

OF_THOUGHT: Trigger = "steady-speed"
OF_DRAWN: Trigger = "held-by-a-body"
# words of a thought, and the triggers of which one has to be there before anybody can think so
SPOKEN: Mapping[str, tuple[Trigger, ...]] = {
    "diameter": ("gives-diameter", "asks-diameter", "asks-radius"),
    "circumference": ("gives-circumference",),
    "½ m v²": ("square-of-the-speed",),
    "speed is constant": (OF_THOUGHT,),
    "speed is steady": (OF_THOUGHT,),
}
# what to use a trigger with that no number has
_USES: Mapping[Trigger, str] = {OF_THOUGHT: "a direction or a diagram", OF_DRAWN: "a force that is drawn otherwise"}


def trigger_of(document: Document, path: tuple[str, ...], data: Mapping[str, Any], edit: Edit) -> Trigger | None:
    """What the mistake at ``path`` needs; None where that is nothing, or was noted as a fault."""
    found: Trigger | None = data.get("needs") if data.get("needs") in TRIGGERS else None
    if found and not isinstance(edit, _edits(found)):
        right = f"use it with {_USES.get(found, 'an edit that leads to a number')}"
        document.fault((*path, "needs"), f"the edit '{edit.name}' can't need '{found}'", right)
        return None
    if "needs" not in data:
        _speaks_of_nothing_missing(document, path, str(data["thinking"]), edit)
    return found


def _edits(trigger: Trigger) -> tuple[type[Edit], ...]:
    if trigger == OF_DRAWN:
        return (DrawnEdit,)
    return (DirectionEdit, DiagramEdit) if trigger == OF_THOUGHT else (NumericEdit,)


def _speaks_of_nothing_missing(document: Document, path: tuple[str, ...], thinking: str, edit: Edit) -> None:
    """Note a thought of something that not every question has."""
    for words, triggers in SPOKEN.items():
        fitting = [f"'needs: {each}'" for each in triggers if isinstance(edit, _edits(each))]
        if words in thinking and fitting:
            wrong = f"the thought speaks of '{words}', which not every question has"
            document.fault((*path, "thinking"), wrong, f"add {either(fitting)}")
