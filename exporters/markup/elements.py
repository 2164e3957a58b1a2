"""Names and addresses of the standards, as data, and the elements that are built and serialised with them.

The words of one namespace are made by one ``Vocabulary``. XML that comes again and again with a few other names in it
is set once, and then filled.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import IO, Any, TypeAlias, cast
from xml.sax.saxutils import escape

from lxml import etree

MATHML = "http://www.w3.org/1998/Math/MathML"
SVG = "http://www.w3.org/2000/svg"
XML = "http://www.w3.org/XML/1998/namespace"
XSI = "http://www.w3.org/2001/XMLSchema-instance"

QTI = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
CONTENT_PACKAGING = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
LOM = "http://ltsc.ieee.org/xsd/LOM"
QTI_METADATA = "http://www.imsglobal.org/xsd/imsqti_metadata_v3p0"
STANDARDS = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscsmd_v1p1"

QTI_22 = "http://www.imsglobal.org/xsd/imsqti_v2p2"
QTI_21 = "http://www.imsglobal.org/xsd/imsqti_v2p1"
CONTENT_PACKAGING_2 = "http://www.imsglobal.org/xsd/imscp_v1p1"
QTI_METADATA_22 = "http://www.imsglobal.org/xsd/imsqti_metadata_v2p2"
QTI_METADATA_21 = "http://www.imsglobal.org/xsd/imsqti_metadata_v2p1"

SCHEMA_FILES = {
    QTI: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0p1_v1p0.xsd",
    CONTENT_PACKAGING: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
    LOM: "https://purl.imsglobal.org/spec/md/v1p3/schema/xsd/imsmd_loose_v1p3p2.xsd",
    STANDARDS: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_csmv1p1_v1p0.xsd",
    QTI_METADATA: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_metadatav3p0_v1p0.xsd",
}
SCHEMA_FILES_22 = {
    QTI_22: "http://www.imsglobal.org/xsd/qti/qtiv2p2/imsqti_v2p2p2.xsd",
    CONTENT_PACKAGING_2: "http://www.imsglobal.org/xsd/qti/qtiv2p2/qtiv2p2_imscpv1p2_v1p0.xsd",
}
SCHEMA_FILES_21 = {
    QTI_21: "http://www.imsglobal.org/xsd/qti/qtiv2p1/imsqti_v2p1.xsd",
    CONTENT_PACKAGING_2: "http://www.imsglobal.org/xsd/qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd",
}

LANGUAGE_ATTRIBUTE = f"{{{XML}}}lang"
SPACE_ATTRIBUTE = f"{{{XML}}}space"
SCHEMA_LOCATION_ATTRIBUTE = f"{{{XSI}}}schemaLocation"

WEB_CONTENT_TYPE = "webcontent"
Element: TypeAlias = etree._Element
# Whatever XML 1.0 cannot hold, and the control characters that it discourages.
_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_MARK = "\ue000"  # of the private use area, and made longer where a text has it


def schema_location(*namespaces: str) -> str:
    """The value of ``xsi:schemaLocation`` for these namespaces."""
    return " ".join(f"{namespace} {SCHEMA_FILES[namespace]}" for namespace in namespaces)


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


class Pattern:
    """The bytes of an element below a root that declares its words; ``make`` sets it with so many names in place."""

    def __init__(self, root: Element, count: int, make: Callable[..., Element]) -> None:
        mark = _MARK
        while mark in emitted(root, make(*[""] * count)).decode():
            mark += _MARK
        written = emitted(root, make(*(f"{mark}{place}{mark}" for place in range(count)))).decode()
        self._pieces = [each.encode() for each in written.split(mark)]

    def filled(self, *names: str) -> bytes:
        """The element with these names."""
        pieces = self._pieces.copy()
        for at in range(1, len(pieces), 2):
            pieces[at] = escape(names[int(pieces[at])]).encode()
        return b"".join(pieces)


def emitted(root: Element, element: Element) -> bytes:
    """The bytes of an element below a root."""
    file = io.BytesIO()
    with etree.xmlfile(file, encoding="UTF-8") as stream, opened(stream, root, root=True):
        stream.flush()
        start = file.tell()
        emit(stream, element)
        stream.flush()
        return file.getvalue()[start:]


def put(stream: Any, file: IO[bytes], written: bytes) -> None:
    """Puts bytes where an ``etree.xmlfile`` that writes into ``file`` is just now."""
    stream.flush()
    file.write(written)
