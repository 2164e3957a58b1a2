"""Building and serialising elements; the words of one namespace are made by one ``Vocabulary``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, TypeAlias, cast

from lxml import etree

Element: TypeAlias = etree._Element

# Whatever XML 1.0 cannot hold, and the control characters that it discourages.
_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def clean(text: str) -> str:
    """The text without the characters that no XML file may hold."""
    return text if text.isprintable() else _FORBIDDEN.sub("", text)


class Vocabulary:
    """Makes elements of one namespace. An attribute is written with ``_`` for ``-``, and ``class_`` for ``class``."""

    def __init__(self, namespace: str, prefixes: Mapping[str, str] | None = None) -> None:
        self._prefix = f"{{{namespace}}}"
        # The type stubs do not know that None stands for the default prefix.
        self._prefixes = cast(Mapping[str, str], {None: namespace, **(prefixes or {})})

    def root(self, tag: str, **attributes: str) -> Element:
        """A new element that declares its namespaces."""
        return etree.Element(self._prefix + tag, _named(attributes), nsmap=self._prefixes)

    def add(self, parent: Element, tag: str, text: str = "", /, **attributes: str) -> Element:
        """A new last child of ``parent``."""
        child = etree.SubElement(parent, self._prefix + tag, _named(attributes) if attributes else None)
        if text:
            child.text = clean(text)
        return child


def _named(attributes: Mapping[str, str]) -> dict[str, str]:
    return {_written(name): clean(value) for name, value in attributes.items()}


@lru_cache(maxsize=512)
def _written(name: str) -> str:
    """An attribute's name as it is written in a file."""
    return name.rstrip("_").replace("_", "-")


def say(parent: Element, text: str) -> None:
    """Running text joins ``parent`` after all that it holds."""
    if len(parent):
        last = parent[-1]
        last.tail = (last.tail or "") + clean(text)
    else:
        parent.text = (parent.text or "") + clean(text)


def document(root: Element) -> bytes:
    """The file whose root this is."""
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True)


def opened(stream: Any, element: Element, *, root: bool = False) -> Any:
    """A block inside the tags of an element without children, in an open ``etree.xmlfile``.

    Only the ``root`` declares namespaces: what comes inside finds them there.
    """
    return stream.element(element.tag, dict(element.items()), nsmap=element.nsmap if root else None)


def emit(stream: Any, element: Element) -> None:
    """Writes an element with all that it holds into an open ``etree.xmlfile``, below a root that declares its words."""
    with opened(stream, element):
        if element.text:
            stream.write(element.text)
        for child in element:
            emit(stream, child)
            if child.tail:
                stream.write(child.tail)
