"""A tree written with the names of QTI 3.0, in those of QTI 2.2 or 2.1.

The rule: ``qti-response-else-if`` becomes ``responseElseIf`` and ``base-type`` becomes ``baseType``; what is HTML keeps
its name, and MathML and metadata keep all. A content body is no element in 2.x: what it holds stands in its place. What
else a version calls differently, or does not have, is data of that version.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import cast

from lxml import etree

from ..markup import elements
from ..markup.elements import Element, say

PREFIX = "qti-"
QTI = f"{{{elements.QTI}}}"
CONTENT_BODY = f"{QTI}qti-content-body"
MATH = f"{{{elements.MATHML}}}math"
KEPT = ("aria-", "data-")
SHARED = "data-patternmask-message"  # of 3.0's shared vocabulary


@dataclass(frozen=True)
class Renaming:
    """What a version has in place of what QTI 3.0 has.

    ``spaces`` maps the namespaces of 3.0, ``files`` the own ones to their schema files; ``instead`` names the attribute
    that stands for one of 3.0, or nothing where there is none.
    """

    spaces: Mapping[str, str]
    files: Mapping[str, str]
    instead: Mapping[str, str] = field(default_factory=dict)

    def form(self, element: Element) -> Element:
        """The tree in its own names. What needs no other name moves into it, so that ``element`` is used up."""
        declared = {prefix: self.spaces.get(space, space) for prefix, space in element.nsmap.items()}
        # The type stubs do not know that None stands for the default prefix.
        root = etree.Element(self._tag(str(element.tag)), nsmap=cast(Mapping[str, str], declared))
        self._fill(root, element)
        return root

    def _fill(self, new: Element, old: Element) -> None:
        for name, value in old.items():
            self._set(new, str(name), str(value))
        self._pour(new, old)

    def _pour(self, new: Element, old: Element) -> None:
        """All that ``old`` holds joins ``new`` after all that it holds."""
        if old.text:
            say(new, old.text)
        for child in list(old):
            after = child.tail
            if child.tag == CONTENT_BODY:
                self._pour(new, child)
            elif child.tag == MATH or not isinstance(child.tag, str):  # a formula, or what stands for a piece
                child.tail = None
                new.append(child)
            else:
                self._fill(etree.SubElement(new, self._tag(child.tag)), child)
            if after:
                say(new, after)

    def _tag(self, tag: str) -> str:
        space, _, name = tag[1:].rpartition("}")
        return f"{{{self.spaces.get(space, space)}}}{camel(name.removeprefix(PREFIX)) if tag.startswith(QTI) else name}"

    def _set(self, element: Element, name: str, value: str) -> None:
        if name == elements.SCHEMA_LOCATION_ATTRIBUTE:
            element.set(name, self._location(value))
        elif name == "class":
            self._set_class(element, value)
        elif name == SHARED:
            return  # which means nothing to a system that reads 2.x; the page and the feedback say it, too
        elif own := self.instead.get(name, name if name.startswith((*KEPT, "{")) else camel(name)):
            element.set(own, value)

    def _location(self, value: str) -> str:
        spaces = (self.spaces.get(space, space) for space in value.split()[::2])
        return " ".join(f"{space} {self.files[space]}" for space in spaces if space in self.files)

    def _set_class(self, element: Element, value: str) -> None:
        """The classes that 3.0 shares among all systems mean nothing to one that reads 2.x."""
        if own := [each for each in value.split() if not each.startswith(PREFIX)]:
            element.set("class", " ".join(own))


@lru_cache(maxsize=512)
def camel(name: str) -> str:
    """A name with hyphens as one with capitals."""
    first, *others = name.split("-")
    return first + "".join(each.capitalize() for each in others)
