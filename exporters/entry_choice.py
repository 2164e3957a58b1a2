"""Options of which one is right: choosing it earns all marks, and each option has its own feedback."""

from __future__ import annotations

from dataclasses import dataclass

from turnwright.bank.item import ChoiceEntry, Option, Paragraph
from turnwright.exporters.content import Page
from turnwright.exporters.elements import Element
from turnwright.exporters.options import add_choices, in_line, letter
from turnwright.exporters.part import COMPARE, FIND, NO_ANSWER, Cardinality, Names, add_modal, conclude, show_solution
from turnwright.exporters.qti import QTI, add_response
from turnwright.exporters.rules import add_number, add_variable, if_correct, if_empty, otherwise, put

NOTHING_CHOSEN = "No option was chosen."
RIGHT_OPTION = "Right."
WRONG_OPTION = "This is not right."


@dataclass(frozen=True)
class ChoicePart:
    """A choice entry with one right option and on its page."""

    entry: ChoiceEntry
    names: Names
    page: Page
    feedback_cardinality: Cardinality = "single"

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response, with the key."""
        add_response(root, self.names.response, "single", "identifier", *right_letters(self.entry))

    def add_body(self, parent: Element) -> None:
        """Adds the options in the order of the page."""
        add_choices(parent, self.entry, self.names.response, self.page)

    def add_marking(self, processing: Element) -> None:
        """Adds the condition: nothing chosen, the right option, any other; the option itself names its feedback."""
        condition = QTI.add(processing, "qti-response-condition")
        conclude(if_empty(condition, self.names.response), self.names, "0", NO_ANSWER)
        self._conclude(if_correct(condition, self.names.response), str(self.entry.marks))
        self._conclude(otherwise(condition), "0")

    def _conclude(self, chosen: Element, score: str) -> None:
        add_number(put(chosen, self.names.score), score)
        if self.names.feedback:
            add_variable(put(chosen, self.names.feedback), self.names.response)
        show_solution(chosen, self.names)

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on silence and on each option."""
        add_modal(root, self.names, NO_ANSWER, NOTHING_CHOSEN)
        for place, option in enumerate(self.entry.options):
            add_modal(root, self.names, letter(place), *on_option(option))

    def key(self) -> Paragraph:
        """What the right option shows."""
        return right_contents(self.entry)


def right_letters(entry: ChoiceEntry) -> tuple[str, ...]:
    """The identifiers of the right options."""
    return tuple(letter(place) for place, option in enumerate(entry.options) if option.right)


def right_contents(entry: ChoiceEntry) -> Paragraph:
    """What the right options show, in one paragraph."""
    return in_line((option.content for option in entry.options if option.right), "; ")


def on_option(option: Option) -> tuple[str, str]:
    """The feedback on an option; or else what can be said of any, and where to look."""
    if option.feedback:
        return option.feedback, ""
    return (RIGHT_OPTION, COMPARE) if option.right else (WRONG_OPTION, FIND)
