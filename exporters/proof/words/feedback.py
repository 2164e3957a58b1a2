"""The feedback of an item: which pieces are shown for given outcomes, what they say, and the solution's numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ....bank.item import formula
from ....bank.item.item import Item, Math, Step
from ...strangers.documents import TAIL, TEXT, Element, ElementPlace
from ..processing.expressions import Scope
from ..processing.values import Value
from ..reading.item_file import FEEDBACK, ItemFile
from .leaks import list_numbers
from .wording import said_by

MOST_STEPS = 500
_KNOWN: dict[int, tuple[Step, Counter[str]]] = {}


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


class ToldSolution:
    """The places of an item that tell its worked solution, each with its numbers, some of which another item varies.

    No number stands in two texts, for those of different elements are set apart.
    """

    def __init__(self, item: ItemFile) -> None:
        pieces = [each for each in item.all("qti-feedback-block") if _is_solution(each)]
        self._told = [
            (each, Counter(list_numbers(each.all_text()))) for each in (*pieces, *item.all("qti-rubric-block"))
        ]
        self._varying: list[list[ElementPlace]] = [[] for _ in self._told]

    def vary(self, places: Sequence[ElementPlace]) -> None:
        """From now on, the texts at these places are looked at for each item."""
        texts = [each for each in places if each.slot in (TEXT, TAIL)]
        self._varying = [[each for each in texts if each.is_in(told)] for told, _ in self._told]
        self._told = [
            (told, Counter(list_numbers(told.texts_but(varying))))
            for (told, _), varying in zip(self._told, self._varying, strict=True)
        ]

    def lacks(self, wanted: Mapping[str, int]) -> Iterator[tuple[Element, str]]:
        """The numbers that are told less often than ``wanted``, each with the place that should tell it."""
        for (told, fixed), varying in zip(self._told, self._varying, strict=True):
            found = list_numbers(" ".join([each.text for each in varying]))
            for number, times in wanted.items():
                if fixed[number] + found.count(number) < times:
                    yield told, number


def _is_solution(feedback: Element) -> bool:
    return "SOLUTION" in feedback.get("outcome-identifier").upper()


def check_numbers(item: ItemFile, expected: Item) -> Iterator[str]:
    """Numbers in formulas of the worked solution that the file does not have, or less often, wherever it tells it."""
    wanted: dict[str, int] = {}
    for step in expected.solution:
        for number, times in _numbers_of(step).items():
            wanted[number] = wanted.get(number, 0) + times
    if not wanted:
        return
    for told, number in item.keep("solution", lambda: ToldSolution(item)).lacks(wanted):
        yield f"line {told.line}: the worked solution does not give {number}, or not as often as it should"


def _numbers_of(step: Step) -> Counter[str]:
    """The numbers in the formulas of a step; most steps come again in the next items, as the same objects."""
    known = _KNOWN.get(id(step))
    if known is None or known[0] is not step:
        if len(_KNOWN) >= MOST_STEPS:
            _KNOWN.clear()
        nodes = [part.node for paragraph in step.paragraphs for part in paragraph if isinstance(part, Math)]
        known = _KNOWN[id(step)] = (step, Counter(number for node in nodes for number in _written(node)))
    return known[1]


def _written(node: formula.Node) -> Iterator[str]:
    """The numbers in a formula."""
    match node:
        case formula.Number(text=text):
            yield from list_numbers(text)
        case formula.Row(parts=parts):
            for part in parts:
                yield from _written(part)
        case formula.Fraction(above=above, below=below):
            yield from _written(above)
            yield from _written(below)
        case formula.Power(base=base, exponent=exponent):
            yield from _written(base)
            yield from _written(exponent)
        case formula.Root(body=inside) | formula.Group(body=inside) | formula.Call(argument=inside):
            yield from _written(inside)
