"""The manifest of packs and papers as data (schema ``assessment``): what items ask, what each wrong answer comes from.

It tells every key, and is for those who analyse results; no pack holds it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from typing import Any

from ...bank.forms.manifest import bank_version
from ...bank.forms.telling import answers_of, fingerprint
from ...bank.item.item import Item, NumberEntry, is_by_people
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


def _on_paper(name: str, question: str, item: Item) -> dict[str, Any]:
    """An item of a paper, with the marks that stand there; a number is marked with its working, by people."""
    by_people = any(isinstance(each, NumberEntry) for each in item.entries)
    return {**_item(name, question, item), "marks": item_marks(item), "by_people": by_people}


def _item(name: str, question: str, item: Item) -> dict[str, Any]:
    about = item.metadata
    return {
        "item": name,
        "question": question,
        "version": about.version,
        "kind": about.kind,
        "variant": item.variant,
        "scene": about.scene,
        "marks": item.marks,
        "by_people": any(map(is_by_people, item.entries)),
        "minutes": about.minutes,
        "objectives": list(about.objectives),
        **answers_of(item.entries),
        "fingerprint": fingerprint(item),
    }


def manifest_bytes(bank: Sequence[Problem], settings: Settings, written: Sequence[Written]) -> bytes:
    """The manifest file of packs that were written, as one form: the first in QTI 2.1 or later, or the first.

    From QTI 2.1 on, all formats hold the same items under the same names. QTI 1.2.1 and cartridges may split items or
    ask them otherwise, and those items are told only where no other pack was written.
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
            [_on_paper(str(each.number), each.item.question_id, each.item) for each in version.questions],
        )
        for version in written.versions
    ]
    facts = _facts(settings.title, bank, settings.seed, str(settings.gravity), forms)
    return (json.dumps(facts, ensure_ascii=False, indent=1) + "\n").encode()
