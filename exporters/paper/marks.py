"""What written work is worth on paper: a machine marks a number alone, a teacher also the way to it.

A number with its working earns a mark for each equation that has to be set up, that of a limiting case among them, one
for the algebra and one for the number. The direction of the acceleration and the forces are given by the figure, and
the look back is not asked. Inside a question of several parts the equations are asked apart, so that the number earns
those of a limiting case, the algebra and the number.
"""

from __future__ import annotations

from ...bank.item.formula import Operator, Row
from ...bank.item.item import Entry, Item, Math, NumberEntry, Step

EQUATIONS, WORKED = ("equations", "limiting"), ("algebra", "numbers")


def step_marks(item: Item) -> dict[int, int]:
    """The part marks of each step of the solution by its number; none where no number is worked out."""
    if not any(isinstance(entry, NumberEntry) for entry in item.entries):
        return {}
    asked_apart = "equations" if len(item.entries) > 1 else None
    return {step.number: _marks(step) for step in item.solution if step.stage != asked_apart and _marks(step)}


def _marks(step: Step) -> int:
    return _equations(step) if step.stage in EQUATIONS else int(step.stage in WORKED)


def _equations(step: Step) -> int:
    parts = (part for paragraph in step.paragraphs for part in paragraph if isinstance(part, Math))
    return sum(isinstance(part.node, Row) and Operator("=") in part.node.parts for part in parts)


def entry_marks(item: Item, entry: Entry) -> int:
    """What an entry is worth on paper."""
    worked = sum(step_marks(item).values()) if isinstance(entry, NumberEntry) else 0
    return worked or entry.marks


def item_marks(item: Item) -> int:
    """What a question is worth on paper."""
    return sum(entry_marks(item, entry) for entry in item.entries)
