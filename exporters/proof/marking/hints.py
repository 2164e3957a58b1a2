"""Hints that are asked for by a button: each press shows one more, scores nothing, and never shows a solution.

A button sets its response to true, and every other button's to false; what is typed or chosen stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ....bank.item.item import Paragraph
from ...strangers.documents import Element
from ...strangers.parsing import shown
from ..processing.expressions import Scope
from ..processing.values import CannotMarkError, ReportedError
from ..words.wording import expected_words, says, says_something
from .trial import Answers, Bench, marks

MOST_PRESSES = 20


@dataclass
class _Session:
    """A candidate who asks for one hint after the other, with these answers in place; ``given`` are those shown."""

    bench: Bench
    answers: Answers
    scope: Scope
    given: list[int] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    def press(self, button: Element) -> Iterator[str]:
        """Asks for a hint, and says what is wrong with what happens."""
        called = f"the button '{shown(button.get('title'))}'"
        feedback = self.bench.feedback
        before, seen = self.scope, feedback.shown(self.scope)
        if not feedback.can_be_used(button, seen):
            yield f"{called} is hidden when its turn comes"
        self.scope = self.bench.mark({**self.answers, button.get("response-identifier"): "true"}, before)
        new = sorted(feedback.shown(self.scope) - seen - set(self.given))
        if any(map(feedback.is_solution, feedback.shown(self.scope))):
            yield f"{called} shows a solution"
        elif len(new) != 1:
            yield f"{called} shows {len(new)} new pieces of feedback, 1 expected"
        elif not says_something(feedback.said(new)):
            yield f"{called} shows a hint without words"
        self.given.extend(new)
        self.words.append(feedback.said(new))
        yield from self._check_scores(called, before)

    def _check_scores(self, called: str, before: Scope) -> Iterator[str]:
        """A press leaves each score as it was, or as the answers in place make it."""
        marked = self.bench.mark(self.answers, before)
        for name in ("SCORE", "MAXSCORE", *self.bench.part_scores):
            if self.bench.is_score(name) and self.scope[name] not in (before[name], marked[name]):
                yield f"{called} makes {name} {marks(self.scope[name])}, {marks(before[name])} before"


def examine_hints(
    bench: Bench, buttons: Sequence[Element], key: Answers, expected: Sequence[Paragraph] | None
) -> Iterator[str]:
    """What is wrong with the hints of an item for practice; ``key`` are its right answers."""
    if any(map(bench.feedback.is_solution, bench.feedback.shown(bench.start))):
        yield "a solution is shown before anything is answered"
    for button in buttons:
        yield from _check_response(bench, button)
    session = _Session(bench, {}, bench.start)
    presses = _presses(buttons, expected)
    for button in presses:
        yield from session.press(button)
    if expected is not None:
        yield from _check_words(session.words, expected)
    if buttons:
        yield from _check_with_answers(bench, presses, key)


def check_uncounted(buttons: Sequence[Element]) -> Iterator[str]:
    """Buttons that use up an attempt where there are only so many."""
    for button in buttons:
        if button.get("count-attempt") != "false":
            yield f"the button '{shown(button.get('title'))}' uses up one of the attempts"


def _presses(buttons: Sequence[Element], expected: Sequence[Paragraph] | None) -> list[Element]:
    """Each button once; where there is only one, as often as there are hints."""
    if len(buttons) > MOST_PRESSES:
        raise CannotMarkError(f"it has {len(buttons)} hint buttons, at most {MOST_PRESSES} are tried")
    return list(buttons) * max(1, len(expected or ())) if len(buttons) == 1 else list(buttons)


def _check_response(bench: Bench, button: Element) -> Iterator[str]:
    name = button.get("response-identifier")
    response = bench.item.declarations.get(name)
    if response is None:
        raise ReportedError(f"the button of '{shown(name)}' answers nothing that is declared")
    if (response.kind, response.cardinality, response.base) != ("response", "single", "boolean"):
        raise CannotMarkError(f"the button of '{shown(name)}' needs a single boolean response")
    if response.correct:
        yield f"the hint '{shown(name)}' has a correct response"


def _check_words(found: Sequence[str], expected: Sequence[Paragraph]) -> Iterator[str]:
    if len(found) != len(expected):
        yield f"hints that can be asked for: {len(found)}, {len(expected)} expected"
        return
    for number, (said, paragraph) in enumerate(zip(found, expected, strict=True), 1):
        wanted = expected_words(paragraph)
        if not says(said, wanted):
            yield f"hint {number} says '{shown(said)}', '{shown(wanted[0])}' expected"


def _check_with_answers(bench: Bench, presses: Sequence[Element], key: Answers) -> Iterator[str]:
    """Hints asked for over right answers show no solution either; and after a hint, these still earn all marks."""
    full = bench.mark(key)["SCORE"]
    session = _Session(bench, key, bench.start)
    for button in presses:
        for wrong in session.press(button):
            yield f"over the right answers, {wrong}"
    after = bench.mark(key, session.scope)
    if after["SCORE"] != full:
        yield f"after the hints, right answers score {marks(after['SCORE'])}, {marks(full)} expected"
