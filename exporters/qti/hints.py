"""Hints in practice: a request ends the attempt, is not counted as one, and brings its level and those before it.

The item is not adaptive: with each attempt, all outcomes start again. So a request is marked like any answer, which
keeps the score of what stands in the boxes, and only the feedback and the worked solution are taken back.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...bank.item.item import Paragraph, Words
from ..markup.elements import Element, say
from .content import Page
from .vocabulary import QTI, add_flag, add_name, add_response, add_variable, branch, put

OUTCOME = "HINT"


def declare_requests(root: Element, count: int) -> None:
    """Adds a response for the request of each level."""
    for level in _levels(count):
        add_response(root, _request(level), "single", "boolean")


def declare_shown(root: Element) -> None:
    """Adds the outcome that names the levels to show."""
    add_flag(root, OUTCOME, "multiple")


def add_hints(body: Element, hints: Sequence[Paragraph], page: Page) -> None:
    """Adds a line with a button for each level, and below it the hints, hidden until they are asked for."""
    line = QTI.add(body, "p")
    for level in _levels(len(hints)):
        say(line, " " if level > 1 else "")
        QTI.add(
            line,
            "qti-end-attempt-interaction",
            response_identifier=_request(level),
            title=f"Hint {level}",
            count_attempt="false",
        )
    for level, hint in enumerate(hints, start=1):
        block = QTI.add(
            body, "qti-feedback-block", outcome_identifier=OUTCOME, identifier=_name(level), show_hide="show"
        )
        page.add_paragraph(QTI.add(block, "qti-content-body"), (Words(f"Hint {level}: "), *hint))


def add_hint_rules(processing: Element, count: int, silenced: Sequence[str]) -> None:
    """Adds the conditions that show what was asked for, and then take back the outcomes ``silenced``."""
    condition = QTI.add(processing, "qti-response-condition")
    for level in reversed(_levels(count)):
        asked = branch(condition)
        add_variable(asked, _request(level))
        shown = QTI.add(put(asked, OUTCOME), "qti-multiple")
        for each in _levels(level):
            add_name(shown, _name(each))
    if silenced:
        any_asked = branch(QTI.add(processing, "qti-response-condition"))
        requests = QTI.add(any_asked, "qti-or")
        for level in _levels(count):
            add_variable(requests, _request(level))
        for outcome in silenced:
            QTI.add(put(any_asked, outcome), "qti-null")


def _levels(count: int) -> range:
    return range(1, count + 1)


def _request(level: int) -> str:
    return f"HINT_{level}"


def _name(level: int) -> str:
    return f"LEVEL_{level}"
