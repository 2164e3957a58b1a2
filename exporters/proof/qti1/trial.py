"""Answers to an item of QTI 1.2.1, marked by the item's own rules, and what they bring."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ...strangers.parsing import shown
from ..marking.trial import EXACTLY, marks
from .html import one_form
from .item import Qti1Item, Response
from .rules import RuleOutcome, Rules


class ItemTrial:
    """An item with one response under trial; ``full`` is what a right answer should score."""

    def __init__(self, item: Qti1Item, response: Response, rules: Rules, full: Decimal) -> None:
        self.item, self.response, self.rules, self.full = item, response, rules, full
        self._outcomes: dict[tuple[str, ...], RuleOutcome] = {}

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the options."""
        return tuple(label.ident for label in self.response.labels)

    def outcome(self, *answer: str) -> RuleOutcome:
        """What an answer comes to; none is no answer."""
        if answer not in self._outcomes:
            self._outcomes[answer] = self.rules.mark({self.response.ident: answer})
        return self._outcomes[answer]

    def is_full(self, *answer: str) -> bool:
        """Whether an answer earns all marks."""
        return self.outcome(*answer).score == self.full

    def scores(self, answer: tuple[str, ...], wanted: Decimal, called: str, within: Decimal = EXACTLY) -> Iterator[str]:
        """A finding, where the score of an answer is not ``wanted``."""
        found = self.outcome(*answer).score
        if abs(found - wanted) > within:
            yield f"{called} scores {marks(found)}, {marks(wanted)} expected"

    def said(self, kind: str, *answer: str) -> str:
        """What the feedback of one kind that an answer brings says."""
        pieces = (self.item.feedback.get(name) for way, name in self.outcome(*answer).shown if way == kind)
        return "".join(piece.page.said for piece in pieces if piece and piece.kind == kind)

    def tells(self, answer: tuple[str, ...], wanted: str, called: str) -> Iterator[str]:
        """A finding, where the feedback on an answer is not just what it should be."""
        said = self.said("Response", *answer)
        if said != one_form(wanted):
            yield f"{called} brings the feedback '{shown(said)}', '{shown(wanted)}' expected"
