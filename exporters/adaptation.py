"""A pack made ready for a format: what the format can't carry becomes its nearest honest equivalent, or is left out.

Everything is decided here, on neutral items, and told: a writer gets only what it can write, and the proof holds the
file against the same adapted items.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from turnwright.bank.item import Pack, Section
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
    return told(pack, delivery, lambda section: "")


def told(pack: Pack, delivery: Delivery, changed: Callable[[Section], str]) -> Adapted:
    """The pack, every item of it; ``changed`` says in words what becomes of a section's items, empty for as is."""
    items: Counter[tuple[str, str]] = Counter()
    for section in pack.sections:
        items[section.metadata.kind, changed(section)] += len(section)
    table = (Carried(kind, "changed" if words else "as is", words, items[kind, words]) for kind, words in sorted(items))
    return Adapted(pack, delivery, tuple(table))
