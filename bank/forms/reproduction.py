"""Keys made again from a bank, and what differs from those of a manifest."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from ..documents.json_file import read_json
from ..errors import TooFewVariantsError
from ..item.item import Item
from ..model.mistake import Mistake
from ..model.problem import Problem
from ..questions.item_model import ItemModel
from ..questions.kinds import KINDS
from ..questions.selection import item_models
from ..solving.cache import solved_question
from .choosing import turned
from .manifest import bank_version
from .telling import fingerprint, key_of


@dataclass(frozen=True)
class KeyDifference:
    """An item of a form that comes out otherwise now: which, and how."""

    form: str
    place: int
    question: str
    told: str

    def __str__(self) -> str:
        return f"form {self.form}, question {self.place} ({self.question}): {self.told}"


@dataclass(frozen=True)
class Reproduction:
    """How many items were made again, which differ, and whether the bank is the same in all."""

    items: int
    differences: tuple[KeyDifference, ...]
    same_bank: bool


def read_manifest(path: Path) -> Mapping[str, Any]:
    """The manifest in a file. Raises BankFaultsError with all its faults."""
    data: Mapping[str, Any] = read_json(path, "assessment")
    return data


def reproduce(
    data: Mapping[str, Any],
    problems: Sequence[Problem],
    catalogue: Sequence[Mistake],
    done: Callable[[int], None] = lambda _: None,
) -> Reproduction:
    """Every item of a manifest made again from a bank, and held against its fingerprint."""
    maker = _Maker(data, problems, catalogue)
    items = [(form["form"], at, each) for form in data["forms"] for at, each in enumerate(form["items"], 1)]
    found: list[KeyDifference] = []
    for form, at, each in items:
        told = maker.differs(each)
        done(1)
        if told:
            found.append(KeyDifference(form, at, each["question"], told))
    same = data["bank"]["version"] == bank_version(problems, catalogue)
    return Reproduction(len(items), tuple(found), same)


class _Maker:
    """Makes items of a manifest again; only the problems that it names are solved."""

    def __init__(self, data: Mapping[str, Any], problems: Sequence[Problem], catalogue: Sequence[Mistake]) -> None:
        self.gravity, self.seed = Decimal(data["gravity"]), int(data["seed"])
        names = {each["question"].partition(".")[0] for form in data["forms"] for each in form["items"]}
        self.versions = {each.id: each.version for each in problems}
        solved = [
            solved_question(each, question) for each in problems if each.id in names for question in each.questions
        ]
        self.asked: dict[str, ItemModel] = {each.id: each for each in item_models(solved, catalogue, KINDS, problems)}

    def differs(self, old: Mapping[str, Any]) -> str:
        """What is other now in an item; nothing where it is the same."""
        asked = self.asked.get(old["question"])
        if asked is None:
            return "the bank has no such question now"
        item = self._item(asked, old["variant"], old.get("turn", 0))
        if item is None:
            return f"there is no variant {old['variant']} now"
        if fingerprint(item) == old["fingerprint"]:
            return ""
        version = asked.metadata.version
        raised = f" (version {old['version']} then, {version} now)" if version != old["version"] else ""
        keys = [key_of(each) for each in item.entries]
        key = keys[0] if len(keys) == 1 else {"parts": keys}
        if key != old["key"]:
            return f"the key was {_shown(old['key'])} and is {_shown(key)}{raised}"
        return f"the key is the same, the stem or an option is not{raised}"

    def _item(self, asked: ItemModel, number: int, turn: int) -> Item | None:
        try:
            items = asked.draw(number, self.gravity, self.seed)
        except TooFewVariantsError:
            return None
        if len(items) < number:
            return None
        item = items[number - 1]
        return turned(item, turn) if turn else item


def _shown(key: Mapping[str, Any]) -> str:
    if "number" in key:
        return f"{key['number']} {key['unit']}".strip()
    if "options" in key:
        return " and ".join(key["options"])
    if "order" in key:
        return ", ".join(key["order"])
    if "pairs" in key:
        return ", ".join(f"{row}-{column}" for row, column in key["pairs"])
    return "; ".join(_shown(each) for each in key.get("parts", ()))
