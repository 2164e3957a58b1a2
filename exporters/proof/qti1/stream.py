"""A QTI 1.2.1 file read item by item: each is a small tree that is let go before the next one comes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, cast

from lxml import etree

from ...strangers.documents import Element
from ...strangers.grammar import Judge
from ...strangers.parsing import DocumentError, Listener, malformed, screened
from ..words.silence import COMMENT

NAMESPACE = "{http://www.imsglobal.org/xsd/ims_qtiasiv1p2}"
LONGEST_ITEM = 2 * 1024 * 1024
MOST_SECTIONS = 50_000
LONGEST_TAG = 16_000  # a parser takes its time over many attributes
_LONG_TAG = re.compile(rb"<[^<>]{%d}" % LONGEST_TAG)
_EVENTS = ("questestinterop", "assessment", "objectbank", "section", "item", "selection_number", "qtimetadatafield")
_OPENING = frozenset({"questestinterop", "assessment", "objectbank", "section"})


@dataclass
class ItemGroup:
    """An assessment, a bank or a section: what it is called, how many of its items are drawn, how many it holds.

    ``titles`` are those of its items.
    """

    kind: str
    ident: str
    title: str
    draws: str = ""
    items: int = 0
    titles: set[str] = field(default_factory=set)


@dataclass
class Outline:
    """What a file says around its items, as far as it has been read; ``instructions`` are its rubrics, HTML as text.

    ``duration`` and ``order`` are those of the assessment: how long it takes, how its sections are put in order.
    """

    root: str = ""
    groups: list[ItemGroup] = field(default_factory=list)
    facts: dict[str, str] = field(default_factory=dict)
    control: dict[str, str] = field(default_factory=dict)
    instructions: str = ""
    duration: str = ""
    order: str = ""


class QuestionsListener:
    """Holds a file of questions against its grammar, and hears whether it has a comment, which no reader keeps."""

    def __init__(self, judge: Judge) -> None:
        self.judge = judge
        self.has_comment = False
        self._before = b""

    def feed(self, piece: bytes) -> None:
        """Takes the next piece. Raises DocumentError for what is refused."""
        self.judge.feed(piece)
        self.has_comment |= COMMENT in self._before + piece
        self._before = piece[-len(COMMENT) :]


def bare(name: str) -> str:
    """The name of an element of the format; one of another namespace keeps it."""
    return name.removeprefix(NAMESPACE)


def read_items(
    pieces: Iterator[bytes], outline: Outline, most_tags: int, listener: Listener
) -> Iterator[tuple[ItemGroup, Element]]:
    """Each item with the group that holds it; ``outline`` fills while the file is read, which ``listener`` hears.

    Raises DocumentError for what is refused.
    """
    parser = _parser()
    open_groups: list[ItemGroup] = []
    waited, before = 0, b""
    try:
        for piece in screened(pieces, most_tags):
            if _LONG_TAG.search(before + piece):
                raise DocumentError(f"has a tag of more than {LONGEST_TAG} bytes")
            before = piece[-LONGEST_TAG:]
            parser.feed(piece)
            listener.feed(piece)
            waited += len(piece)
            for event, element in parser.read_events():
                found = _take(event, element, outline, open_groups)
                if found is not None:
                    waited = 0
                    yield found
                    _let_go(element)
            if waited > LONGEST_ITEM:
                raise DocumentError(f"has {LONGEST_ITEM} bytes without the end of an item")
        parser.close()
    except etree.XMLSyntaxError as error:
        raise malformed(error) from error


def _parser() -> Any:
    return cast(Any, etree.XMLPullParser)(
        events=("start", "end"),
        tag=[f"{{*}}{each}" for each in (*_EVENTS, "assessmentcontrol", "rubric", "duration", "order")],
        encoding="UTF-8",
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        huge_tree=False,
        remove_comments=True,
        remove_pis=True,
    )


def _take(event: str, element: Any, outline: Outline, groups: list[ItemGroup]) -> tuple[ItemGroup, Element] | None:
    name = bare(element.tag)
    if event == "start":
        _open(name, element, outline, groups)
        return None
    if name == "item":
        group = groups[-1] if groups else ItemGroup("", "", "")
        group.items += 1
        return group, Element(element, bare)
    if name in _OPENING:
        if groups and name != "questestinterop":
            groups.pop()
        if name == "section":
            _let_go(element)
    elif name == "selection_number" and groups:
        groups[-1].draws = (element.text or "").strip()
    elif name == "qtimetadatafield" and len(groups) == 1 and _is_of_group(element):
        texts = [(each.text or "").strip() for each in element]
        outline.facts.setdefault(*(texts[:2] if len(texts) >= 2 else ("", "")))
    elif name == "rubric" and len(groups) == 1 and groups[0].kind == "assessment":
        outline.instructions += " ".join(map(str, element.itertext()))
    elif name == "duration" and len(groups) == 1:
        outline.duration = (element.text or "").strip()
    elif name == "order" and len(groups) == 1:
        outline.order = element.get("order_type", "")
    elif name == "assessmentcontrol":
        outline.control.update({str(key): str(value) for key, value in element.items()})
    return None


def _is_of_group(element: Any) -> bool:
    """Whether a field of metadata belongs to an assessment or a bank, not to an item in it."""
    holder = element.getparent()
    above = holder.getparent() if holder is not None else None
    return above is not None and bare(above.tag) in ("assessment", "objectbank")


def _open(name: str, element: Any, outline: Outline, groups: list[ItemGroup]) -> None:
    if not outline.root:
        outline.root = bare(element.getroottree().getroot().tag)
    if name in ("assessment", "objectbank", "section"):
        group = ItemGroup(name, element.get("ident", ""), element.get("title", ""))
        groups.append(group)
        outline.groups.append(group)
        if len(outline.groups) > MOST_SECTIONS:
            raise DocumentError(f"has more than {MOST_SECTIONS} sections")


def _let_go(element: Any) -> None:
    """Empties an element that was read, and takes away what stands before it."""
    element.clear()
    parent = element.getparent()
    while parent is not None and element.getprevious() is not None:
        del parent[0]
