"""The test of a pack: one section per question, from which each candidate meets one variant."""

from __future__ import annotations

from typing import IO, Any

from lxml import etree

from ...bank.item import formula
from ...bank.item.item import Math, Words
from ...bank.item.sitting import Sitting
from ..markup import elements
from ..markup.elements import Element, Pattern, emit, opened, put
from ..packages.instructions import cautions, sentences
from ..packages.naming import PackNames, QuestionNames, item_href
from .content import Page
from .manifest import QtiVersion
from .vocabulary import QTI, add_outcome

G_EQUALS = formula.Row((formula.Symbol("g"), formula.Operator("=")))


def write_test(contents: PackNames, file: IO[bytes], version: QtiVersion) -> None:
    """Writes the test piece by piece, so that a long pack needs no more memory than a short one."""
    root = QTI.root("qti-assessment-test", identifier=contents.test, title=contents.pack.title)
    root.set(elements.SCHEMA_LOCATION_ATTRIBUTE, elements.schema_location(elements.QTI))
    part = QTI.root("qti-test-part", identifier="part", navigation_mode="nonlinear", submission_mode="individual")
    whole = QTI.root("qti-assessment-section", identifier="all", title="All questions", visible="true")
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, version.form(root), root=True):
            for outcome in _outcomes(contents):
                emit(stream, version.form(outcome))
            if contents.pack.sitting.minutes:
                seconds = str(60 * contents.pack.sitting.minutes)
                emit(stream, version.form(QTI.root("qti-time-limits", max_time=seconds)))
            with opened(stream, version.form(part)):
                emit(stream, version.form(_control(contents.pack.sitting)))
                with opened(stream, version.form(whole)):
                    if contents.pack.sitting.shuffle:
                        emit(stream, version.form(QTI.root("qti-ordering", shuffle="true")))
                    stream.write(version.form(_instructions(contents)))
                    for question in contents.questions:
                        _write_section(stream, file, question, version, root)
            emit(stream, version.form(_outcome_processing()))


def _outcomes(contents: PackNames) -> Element:
    """An element that holds the outcome declarations; it is not written itself."""
    holder = QTI.root("qti-assessment-test")
    add_outcome(holder, "SCORE", "0")
    add_outcome(holder, "MAXSCORE", str(sum(question.shape.marks for question in contents.questions)))
    return holder


def _control(rules: Sitting) -> Element:
    """How often an item may be answered; all that an item tells stands in its feedback, its hints and solution too."""
    return QTI.root(
        "qti-item-session-control",
        max_attempts=str(rules.attempts),
        show_feedback="true" if rules.told else "false",
        show_solution="false",
    )


def _instructions(contents: PackNames) -> Element:
    """What a candidate must know before the first question."""
    rubric = QTI.root("qti-rubric-block", view="candidate", use="instructions")
    rubric.set(elements.LANGUAGE_ATTRIBUTE, "en")
    content = QTI.add(rubric, "qti-content-body")
    if contents.pack.gravity:
        gravity = Words(" " + contents.pack.gravity.replace(" ", "\u00a0") + ".")
        Page(contents.delivery.mathematics).add_paragraph(content, (Words("Take "), Math(G_EQUALS), gravity))
    for sentence in (*sentences(contents), *cautions(contents)):
        QTI.add(content, "p", sentence)
    etree.cleanup_namespaces(rubric)
    return rubric


def _write_section(stream: Any, file: IO[bytes], question: QuestionNames, version: QtiVersion, root: Element) -> None:
    """The variants of a question, of which one is drawn; all are worth the same."""
    section = QTI.root(
        "qti-assessment-section",
        identifier=question.identifier,
        title=question.title,
        visible="false",
        required="true",
    )
    with opened(stream, version.form(section)):
        emit(stream, version.form(QTI.root("qti-selection", select="1", with_replacement="false")))
        reference = Pattern(version.form(root), 2, lambda *names: version.form(_reference(*names)))
        for identifier in question.items():
            put(stream, file, reference.filled(identifier, item_href(identifier)))


def _reference(identifier: str, href: str) -> Element:
    return QTI.root("qti-assessment-item-ref", identifier=identifier, href=href)


def _outcome_processing() -> Element:
    processing = QTI.root("qti-outcome-processing")
    rule = QTI.add(processing, "qti-set-outcome-value", identifier="SCORE")
    QTI.add(QTI.add(rule, "qti-sum"), "qti-test-variables", variable_identifier="SCORE")
    return processing
