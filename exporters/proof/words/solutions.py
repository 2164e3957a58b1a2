"""Whether the worked solution is there exactly if the rules of the sitting say so, with its numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from ....bank.item import formula
from ....bank.item.item import Item, Math, Step
from ....bank.item.sitting import Sitting
from ...strangers.documents import TAIL, TEXT, Element, ElementPlace
from ..marking.trial import Answer, Bench
from ..reading.item_file import ItemFile
from .leaks import list_numbers

MOST_STEPS = 500
_KNOWN: dict[int, tuple[Step, Counter[str]]] = {}


def check_solution(bench: Bench, right: Mapping[str, Answer], rules: Sitting) -> Iterator[str]:
    """A worked solution that right answers do not bring; or one that is there though there should be none."""
    feedback = bench.feedback
    if rules.solution:
        if not any(map(feedback.is_solution, feedback.shown(bench.mark(right)))):
            yield "right answers bring no worked solution"
        return
    if feedback.has_solution():
        yield "the item holds a worked solution, none expected"
    for rubric in bench.item.all("qti-rubric-block"):
        yield f"line {rubric.line}: a rubric beside the item, though no solution is to be told"


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
