"""What a catalogue learns of a pack: QTI metadata, learning object records (IEEE 1484.12.1), standards of a curriculum.

For an exam, a record holds nothing that leads back to the bank: no question id, no keywords, no level, no difficulty,
no standards. The words of the lists (difficulty, context, type, purpose) are those of LOM 1.0, from memory.

Standards are named by CASE identifiers in QTI 3.0, by taxon paths anywhere. The record of 3.0 is written after a
skeleton from an official package; that it may do without the region and version of a framework, which no problem file
gives, is from memory of its schema.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from ...bank.item.curriculum import Alignment
from ...bank.item.drawing import Drawing
from ...bank.item.item import Metadata
from ...bank.item.pack import Pack
from ...bank.language import count, listed
from ..markup import elements
from ..markup.elements import Element, Vocabulary
from .naming import Kind, PackNames, QuestionNames

LOM = Vocabulary(elements.LOM)
QTI_METADATA = Vocabulary(elements.QTI_METADATA)

LANGUAGE = "en"
OURS = "Turnwright"
RIGHTS = {"CC0-1.0": "no"}  # all other licences of the bank reserve something

# The least index of difficulty (see bank.quality) for each word. The limits are ours, set so that of the first 237
# questions of the bank six are very easy, 101 easy, 87 medium, 39 difficult and four very difficult.
DIFFICULTY = ((8, "very difficult"), (6, "difficult"), (4, "medium"), (2, "easy"), (0, "very easy"))
LEVELS = {"algebra": "algebra-based physics", "calculus": "calculus-based physics"}
# Mechanics with algebra is taught at schools and in first courses of colleges; with calculus mostly in the latter.
CONTEXTS = {"algebra": ("school", "higher education"), "calculus": ("higher education",)}
ASKS: dict[Kind, str] = {
    "number": "a number with its tolerance",
    "choice": "one option out of several",
    "several": "all options that are right",
    "order": "an order",
    "match": "pairs that belong together",
}
STANDARDS = Vocabulary(elements.STANDARDS)


def add_qti_metadata(parent: Element, question: QuestionNames, *, template: bool) -> None:
    """How an item is answered, and whether it teaches as well as asks."""
    rules = question.sitting
    facts = (
        ("itemTemplate", "true" if template else "false"),
        ("timeDependent", "false"),
        ("composite", "true" if len(question.shape.kinds) > 1 else "false"),
        *(("interactionType", name) for name in question.shape.interactions(hints=rules.hints)),
        ("feedbackType", "nonadaptive" if rules.told else "none"),
        ("solutionAvailable", "true" if rules.solution else "false"),
    )
    record = QTI_METADATA.add(parent, "qtiMetadata")
    for name, value in facts:
        QTI_METADATA.add(record, name, value)


def add_item_record(parent: Element, question: QuestionNames, called: str, *, standards: bool) -> None:
    """What the item is about, how hard it is, how long it takes, what may be done with it, and what it is part of.

    ``called`` is its own entry in the catalogue; ``standards``: those that CASE knows are told elsewhere.
    """
    metadata, open_ = question.section.metadata, question.purpose == "practice"
    record = LOM.add(parent, "lom")
    keywords = _keywords(metadata) if open_ else ()
    _add_general(record, called, question.title, _description(question), keywords)
    _add_text(LOM.add(record, "lifeCycle"), "version", str(metadata.version))
    _add_educational(record, "exercise" if open_ else "exam", metadata.minutes, metadata if open_ else None)
    _add_rights(record, (metadata.licence,))
    if open_:
        _add_classifications(record, metadata, standards=standards)


def add_test_record(parent: Element, contents: PackNames) -> None:
    """What the whole pack is: its title, how many questions it asks, how long they take together, its licences."""
    pack, questions = contents.pack, contents.questions
    open_ = pack.purpose == "practice"
    facts = [question.section.metadata for question in questions]
    record = LOM.add(parent, "lom")
    keywords = dict.fromkeys(each.family.replace("-", " ") for each in facts if open_ and each.family)
    asked = f"{len(questions)} {'question' if len(questions) == 1 else 'questions'} on circular motion"
    _add_general(record, contents.test, pack.title, f"{asked}, one variant of each for every candidate.", keywords)
    minutes = pack.sitting.minutes or sum(each.minutes for each in facts)
    _add_educational(record, "exercise" if open_ else "exam", minutes, None)
    _add_rights(record, dict.fromkeys(each.licence for each in facts))


def add_drawing_record(parent: Element, question: QuestionNames, drawing: Drawing) -> None:
    """What a drawing shows, and what may be done with it; in an exam, its own words are left to its file."""
    record = LOM.add(parent, "lom")
    if question.purpose == "practice":
        general = LOM.add(record, "general")
        _add_text(general, "title", drawing.title)
        LOM.add(general, "language", LANGUAGE)
        _add_text(general, "description", drawing.alternative)
    _add_rights(record, (question.section.metadata.licence,))


def _add_general(record: Element, entry: str, title: str, description: str, keywords: Iterable[str]) -> None:
    general = LOM.add(record, "general")
    LOM.add(LOM.add(general, "identifier"), "entry", entry)
    _add_text(general, "title", title)
    LOM.add(general, "language", LANGUAGE)
    _add_text(general, "description", description)
    for keyword in keywords:
        _add_text(general, "keyword", keyword)


def entry(question: QuestionNames, index: int) -> str:
    """The id in the bank and the number of the variant or the template; in an exam, the neutral identifier."""
    if question.purpose == "practice":
        return f"{question.section.question_id}.{'t' if question.is_template(index) else 'v'}{index + 1}"
    return question.item(index)


def _description(question: QuestionNames) -> str:
    """How an item is answered, and what comes with it."""
    asks = listed(ASKS[kind] for kind in question.shape.kinds)
    rules = question.sitting
    brings = [
        *(["hints"] if rules.hints and question.shape.hinted else []),
        *(["feedback"] if rules.feedback else []),
        *(["a worked solution"] if rules.solution else []),
    ]
    return f"Asks for {asks}{f'; with {listed(brings)}' if brings else ''}."


def _keywords(metadata: Metadata) -> tuple[str, ...]:
    return tuple(word for word in (metadata.family, *metadata.objectives) if word)


def _add_educational(record: Element, kind: str, minutes: int, facts: Metadata | None) -> None:
    """The type of resource, where it is used, how hard it is, how long it takes."""
    educational = LOM.add(record, "educational")
    _add_choice(educational, "learningResourceType", kind)
    for context in CONTEXTS.get(facts.level, ()) if facts else ():
        _add_choice(educational, "context", context)
    if facts and facts.difficulty is not None:
        _add_choice(educational, "difficulty", difficulty_word(facts.difficulty))
    LOM.add(LOM.add(educational, "typicalLearningTime"), "duration", f"PT{minutes}M")


def difficulty_word(index: int) -> str:
    """The word for an index of difficulty."""
    return next(word for least, word in DIFFICULTY if index >= least)


def _add_rights(record: Element, licences: Iterable[str]) -> None:
    known = list(licences)
    rights = LOM.add(record, "rights")
    reserved = any(RIGHTS.get(each, "yes") == "yes" for each in known)
    _add_choice(rights, "copyrightAndOtherRestrictions", "yes" if reserved else "no")
    _add_text(rights, "description", ", ".join(known))


def _add_classifications(record: Element, metadata: Metadata, *, standards: bool) -> None:
    """The level, the objectives of the bank, and the standards of each curriculum."""
    if metadata.level:
        level = LOM.add(record, "classification")
        _add_choice(level, "purpose", "educational level")
        _add_text(level, "description", LEVELS.get(metadata.level, metadata.level))
    paths = [*_objectives(metadata), *taxons(metadata.alignment, standards=standards)]
    if paths:
        objective = LOM.add(record, "classification")
        _add_choice(objective, "purpose", "educational objective")
        for each in paths:
            _add_path(objective, each)


def _objectives(metadata: Metadata) -> Iterator[Taxon]:
    for each in metadata.objectives:
        yield Taxon(OURS, each, each.replace(".", ": ").replace("-", " "))


def _add_path(parent: Element, taxon: Taxon) -> None:
    path = LOM.add(parent, "taxonPath")
    _add_text(path, "source", taxon.source)
    step = LOM.add(path, "taxon")
    LOM.add(step, "id", taxon.id)
    _add_text(step, "entry", taxon.entry)


def _add_text(parent: Element, tag: str, text: str) -> None:
    LOM.add(LOM.add(parent, tag), "string", text, language=LANGUAGE)


def _add_choice(parent: Element, tag: str, value: str) -> None:
    """A value from the standard's own list."""
    choice = LOM.add(parent, tag)
    LOM.add(choice, "source", "LOMv1.0")
    LOM.add(choice, "value", value)


