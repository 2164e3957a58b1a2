"""What an exam must not carry, whoever wrote it: what only its authors should see, and what tells options apart.

Of feedback, solutions and comments an exam has none at all. What else is there for no candidate is a rule of ours: a
class, an attribute for data or a name may be innocent in another pack.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from posixpath import basename

from ...strangers.documents import Element
from ...strangers.parsing import HouseRule, shown
from ..reading.item_file import FEEDBACK, ItemFile
from .leaks import SPOKEN, Secret, numbers_in

COMMENT = b"<!--"
OPTIONS = ("qti-simple-choice", "qti-inline-choice", "qti-simple-associable-choice", "qti-hottext", "qti-gap-text")
_OPEN_CLASS = "qti-"  # how the names begin that the standard shares among all who show items
SHOWN = frozenset({"data-catalog-idref", "data-patternmask-message"})  # to candidates, by the standard
_MAY_HOLD = re.compile(rb"\s(class|id|label|data-[^\s=<>]+)\s*=")
_WORD = re.compile(r"[a-z]{4,}")
_COMMON_WORDS = frozenset(
    {"item", "items", "figure", "image", "picture", "question", "variant", "test", "media", "exam"}
)


def check_exam_item(item: ItemFile, secrets: Sequence[Secret]) -> Iterator[str]:
    """What an item of an exam must not carry: feedback, a solution, a comment, or a rubric or value with the key."""
    for element in item.all(*FEEDBACK):
        yield f"line {element.line}: {element.name} in an exam"
    if COMMENT in item.data:
        yield "holds a comment in an exam"
    for element in item.all("qti-rubric-block"):
        if "solution" in element.get("use").lower() or "solution" in element.get("class").lower():
            yield f"line {element.line}: a solution in an exam"
    for element in item.all("qti-rubric-block", "qti-catalog"):
        spoken = (each.get(name) for each in element.walk() for name in SPOKEN)
        numbers = numbers_in(" ".join([element.string(), *spoken]))
        if any(secret.is_in(numbers) for secret in secrets):
            yield f"line {element.line}: {element.name} holds the key in an exam"
    yield from _check_options(item)
    yield from _check_values(item, secrets)


def _check_options(item: ItemFile) -> Iterator[str]:
    """Options that differ in more than their names and what they show."""
    for interaction in item.interactions():
        sets: dict[Element, list[Element]] = {}
        for each in interaction.walk():
            if each.name in OPTIONS and each.around:
                sets.setdefault(each.around[0], []).append(each)
        for options in sets.values():
            yield from told_apart([(each.line, each.get("identifier"), each.attributes) for each in options])


def told_apart(options: Sequence[tuple[int, str, Mapping[str, str]]], name: str = "identifier") -> Iterator[str]:
    """The attributes, beside the ``name``, in which one option of a set differs from the others."""
    attributes = dict.fromkeys(each for _, _, held in options for each in held if each != name)
    for attribute in attributes:
        values = [held.get(attribute, "") for _, _, held in options]
        usual = max(values, key=values.count)
        for (line, called, _), value in zip(options, values, strict=True):
            if value != usual:
                said = (
                    f"option {shown(called)} has the {shown(attribute)} '{shown(value)}', others have '{shown(usual)}'"
                )
                yield f"line {line}: {said}: in an exam nothing but its words may tell it apart"


def _check_values(item: ItemFile, secrets: Sequence[Secret]) -> Iterator[str]:
    """Classes and data that no candidate needs, and values in which the key stands."""
    held = {found.decode(errors="replace") for found in _MAY_HOLD.findall(item.data)}
    for element in item.root.walk() if held else ():
        for name, value in element.attributes.items():
            if name not in held:
                continue
            is_data = name.startswith("data-")
            if any(secret.is_in(numbers_in(value)) for secret in secrets):
                yield f"line {element.line}: the {shown(name)} '{shown(value)}' holds the key in an exam"
            elif is_data and name not in SHOWN:
                yield HouseRule(
                    f"line {element.line}: the {shown(name)} '{shown(value)}' is for no candidate of an exam"
                )
            elif name == "class" and not all(each.startswith(_OPEN_CLASS) for each in value.split()):
                yield HouseRule(f"line {element.line}: the class '{shown(value)}' of an exam is none of the standard's")


def check_exam_name(name: str) -> Iterator[str]:
    """The name of a member that says more than that it is the item, the figure or the test of a number."""
    words = set(_WORD.findall(basename(name).rpartition(".")[0].lower())) - _COMMON_WORDS
    if words:
        yield HouseRule(f"its name says '{shown(min(words))}', and in an exam a name should only count")


def check_exam_member(data: bytes) -> Iterator[str]:
    """What a member of an exam that is no item must not hold."""
    if data.lstrip()[:1] == b"<" and COMMENT in data:
        yield "holds a comment in an exam"


def check_exam_keywords(keywords: Iterable[str]) -> Iterator[str]:
    """Keywords by which authors find items, and candidates answers."""
    found = sorted(set(keywords))
    if found:
        yield HouseRule(f"has keywords in an exam: {shown(', '.join(found))}")
