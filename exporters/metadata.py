"""What a catalogue learns of an item: the QTI metadata, and a learning object record (IEEE 1484.12.1).

For an exam, the record holds nothing that leads back to the bank: no question id, no keywords, no level.
"""

from __future__ import annotations

from turnwright.bank.item import Metadata
from turnwright.exporters import namespaces
from turnwright.exporters.elements import Element, Vocabulary
from turnwright.exporters.naming import Question

LOM = Vocabulary(namespaces.LOM)
QTI_METADATA = Vocabulary(namespaces.QTI_METADATA)

LANGUAGE = "en"


def add_qti_metadata(parent: Element, question: Question, index: int) -> None:
    """How the item is answered, and whether it teaches as well as asks."""
    practice = question.purpose == "practice"
    facts = (
        ("itemTemplate", "true" if question.is_template(index) else "false"),
        ("timeDependent", "false"),
        ("composite", "true" if len(question.shape.kinds) > 1 else "false"),
        *(("interactionType", name) for name in question.shape.interactions(practice=practice)),
        ("feedbackType", "nonadaptive" if practice else "none"),
        ("solutionAvailable", "true" if practice else "false"),
    )
    record = QTI_METADATA.add(parent, "qtiMetadata")
    for name, value in facts:
        QTI_METADATA.add(record, name, value)


def add_record(parent: Element, question: Question, index: int) -> None:
    """What the item is about, how long it takes and what may be done with it."""
    metadata = question.section.metadata
    record = LOM.add(parent, "lom")
    _add_general(record, question, index)
    _add_text(LOM.add(record, "lifeCycle"), "version", str(metadata.version))
    time = LOM.add(LOM.add(record, "educational"), "typicalLearningTime")
    LOM.add(time, "duration", f"PT{metadata.minutes}M")
    rights = LOM.add(record, "rights")
    _add_choice(rights, "copyrightAndOtherRestrictions", "yes")
    _add_text(rights, "description", metadata.licence)
    if question.purpose == "practice" and metadata.level:
        level = LOM.add(record, "classification")
        _add_choice(level, "purpose", "educational level")
        _add_text(level, "description", metadata.level)


def _add_general(record: Element, question: Question, index: int) -> None:
    general = LOM.add(record, "general")
    LOM.add(LOM.add(general, "identifier"), "entry", _entry(question, index))
    _add_text(general, "title", question.title)
    LOM.add(general, "language", LANGUAGE)
    if question.purpose == "practice":
        for keyword in _keywords(question.section.metadata):
            _add_text(general, "keyword", keyword)


def _entry(question: Question, index: int) -> str:
    """The id in the bank and the number of the variant or the template; in an exam, the neutral identifier."""
    if question.purpose == "practice":
        return f"{question.section.question_id}.{'t' if question.is_template(index) else 'v'}{index + 1}"
    return question.item(index)


def _keywords(metadata: Metadata) -> tuple[str, ...]:
    return tuple(word for word in (metadata.family, *metadata.objectives) if word)


def _add_text(parent: Element, tag: str, text: str) -> None:
    LOM.add(LOM.add(parent, tag), "string", text, language=LANGUAGE)


def _add_choice(parent: Element, tag: str, value: str) -> None:
    """A value from the standard's own list."""
    choice = LOM.add(parent, tag)
    LOM.add(choice, "source", "LOMv1.0")
    LOM.add(choice, "value", value)
