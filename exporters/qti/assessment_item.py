"""One item as a QTI 3.0 ``qti-assessment-item``: its entries one after the other, each marked by itself; and its hints.

What the rules of the sitting leave out is not in the file at all. So in an exam it holds no feedback, no hint, no
solution and no rubric: the key stands only where the marking needs it.

A request for a hint ends the attempt, is not counted as one, and brings its level and those before it. The item is not
adaptive: with each attempt, all outcomes start again. So a request is marked like any answer, which keeps the score of
what stands in the boxes, and only the feedback and the worked solution are taken back.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from ...bank.item.item import ChoiceEntry, Entry, Item, MatchEntry, NumberEntry, OrderEntry, Paragraph, Words
from ...bank.item.sitting import Sitting
from ..adapting.template import TemplateItem
from ..markup import elements
from ..markup.elements import Element, say
from ..packages.naming import QuestionNames
from .choice import ChoicePart, SeveralPart
from .content import Page, Pieces
from .drawn_number import DrawnPart
from .match import MatchPart
from .number import NumberPart, Printed
from .order import OrderPart
from .template_processing import add_template
from .vocabulary import (
    QTI,
    SHOWN,
    SOLUTION,
    Names,
    Part,
    add_flag,
    add_name,
    add_outcome,
    add_response,
    add_variable,
    branch,
    put,
)

OUTCOME = "HINT"


def parts(item: Item, page: Page, rules: Sitting, numbers: Printed | None = None) -> tuple[Part, ...]:
    """The entries in their order, which all stand on one page; ``numbers`` are written for those of the only one."""
    if isinstance(item, TemplateItem):
        return (DrawnPart(item, _only_names(rules), page),)
    if numbers:
        return (NumberPart(item.entry, _only_names(rules), page, numbers),)
    if len(item.entries) == 1:
        return (_part(item.entries[0], _only_names(rules), page),)
    return tuple(
        _part(entry, _numbered_names(number, rules), page) for number, entry in enumerate(item.entries, start=1)
    )


def _only_names(rules: Sitting) -> Names:
    feedback, solution = "FEEDBACK" if rules.feedback else "", SOLUTION if rules.solution else ""
    return Names("RESPONSE", "SCORE", feedback, solution, solved=rules.solution)


def _numbered_names(number: int, rules: Sitting) -> Names:
    """The names of one part of several; it does not bring the worked solution, which would tell the other parts."""
    feedback = f"FEEDBACK_{number}" if rules.feedback else ""
    earlier = tuple(f"RESPONSE_{each}" for each in range(1, number))
    response, score, label = f"RESPONSE_{number}", f"SCORE_{number}", f"Part {number}"
    return Names(response, score, feedback, label=label, earlier=earlier, solved=rules.solution)


def _part(entry: Entry, names: Names, page: Page) -> Part:
    match entry:
        case NumberEntry():
            return NumberPart(entry, names, page)
        case ChoiceEntry(several=True):
            return SeveralPart(entry, names, page)
        case ChoiceEntry():
            return ChoicePart(entry, names, page)
        case OrderEntry():
            return OrderPart(entry, names, page)
        case MatchEntry():
            return MatchPart(entry, names, page)


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


def assessment_item(
    item: Item, question: QuestionNames, index: int, pieces: Pieces | None = None, numbers: Printed | None = None
) -> Element:
    """The root of the file for the item at ``index`` of its question; ``pieces`` stand in it where they are given.

    ``numbers`` are written in place of those of its only entry.
    """
    rules = question.sitting
    levels = len(item.hints) if rules.hints else 0
    page = Page(question.delivery.mathematics, question.picture_source, rules.shuffle, pieces)
    asked = parts(item, page, rules, numbers)
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


def _root(question: QuestionNames, index: int) -> Element:
    root = QTI.root(
        "qti-assessment-item",
        identifier=question.item(index),
        title=question.title,
        adaptive="false",
        time_dependent="false",
    )
    root.set(elements.LANGUAGE_ATTRIBUTE, "en")
    root.set(elements.SCHEMA_LOCATION_ATTRIBUTE, elements.schema_location(elements.QTI))
    return root


def _add_declarations(root: Element, item: Item, asked: Sequence[Part], solution: bool, levels: int) -> None:
    """All responses, then all outcomes; what is to be shown is declared where there is any."""
    for part in asked:
        part.declare(root)
    declare_requests(root, levels)
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
        declare_shown(root)


def _add_body(
    root: Element, item: Item, asked: Sequence[Part], question: QuestionNames, index: int, page: Page
) -> None:
    body = QTI.add(root, "qti-item-body")
    for paragraph in item.stem:
        page.add_paragraph(body, paragraph)
    figure = question.section.figure_of[index]
    if figure is not None:
        href = f"../{question.figure_href(figure)}"
        page.add_drawing(QTI.add(body, "p"), question.section.figures[figure], href)
    _add_parts(body, asked)
    if question.sitting.hints and item.hints:
        page.add_piece(body, "hints", partial(add_hints, hints=item.hints, page=page), item.hints)
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
    """The worked solution, which comes after an answer, and the key for those who mark or help."""
    block = QTI.add(body, "qti-feedback-block", outcome_identifier=SOLUTION, identifier=SHOWN, show_hide="show")
    content = QTI.add(block, "qti-content-body")
    page.add_steps(content, item.solution)
    rubric = QTI.add(body, "qti-rubric-block", view="scorer tutor", use="scoring")
    told = QTI.add(rubric, "qti-content-body")
    for part in asked:
        label = f"{part.names.label}, key: " if part.names.label else "Key: "
        page.add_paragraph(told, (Words(label), *part.key()))


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
