"""An XML document with one thing other than it was: what a stranger's writer, or a stranger, could do to it."""

from __future__ import annotations

import copy
import random
import re
from collections.abc import Callable

from lxml import etree

NASTY = (
    "", " ", "0", "-0", "-1", "1e999", "-INF", "INF", "NaN", "1e-400", "1e308", "9" * 400, "0.1e", "٣", "½", "\u202e",
    "RESPONSE", "SCORE", "MAXSCORE", "A", "A B", "A" * 300, "../x", "/etc/x", "http://fair.example/x", "#x", "%2e%2e/x",
    "$IMS-CC-FILEBASE$/../x", "items/q01_v001.xml", "imsmanifest.xml", "true", "ordered", "multiple", "record", "float",
    "integer", "duration", "pair", "directedPair", "identifier", "{", "}", "javascript:0", "3 4", "3,4", "0x10", "1_0",
)  # fmt: skip
_NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
_PARSER = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)


def changed(content: bytes, dice: random.Random) -> bytes:
    """The document with one to three changes; bytes that are no document come back as they are."""
    try:
        root = etree.fromstring(content, _PARSER)
    except (etree.XMLSyntaxError, ValueError):
        return content
    for _ in range(dice.choice((1, 1, 1, 2, 3))):
        elements = [each for each in root.iter() if isinstance(each.tag, str)]
        try:
            dice.choice(_CHANGES)(elements, dice)
        except ValueError:  # characters or names that XML does not have
            continue
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8")


def _text(elements: list[etree._Element], dice: random.Random) -> None:
    dice.choice([each for each in elements if each.text and each.text.strip()] or elements).text = _value(
        elements, dice
    )


def _attribute(elements: list[etree._Element], dice: random.Random) -> None:
    element = dice.choice([each for each in elements if each.attrib] or elements)
    name = dice.choice(element.keys() or ["identifier"])
    element.set(name, _value(elements, dice))


def _value(elements: list[etree._Element], dice: random.Random) -> str:
    """A nasty value, or one that stands elsewhere in the document."""
    if dice.random() < 0.5:
        return dice.choice(NASTY)
    other = dice.choice(elements)
    return dice.choice([*map(str, other.values()), other.text or ""])


def _nudged(elements: list[etree._Element], dice: random.Random) -> None:
    """A number that is a little another."""
    element = dice.choice([each for each in elements if each.text and _NUMBER.search(each.text)] or elements)
    text = element.text or ""
    found = list(_NUMBER.finditer(text))
    if found:
        one = dice.choice(found)
        digit = dice.randrange(one.start(), one.end())
        if text[digit].isdigit():
            element.text = text[:digit] + str((int(text[digit]) + dice.randint(1, 9)) % 10) + text[digit + 1 :]


def _without_attribute(elements: list[etree._Element], dice: random.Random) -> None:
    element = dice.choice([each for each in elements if each.attrib] or elements)
    if element.attrib:
        del element.attrib[dice.choice(element.keys())]


def _attribute_of_another(elements: list[etree._Element], dice: random.Random) -> None:
    source = dice.choice([each for each in elements if each.attrib] or elements)
    for name, value in source.items():
        dice.choice(elements).set(name, value)


def _gone(elements: list[etree._Element], dice: random.Random) -> None:
    element = dice.choice(elements)
    parent = element.getparent()
    if parent is not None:
        parent.remove(element)


def _twice(elements: list[etree._Element], dice: random.Random) -> None:
    element = dice.choice(elements)
    parent = element.getparent()
    if parent is not None and len(elements) < 2000:
        parent.insert(dice.randint(0, len(parent)), copy.deepcopy(element))


def _copied(elements: list[etree._Element], dice: random.Random) -> None:
    """A copy of a small element somewhere else."""
    element = dice.choice(elements)
    if sum(1 for _ in element.iter()) < 50:
        target = dice.choice(elements)
        target.insert(dice.randint(0, len(target)), copy.deepcopy(element))


def _renamed(elements: list[etree._Element], dice: random.Random) -> None:
    dice.choice(elements).tag = dice.choice(elements).tag


def _exchanged(elements: list[etree._Element], dice: random.Random) -> None:
    """Two brothers, each in the other's place."""
    parent = dice.choice([each for each in elements if len(each) > 1] or elements)
    if len(parent) > 1:
        parent.insert(dice.randrange(len(parent)), parent[dice.randrange(len(parent))])


def _nested(elements: list[etree._Element], dice: random.Random) -> None:
    """An element in itself, many times."""
    element = dice.choice(elements)
    if len(element) == 0:
        inner = element
        for _ in range(dice.choice((1, 5, 120))):
            inner = etree.SubElement(inner, element.tag, dict(element.attrib))


_CHANGES: tuple[Callable[[list[etree._Element], random.Random], None], ...] = (
    _text,
    _text,
    _attribute,
    _attribute,
    _attribute,
    _nudged,
    _nudged,
    _without_attribute,
    _attribute_of_another,
    _gone,
    _gone,
    _twice,
    _copied,
    _copied,
    _renamed,
    _renamed,
    _exchanged,
    _nested,
)
