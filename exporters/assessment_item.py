"""One item as a QTI 3.0 ``qti-assessment-item``: its entries one after the other, each marked by itself.

What the rules of the sitting leave out is not in the file at all. So in an exam it holds no feedback, no hint, no
solution and no rubric: the key stands only where the marking needs it.
"""

from __future__ import annotations

import copy
from collections.abc import Sequence
from functools import partial

from turnwright.bank.item import Item, Words
from turnwright.exporters import hints, namespaces
from turnwright.exporters.content import Page
from turnwright.exporters.elements import Element, say
from turnwright.exporters.item_processing import add_processing
from turnwright.exporters.naming import Question
from turnwright.exporters.part import SHOWN, SOLUTION, Part
from turnwright.exporters.parts import parts
from turnwright.exporters.pieces import Pieces
from turnwright.exporters.qti import QTI, add_flag, add_outcome
from turnwright.exporters.template import TemplateItem
from turnwright.exporters.template_processing import add_template


def assessment_item(item: Item, question: Question, index: int, pieces: Pieces | None = None) -> Element:
    """The root of the file for the item at ``index`` of its question; ``pieces`` stand in it where they are given."""
    rules = question.sitting
    levels = len(item.hints) if rules.hints else 0
    page = Page(question.delivery.mathematics, question.picture_source, rules.shuffle, pieces)
    asked = parts(item, page, rules)
    root = _root(question, index)
    _add_declarations(root, item, asked, rules.solution, levels)
    if isinstance(item, TemplateItem):
        add_template(root, item, asked[0].names.response, practice=bool(rules.told))
    _add_body(root, item, asked, question, index, page)
    add_processing(root, asked, page, solution=rules.solution, hints=levels)
    if rules.feedback:
        for part in asked:
            part.add_feedback(root)
    return root


def _root(question: Question, index: int) -> Element:
    root = QTI.root(
        "qti-assessment-item",
        identifier=question.item(index),
        title=question.title,
        adaptive="false",
        time_dependent="false",
    )
    root.set(namespaces.LANGUAGE_ATTRIBUTE, "en")
    root.set(namespaces.SCHEMA_LOCATION_ATTRIBUTE, namespaces.schema_location(namespaces.QTI))
    return root


def _add_declarations(root: Element, item: Item, asked: Sequence[Part], solution: bool, levels: int) -> None:
    """All responses, then all outcomes; what is to be shown is declared where there is any."""
    for part in asked:
        part.declare(root)
    hints.declare_requests(root, levels)
    add_outcome(root, "SCORE", "0", normal_minimum="0", normal_maximum=str(item.marks))
    add_outcome(root, "MAXSCORE", str(item.marks))
    if len(asked) > 1:
        for part, entry in zip(asked, item.entries, strict=True):
            add_outcome(root, part.names.score, "0", normal_minimum="0", normal_maximum=str(entry.marks))
    for part in asked:
        if part.names.feedback:
            add_flag(root, part.names.feedback, part.feedback_cardinality)
    if solution:
        add_flag(root, SOLUTION)
    if levels:
        hints.declare_shown(root)


def _add_body(root: Element, item: Item, asked: Sequence[Part], question: Question, index: int, page: Page) -> None:
    body = QTI.add(root, "qti-item-body")
    for paragraph in item.stem:
        page.add_paragraph(body, paragraph)
    figure = question.section.figure_of[index]
    if figure is not None:
        href = f"../{question.figure_href(figure)}"
        alternative = question.section.figures[figure].alternative
        QTI.add(QTI.add(body, "p"), "img", src=href, alt=alternative)
    _add_parts(body, asked)
    if question.sitting.hints and item.hints:
        page.add_piece(body, "hints", partial(hints.add_hints, hints=item.hints, page=page), item.hints)
    if question.sitting.solution:
        _add_solution(body, item, asked, page)


def _add_parts(body: Element, asked: Sequence[Part]) -> None:
    """The entries in their order; several are numbered, so that feedback can name its own."""
    for part in asked:
        place = body
        if part.names.label:
            place = QTI.add(body, "div")
            QTI.add(place, "h3", part.names.label)
        part.add_body(place)


def _add_solution(body: Element, item: Item, asked: Sequence[Part], page: Page) -> None:
    """The worked solution twice: for the candidate after an answer, and for those who mark or help."""
    block = QTI.add(body, "qti-feedback-block", outcome_identifier=SOLUTION, identifier=SHOWN, show_hide="show")
    content = QTI.add(block, "qti-content-body")
    page.add_steps(content, item.solution)
    if item.metadata.caution:
        say(QTI.add(content, "p"), f"Caution: {item.metadata.caution}")
    rubric = QTI.add(body, "qti-rubric-block", view="scorer tutor", use="scoring")
    again = copy.deepcopy(content)
    for place, part in enumerate(asked):
        label = f"{part.names.label}, key: " if part.names.label else "Key: "
        again.insert(place, page.add_paragraph(again, (Words(label), *part.key())))
    rubric.append(again)
