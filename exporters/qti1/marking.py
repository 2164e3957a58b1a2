"""How an item of QTI 1.2.1 is marked: rules in a chain, the first that holds ends it.

Nothing leans on what the standard leaves open: tests are joined by ``and`` or ``or`` written out, and ``other`` stands
last, behind rules that would have ended the chain.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.item import ChoiceEntry, NumberEntry
from ..markup.elements import Element
from ..qti.options import letter
from ..qti.vocabulary import number_text
from .vocabulary import QTI1, RESPONSE, add_equal, add_feedback, add_rule, add_score, test

RIGHT, OTHER, SOLUTION, HINT = "right_fb", "other_fb", "solution", "hint"


@dataclass(frozen=True)
class Worth:
    """What a right answer scores, and whether several options earn parts of it."""

    full: int
    partial: bool


@dataclass(frozen=True)
class ToldAfter:
    """Which feedback an item has: on its answers, and with it hints and the solution; in an exam none at all."""

    feedback: bool
    hints: bool
    solution: bool

    def add(self, rule: Element, identifier: str, *, right: bool = False) -> None:
        """Adds what a rule brings: its feedback, the hints after a wrong answer, and the worked solution."""
        if not self.feedback:
            return
        add_feedback(rule, identifier)
        if self.hints and not right:
            add_feedback(rule, HINT, "Hint")
        if self.solution:
            add_feedback(rule, SOLUTION, "Solution")


def wrong(place: int) -> str:
    """The name of the feedback on the wrong number at a place."""
    return f"slip{place + 1}_fb"


def option_feedback(place: int) -> str:
    """The name of the feedback on the option at a place."""
    return f"{letter(place)}_fb"


def add_marking(processing: Element, entry: NumberEntry | ChoiceEntry, worth: Worth, told: ToldAfter) -> None:
    """Adds the rules of an entry."""
    if isinstance(entry, ChoiceEntry):
        if entry.several:
            _add_several(processing, entry, worth, told)
            return
        _add_choice(processing, entry, worth, told)
    elif entry.spellings:
        _add_texts(processing, entry, worth, told)
    else:
        _add_number(processing, entry, worth, told)
    if told.feedback:
        rule = add_rule(processing)
        QTI1.add(test(rule), "other")
        told.add(rule, OTHER)


def _conclude(rule: Element, worth: Worth, told: ToldAfter) -> None:
    add_score(rule, str(worth.full))
    told.add(rule, RIGHT, right=True)


def _add_choice(processing: Element, entry: ChoiceEntry, worth: Worth, told: ToldAfter) -> None:
    ordered = sorted(enumerate(entry.options), key=lambda each: not each[1].right)
    for place, option in ordered:
        if option.right or (told.feedback and option.feedback):
            rule = add_rule(processing)
            add_equal(test(rule), letter(place))
            if option.right:
                _conclude(rule, worth, told)
            else:
                told.add(rule, option_feedback(place))


def _add_number(processing: Element, entry: NumberEntry, worth: Worth, told: ToldAfter) -> None:
    rule = add_rule(processing)
    _add_range(rule, entry.key, entry.half_width)
    _conclude(rule, worth, told)
    for place, known in enumerate(entry.recognised if told.feedback else ()):
        rule = add_rule(processing)
        _add_range(rule, known.value, known.half_width)
        told.add(rule, wrong(place))


def _add_range(rule: Element, middle: Decimal, half_width: Decimal) -> None:
    both = QTI1.add(test(rule), "and")
    QTI1.add(both, "vargte", number_text(middle - half_width), respident=RESPONSE)
    QTI1.add(both, "varlte", number_text(middle + half_width), respident=RESPONSE)


def _add_texts(processing: Element, entry: NumberEntry, worth: Worth, told: ToldAfter) -> None:
    """A rule for each text: systems differ in what several tests in one rule mean."""
    for text in entry.spellings:
        rule = add_rule(processing)
        add_equal(test(rule), text, case="No")
        _conclude(rule, worth, told)
    for place, known in enumerate(entry.recognised if told.feedback else ()):
        for text in known.spellings:
            rule = add_rule(processing)
            add_equal(test(rule), text, case="No")
            told.add(rule, wrong(place))


def _add_several(processing: Element, entry: ChoiceEntry, worth: Worth, told: ToldAfter) -> None:
    """Feedback and shares option by option; then the right set, no set, any other set."""
    for place, option in enumerate(entry.options):
        if worth.partial:
            _add_share(processing, place, option.right, _share(worth.full, len(entry.options)))
        if told.feedback and option.feedback:
            chosen = add_rule(processing, proceed=True)
            add_equal(test(chosen), letter(place))
            add_feedback(chosen, option_feedback(place))
    right = add_rule(processing)
    _add_set(test(right), entry)
    _conclude(right, worth, told)
    if worth.partial:
        none = add_rule(processing)
        each = QTI1.add(test(none), "and")
        for place in range(len(entry.options)):
            add_equal(QTI1.add(each, "not"), letter(place))
        add_score(none, "0")
        told.add(none, OTHER)
    if told.feedback:
        rest = add_rule(processing)
        _add_set(QTI1.add(test(rest), "not"), entry)
        told.add(rest, OTHER)


def _add_share(processing: Element, place: int, right: bool, share: str) -> None:
    rule = add_rule(processing, proceed=True)
    add_equal(test(rule) if right else QTI1.add(test(rule), "not"), letter(place))
    add_score(rule, share, "Add")


def _share(full: int, count: int) -> str:
    return number_text(round(Decimal(full) / count, 6))


def _add_set(parent: Element, entry: ChoiceEntry) -> None:
    """The test for just the right options."""
    both = QTI1.add(parent, "and")
    for place, option in enumerate(entry.options):
        add_equal(both if option.right else QTI1.add(both, "not"), letter(place))
