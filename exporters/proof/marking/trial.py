"""Answers to one part of an item, marked by the item's own rules while the other parts stay as they are.

The right answer is as the item it was written from has it, or else as the file declares it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from functools import cached_property
from typing import Protocol, TypeAlias

from ....bank.item.item import ChoiceEntry, Entry, MatchEntry, NumberEntry, OrderEntry
from ..processing.expressions import Scope
from ..processing.response import Marking
from ..processing.values import CannotMarkError, Value, parse
from ..reading.item_file import ItemFile
from ..words.feedback import Feedback
from .parts import BUTTON, Kind, ReadPart

Answer: TypeAlias = str | tuple[str, ...]
Answers: TypeAlias = Mapping[str, Answer]

NUMBERS = ("float", "integer")
EXACTLY = Decimal(0)
NEARLY = Decimal("0.0001")  # shares of a mark are written with a few decimals
MOST_WORK = 1_000_000  # markings times elements of the rules, for one item


class Bench:
    """An item with its rules ready, in exact decimals and in doubles; ``tried`` counts the markings."""

    def __init__(self, item: ItemFile) -> None:
        self.item = item
        if not self.is_score("SCORE"):
            raise CannotMarkError("no outcome called SCORE is a single number")
        buttons = [each.get("response-identifier") for each in item.all(BUTTON)]
        known = [each for each in buttons if each in item.declarations]
        self.exact = item.keep("exact", lambda: Marking(item.root, item.declarations, Decimal, known))
        self.binary = item.keep("binary", lambda: Marking(item.root, item.declarations, float, known))
        self.tried = 0
        self._size = item.keep("size", lambda: sum(each.size() for each in item.all("qti-response-processing")))

    @cached_property
    def feedback(self) -> Feedback:
        """The feedback of the item."""
        return self.item.keep("feedback", lambda: Feedback(self.item))

    @property
    def start(self) -> Scope:
        """All variables before anything is answered."""
        return self.exact.start()

    @property
    def is_adaptive(self) -> bool:
        """Whether outcomes are kept from one attempt to the next."""
        return self.item.root.get("adaptive") == "true"

    def mark(self, answers: Answers, before: Scope | None = None) -> Scope:
        """All variables after these answers are marked exactly; an adaptive item goes on from ``before``.

        Raises CannotMarkError for what can't be marked exactly.
        """
        self.tried += 1
        if self.tried * self._size > MOST_WORK:
            raise CannotMarkError(f"its rules are too long to be run more than {self.tried - 1} times")
        return self.exact.mark(answers, before if self.is_adaptive else None)

    def score_in_doubles(self, answers: Answers) -> Value:
        """The score of these answers, marked in doubles."""
        return self.binary.mark(answers)["SCORE"]

    @cached_property
    def full_marks(self) -> tuple[Decimal, ...]:
        """What full marks are, by MAXSCORE and by the normal maximum, as far as they are declared."""
        return self.maxima({})

    def maxima(self, answers: Answers) -> tuple[Decimal, ...]:
        """What full marks are after these answers."""
        declared = parse(self.item.declarations["SCORE"].normal_maximum, "float", Decimal)
        maximum = self.exact.mark(answers).get("MAXSCORE")
        whole = Decimal(maximum) if type(maximum) is int else maximum
        return tuple(each for each in (whole, declared) if isinstance(each, Decimal))

    @cached_property
    def part_scores(self) -> tuple[str, ...]:
        """The outcomes SCORE_1, SCORE_2, ... that hold the scores of parts."""
        names = (name for name in self.item.declarations if name.startswith("SCORE_") and name[6:].isdigit())
        return tuple(name for name in names if self.is_score(name))

    def is_score(self, name: str) -> bool:
        """Whether there is an outcome of that name that is a single number."""
        found = self.item.declarations.get(name)
        return found is not None and (found.kind, found.cardinality) == ("outcome", "single") and found.base in NUMBERS


class Trial(Protocol):
    """What marks an answer, and tells score and feedback, whatever the format; ``full`` is what a right one scores."""

    full: Value

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the options."""

    def score(self, answer: Answer) -> Value:
        """The score of an answer."""

    def told(self, answer: Answer) -> str:
        """What the feedback on an answer says."""

    def is_full(self, answer: Answer) -> bool:
        """Whether an answer earns all marks."""
        return bool(self.score(answer) == self.full)

    def scores(self, answer: Answer, wanted: Value, called: str, within: Decimal = EXACTLY) -> Iterator[str]:
        """A finding, where the score of an answer is not ``wanted``."""
        yield from wrong_score(self.score(answer), wanted, called, within)


