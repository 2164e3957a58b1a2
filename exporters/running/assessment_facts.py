"""The manifest of packs and papers as data (schema ``assessment``): what items ask, what each wrong answer comes from.

It tells every key, and is for those who analyse results; no pack holds it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from typing import Any

from ...bank.forms.manifest import bank_version
from ...bank.forms.telling import fingerprint, key_of, options_of, recognised_of
from ...bank.item.item import Entry, Item
from ...bank.model.problem import Problem
from ...bank.questions.item_model import Settings
from ...bank.reading.mistakes import shipped_mistakes
from ..adapting.adaptation import Adapted
from ..adapting.template import TemplateItem
from ..packages.naming import QuestionNames, contents
from ..paper import WrittenPapers
from ..paper.marks import item_marks
from .packing import Written


def assessment_facts(
    title: str, bank: Sequence[Problem], seed: int, gravity: str, forms: Sequence[tuple[str, Adapted]]
) -> dict[str, Any]:
    """The manifest of these forms, each a pack as it was written."""
    return _facts(title, bank, seed, gravity, [(name, list(_items(adapted))) for name, adapted in forms])


def _facts(
    title: str, bank: Sequence[Problem], seed: int, gravity: str, forms: Sequence[tuple[str, list[dict[str, Any]]]]
) -> dict[str, Any]:
    made = [{"form": name, "items": items} for name, items in forms]
    digest = hashlib.sha256(json.dumps(made, sort_keys=True).encode()).hexdigest()
    return {
        "assessment": f"assessment-{digest[:12]}",
        "title": title,
        "bank": {"version": bank_version(bank, shipped_mistakes())},
        "seed": seed,
        "gravity": gravity,
        "forms": made,
    }


def _items(adapted: Adapted) -> Iterator[dict[str, Any]]:
    for question in contents(adapted.pack, adapted.delivery).questions:
        for index, item in enumerate(question.section.items()):
            if isinstance(item, TemplateItem):
                for number, row in enumerate(item.rows, 1):
                    yield {**_item(*_named(question, index), row), "row": number}
            else:
                yield _item(*_named(question, index), item)


def _named(question: QuestionNames, index: int) -> tuple[str, str]:
    return question.item(index), question.section.question_id


def _item(name: str, question: str, item: Item, marks: int | None = None) -> dict[str, Any]:
    about = item.metadata
    return {
        "item": name,
        "question": question,
        "version": about.version,
        "kind": about.kind,
        "variant": item.variant,
        "scene": about.scene,
        "marks": item.marks if marks is None else marks,
        "minutes": about.minutes,
        "objectives": list(about.objectives),
        **_answers(item.entries),
        "fingerprint": fingerprint(item),
    }


def _answers(entries: Sequence[Entry]) -> dict[str, Any]:
    parts = [{"key": key_of(each), "options": options_of(each), "recognised": recognised_of(each)} for each in entries]
    if len(parts) == 1:
        return parts[0]
    return {"key": {"parts": [each["key"] for each in parts]}, "options": [], "recognised": [], "parts": parts}


def manifest_bytes(bank: Sequence[Problem], settings: Settings, written: Sequence[Written]) -> bytes:
    """The manifest file of packs that were written; in several formats they are one form, as their items are the same.

    A format that names its items otherwise (1.2.1, cartridges) gives no results that this manifest could read.
    """
    named = [each for each in written if each.format_name.startswith("qti-") and each.format_name != "qti-1.2.1"]
    facts = assessment_facts(
        settings.title, bank, settings.seed, str(settings.gravity), [("1", (named or written)[0].adapted)]
    )
    return (json.dumps(facts, ensure_ascii=False, indent=1) + "\n").encode()


def paper_manifest_bytes(bank: Sequence[Problem], settings: Settings, written: WrittenPapers) -> bytes:
    """The manifest file of a sitting on paper: a form for each version, an item for each question under its number.

    Marks are those on the paper.
    """
    forms = [
        (
            version.name,
            [
                _item(str(each.number), each.item.question_id, each.item, item_marks(each.item))
                for each in version.questions
            ],
        )
        for version in written.versions
    ]
    facts = _facts(settings.title, bank, settings.seed, str(settings.gravity), forms)
    return (json.dumps(facts, ensure_ascii=False, indent=1) + "\n").encode()
