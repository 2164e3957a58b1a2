"""What written work is worth on paper: a machine marks a number alone, a teacher also the way to it.

A number with its working earns a mark for each equation that has to be set up (steps 3 and 4 of the solution), one for
the algebra (step 5) and one for the number (step 6). Steps 1 and 2 are given by the figure, and step 7 is not asked.
Inside a question of several parts the equations are asked apart, so that the number earns those from step 4 on.
"""

from __future__ import annotations

from ...bank.item.formula import Operator, Row
from ...bank.item.item import Entry, Item, Math, NumberEntry, Step

SETTING_UP, LIMIT, ALGEBRA, NUMBERS = 3, 4, 5, 6


def step_marks(item: Item) -> dict[int, int]:
    """The part marks of each step of the solution by its number; none where no number is worked out."""
    if not any(isinstance(entry, NumberEntry) for entry in item.entries):
        return {}
    from_step = SETTING_UP if len(item.entries) == 1 else LIMIT
    return {step.number: _marks(step) for step in item.solution if step.number >= from_step and _marks(step)}


def _marks(step: Step) -> int:
    if step.number in (SETTING_UP, LIMIT):
        return _equations(step)
    return 1 if step.number in (ALGEBRA, NUMBERS) else 0


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