class PartTrial(Trial):
    """One part under trial: ``key`` is the answer held to be right."""

    def __init__(self, bench: Bench, part: ReadPart, key: Answer, full: Value = None) -> None:
        self.bench, self.part, self.key = bench, part, key
        self.scopes: dict[Answer, Scope] = {}
        self._brought: dict[Answer, frozenset[int]] = {}
        self._silence: frozenset[int] | None = None
        self.full = self.score(key) if full is None else full

    @property
    def names(self) -> tuple[str, ...]:
        """The identifiers of the options."""
        return self.part.names

    @property
    def empty(self) -> Answer:
        """No answer at all."""
        return "" if self.part.response.cardinality == "single" else ()

    def scope(self, answer: Answer) -> Scope:
        """All variables after this part alone is answered."""
        scope = self.scopes.get(answer)
        if scope is None:
            scope = self.scopes[answer] = self.bench.mark({self.part.response.identifier: answer})
        return scope

    def score(self, answer: Answer) -> Value:
        """The score of an answer."""
        return self.scope(answer)["SCORE"]

    def brings(self, answer: Answer) -> frozenset[int]:
        """The feedback that an answer brings and an empty one does not, without a solution."""
        brought = self._brought.get(answer)
        if brought is None:
            feedback = self.bench.feedback
            if self._silence is None:
                self._silence = feedback.shown(self.scope(self.empty)) | feedback.solutions
            brought = self._brought[answer] = feedback.shown(self.scope(answer)) - self._silence
        return brought

    def told(self, answer: Answer) -> str:
        """What the feedback on an answer says."""
        return self.bench.feedback.said(self.brings(answer))


def wrong_score(found: Value, wanted: Value, called: str, within: Decimal = EXACTLY) -> Iterator[str]:
    """A finding, where a score is not the one wanted."""
    if found is None or abs(found - wanted) > within:
        yield f"{called} scores {marks(found)}, {marks(wanted)} expected"


def marks(score: Value) -> str:
    """A score with no more than four decimals."""
    if score is None:
        return "nothing at all (NULL)"
    text = f"{Decimal(score):.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def listed(names: Iterable[str]) -> str:
    """The parts of an answer in one line."""
    return ", ".join(names) or "nothing"


def kind_of(entry: Entry) -> Kind:
    """What kind of part an entry should have become."""
    match entry:
        case ChoiceEntry(several=several):
            return "several" if several else "choice"
        case OrderEntry():
            return "order"
        case MatchEntry():
            return "match"
        case NumberEntry():
            return "number"


def declared_key(part: ReadPart) -> Answer | None:
    """The correct response that the file declares, if it is one; numbers as they are written."""
    texts = tuple(" ".join(each.split()) for each in part.response.correct)
    if part.response.cardinality != "single":
        return texts or None
    if part.kind == "number" and parse("".join(texts[:1]), "float", Decimal) is None:
        return None
    return texts[0] if texts and texts[0] else None


def expected_key(part: ReadPart, entry: Entry) -> Answer | None:
    """The right answer in the names of the file; None where the file has not that many options."""
    try:
        match entry:
            case NumberEntry(key=key):
                return str(key)
            case ChoiceEntry(options=options):
                right = tuple(part.names[place] for place, option in enumerate(options) if option.right)
                return right if entry.several else right[0]
            case OrderEntry(ranking=ranking):
                return tuple(part.names[place] for place in ranking)
            case MatchEntry(partners=partners):
                return tuple(f"{part.names[row]} {part.column_names[column]}" for row, column in enumerate(partners))
    except IndexError:
        return None


def is_same(part: ReadPart, first: Answer, second: Answer) -> bool:
    """Whether two answers are one; only an order depends on the order."""
    if part.kind == "number":
        return bool(Decimal(str(first)) == Decimal(str(second)))
    if isinstance(first, str) or isinstance(second, str) or part.kind == "order":
        return first == second
    return sorted(first) == sorted(second)
