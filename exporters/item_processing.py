"""The marking of an item: each part by itself, their sum, when the worked solution appears, and the hints."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from turnwright.exporters.content import Page
from turnwright.exporters.elements import Element
from turnwright.exporters.hints import add_hint_rules
from turnwright.exporters.part import SHOWN, SOLUTION, Part
from turnwright.exporters.qti import QTI
from turnwright.exporters.rules import add_name, add_variable, branch, put


def add_processing(root: Element, parts: Sequence[Part], page: Page, *, solution: bool, hints: int) -> None:
    """Adds the response processing, written out in full."""
    processing = QTI.add(root, "qti-response-processing")
    for part in parts:
        part.add_marking(processing)
    if len(parts) > 1:
        _add_total(processing, parts)
        if solution:
            _add_solution_rule(processing, parts)
    if hints:
        silenced = [part.names.feedback for part in parts if part.names.feedback]
        if solution:
            silenced.append(SOLUTION)
        rules = partial(add_hint_rules, count=hints, silenced=silenced)
        page.add_piece(processing, ("hint rules", hints, *silenced), rules)


def _add_total(processing: Element, parts: Sequence[Part]) -> None:
    total = QTI.add(put(processing, "SCORE"), "qti-sum")
    for part in parts:
        add_variable(total, part.names.score)


def _add_solution_rule(processing: Element, parts: Sequence[Part]) -> None:
    """The worked solution appears once every part has an answer, since it tells them all."""
    answered = branch(QTI.add(processing, "qti-response-condition"))
    any_empty = QTI.add(QTI.add(answered, "qti-not"), "qti-or")
    for part in parts:
        add_variable(QTI.add(any_empty, "qti-is-null"), part.names.response)
    add_name(put(answered, SOLUTION), SHOWN)
