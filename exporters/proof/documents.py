"""An XML document from a stranger, as plain elements: no entity is expanded, nothing is fetched, no DTD is read."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple, cast

from lxml import etree
from turnwright.exporters.proof.findings import shown

XML = "{http://www.w3.org/XML/1998/namespace}"
DEEPEST = 100
MOST_TAGS = 400_000
MOST_ATTRIBUTES = 200

# Possessive, so that no prolog makes the search try twice.
_DOCTYPE = re.compile(rb"(?:\xef\xbb\xbf)?\s*+(?>(?><\?.*?\?>|<!--.*?-->)\s*+)*+<!DOCTYPE", re.DOTALL)
_ENCODING = re.compile(rb"""(?:\xef\xbb\xbf)?<\?xml[^>]{0,100}?encoding\s*=\s*["']([^"'>]{0,40})""")


class DocumentError(Exception):
    """A document that cannot be read; the text says why, in one line."""


class Element(NamedTuple):
    """One element; a name of the format itself is bare, any other is ``{namespace}name``.

    A tuple and no dataclass: a pack has some hundred thousand of them, made three times as fast.
    """

    name: str
    attributes: Mapping[str, str]
    children: tuple[Element, ...]
    text: str
    tail: str
    line: int

    def get(self, name: str) -> str:
        """The value of an attribute, empty when it is missing."""
        return self.attributes.get(name, "")

    def walk(self, leave_out: frozenset[str] = frozenset()) -> Iterator[Element]:
        """This element and all below it in document order, but for those named in ``leave_out``."""
        waiting = [self]
        while waiting:
            element = waiting.pop()
            if element.name not in leave_out:
                yield element
                waiting.extend(reversed(element.children))

    def child(self, name: str) -> Element | None:
        """The first child of that name."""
        return next((each for each in self.children if each.name == name), None)

    def string(self, leave_out: frozenset[str] = frozenset()) -> str:
        """All text inside but that of the elements named in ``leave_out``.

        Elements are set apart by a space, so that 10 with the exponent 24 does not read as 1024.
        """
        inside = [self.text]
        for each in self.children:
            inside.append("" if each.name in leave_out else each.string(leave_out))
            inside.append(each.tail)
        return " ".join(inside)


def read_document(data: bytes, rename: Callable[[str], str]) -> Element:
    """The root of an XML document; ``rename`` turns a name with its namespace into ours."""
    check_prolog(data, MOST_TAGS)
    try:
        root = etree.fromstring(data, safe_parser())
    except etree.XMLSyntaxError as error:
        raise DocumentError(f"is not well-formed: {shown(str(error))}") from error
    return _element(root, rename, 0)


def safe_parser(target: Any = None) -> etree.XMLParser:
    """A parser that expands no entity, fetches nothing and keeps to the limits of its library."""
    return etree.XMLParser(
        target=target,
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        huge_tree=False,
        remove_comments=True,
        remove_pis=True,
    )


def check_prolog(data: bytes, tags: int) -> None:
    """Refuses what is not UTF-8, brings a DOCTYPE or has too many tags, before any parser sees it."""
    encoding = _ENCODING.match(data)
    if data[:2] in (b"\xfe\xff", b"\xff\xfe") or b"\0" in data[:8]:
        raise DocumentError("is not written in UTF-8")
    if encoding and encoding[1].upper() not in (b"UTF-8", b"US-ASCII"):
        raise DocumentError(f"declares the encoding {shown(encoding[1].decode('latin-1'))}, UTF-8 expected")
    if _DOCTYPE.match(data):
        raise DocumentError("has a DOCTYPE, which a pack must not have")
    if data.count(b"<") > tags:
        raise DocumentError(f"has more than {tags} tags")


def _element(source: etree._Element, rename: Callable[[str], str], depth: int) -> Element:
    if depth > DEEPEST:
        raise DocumentError(f"nests elements more than {DEEPEST} deep")
    if len(source.attrib) > MOST_ATTRIBUTES:  # lxml takes quadratic time over them
        raise DocumentError(f"has an element with more than {MOST_ATTRIBUTES} attributes")
    return Element(
        rename(str(source.tag)),
        {rename(str(name)): str(value) for name, value in source.attrib.items()},
        tuple([_element(child, rename, depth + 1) for child in source]),
        source.text or "",
        source.tail or "",
        cast(int, source.sourceline or 0),
    )
