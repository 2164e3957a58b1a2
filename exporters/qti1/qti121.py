"""Packs in plain QTI 1.2.1: one assessment in a content package, a section for each question, the drawings.

Elements, their order and their attributes are those of the grammar of 1.2, which was read (1.2.1's was not found). What
its words mean is from memory where the grammar does not say it: that a duration is one of ISO 8601, that a number typed
is compared as a number. Systems differ in how much of the standard they take.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import IO, Any

from lxml import etree

from ...bank.item.item import Item
from ...bank.item.pack import Pack
from ...bank.writing import instructions as words
from ..adapting.adaptation import Adapted, adapted
from ..adapting.capacity import Capacity
from ..markup import hypertext
from ..markup.elements import Element, emit, opened
from ..packages import naming
from ..packages.delivery import Delivery
from ..packages.instructions import cautions, of_sitting
from ..packages.naming import PackNames, QuestionNames
from ..packages.package import add_pictures, package
from .item import Fact, Profile, item_element
from .manifest import HREF, write_manifest
from .vocabulary import PLAIN_SCHEMA, QTI1, add_html, put_item, root, yes_or_no

NAME = "qti-1.2.1"
SUFFIX = ".zip"
TITLE = "QTI 1.2.1"
CAPACITY = Capacity(order=False, match=False, parts=False, mathml=False, buttons=False)


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as this format can carry it."""
    return adapted(pack, delivery, CAPACITY)


def write(
    adapted: Adapted,
    target: Path,
    check: Callable[[Path], None],
    progress: Callable[[int], None] | None = None,
) -> None:
    """Leaves the pack at ``target`` once ``check`` has accepted it; items are asked for and written one at a time."""
    figures = adapted.delivery.figures
    with package(target, check) as box:
        contents = naming.contents(adapted.pack)
        with box.member(naming.MANIFEST) as file:
            write_manifest(contents, figures, file)
        add_pictures(box, contents, figures)
        with box.member(HREF) as file:
            for done, _ in enumerate(_write_assessment(contents, _profile(f".{figures}"), file), start=1):
                if progress:
                    progress(done)


def _profile(suffix: str) -> Profile:
    return Profile(facts=_facts, base="", suffix=suffix, most=None, partial=True, counts=True)


def _facts(question: QuestionNames, item: Item) -> list[Fact]:
    """What a bank wants to know of an item; in an exam, nothing leads back to it. The labels are ours."""
    if question.purpose == "exam":
        return []
    facts = item.metadata
    return [
        ("question", question.section.question_id),
        ("variant", str(item.variant)),
        ("version", str(facts.version)),
        *(("objective", objective) for objective in facts.objectives),
        ("licence", facts.licence),
    ]


def _write_assessment(contents: PackNames, profile: Profile, file: IO[bytes]) -> Iterator[Item]:
    """Writes the file piece by piece; gives each item after it was written."""
    assessment = QTI1.root("assessment", ident=contents.test, title=contents.pack.title)
    with etree.xmlfile(file, encoding="UTF-8") as stream:
        stream.write_declaration()
        with opened(stream, root(PLAIN_SCHEMA), root=True), opened(stream, assessment):
            rules = contents.pack.sitting
            if rules.minutes:
                emit(stream, _duration(rules.minutes))
            emit(stream, _control(contents))
            emit(stream, _instructions(contents))
            if rules.shuffle:
                emit(stream, _ordering())
            for question in contents.questions:
                yield from _write_section(stream, question, profile, file)


def _control(contents: PackNames) -> Element:
    rules = contents.pack.sitting
    switches = (rules.feedback and rules.hints, rules.feedback and rules.solution, rules.feedback)
    hints, solution, feedback = map(yes_or_no, switches)
    return QTI1.root(
        "assessmentcontrol", hintswitch=hints, solutionswitch=solution, feedbackswitch=feedback, view="All"
    )


def _instructions(contents: PackNames) -> Element:
    """What a candidate must know before the first question."""
    pack = contents.pack
    several = any("several" in question.shape.kinds for question in contents.questions)
    gravity = f"Take g = {pack.gravity}." if pack.gravity else ""
    rules = replace(pack.sitting, solution=pack.sitting.feedback and pack.sitting.solution)
    sentences = [
        gravity,
        words.SEVERAL_SHARES if several else "",
        *of_sitting(rules, parts=False, hinted=False),
        *cautions(contents),
    ]
    rubric = QTI1.root("rubric", view="All")
    add_html(rubric, "".join(f"<p>{hypertext.text(each)}</p>" for each in sentences if each))
    return rubric


def _write_section(stream: Any, question: QuestionNames, profile: Profile, file: IO[bytes]) -> Iterator[Item]:
    """The variants of a question, of which one is drawn; all are worth the same."""
    with opened(stream, QTI1.root("section", ident=question.identifier, title=question.title)):
        emit(stream, _selection())
        for index, item in enumerate(question.section.items()):
            question.shape.check(item)
            put_item(stream, file, item_element(item, question, index, profile, question.title))
            yield item


def _duration(minutes: int) -> Element:
    duration = QTI1.root("duration")
    duration.text = f"PT{minutes}M"
    return duration


def _ordering() -> Element:
    """All that stands below, in another order for each candidate."""
    holder = QTI1.root("selection_ordering")
    holder.set("sequence_type", "Random")  # a vocabulary would write a hyphen
    QTI1.add(holder, "order").set("order_type", "Random")
    return holder


def _selection() -> Element:
    """One of the items of a section, by lot."""
    holder = _ordering()
    selection = QTI1.root("selection")
    QTI1.add(selection, "selection_number", "1")
    holder.insert(0, selection)
    return holder
