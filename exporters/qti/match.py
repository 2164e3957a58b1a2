"""Rows to match with columns: each right pair earns its share of the marks, and a wrong one costs nothing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.item import MatchEntry, Paragraph
from ...bank.writing import instructions
from ..markup.elements import Element
from .content import Page
from .options import add_prompt, in_line
from .vocabulary import (
    COMPARE,
    NO_ANSWER,
    QTI,
    RIGHT,
    Cardinality,
    Names,
    add_mapping,
    add_modal,
    add_response,
    conclude,
    conclude_feedback,
    if_correct,
    if_empty,
    otherwise,
    put,
)

SHARE = Decimal("0.000001")
PARTLY = "PARTLY"
FEEDBACK = {
    NO_ANSWER: instructions.NOTHING_MATCHED,
    RIGHT: instructions.MATCH_RIGHT,
    PARTLY: instructions.MATCH_PARTLY,
}


@dataclass(frozen=True)
class MatchPart:
    """A match entry under its names and on its page."""

    entry: MatchEntry
    names: Names
    page: Page
    feedback_cardinality: Cardinality = "single"

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response, with the key and what each right pair is worth."""
        pairs = [f"R{row} C{column + 1}" for row, column in enumerate(self.entry.partners, start=1)]
        response = add_response(root, self.names.response, "multiple", "directedPair", *pairs)
        add_mapping(response, dict(zip(pairs, shares(self.entry.marks, len(pairs)), strict=True)))

    def add_body(self, parent: Element) -> None:
        """Adds rows and columns; a column may serve every row, so that nothing is told by how often it may be used."""
        count = str(len(self.entry.rows))
        interaction = QTI.add(
            parent,
            "qti-match-interaction",
            response_identifier=self.names.response,
            max_associations=count,
            shuffle="false",
            class_="qti-match-tabular",
        )
        add_prompt(interaction, self.entry.prompt, self.page)
        self._add_set(interaction, "R", self.entry.rows, "1")
        self._add_set(interaction, "C", self.entry.columns, count)

    def _add_set(self, interaction: Element, prefix: str, contents: Iterable[Paragraph], most: str) -> None:
        members = QTI.add(interaction, "qti-simple-match-set")
        for number, content in enumerate(contents, start=1):
            choice = QTI.add(members, "qti-simple-associable-choice", identifier=f"{prefix}{number}", match_max=most)
            self.page.add_inline(choice, content)

    def add_marking(self, processing: Element) -> None:
        """Adds the condition: nothing matched, all pairs right, any other answer."""
        condition = QTI.add(processing, "qti-response-condition")
        conclude(if_empty(condition, self.names.response), self.names, "0", NO_ANSWER)
        conclude(if_correct(condition, self.names.response), self.names, str(self.entry.marks), RIGHT)
        other = otherwise(condition)
        QTI.add(put(other, self.names.score), "qti-map-response", identifier=self.names.response)
        conclude_feedback(other, self.names, PARTLY)

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on silence, the right pairs and any others."""
        for identifier, text in FEEDBACK.items():
            own = self.entry.feedback if identifier == PARTLY else ""
            pointer = COMPARE if identifier == RIGHT else ""
            add_modal(root, self.names, identifier, f"{text} {own}".rstrip(), pointer)

    def key(self) -> Paragraph:
        """Each row with its column."""
        pairs = zip(self.entry.rows, self.entry.partners, strict=True)
        return in_line((in_line((row, self.entry.columns[column]), " – ") for row, column in pairs), "; ")


def shares(marks: int, count: int) -> tuple[Decimal, ...]:
    """The marks in equal shares, plain decimals that add up to exactly the marks: the last takes what rounding left."""
    share = (Decimal(marks) / count).quantize(SHARE)
    return tuple(each.normalize() for each in (*[share] * (count - 1), marks - share * (count - 1)))
