"""Answers to an item of QTI 1.2.1, marked by the item's own rules, and what they bring."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ...strangers.parsing import shown
from ..marking.trial import Answer, Trial
from .html import one_form
from .item import Qti1Item, Response
from .rules import RuleOutcome, Rules


class ItemTrial(Trial):
    """An item with one response under trial."""

    def __init__(self, item: Qti1Item, response: Response, rules: Rules, full: Decimal) -> None:
        self.item, self.response, self.rules, self.full = item, response, rules, full
        self._outcomes: dict[tuple[str, ...], RuleOutcome] = {}

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the options."""
        return tuple(label.ident for label in self.response.labels)

    def outcome(self, answer: Answer) -> RuleOutcome:
        """What an answer comes to; none is no answer."""
        given = (answer,) if isinstance(answer, str) else answer
        if given not in self._outcomes:
            self._outcomes[given] = self.rules.mark({self.response.ident: given})
        return self._outcomes[given]

    def score(self, answer: Answer) -> Decimal:
        """The score of an answer."""
        return self.outcome(answer).score

    def told(self, answer: Answer) -> str:
        """What the feedback on an answer says."""
        return self.said("Response", answer)

    def said(self, kind: str, answer: Answer) -> str:
        """What the feedback of one kind that an answer brings says."""
        pieces = (self.item.feedback.get(name) for way, name in self.outcome(answer).shown if way == kind)
        return "".join(piece.page.said for piece in pieces if piece and piece.kind == kind)

    def tells(self, answer: Answer, wanted: str, called: str) -> Iterator[str]:
        """A finding, where the feedback on an answer is not just what it should be."""
        said = self.told(answer)
        if said != one_form(wanted):
            yield f"{called} brings the feedback '{shown(said)}', '{shown(wanted)}' expected"
