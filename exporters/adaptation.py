"""A pack made ready for a format: what the format can't carry becomes its nearest honest equivalent, or is left out.

Everything is decided here, on neutral items, and told: a writer gets only what it can write, and the proof holds the
file against the same adapted items.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from turnwright.bank.item import Pack
from turnwright.exporters.delivery import Delivery

How: TypeAlias = Literal["as is", "changed", "left out"]


@dataclass(frozen=True)
class Carried:
    """What became of the items of one kind in a format: how they went, in words what was changed or lost, how many."""

    kind: str
    how: How
    told: str
    items: int


@dataclass(frozen=True)
class Adapted:
    """A pack that a format can carry whole, with the table of what became of everything."""

    pack: Pack
    delivery: Delivery
    table: tuple[Carried, ...] = ()

    @property
    def left_out(self) -> int:
        """How many items the format could not carry at all."""
        return sum(each.items for each in self.table if each.how == "left out")


def as_is(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack for a format that carries every kind of entry, hint, picture and formula natively."""
    items: dict[str, int] = {}
    for section in pack.sections:
        kind = section.metadata.kind
        items[kind] = items.get(kind, 0) + len(section)
    return Adapted(pack, delivery, tuple(Carried(kind, "as is", "", count) for kind, count in sorted(items.items())))