class Taxon(NamedTuple):
    """One step of a classification: whose it is, its id there, and what it says."""

    source: str
    id: str
    entry: str


def has_case(alignments: Iterable[Alignment]) -> bool:
    """Whether any of them has an identifier in CASE."""
    return any(each.case for each in alignments)


def add_standards(parent: Element, alignments: Sequence[Alignment]) -> None:
    """Adds the record of all alignments that CASE knows, framework by framework; nothing where there is none."""
    frameworks = dict.fromkeys(each.framework for each in alignments if each.case)
    if not frameworks:
        return
    record = STANDARDS.add(parent, "curriculumStandardsMetadataSet")
    for framework in frameworks:
        provided = STANDARDS.add(record, "curriculumStandardsMetadata")
        provided.set("providerId", framework)
        guids = STANDARDS.add(provided, "setOfGUIDs")
        for each in alignments:
            if each.case and each.framework == framework:
                _add_standard(guids, each)


def _add_standard(guids: Element, alignment: Alignment) -> None:
    labelled = STANDARDS.add(guids, "labelledGUID")
    STANDARDS.add(labelled, "label", alignment.label)
    if alignment.address:
        STANDARDS.add(labelled, "caseItemURI", alignment.address)
    STANDARDS.add(labelled, "GUID", alignment.guid)


