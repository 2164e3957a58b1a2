"""A question of any kind, ready to make items: what the bank lists, draws and packs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal, TypeAlias

from turnwright.bank.drawing import Drawing
from turnwright.bank.item import ChoiceEntry, Item, Metadata, Section

Kind: TypeAlias = Literal[
    "number",
    "choice",
    "expression",
    "direction",
    "forces",
    "diagram",
    "equation",
    "change",
    "limit",
    "rank",
    "stepwise",
]
KINDS: tuple[Kind, ...] = (
    "number", "choice", "expression", "direction", "forces", "diagram", "equation", "change", "limit", "rank",
    "stepwise",
)  # fmt: skip
Makers: TypeAlias = Sequence[Callable[[], Item]]


@dataclass(frozen=True)
class Asked:
    """One question of one kind.

    ``draw(wanted, gravity, seed)`` gives up to ``wanted`` makers, each of one item; a maker is called each time the
    item is needed, and keeps nothing.
    """

    id: str
    kind: Kind
    metadata: Metadata
    draw: Callable[[int, Decimal, int], Makers]

    def section(self, wanted: int, gravity: Decimal, seed: int) -> Section | None:
        """The section of the question's items; None where it has none."""
        makers = self.draw(wanted, gravity, seed)
        if not makers:
            return None
        figures: list[Drawing] = []
        pictures: list[Drawing] = []
        figure_of: list[int | None] = []
        for maker in makers:
            item = maker()
            figure_of.append(_place(figures, item.figure))
            for entry in item.entries:
                for option in entry.options if isinstance(entry, ChoiceEntry) else ():
                    _place(pictures, option.content if isinstance(option.content, Drawing) else None)

        def made() -> Iterator[Item]:
            return (maker() for maker in makers)

        section = Section(self.id, self.metadata, tuple(figures), figure_of, made)
        return replace(section, pictures=tuple(pictures)) if pictures else section


def _place(known: list[Drawing], drawing: Drawing | None) -> int | None:
    """The place of a drawing among the known ones, where it is added if it is new."""
    if drawing is None:
        return None
    if drawing not in known:
        known.append(drawing)
    return known.index(drawing)
