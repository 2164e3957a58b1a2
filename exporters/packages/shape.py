"""What the files of a package tell of a question before any of its items is written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from ...bank.errors import TurnwrightError
from ...bank.item.item import ChoiceEntry, Entry, Item, NumberEntry, OrderEntry, Section

Kind: TypeAlias = Literal["number", "choice", "several", "order", "match"]

# The names that QTI metadata has for them.
INTERACTIONS: dict[Kind, str] = {
    "number": "textEntryInteraction",
    "choice": "choiceInteraction",
    "several": "choiceInteraction",
    "order": "orderInteraction",
    "match": "matchInteraction",
}
HINT_INTERACTION = "endAttemptInteraction"


class SectionError(TurnwrightError):
    """A section whose items are not what it tells of them."""

    def __init__(self, question: str, wrong: str, right: str) -> None:
        self.question, self.wrong, self.right = question, wrong, right
        super().__init__(question, wrong, right)

    def __str__(self) -> str:
        return f"{self.question}: {self.wrong}; {self.right}"


@dataclass(frozen=True)
class QuestionShape:
    """What all variants of a question have in common: the kinds of their entries, their marks, whether hints help."""

    kinds: tuple[Kind, ...]
    marks: int
    hinted: bool

    def interactions(self, *, hints: bool) -> tuple[str, ...]:
        """The kinds of interaction by the names of QTI metadata, each once, with those of hints if there are any."""
        names = [INTERACTIONS[kind] for kind in self.kinds]
        return tuple(dict.fromkeys([*names, HINT_INTERACTION] if hints and self.hinted else names))

    def check(self, item: Item) -> None:
        """Raises SectionError for an item of another shape: totals would differ between candidates."""
        own = _shape(item)
        if own.marks != self.marks:
            wrong = f"variant {item.variant} is worth {own.marks}, the first is worth {self.marks}"
            raise SectionError(item.question_id, wrong, "all variants of a question need the same marks")
        if own != self:
            wrong = f"variant {item.variant} is not answered in the way that the first is"
            raise SectionError(item.question_id, wrong, "all variants of a question need entries of the same kinds")


def shape(section: Section) -> QuestionShape:
    """The shape of the first item. Raises SectionError if there is none."""
    first = next(section.items(), None)
    if first is None:
        raise SectionError(section.question_id, "it has no variant", "leave the question out")
    return _shape(first)


def _shape(item: Item) -> QuestionShape:
    return QuestionShape(tuple(_kind(entry) for entry in item.entries), item.marks, bool(item.hints))


def _kind(entry: Entry) -> Kind:
    if isinstance(entry, ChoiceEntry):
        return "several" if entry.several else "choice"
    if isinstance(entry, NumberEntry):
        return "number"
    return "order" if isinstance(entry, OrderEntry) else "match"
