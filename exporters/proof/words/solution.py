"""The worked solution of an item, wherever it is told: word by word what it was written from, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator

from ....bank.item.item import Item, Step
from ...strangers.documents import Element
from ...strangers.parsing import HouseRule
from ..reading.item_file import FEEDBACK, ItemFile
from .printing import MATHML_NAMESPACE, Ways, follow
from .wording import expected_words, of_formula, on_a_line, plain_words, said_by, written_words

HEADING = "Worked solution"  # how one begins
WAYS = (of_formula, on_a_line)
MOST_STEPS = 1000
_SAID: dict[tuple[int, int], tuple[Step, str]] = {}


def tellers(item: ItemFile) -> list[Element]:
    """The places that tell the solution: feedback that calls itself one, and rubrics that begin one."""
    told = [each for each in item.all(*FEEDBACK) if _is_solution(each)]
    return [*told, *(each for each in item.all("qti-rubric-block") if HEADING in each.string())]


def _is_solution(feedback: Element) -> bool:
    return "SOLUTION" in f"{feedback.get('outcome-identifier')} {feedback.get('identifier')}".upper()


def way_of(item: ItemFile) -> int:
    """Which of ``WAYS`` the formulas of an item are set in, where they are set in one."""
    return 0 if MATHML_NAMESPACE in item.data else 1


def check_solution(item: ItemFile, expected: Item) -> Iterator[str]:
    """Where a worked solution says something else than it should."""
    if not expected.solution:
        return
    wanted = solution_said(expected, way_of(item))
    places = tellers(item)
    if len(places) > 1:
        yield HouseRule(f"the worked solution is told {len(places)} times, where once is enough")
    for place in places:
        _, begin, said = said_by(place).partition(plain_words(HEADING))
        if not begin:
            yield f"line {place.line}: no worked solution begins, though one should be told"
        elif said != wanted:
            for wrong in follow(said, _told(expected), "the worked solution"):
                yield f"line {place.line}: {wrong}"


def _told(item: Item) -> Iterator[Ways]:
    """What a worked solution says, step by step."""
    for step in item.solution:
        yield (plain_words(f"{step.number}. {step.heading}"),)
        yield from map(expected_words, step.paragraphs)


def solution_said(item: Item, way: int) -> str:
    """All that the solution should say, with its formulas set in the first or the second of ``WAYS``."""
    return "".join([_said(step, way) for step in item.solution])


def _said(step: Step, way: int) -> str:
    """What a step says in one way; most steps come again in the next items, as the same objects."""
    place = (id(step), way)
    known = _SAID.get(place)
    if known is None or known[0] is not step:
        if len(_SAID) >= MOST_STEPS:
            _SAID.clear()
        said = [written_words(each, WAYS[way]) for each in step.paragraphs]
        known = _SAID[place] = (step, "".join([plain_words(f"{step.number}. {step.heading}"), *said]))
    return known[1]
