"""What a mistake needs, held against its edit and its own words: who speaks of a diameter needs one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..documents.document import Document
from ..language import either
from ..model.edit import DiagramEdit, DirectionEdit, Edit, NumericEdit
from ..model.mistake import TRIGGERS, Trigger

OF_THOUGHT: Trigger = "steady-speed"
# words of a thought, and the triggers of which one has to be there before anybody can think so
SPOKEN: Mapping[str, tuple[Trigger, ...]] = {
    "diameter": ("gives-diameter", "asks-diameter", "asks-radius"),
    "circumference": ("gives-circumference",),
    "½ m v²": ("square-of-the-speed",),
    "speed is constant": (OF_THOUGHT,),
    "speed is steady": (OF_THOUGHT,),
}


def trigger_of(document: Document, path: tuple[str, ...], data: Mapping[str, Any], edit: Edit) -> Trigger | None:
    """What the mistake at ``path`` needs; None where that is nothing, or was noted as a fault."""
    found: Trigger | None = data.get("needs") if data.get("needs") in TRIGGERS else None
    if found and not isinstance(edit, _edits(found)):
        right = f"use it with {'a direction or a diagram' if found == OF_THOUGHT else 'an edit that leads to a number'}"
        document.fault((*path, "needs"), f"the edit '{edit.name}' can't need '{found}'", right)
        return None
    if "needs" not in data:
        _speaks_of_nothing_missing(document, path, str(data["thinking"]), edit)
    return found


def _edits(trigger: Trigger) -> tuple[type[Edit], ...]:
    return (DirectionEdit, DiagramEdit) if trigger == OF_THOUGHT else (NumericEdit,)


def _speaks_of_nothing_missing(document: Document, path: tuple[str, ...], thinking: str, edit: Edit) -> None:
    """Note a thought of something that not every question has."""
    for words, triggers in SPOKEN.items():
        fitting = [f"'needs: {each}'" for each in triggers if isinstance(edit, _edits(each))]
        if words in thinking and fitting:
            wrong = f"the thought speaks of '{words}', which not every question has"
            document.fault((*path, "thinking"), wrong, f"add {either(fitting)}")
