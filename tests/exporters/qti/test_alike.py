"""Items that are filled into the bytes of others: each is, byte by byte, what its own tree says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from turnwright.bank.item.item import Given, Item, Words
from turnwright.bank.item.pack import Pack, Section
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.packages.delivery import PLAIN, Delivery
from turnwright.exporters.packages.naming import QuestionNames, contents
from turnwright.exporters.qti import alike, qti21, qti22, qti30
from turnwright.exporters.qti.alike import Documents
from turnwright.exporters.qti.assessment_item import assessment_item
from turnwright.exporters.qti.content import Pieces
from turnwright.exporters.qti.manifest import QtiVersion

from tests.bank import models

VERSIONS = (qti30.VERSION, qti22.VERSION, qti21.VERSION)


def named(sections: list[Section], purpose: Purpose = "practice", delivery: Delivery = PLAIN) -> list[QuestionNames]:
    return list(contents(Pack("The fair", purpose, "9.8 N/kg", 1, tuple(sections)), delivery).questions)


def drawn(wanted: int, step: int = 1) -> list[Section]:
    found = (model.section(wanted, Decimal("9.8"), 1) for model in models.asked("number", step))
    return [each for each in found if each]


def trees(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Notes which items are set as trees."""
    met: list[int] = []

    def watched(item: Item, *others: object) -> object:
        met.append(item.variant)
        return assessment_item(item, *others)  # type: ignore[arg-type]

    monkeypatch.setattr(alike, "assessment_item", watched)
    return met


def differing(question: QuestionNames, version: QtiVersion, alone: Callable[[int, Item], bytes]) -> list[int]:
    documents = Documents(question, Pieces(version.form))
    items = enumerate(question.section.items())
    return [index for index, item in items if documents.written(item, index) != alone(index, item)]


def test_number_items_are_what_their_own_trees_say(monkeypatch: pytest.MonkeyPatch) -> None:
    met, count = trees(monkeypatch), 0
    for question in named(drawn(18, step=2)):
        pieces = Pieces(qti30.VERSION.form)

        def alone(index: int, item: Item, question: QuestionNames = question, pieces: Pieces = pieces) -> bytes:
            return pieces.document(assessment_item(item, question, index, pieces))

        count += len(question.section)
        assert differing(question, qti30.VERSION, alone) == [], question.section.question_id
    assert len(met) < 0.8 * count


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("mathematics", ["mathml", "html"])
def test_they_are_in_each_version_and_form(version: QtiVersion, purpose: Purpose, mathematics: str) -> None:
    for question in named(drawn(40, step=60), purpose, replace(PLAIN, mathematics=mathematics)):  # type: ignore[arg-type]

        def alone(index: int, item: Item, question: QuestionNames = question) -> bytes:
            return Pieces(version.form).document(assessment_item(item, question, index))

        assert differing(question, version, alone) == []


def with_words(item: Item, words: str) -> Item:
    return replace(item, stem=(*item.stem, (Words(words), Given("t", "7.5", "s"))))


def test_another_word_and_a_text_like_a_mark_are_written_as_they_are() -> None:
    (question, *_) = named(drawn(40, step=60))
    documents = Documents(question, Pieces(qti30.VERSION.form))
    odd = {5: "Mind the gap", 11: "1\ue0000\ue001", 12: "1\ue0000\ue001", 13: "1\ue00099\ue001", 14: "1\ue00099\ue001"}
    first = next(question.section.items())
    for index in range(20):
        item = with_words(first, odd.get(index, "For "))
        alone = Pieces(qti30.VERSION.form).document(assessment_item(item, question, index))
        assert documents.written(item, index) == alone, index
