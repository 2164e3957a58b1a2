"""HTML that a QTI 1.2.1 file carries as a string: what it says, the pictures it shows, and what it must not hold."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lxml import etree

from ....bank.item.drawing import Drawing
from ....bank.item.item import Paragraph
from ...strangers.parsing import DocumentError, malformed
from ..words.wording import LOWERED, RAISED, expected_words, plain_words

LONGEST = 64 * 1024
LONGEST_TAG = 4000  # a parser takes its time over many attributes
_LONG_TAG = re.compile(rf"<[^<>]{{{LONGEST_TAG}}}")
_PROGRAMS = frozenset({"script", "style", "iframe", "object", "embed", "form", "input", "link", "meta", "base"})


@dataclass(frozen=True)
class Html:
    """What a piece of HTML says in one form without spaces, its words as they stand, and its pictures.

    ``unseen`` are its attributes that tell a page's authors something, and its readers nothing.
    """

    said: str = ""
    words: str = ""
    images: tuple[tuple[str, str], ...] = ()
    faults: tuple[str, ...] = ()
    unseen: tuple[str, ...] = ()


def joined(pieces: Iterable[Html]) -> Html:
    """Several pieces as one."""
    found = tuple(pieces)
    return Html(
        "".join(each.said for each in found),
        " ".join(each.words for each in found),
        tuple(image for each in found for image in each.images),
        tuple(fault for each in found for fault in each.faults),
        tuple(one for each in found for one in each.unseen),
    )


def plain(text: str) -> Html:
    """Text that is no HTML."""
    return Html(one_form(text), text)


def read_html(text: str) -> Html:
    """The piece of HTML in a string. Raises DocumentError for what is refused."""
    if len(text) > LONGEST:
        raise DocumentError(f"has a text of {len(text)} characters, at most {LONGEST} are read")
    if _LONG_TAG.search(text):
        raise DocumentError(f"has HTML with a tag of more than {LONGEST_TAG} characters")
    said: list[str] = []
    words: list[str] = []
    images: list[tuple[str, str]] = []
    faults: dict[str, None] = {}
    unseen: dict[str, None] = {}
    for event, element in _walk(text):
        tag = str(element.tag)
        if event == "start":
            faults.update(dict.fromkeys(_faults(tag, element)))
            unseen.update(dict.fromkeys(_unseen(element)))
            if tag == "img":
                images.append((element.get("src", ""), element.get("alt", "")))
                said.append(element.get("alt", ""))
            said.append(_SHIFTED.get(tag, _STRAIGHT)[0])
        else:
            said.append(_SHIFTED.get(tag, _STRAIGHT)[1])
        written = element.text if event == "start" else element.tail
        said.append(written or "")
        words.append(written or "")
    return Html(one_form("".join(said)), " ".join(words), tuple(images), tuple(faults), tuple(unseen))


_SHIFTED = {"sub": LOWERED.split("{}"), "sup": RAISED.split("{}")}
_STRAIGHT = ("", "")


def _walk(text: str) -> Iterator[tuple[str, etree._Element]]:
    """The starts and ends of all elements. The parser of Python's own library takes minutes for some short texts."""
    if not text.strip():
        return iter(())
    parser = etree.HTMLParser(encoding="UTF-8", no_network=True, remove_comments=True, remove_pis=True)
    try:
        root = etree.fromstring(f"<div>{text}</div>".encode(errors="replace"), parser)
    except etree.XMLSyntaxError as error:
        raise malformed(error) from error
    return iter(etree.iterwalk(root, events=("start", "end")))


def _faults(tag: str, element: etree._Element) -> Iterator[str]:
    if tag in _PROGRAMS:
        yield f"HTML holds a {tag}"
    for name, value in element.items():
        if str(name).startswith("on") or str(value).strip().lower().startswith("javascript:"):
            yield f"HTML runs a program ({name!s})"


def _unseen(element: etree._Element) -> Iterator[str]:
    for name, value in element.items():
        if str(name) in ("class", "id") or str(name).startswith("data-"):
            yield f"the {name!s} '{value!s}'"


def one_form(text: str) -> str:
    """The text without spaces, in one spelling of each character."""
    return plain_words(text).replace("-", "−")


def expected_said(content: Paragraph | Drawing) -> str:
    """What HTML that was written from ``content`` should say."""
    return one_form(expected_words(content)[-1])
