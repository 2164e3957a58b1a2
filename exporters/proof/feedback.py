"""The feedback of an item: which pieces are shown for given outcomes, and what they say."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from turnwright.exporters.proof.documents import Element
from turnwright.exporters.proof.expressions import Scope
from turnwright.exporters.proof.item_file import FEEDBACK, INTERACTION
from turnwright.exporters.proof.wording import said_by


@dataclass(frozen=True)
class Piece:
    """One feedback element; ``inside`` are the pieces around it, by number."""

    element: Element
    inside: frozenset[int]

    def is_switched_on(self, scope: Scope) -> bool:
        """Whether its outcome shows it, whatever is around it."""
        value, identifier = scope.get(self.element.get("outcome-identifier")), self.element.get("identifier")
        names = value if isinstance(value, tuple) else (value,)
        return (identifier in names) == (self.element.get("show-hide") != "hide")


class Feedback:
    """All pieces of feedback in document order, counted from 0."""

    def __init__(self, root: Element) -> None:
        self._pieces: list[Piece] = []
        self._around: dict[Element, frozenset[int]] = {}
        self._collect(root, frozenset())

    def _collect(self, element: Element, inside: frozenset[int]) -> None:
        if element.name.startswith("{"):  # a formula holds no feedback
            return
        if element.name in FEEDBACK:
            self._pieces.append(Piece(element, inside))
            inside = inside | {len(self._pieces) - 1}
        if inside and element.name.endswith(INTERACTION):
            self._around[element] = inside
        for each in element.children:
            self._collect(each, inside)

    def __len__(self) -> int:
        return len(self._pieces)

    def shown(self, scope: Scope) -> frozenset[int]:
        """The pieces that are shown when the variables are these."""
        shown: set[int] = set()
        for number, piece in enumerate(self._pieces):
            if piece.inside <= shown and piece.is_switched_on(scope):
                shown.add(number)
        return frozenset(shown)

    def can_be_used(self, interaction: Element, shown: Iterable[int]) -> bool:
        """Whether an interaction stands where a candidate sees it, when these pieces are shown."""
        return self._around.get(interaction, frozenset()) <= frozenset(shown)

    def said(self, numbers: Iterable[int]) -> str:
        """What these pieces say, each without the pieces inside it."""
        return "".join(said_by(self._pieces[each].element) for each in sorted(numbers))

    def is_solution(self, number: int) -> bool:
        """Whether a piece calls itself a solution, by its own name or by that of its outcome."""
        element = self._pieces[number].element
        return "SOLUTION" in f"{element.get('outcome-identifier')} {element.get('identifier')}".upper()
