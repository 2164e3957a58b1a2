"""Options of which one is right, where choosing it earns all marks; or any number, each of them worth its share.

The score of several is marks x (options decided rightly) / (options): an option is decided rightly when it is right and
chosen, or wrong and left out. The options decided rightly are all wrong ones, and one more for each right option
chosen, and one less for each wrong one: that last is what the mapping counts. An answer without any
option earns nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.item import ChoiceEntry, Option, Paragraph
from ...bank.writing import instructions
from ..markup.elements import Element
from .content import Page
from .options import add_choices, in_line, letter
from .vocabulary import (
    COMPARE,
    FIND,
    NO_ANSWER,
    QTI,
    RIGHT,
    Cardinality,
    Names,
    add_mapping,
    add_modal,
    add_name,
    add_number,
    add_response,
    add_variable,
    conclude,
    if_correct,
    if_empty,
    otherwise,
    put,
    show_solution,
)

NOTHING_CHOSEN, WRONG_OPTION = instructions.NOTHING_CHOSEN, instructions.WRONG_OPTION
RIGHT_OPTION = "Correct."
PARTLY = "PARTLY"
FEEDBACK = {
    NO_ANSWER: NOTHING_CHOSEN,
    RIGHT: instructions.SEVERAL_RIGHT,
    PARTLY: instructions.SEVERAL_PARTLY,
}


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


@dataclass(frozen=True)
class SeveralPart:
    """A choice entry with any number of right options and on its page."""

    entry: ChoiceEntry
    names: Names
    page: Page
    feedback_cardinality: Cardinality = "multiple"

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response, with the key and how choosing each option counts."""
        response = add_response(root, self.names.response, "multiple", "identifier", *right_letters(self.entry))
        counts = ((letter(place), 1 if option.right else -1) for place, option in enumerate(self.entry.options))
        add_mapping(response, {name: Decimal(count) for name, count in counts})

    def add_body(self, parent: Element) -> None:
        """Adds the options in the order of the page."""
        add_choices(parent, self.entry, self.names.response, self.page)

    def add_marking(self, processing: Element) -> None:
        """Adds the condition: nothing chosen, exactly the right options, any other choice."""
        condition = QTI.add(processing, "qti-response-condition")
        empty = if_empty(condition, self.names.response)
        add_number(put(empty, self.names.score), "0")
        self._add_feedback_rule(empty, NO_ANSWER)
        right = if_correct(condition, self.names.response)
        add_number(put(right, self.names.score), str(self.entry.marks))
        self._conclude(right, RIGHT)
        other = otherwise(condition)
        self._add_score(put(other, self.names.score))
        self._conclude(other, PARTLY)

    def _add_score(self, rule: Element) -> None:
        score = QTI.add(rule, "qti-divide")
        earned = QTI.add(score, "qti-product")
        add_number(earned, str(self.entry.marks))
        decided = QTI.add(earned, "qti-sum")
        add_number(decided, str(sum(not option.right for option in self.entry.options)))
        QTI.add(decided, "qti-map-response", identifier=self.names.response)
        add_number(score, str(len(self.entry.options)))

    def _conclude(self, chosen: Element, feedback: str) -> None:
        self._add_feedback_rule(chosen, feedback)
        show_solution(chosen, self.names)

    def _add_feedback_rule(self, branch: Element, feedback: str) -> None:
        """Feedback on the whole and on each option chosen, which names its own."""
        if self.names.feedback:
            together = QTI.add(put(branch, self.names.feedback), "qti-multiple")
            add_name(together, feedback)
            if feedback != NO_ANSWER:
                add_variable(together, self.names.response)

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on the whole and on each option, which shows the option again: several come at once."""
        for identifier, text in FEEDBACK.items():
            add_modal(root, self.names, identifier, text)
        for place, option in enumerate(self.entry.options):
            content = add_modal(root, self.names, letter(place), *on_option(option))
            shown = QTI.add(content, "p")
            self.page.add_content(shown, option.content)
            content.insert(0, shown)

    def key(self) -> Paragraph:
        """What the right options show."""
        return right_contents(self.entry)