def taxons(alignments: Sequence[Alignment], *, standards: bool) -> Iterator[Taxon]:
    """The alignments as taxons: plain codes, and CASE identifiers unless they are among the ``standards``."""
    for each in alignments:
        if each.code:
            yield Taxon(each.framework, each.code, each.label)
        if each.case and not standards:
            yield Taxon(each.framework, each.guid, f"{each.code} {each.label}".strip())


def keywords(pack: Pack) -> tuple[str, ...]:
    """Families and objectives of the questions, each once; an exam has none, for they lead back to the bank."""
    if pack.purpose == "exam":
        return ()
    words = (word for each in pack.sections for word in (each.metadata.family, *each.metadata.objectives))
    return tuple(dict.fromkeys(word for word in words if word))


def licences(pack: Pack) -> str:
    """The licences of the questions, each once."""
    return ", ".join(dict.fromkeys(each.metadata.licence for each in pack.sections))


def description(pack: Pack) -> str:
    """What the pack is, in a sentence."""
    return f"{count(len(pack.sections), 'question').capitalize()} on circular motion, in variants with other numbers."


def learning_time(pack: Pack) -> str:
    """How long the questions take together, in a sentence."""
    return f"They take about {count(minutes(pack), 'minute')}."


def minutes(pack: Pack) -> int:
    """How long the questions take together: the limit of the sitting, or the sum of what each takes."""
    return pack.sitting.minutes or sum(each.metadata.minutes for each in pack.sections)


def standards(pack: Pack) -> tuple[Taxon, ...]:
    """What the questions meet in a curriculum, each once; an exam tells none."""
    if pack.purpose == "exam":
        return ()
    found = (taxon for each in pack.sections for taxon in taxons(each.metadata.alignment, standards=False))
    return tuple(dict.fromkeys(found))
