"""The feedback of an item: which pieces are shown for given outcomes, and what they say."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...strangers.documents import Element
from ..processing.expressions import Scope
from ..processing.values import Value
from ..reading.item_file import FEEDBACK, ItemFile
from .wording import said_by


@dataclass(frozen=True)
class FeedbackPiece:
    """One feedback element; ``hides`` says that its outcome hides it, ``inside`` are the pieces around it."""

    element: Element
    outcome: str
    identifier: str
    hides: bool
    inside: frozenset[int]

    @property
    def is_solution(self) -> bool:
        """Whether it calls itself a solution, by its own name or by that of its outcome."""
        return "SOLUTION" in f"{self.outcome} {self.identifier}".upper()

    def is_switched_on(self, value: Value) -> bool:
        """Whether its outcome, being ``value``, shows it, whatever is around it."""
        named = self.identifier in value if isinstance(value, tuple) else self.identifier == value
        return named != self.hides


class Feedback:
    """All pieces of feedback in document order, counted from 0."""

    def __init__(self, item: ItemFile) -> None:
        elements = item.root.in_order(item.all(*FEEDBACK))
        self._around: dict[Element, set[int]] = {each: set() for each in (*elements, *item.interactions())}
        for number, outer in enumerate(elements):
            for inner in outer.in_order(self._around):
                if inner != outer:
                    self._around[inner].add(number)
        self._pieces = [_piece(each, self._around[each]) for each in elements]
        self._outcomes = tuple(dict.fromkeys(each.outcome for each in self._pieces))
        self._shown: dict[tuple[Value, ...], frozenset[int]] = {}
        self._said: dict[int, str] = {}
        self.solutions = frozenset(number for number, each in enumerate(self._pieces) if each.is_solution)

    def shown(self, scope: Scope) -> frozenset[int]:
        """The pieces that are shown when the variables are these."""
        values = tuple([scope.get(each) for each in self._outcomes])
        shown = self._shown.get(values)
        if shown is None:
            shown = self._shown[values] = self._find(dict(zip(self._outcomes, values, strict=True)))
        return shown

    def _find(self, values: Scope) -> frozenset[int]:
        shown: set[int] = set()
        for number, piece in enumerate(self._pieces):
            if piece.inside <= shown and piece.is_switched_on(values[piece.outcome]):
                shown.add(number)
        return frozenset(shown)

    def can_be_used(self, interaction: Element, shown: frozenset[int]) -> bool:
        """Whether an interaction stands where a candidate sees it, when these pieces are shown."""
        return self._around[interaction] <= shown

    def said(self, numbers: Iterable[int]) -> str:
        """What these pieces say, each without the pieces inside it."""
        said = []
        for each in sorted(numbers):
            if each not in self._said:
                self._said[each] = said_by(self._pieces[each].element)
            said.append(self._said[each])
        return "".join(said)

    def around(self, elements: Iterable[Element]) -> frozenset[int]:
        """The pieces in which these elements stand."""
        numbers = {piece.element: number for number, piece in enumerate(self._pieces)}
        return frozenset(numbers[each] for inner in elements for each in (inner, *inner.around) if each in numbers)

    def forget(self, numbers: Iterable[int]) -> None:
        """Lets go of what these pieces said, since it has changed."""
        for each in numbers:
            self._said.pop(each, None)

    def has_solution(self) -> bool:
        """Whether any piece calls itself a solution, shown or not."""
        return bool(self.solutions)

    def is_solution(self, number: int) -> bool:
        """Whether a piece calls itself a solution, by its own name or by that of its outcome."""
        return number in self.solutions


def _piece(element: Element, inside: set[int]) -> FeedbackPiece:
    outcome, identifier = element.get("outcome-identifier"), element.get("identifier")
    return FeedbackPiece(element, outcome, identifier, element.get("show-hide") == "hide", frozenset(inside))
