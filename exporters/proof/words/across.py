"""Whether an exam answers itself: what one item shows or says before it is answered, and another one asks for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeVar

from ....bank.item.item import Item
from ....bank.questions.kinds import KIND
from ...strangers.documents import Element
from ...strangers.parsing import Doubt, shown
from ..reading.item_file import NOT_STEM, ItemFile
from .wording import said_by

LETTERS = 12  # of an option that is looked for, spaces left out; a shorter one stands anywhere by chance
MOST_ANSWERS, MOST_TEXTS, MOST_TOLD = 500, 2000, 20
Known = TypeVar("Known")
_ASKING = frozenset(
    f"qti-{each}-interaction" for each in ("choice", "order", "match", "associate", "gap-match", "inline-choice")
)
_ANSWERED = frozenset(each for each, kind in KIND.items() if kind.figure == "answers it")


class Across:
    """What the items of an exam ask for and say, gathered item by item; items drawn as one of several are no others.

    Of an item that is known it is known, too, of which problem its force diagram is, and whether it asks for that.
    """

    def __init__(self) -> None:
        self._answers: dict[str, tuple[str, str, tuple[str, ...]]] = {}
        self._texts: dict[str, tuple[str, str]] = {}
        self._drawn: dict[str, str] = {}
        self._asked: dict[str, str] = {}

    def take(self, where: str, group: str, file: ItemFile, expected: Item | None) -> None:
        """Takes an item of an exam; ``group`` is what it is drawn from, or itself."""
        body = file.root.child("qti-item-body")
        if body is not None and len(self._texts) < MOST_TEXTS:
            _gather(self._texts, {said_by(body, NOT_STEM | _ASKING): (where, group)}, MOST_TEXTS)
        if expected is None:
            return
        problem = expected.metadata.problem
        if expected.figure and expected.figure.subject == "forces":
            self._drawn.setdefault(problem, where)
        if expected.metadata.kind in _ANSWERED:
            self._asked.setdefault(problem, where)

    def asks(self, where: str, group: str, options: Sequence[Element], right: str) -> None:
        """Takes the options of a single choice, of which the one called ``right`` is the answer."""
        said = {each.get("identifier"): said_by(each) for each in options}
        answer = said.pop(right, "")
        if len(answer) >= LETTERS:
            _gather(self._answers, {answer: (where, group, tuple(filter(None, said.values())))}, MOST_ANSWERS)

    def merge(self, later: Across) -> None:
        """Takes what was gathered of the items after these."""
        _gather(self._answers, later._answers, MOST_ANSWERS)
        _gather(self._texts, later._texts, MOST_TEXTS)
        _gather(self._drawn, later._drawn)
        _gather(self._asked, later._asked)

    def findings(self) -> Iterator[str]:
        """What one item tells of another: by its drawing, which is a fault, or by its words, which may be one."""
        for problem, where in self._drawn.items():
            if problem in self._asked:
                yield f"the drawing of {shown(where)} answers {shown(self._asked[problem])}"
        told = 0
        for answer, (where, group, wrong) in self._answers.items():
            for text, (other, its_group) in self._texts.items():
                if group != its_group and answer in text and not any(each in text for each in wrong):
                    told += 1
                    if told <= MOST_TOLD:
                        yield Doubt(f"{shown(other)} says '{shown(answer)}', which answers {shown(where)}")
                    break
        for known, most, called in ((self._answers, MOST_ANSWERS, "answers"), (self._texts, MOST_TEXTS, "pages")):
            if len(known) >= most:
                yield Doubt(f"only the first {most} {called} of the exam were held against one another")


def _gather(known: dict[str, Known], more: Mapping[str, Known], most: int | None = None) -> None:
    """Takes what is not known yet, in its order, as long as there are fewer than ``most``."""
    for name, what in more.items():
        if most is not None and len(known) >= most:
            return
        known.setdefault(name, what)
