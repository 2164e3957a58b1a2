"""Things to put in order: all marks for the whole order, half of them where just two neighbours are exchanged."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.item import OrderEntry, Paragraph, neighbours_exchanged
from ...bank.writing import instructions
from ..markup.elements import Element
from .content import Page
from .options import add_prompt, in_line, letter
from .vocabulary import (
    COMPARE,
    NO_ANSWER,
    QTI,
    RIGHT,
    Cardinality,
    Names,
    add_modal,
    add_name,
    add_response,
    add_variable,
    branch,
    conclude,
    if_correct,
    if_empty,
    number_text,
    otherwise,
)

PARTLY, OTHER = "PARTLY", "OTHER"
FEEDBACK = {
    NO_ANSWER: instructions.NOTHING_ORDERED,
    RIGHT: instructions.ORDER_RIGHT,
    PARTLY: instructions.ORDER_NEARLY,
    OTHER: instructions.ORDER_WRONG,
}


@dataclass(frozen=True)
class OrderPart:
    """An order entry under its names and on its page."""

    entry: OrderEntry
    names: Names
    page: Page
    feedback_cardinality: Cardinality = "single"

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response, with the key."""
        add_response(root, self.names.response, "ordered", "identifier", *self._right)

    @property
    def _right(self) -> tuple[str, ...]:
        return tuple(letter(place) for place in self.entry.ranking)

    def add_body(self, parent: Element) -> None:
        """Adds the things in the order of the page."""
        interaction = QTI.add(parent, "qti-order-interaction", response_identifier=self.names.response, shuffle="false")
        add_prompt(interaction, self.entry.prompt, self.page)
        for place, option in enumerate(self.entry.options):
            self.page.add_inline(QTI.add(interaction, "qti-simple-choice", identifier=letter(place)), option)

    def add_marking(self, processing: Element) -> None:
        """Adds the condition: nothing ordered, the whole order, each order with neighbours exchanged, any other."""
        condition = QTI.add(processing, "qti-response-condition")
        conclude(if_empty(condition, self.names.response), self.names, "0", NO_ANSWER)
        conclude(if_correct(condition, self.names.response), self.names, str(self.entry.marks), RIGHT)
        half = number_text(Decimal(self.entry.marks) / 2)
        for order in neighbours_exchanged(self._right):
            conclude(self._if_order(condition, order), self.names, half, PARTLY)
        conclude(otherwise(condition), self.names, "0", OTHER)

    def _if_order(self, condition: Element, order: tuple[str, ...]) -> Element:
        near = branch(condition)
        match = QTI.add(near, "qti-match")
        add_variable(match, self.names.response)
        literal = QTI.add(match, "qti-ordered")
        for name in order:
            add_name(literal, name)
        return near

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on silence, the right order, a near one and any other."""
        for identifier, text in FEEDBACK.items():
            own = self.entry.feedback if identifier in (PARTLY, OTHER) else ""
            pointer = COMPARE if identifier == RIGHT else ""
            add_modal(root, self.names, identifier, f"{text} {own}".rstrip(), pointer)

    def key(self) -> Paragraph:
        """The things in their right order."""
        return in_line((self.entry.options[place] for place in self.entry.ranking), "; then ")
