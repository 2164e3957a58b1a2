"""XML that comes again and again with a few other names in it: set once, and then filled."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import IO, Any
from xml.sax.saxutils import escape

from lxml import etree
from turnwright.exporters.elements import Element, emit, opened

_MARK = "\ue000"  # of the private use area, and made longer where a text has it


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
