"""What many items of a question say alike: set into XML once, and put into the file of each as bytes.

In the tree of an item an instruction stands for such a piece, until the file is made of the tree.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable
from typing import TypeAlias

from lxml import etree
from turnwright.exporters.elements import Element, document
from turnwright.exporters.qti import QTI

Set: TypeAlias = Callable[[Element], object]

MOST_KEPT = 256
_TARGET = "piece"
_INSTRUCTION = re.compile(rb"<\?piece (\d+)\?>")


class Pieces:
    """The pieces of one question in one version, whose names ``form`` gives; those not used for long are let go."""

    def __init__(self, form: Callable[[Element], Element]) -> None:
        self._form = form
        self._known: dict[Hashable, tuple[object, bytes]] = {}
        self._content: dict[bytes, bytes] = {}
        self._count = 0

    def add(self, parent: Element, key: Hashable, of: object, make: Set) -> None:
        """What ``make`` adds to an element joins ``parent`` after all that it holds.

        A piece is known by its ``key`` and, where that is not enough, by the very object ``of`` which it is written.
        """
        place = (key, id(of))  # which no other object can have, as long as this one is kept
        known = self._known.pop(place, None) or (of, self._set(make))
        self._known[place] = known
        parent.append(etree.ProcessingInstruction(_TARGET, known[1].decode()))

    def _set(self, make: Set) -> bytes:
        """The number of a new piece."""
        holder = QTI.root("qti-item-body")
        make(holder)
        written = etree.tostring(self._form(holder), encoding="UTF-8", xml_declaration=False)
        self._count += 1
        number = b"%d" % self._count
        inside = written[written.index(b">") + 1 : max(written.rfind(b"</"), 0)]
        self._content[number] = self._filled(inside)
        return number

    def document(self, root: Element) -> bytes:
        """The file of an item whose tree this is."""
        made = self._filled(document(self._form(root)))
        while len(self._known) > MOST_KEPT:
            _, number = self._known.pop(next(iter(self._known)))
            del self._content[number]
        return made

    def _filled(self, written: bytes) -> bytes:
        return _INSTRUCTION.sub(lambda found: self._content[found[1]], written)
