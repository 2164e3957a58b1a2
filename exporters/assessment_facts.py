"""The manifest of packs as data (schema ``assessment``): what each item asks, which answer comes from which mistake.

It tells every key, and is for those who analyse results; no pack holds it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from typing import Any

from turnwright.bank import formula
from turnwright.bank.asked import Settings
from turnwright.bank.item import ChoiceEntry, Entry, Item, MatchEntry, Math, NumberEntry, OrderEntry
from turnwright.bank.problem import Problem
from turnwright.exporters.adaptation import Adapted
from turnwright.exporters.naming import Question, contents
from turnwright.exporters.options import letter
from turnwright.exporters.packing import Written
from turnwright.exporters.template import TemplateItem


def assessment_facts(
    title: str, bank: Sequence[Problem], seed: int, gravity: str, forms: Sequence[tuple[str, Adapted]]
) -> dict[str, Any]:
    """The manifest of these forms, each a pack as it was written."""
    made = [{"form": name, "items": list(_items(adapted))} for name, adapted in forms]
    digest = hashlib.sha256(json.dumps(made, sort_keys=True).encode()).hexdigest()
    return {
        "assessment": f"assessment-{digest[:12]}",
        "title": title,
        "bank": {"version": bank_version(bank)},
        "seed": seed,
        "gravity": gravity,
        "forms": made,
    }


def bank_version(bank: Sequence[Problem]) -> str:
    """A digest of which problems a bank holds in which version."""
    facts = sorted(f"{each.id} {each.version}" for each in bank)
    return hashlib.sha256("\n".join(facts).encode()).hexdigest()


def _items(adapted: Adapted) -> Iterator[dict[str, Any]]:
    for question in contents(adapted.pack, adapted.delivery).questions:
        for index, item in enumerate(question.section.items()):
            if isinstance(item, TemplateItem):
                for number, row in enumerate(item.rows, 1):
                    yield {**_item(question, index, row), "row": number}
            else:
                yield _item(question, index, item)


def _item(question: Question, index: int, item: Item) -> dict[str, Any]:
    about = item.metadata
    key = [_key(entry) for entry in item.entries]
    return {
        "item": question.item(index),
        "question": question.section.question_id,
        "version": about.version,
        "kind": about.kind,
        "variant": item.variant,
        "scene": about.scene,
        "marks": item.marks,
        "minutes": about.minutes,
        "objectives": list(about.objectives),
        "predicted": None,
        "key": key[0] if len(key) == 1 else {"parts": key},
        "options": [option for place, entry in _responses(item) for option in _options(place, entry)],
        "recognised": [each for _, entry in _responses(item) for each in _recognised(entry)],
        "fingerprint": fingerprint(item),
    }


def _responses(item: Item) -> Iterator[tuple[str, Entry]]:
    """The entries, each with what stands before the names of its options: nothing where it is alone."""
    for number, entry in enumerate(item.entries, 1):
        yield (f"RESPONSE_{number}=" if len(item.entries) > 1 else ""), entry


def _options(before: str, entry: Entry) -> Iterator[dict[str, Any]]:
    for place, each in enumerate(entry.options if isinstance(entry, ChoiceEntry) else ()):
        yield {"name": before + letter(place), "right": each.right, "mistakes": list(each.mistakes)}


def _recognised(entry: Entry) -> Iterator[dict[str, Any]]:
    for each in entry.recognised if isinstance(entry, NumberEntry) else ():
        yield {"value": str(each.value), "half_width": str(each.half_width), "mistakes": list(each.mistakes)}


def _key(entry: Entry) -> dict[str, Any]:
    """The right answer without the names of any format but those of options."""
    match entry:
        case NumberEntry():
            return {"value": str(entry.key), "half_width": str(entry.half_width), "unit": entry.unit}
        case ChoiceEntry():
            return {"right": [letter(place) for place, each in enumerate(entry.options) if each.right]}
        case OrderEntry():
            return {"order": [letter(place) for place in entry.ranking]}
        case MatchEntry():
            return {"partners": list(entry.partners)}


def fingerprint(item: Item) -> str:
    """SHA-256 of key and stem: it changes when one of them does."""
    stem = [
        "".join(formula.text(each.node) if isinstance(each, Math) else each.text for each in line) for line in item.stem
    ]
    facts = json.dumps([stem, [_key(entry) for entry in item.entries]], ensure_ascii=False)
    return hashlib.sha256(facts.encode()).hexdigest()


def manifest_bytes(bank: Sequence[Problem], settings: Settings, written: Sequence[Written]) -> bytes:
    """The manifest file of packs that were written; in several formats they are one form, as their items are the same.

    A format that names its items otherwise (1.2.1, cartridges) gives no results that this manifest could read.
    """
    named = [each for each in written if each.format_name.startswith("qti-") and each.format_name != "qti-1.2.1"]
    facts = assessment_facts(
        settings.title, bank, settings.seed, f"{settings.gravity} N/kg", [("1", (named or written)[0].adapted)]
    )
    return (json.dumps(facts, ensure_ascii=False, indent=1) + "\n").encode()
