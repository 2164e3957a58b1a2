"""Whether a file of QTI 1.2.1 carries the rules of its sitting: how often, how long, in which order."""

from __future__ import annotations

from collections.abc import Iterator

from ....bank.item.item import ChoiceEntry, Item
from ....bank.item.sitting import Sitting
from ...strangers.parsing import shown
from .item import Qti1Item
from .stream import Outline

EXAM_PROFILE = "cc.exam.v0p1"


def check_file_limits(outline: Outline, rules: Sitting, *, cartridge: bool) -> Iterator[str]:
    """What is wrong with what stands around the items; a bank in a cartridge has no place for it."""
    if not cartridge:
        wanted = {
            "duration": f"PT{rules.minutes}M" if rules.minutes else "",
            "order": "Random" if rules.shuffle else "",
        }
        found = {"duration": outline.duration, "order": outline.order}
    elif outline.facts.get("cc_profile") == EXAM_PROFILE:
        wanted = {
            "cc_maxattempts": str(rules.attempts or "unlimited"),
            "qmd_timelimit": str(rules.minutes or ""),
        }
        found = {label: outline.facts.get(label, "") for label in wanted}
    else:
        return
    for label, value in wanted.items():
        if found[label] != value:
            yield f"{label} is '{shown(found[label])}', '{value}' expected"


def check_item_limits(item: Qti1Item, expected: Item | None, rules: Sitting, *, cartridge: bool) -> Iterator[str]:
    """What is wrong with how often an item may be answered, and with whether its options keep their order."""
    attempts = str(rules.attempts) if rules.attempts and not cartridge else ""
    if item.root.get("maxattempts") != attempts:
        yield f"maxattempts is '{shown(item.root.get('maxattempts'))}', '{attempts}' expected"
    entries = expected.entries if expected else ()
    mixed = any(isinstance(each, ChoiceEntry) and each.shuffle for each in entries) and rules.shuffle
    for choice in item.all("render_choice"):
        if expected and (choice.get("shuffle").lower() == "yes") != mixed:
            yield f"the options are {'not ' if mixed else ''}shuffled"
