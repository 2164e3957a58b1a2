"""A tree written with the names of QTI 3.0, in those of QTI 2.2 or 2.1.

The rule: ``qti-response-else-if`` becomes ``responseElseIf`` and ``base-type`` becomes ``baseType``; what is HTML keeps
its name, and MathML and metadata keep all. A content body is no element in 2.x: what it holds stands in its place. What
else a version calls differently, or does not have, is data of that version.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
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


# --- the versions of qti that packages are written in: what the same pack is called, declared and typed in each ---


@dataclass(frozen=True)
class QtiVersion:
    """What a manifest says of its version; ``form`` gives a tree with 3.0's names the names of the version.

    ``names_standards``: the standards of a curriculum have a record of their own, by their identifiers in CASE.
    """

    schema: str
    schema_version: str
    item_type: str
    test_type: str
    form: Callable[[Element], Element]
    names_standards: bool = False


def _as_it_is(element: Element) -> Element:
    return element


_RENAMING_22 = Renaming(
    spaces={
        elements.QTI: elements.QTI_22,
        elements.CONTENT_PACKAGING: elements.CONTENT_PACKAGING_2,
        elements.QTI_METADATA: elements.QTI_METADATA_22,
    },
    files=elements.SCHEMA_FILES_22,
)
# What 2.1 does not have yet, from memory of its model: ARIA, counting of attempts by button, uses of a rubric.
_RENAMING_21 = Renaming(
    spaces={
        elements.QTI: elements.QTI_21,
        elements.CONTENT_PACKAGING: elements.CONTENT_PACKAGING_2,
        elements.QTI_METADATA: elements.QTI_METADATA_21,
    },
    files=elements.SCHEMA_FILES_21,
    instead={"aria-label": "label", "count-attempt": "", "use": ""},
)

QTI_30 = QtiVersion("QTI Package", "3.0.0", "imsqti_item_xmlv3p0", "imsqti_test_xmlv3p0", _as_it_is, True)
QTI_22 = QtiVersion("QTIv2.2 Package", "1.0.0", "imsqti_item_xmlv2p2", "imsqti_test_xmlv2p2", _RENAMING_22.form)
QTI_21 = QtiVersion("QTIv2.1 Package", "1.0.0", "imsqti_item_xmlv2p1", "imsqti_test_xmlv2p1", _RENAMING_21.form)
