"""The number entry of a template item: key, tolerance and known wrong numbers are those of the row that was drawn."""

from __future__ import annotations

from dataclasses import dataclass

from ...bank.item import formula
from ...bank.item.item import Math, Paragraph, Words
from ...bank.quantities.quantity import print_exact
from ..adapting.template import DrawnNumber, TemplateItem
from ..markup.elements import Element
from .content import Page
from .number import CARRIED, FEEDBACK, OUTSIDE, POINTERS, NumberPart
from .template_processing import KEY, KEY_SHOWN, WIDTH, WIDTH_SHOWN, wrong_names
from .vocabulary import (
    NO_ANSWER,
    QTI,
    RIGHT,
    Cardinality,
    Names,
    add_modal,
    add_response,
    add_variable,
    branch,
    conclude,
    if_empty,
    otherwise,
)


@dataclass(frozen=True)
class DrawnPart:
    """The number entry of a template item under its names."""

    item: TemplateItem
    names: Names
    page: Page
    feedback_cardinality: Cardinality = "single"

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response; the key comes with the row."""
        add_response(root, self.names.response, "single", "float")

    def add_body(self, parent: Element) -> None:
        """Adds what the candidate reads and the box, which are the same for every row."""
        NumberPart(self.item.entry, self.names, self.page).add_body(parent)

    def add_marking(self, processing: Element) -> None:
        """Adds the condition: nothing typed, near enough to the key, near a wrong number that is known, any other."""
        condition = QTI.add(processing, "qti-response-condition")
        conclude(if_empty(condition, self.names.response), self.names, "0", NO_ANSWER)
        conclude(self._near(condition, KEY, WIDTH), self.names, str(self.item.entry.marks), RIGHT)
        if self.names.feedback:
            for place, _ in enumerate(self.item.wrong_numbers, start=1):
                conclude(self._near(condition, *wrong_names(place)), self.names, "0", _known_wrong(place))
        conclude(otherwise(condition), self.names, "0", OUTSIDE)

    def _near(self, condition: Element, value: str, width: str) -> Element:
        """A branch for answers whose distance from a variable is at most another variable.

        A comparison takes any expression on every system; a tolerance may not take the name of a variable.
        """
        near = branch(condition)
        within = QTI.add(near, "qti-lte")
        distance = QTI.add(QTI.add(within, "qti-math-operator", name="abs"), "qti-subtract")
        add_variable(distance, self.names.response)
        add_variable(distance, value)
        add_variable(within, width)
        return near

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on silence, the right number and others, and on each wrong number that some row knows."""
        for identifier, text in FEEDBACK.items():
            if identifier != CARRIED:
                add_modal(root, self.names, identifier, text, POINTERS.get(identifier, ""))
        for place, known in enumerate(self.item.wrong_numbers, start=1):
            text, pointer = (known.feedback, "") if known.feedback else (FEEDBACK[OUTSIDE], POINTERS[OUTSIDE])
            add_modal(root, self.names, _known_wrong(place), text, pointer)

    def key(self) -> Paragraph:
        """The key of the row, and how near an answer must come to it."""
        entry = self.item.entry
        unit = f"\u00a0{entry.unit}" if entry.unit else ""
        return (
            Math(formula.Row((entry.symbol, formula.Operator("=")))),
            Words(" "),
            DrawnNumber("", print_exact(entry.key, entry.figures), "", KEY_SHOWN),
            Words(f"{unit}. Answers within "),
            DrawnNumber("", print_exact(entry.half_width), "", WIDTH_SHOWN),
            Words(f"{unit} of it are right."),
        )


def _known_wrong(place: int) -> str:
    return f"SLIP_{place}"
