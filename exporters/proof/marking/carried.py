"""Numbers that follow from a wrong choice in an earlier part: after that choice they earn all marks, else nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ....bank.item.item import Carried, Entry, NumberEntry
from ..processing.values import Value
from ..report import plain
from .trial import Bench, PartTrial, wrong_score

OUTSIDE = Decimal("1.000001")  # times the half-width: just not accepted any more


def examine_carried(
    bench: Bench, trials: Sequence[PartTrial], entries: Sequence[Entry | None], practice: bool
) -> Iterator[str]:
    """What is wrong with the numbers that should be carried; ``entries`` are those that the item was written from."""
    for place, entry in enumerate(entries):
        for each in entry.carried if isinstance(entry, NumberEntry) else ():
            assert isinstance(entry, NumberEntry)
            yield from _Chain(bench, trials[each.entry], trials[place], each, entry).findings(practice)


@dataclass(frozen=True)
class _Chain:
    """One number after one choice."""

    bench: Bench
    choice: PartTrial
    number: PartTrial
    carried: Carried
    entry: NumberEntry

    def findings(self, practice: bool) -> Iterator[str]:
        """A finding for each answer that is not worth what it should be, or brings no word of its own."""
        value, width = self.carried.value, self.carried.half_width
        option = self.choice.part.names[self.carried.option]
        full = Decimal(self.entry.marks)
        for answer in (value, value - width, value + width):
            yield from self._check(option, answer, full)
        for answer in (value - OUTSIDE * width, value + OUTSIDE * width):
            if not self._is_right(option, answer):
                yield from self._check(option, answer, Decimal(0))
        assert isinstance(self.choice.key, str)
        if not self._is_right(self.choice.key, value):
            yield from self._check(self.choice.key, value, Decimal(0))
        if practice and not self._brings(option, value):
            yield f"{self._called(option, value)} brings no feedback of its own"

    def _is_right(self, option: str, answer: Decimal) -> bool:
        """Whether an answer is right after a choice, by the key or by any number that follows from the choice."""
        follows = (
            each
            for each in self.entry.carried
            if each.entry == self.carried.entry and self.choice.part.names[each.option] == option
        )
        return self.entry.accepts(answer) or any(abs(answer - each.value) <= each.half_width for each in follows)

    def _score(self, option: str, answer: Decimal) -> Value:
        """What the number is worth after the choice: the score of both less that of the choice."""
        both = self._marked(option, answer)
        alone = self.choice.score(option)
        return None if both is None or alone is None else both - alone

    def _marked(self, option: str, answer: Decimal) -> Value:
        return self.bench.mark(self._answers(option, answer))["SCORE"]

    def _answers(self, option: str, answer: Decimal) -> dict[str, str]:
        return {self.choice.part.response.identifier: option, self.number.part.response.identifier: str(answer)}

    def _check(self, option: str, answer: Decimal, wanted: Decimal) -> Iterator[str]:
        yield from wrong_score(self._score(option, answer), wanted, self._called(option, answer))

    def _called(self, option: str, answer: Decimal) -> str:
        return f"the number {plain(answer)} after the choice {option}"

    def _brings(self, option: str, answer: Decimal) -> bool:
        """Whether the pair shows what neither silence, nor the choice, nor this or any wrong number shows by itself."""
        feedback, entry = self.bench.feedback, self.entry
        values = [entry.key, *(each.value for each in entry.recognised), *(each.value for each in entry.carried)]
        far = 1000 * (1 + max(map(abs, values)))
        shown = feedback.shown(self.bench.mark(self._answers(option, answer)))
        alone = self.number.brings(str(answer)) | self.number.brings(str(far)) | self.choice.brings(option)
        return bool(shown - alone - feedback.shown(self.bench.mark({})))
