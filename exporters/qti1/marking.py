"""How an item of QTI 1.2.1 is marked: rules in a chain, the first that holds ends it.

Nothing leans on what the grammar leaves open: tests are joined by an ``and`` that is written out, ``not`` stands inside
it (the profile of cartridges has no other place for it), and ``other`` stands last, behind rules that would have ended
the chain.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import deepcopy
from dataclasses import dataclass
from decimal import Decimal

from ...bank.item.item import ChoiceEntry, NumberEntry, is_by_people
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

    @property
    def beside_answer(self) -> bool:
        """Whether an answer that nothing marks brings anything."""
        return self.feedback and (self.hints or self.solution)

    def add(self, rule: Element, identifier: str, *, right: bool = False) -> None:
        """Adds what a rule brings: its feedback if it has any, hints unless it is right, and the worked solution."""
        if not self.feedback:
            return
        if identifier:
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
    """Adds the rules of an entry; those of one that is marked by hand score nothing."""
    if is_by_people(entry):
        rule = add_rule(processing)
        QTI1.add(test(rule), "other")
        told.add(rule, "")
        return
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
    right = _text_rule()
    _conclude(right, worth, told)
    _add_with_texts(processing, right, entry.spellings)
    for place, known in enumerate(entry.recognised if told.feedback else ()):
        rule = _text_rule()
        told.add(rule, wrong(place))
        _add_with_texts(processing, rule, known.spellings)


def _text_rule() -> Element:
    """A rule for a text that is to be filled in, whatever its case."""
    rule = add_rule(QTI1.root("resprocessing"))
    add_equal(test(rule), "", case="No")
    return rule


def _add_with_texts(processing: Element, rule: Element, texts: Iterable[str]) -> None:
    """Adds a copy of the rule for each text: there are hundreds, and to make each anew takes most of the time."""
    for text in texts:
        own = deepcopy(rule)
        test(own)[0].text = text
        processing.append(own)


def _add_several(processing: Element, entry: ChoiceEntry, worth: Worth, told: ToldAfter) -> None:
    """Feedback and shares option by option; then the right set, no set, any other set.

    Any other set decides some option wrongly: a rule for each says so, as ``other`` would stand behind rules that let
    the chain go on.
    """
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
            _add_choice_of(each, place, chosen=False)
        add_score(none, "0")
        told.add(none, OTHER)
    for place, option in enumerate(entry.options if told.feedback else ()):
        rest = add_rule(processing)
        _add_decision(test(rest), place, chosen=not option.right)
        told.add(rest, OTHER)


def _add_share(processing: Element, place: int, right: bool, share: str) -> None:
    rule = add_rule(processing, proceed=True)
    _add_decision(test(rule), place, chosen=right)
    add_score(rule, share, "Add")


def _share(full: int, count: int) -> str:
    return number_text(round(Decimal(full) / count, 6))


def _add_set(parent: Element, entry: ChoiceEntry) -> None:
    """The test for just the right options."""
    both = QTI1.add(parent, "and")
    for place, option in enumerate(entry.options):
        _add_choice_of(both, place, chosen=option.right)


def _add_decision(parent: Element, place: int, *, chosen: bool) -> None:
    """The test of one option that stands alone."""
    _add_choice_of(parent if chosen else QTI1.add(parent, "and"), place, chosen=chosen)


def _add_choice_of(parent: Element, place: int, *, chosen: bool) -> None:
    """The test whether an option is chosen, or left out."""
    add_equal(parent if chosen else QTI1.add(parent, "not"), letter(place))
