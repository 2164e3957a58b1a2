"""A number to type, marked against its key with a tolerance; wrong numbers that are known bring their own feedback."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, partial

from ...bank.item import formula
from ...bank.item.item import Math, NumberEntry, Paragraph, Words
from ...bank.quantities.quantity import print_exact
from ...bank.writing import instructions
from ..markup.elements import Element, say
from ..packages.instructions import how_exact
from .content import Page
from .options import letter
from .vocabulary import (
    COMPARE,
    FIND,
    NO_ANSWER,
    QTI,
    RIGHT,
    Cardinality,
    Names,
    add_choice,
    add_modal,
    add_number,
    add_response,
    add_variable,
    branch,
    conclude,
    if_empty,
    number_text,
    otherwise,
)

# What a box takes: a sign, digits with a point, commas or spaces between, a power of ten as e or × 10. Patterns of XML
# Schema and of HTML read it alike, so that it has no anchor and no class but sets.
_SPACE = " \u00a0\u2009\u202f"
_POWER = f"[{_SPACE}]*([eE]|[x×*·][{_SPACE}]*10\\^?)[{_SPACE}]*\\(?[+\\-−]?[0-9]+\\)?"
_RAISED = f"[{_SPACE}]*[x×*·][{_SPACE}]*10[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+"
MASK = f"[{_SPACE}]*[+\\-−]?[0-9.,{_SPACE}]*[0-9][.,]?({_POWER}|{_RAISED})?[{_SPACE}]*"
OUTSIDE = "OUTSIDE"
CARRIED = "CARRIED"
FEEDBACK = {
    NO_ANSWER: instructions.NUMBER_UNREAD,
    RIGHT: instructions.NUMBER_RIGHT,
    CARRIED: instructions.NUMBER_CARRIED,
    OUTSIDE: instructions.NUMBER_WRONG,
}
POINTERS = {RIGHT: COMPARE, OUTSIDE: FIND}


@dataclass(frozen=True)
class Printed:
    """The numbers of an entry as they are written: for rules, and (``told``) for those who mark.

    ``recognised`` are value and half-width of each wrong number that is known.
    """

    key: str
    half_width: str
    told_key: str
    told_half_width: str
    recognised: tuple[tuple[str, str], ...]

    @staticmethod
    def of(entry: NumberEntry) -> Printed:
        """Those of an entry."""
        return Printed(
            number_text(entry.key),
            number_text(entry.half_width),
            print_exact(entry.key, entry.figures),
            print_exact(entry.half_width),
            tuple([(number_text(each.value), number_text(each.half_width)) for each in entry.recognised]),
        )


@dataclass(frozen=True)
class NumberPart:
    """A number entry under its names and on its page; ``numbers`` stand in place of its own where they are given."""

    entry: NumberEntry
    names: Names
    page: Page
    numbers: Printed | None = None
    feedback_cardinality: Cardinality = "single"

    @cached_property
    def _printed(self) -> Printed:
        return self.numbers or Printed.of(self.entry)

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response, with the key."""
        add_response(root, self.names.response, "single", "float", self._printed.key)

    def add_body(self, parent: Element) -> None:
        """Adds how exact the answer is to be, and the line with the box."""
        entry = self.entry
        QTI.add(parent, "p", how_exact(entry))
        line = QTI.add(parent, "p")
        self.page.add_formula(line, entry.symbol)
        say(line, " = ")
        self._add_box(line)
        if entry.unit:
            say(line, entry.unit if entry.unit == "°" else f"\u00a0{entry.unit}")

    def _add_box(self, line: Element) -> None:
        unit = "degrees" if self.entry.unit == "°" else self.entry.unit
        QTI.add(
            line,
            "qti-text-entry-interaction",
            response_identifier=self.names.response,
            expected_length="10",
            class_="qti-input-width-10",
            pattern_mask=MASK,
            data_patternmask_message=instructions.NUMBER_TYPED,
            aria_label=f"{self.entry.name} in {unit}" if unit else self.entry.name,
        )

    def add_marking(self, processing: Element) -> None:
        """Adds the condition: nothing typed, near the key, carried from before, a known wrong number, any other."""
        condition = QTI.add(processing, "qti-response-condition")
        self._conclude(if_empty(condition, self.names.response), "0", NO_ANSWER)
        self._conclude(self._near(condition, self._printed.half_width), str(self.entry.marks), RIGHT)
        for each in self.entry.carried:
            after = QTI.add(branch(condition), "qti-and")
            add_choice(after, self.names.earlier[each.entry], letter(each.option))
            self._add_band(after, number_text(each.half_width), number_text(each.value))
            self._conclude(condition[-1], str(self.entry.marks), CARRIED)
        if self.names.feedback:
            for place, (value, half_width) in enumerate(self._printed.recognised, start=1):
                self._conclude(self._near(condition, half_width, value), "0", _known_wrong(place))
        self._conclude(otherwise(condition), "0", OUTSIDE)

    def _conclude(self, branch: Element, score: str, feedback: str) -> None:
        make = partial(conclude, names=self.names, score=score, feedback=feedback)
        self.page.add_piece(branch, ("conclude", self.names, score, feedback), make)

    def _near(self, condition: Element, half_width: str, value: str | None = None) -> Element:
        """A branch for answers near the key, or near ``value``."""
        near = branch(condition)
        self._add_band(near, half_width, value)
        return near

    def _add_band(self, parent: Element, width: str, value: str | None) -> None:
        """The test for such answers; the number comes first, for the tolerance is taken about it."""
        equal = QTI.add(parent, "qti-equal", tolerance_mode="absolute", tolerance=f"{width} {width}")
        if value is None:
            QTI.add(equal, "qti-correct", identifier=self.names.response)
        else:
            add_number(equal, value)
        add_variable(equal, self.names.response)

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on silence, the right number and others, and on each wrong number that is known."""
        for identifier, text in FEEDBACK.items():
            if identifier != CARRIED or self.entry.carried:
                self._add_modal(root, identifier, text, POINTERS.get(identifier, ""))
        for place, wrong in enumerate(self.entry.recognised, start=1):
            text, pointer = (wrong.feedback, "") if wrong.feedback else (FEEDBACK[OUTSIDE], FIND)
            self._add_modal(root, _known_wrong(place), text, pointer)

    def _add_modal(self, root: Element, identifier: str, text: str, pointer: str) -> None:
        make = partial(add_modal, names=self.names, identifier=identifier, text=text, pointer=pointer)
        self.page.add_piece(root, ("modal", self.names, identifier, text, pointer), make)

    def key(self) -> Paragraph:
        """The key and how near an answer must come to it."""
        unit = f"\u00a0{self.entry.unit}" if self.entry.unit else ""
        key, half_width = self._printed.told_key, self._printed.told_half_width
        relation = Math(formula.Row((self.entry.symbol, formula.Operator("="))))
        return relation, Words(f" {key}{unit}. Answers within {half_width}{unit} of it are right.")


def _known_wrong(place: int) -> str:
    return f"SLIP_{place}"
