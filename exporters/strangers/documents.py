"""An XML document from a stranger, as plain elements that are taken from the parsed tree when they are asked for."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache, partial
from types import MappingProxyType
from typing import Any, cast

from lxml import etree

from .grammar import Grammar
from .parsing import DocumentError, parse_whole

MATHML = "{http://www.w3.org/1998/Math/MathML}"
XML = "{http://www.w3.org/XML/1998/namespace}"
DEEPEST = 100
MOST_TAGS = 400_000
MOST_ATTRIBUTES = 200

# A text or value knows the element that it is of; a text that follows an element, too, is that element's.
_TEXTS_WITH = etree.XPath("//text()[contains(., $mark)] | //@*[contains(., $mark)]")
_TOO_DEEP = etree.XPath(f"boolean({'/*' * (DEEPEST + 2)})")
_TOO_WIDE = etree.XPath(f"boolean(//@*[{MOST_ATTRIBUTES + 1}])")

# What more attributes take at least: each has a space, a name, an equals sign and two quotes.
_LONG_TAG = re.compile(rb"<[^<]{%d}" % (5 * MOST_ATTRIBUTES))

_NO_ATTRIBUTES: Mapping[str, str] = MappingProxyType({})


class Element:
    """One element; a name of the format itself is bare, any other is ``{namespace}name``.

    It is a view: what no check asks for, as most of a worked solution, is never taken out of the parsed tree. There is
    one view of each element at most, so that a change of its attributes is seen by all.
    """

    __slots__ = ("_around", "_attributes", "_children", "_rename", "_source", "_views", "name")

    def __init__(
        self,
        source: etree._Element,
        rename: Callable[[str], str],
        views: dict[etree._Element, Element] | None = None,
    ) -> None:
        self.name = rename(str(source.tag))
        self._source, self._rename = source, rename
        self._views = {} if views is None else views
        self._attributes: Mapping[str, str] | None = None
        self._children: tuple[Element, ...] | None = None
        self._around: tuple[Element, ...] | None = None
        self._views[source] = self

    def _view(self, source: etree._Element) -> Element:
        """The view of another element of the document."""
        return self._views.get(source) or Element(source, self._rename, self._views)

    @property
    def attributes(self) -> Mapping[str, str]:
        """All attributes by name."""
        if self._attributes is None:
            rename, written = self._rename, self._source.items()
            self._attributes = {rename(str(name)): str(value) for name, value in written} if written else _NO_ATTRIBUTES
        return self._attributes

    @property
    def children(self) -> tuple[Element, ...]:
        """The elements just inside."""
        if self._children is None:
            self._children = tuple([self._view(each) for each in self._source])
        return self._children

    @property
    def text(self) -> str:
        """The text before the first child."""
        return self._source.text or ""

    @property
    def tail(self) -> str:
        """The text that follows the element."""
        return self._source.tail or ""

    @property
    def line(self) -> int:
        """The line where the element starts."""
        return self._source.sourceline or 0

    def get(self, name: str) -> str:
        """The value of an attribute, empty when it is missing."""
        attributes = self.attributes if self._attributes is None else self._attributes
        return attributes.get(name, "")

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

    def by_name(self, namespace: str, wanted: Callable[[str], bool]) -> dict[str, list[Element]]:
        """The elements of a namespace or of none, here and below, by name where that is ``wanted``."""
        found: dict[str, list[etree._Element]] = {}
        for each in self._source.iter(f"{{{namespace}}}*", "{}*"):
            found.setdefault(str(each.tag), []).append(each)
        elements: dict[str, list[Element]] = {}
        for tag, sources in found.items():
            if wanted(name := self._rename(tag)):
                elements.setdefault(name, []).extend(map(self._view, sources))
        return elements

    def in_order(self, elements: Iterable[Element]) -> list[Element]:
        """Of these elements those that are here or below, in document order."""
        wanted = {each._source for each in elements}
        found = self._source.iter(*{str(each.tag) for each in wanted}) if wanted else ()
        return [self._view(each) for each in found if each in wanted]

    def spots(self, wanted: Callable[[Element], bool]) -> dict[int, Element]:
        """The elements that are ``wanted``, here and below, each by its place in document order."""
        everything = enumerate(map(self._view, self._source.iter("*")))
        return {place: each for place, each in everything if wanted(each)}

    def rewritten(self, texts: Mapping[int, str]) -> Element:
        """A copy in which a text stands for each element at these places; inside formulas, the text of the element."""
        root = copy.deepcopy(self._source)
        found = list(root.iter("*"))
        for place, text in texts.items():
            if str(found[place].tag).startswith(MATHML):
                found[place].text = text
            else:
                _give_way(found[place], text)
        return Element(root, self._rename)

    def unfit(self, grammar: Grammar) -> Iterator[str]:
        """What does not fit into a grammar, here and below, each with its line."""
        return grammar.faults(self._source, self._rename)

    def size(self) -> int:
        """How many elements there are, here and below."""
        return int(cast(float, _xpath("count(descendant-or-self::*)")(self._source)))

    def holders(self, attribute: str) -> list[Element]:
        """The elements with an attribute without namespace, here and below."""
        found = _xpath(f"descendant-or-self::*[@{attribute}]")(self._source)
        return [self._view(each) for each in cast(list[etree._Element], found)]

    def lacking(self, local: str, attribute: str) -> list[Element]:
        """The elements of that local name without that attribute, here and below."""
        found = _xpath(f"descendant-or-self::*[local-name()='{local}'][not(@{attribute})]")(self._source)
        return [self._view(each) for each in cast(list[etree._Element], found)]

    def places_of(self, mark: str, marked: bytes) -> list[ElementPlace] | None:
        """Where ``marked``, the same document but for marks in its texts, has texts with a ``mark``.

        None where the two documents are not alike.
        """
        try:
            other = parse_whole(marked, MOST_TAGS)
        except DocumentError:
            return None
        mine, its = list(self._source.iter("*")), list(other.iter("*"))
        if [each.tag for each in mine] != [each.tag for each in its]:
            return None
        if [each.keys() for each in mine] != [each.keys() for each in its]:
            return None
        holders = {each.getparent() for each in cast(list[Any], _TEXTS_WITH(other, mark=mark))}
        found: list[ElementPlace] = []
        for own, there in zip(mine, its, strict=True):
            if there in holders:
                slots = [(TEXT, there.text), (TAIL, there.tail), *there.items()]
                view = self._view(own)
                found += [ElementPlace(view, str(slot), str(text)) for slot, text in slots if text and mark in text]
        return found

    @property
    def around(self) -> tuple[Element, ...]:
        """The elements that this one stands in, the nearest first."""
        if self._around is None:
            parent = self._source.getparent()
            self._around = () if parent is None else (self._view(parent), *self._view(parent).around)
        return self._around

    def put_text(self, text: str) -> None:
        """Changes what the element begins with."""
        self._source.text = text

    def put_tail(self, text: str) -> None:
        """Changes what follows the element."""
        self._source.tail = text

    def put_attribute(self, written: str, text: str) -> None:
        """Changes an attribute, which goes by its name in the document."""
        self._source.set(written, text)
        self._attributes = None


TEXT, TAIL = ".text", ".tail"  # no attribute can have these names


@dataclass(frozen=True)
class ElementPlace:
    """A text of an element as it is written: what the element begins with, what follows it, or an attribute."""

    element: Element
    slot: str
    written: str

    @property
    def attribute(self) -> str:
        """The attribute, under the name that all checks know it by; empty for another text."""
        return "" if self.slot in (TEXT, TAIL) else self.element._rename(self.slot)

    @property
    def text(self) -> str:
        """What stands there now."""
        return self.element.tail if self.slot == TAIL else self.element.text

    @cached_property
    def put(self) -> Callable[[str], None]:
        """What changes the text in the document."""
        known = {TEXT: self.element.put_text, TAIL: self.element.put_tail}
        return known.get(self.slot) or partial(self.element.put_attribute, self.slot)


def _give_way(element: etree._Element, text: str) -> None:
    """Puts a text, with what follows the element, in its place."""
    parent, before = element.getparent(), element.getprevious()
    text += element.tail or ""
    if parent is None:
        return
    if before is None:
        parent.text = (parent.text or "") + text
    else:
        before.tail = (before.tail or "") + text
    parent.remove(element)


@lru_cache(maxsize=64)
def _xpath(path: str) -> etree.XPath:
    return etree.XPath(path, smart_strings=False)


def read_document(data: bytes, rename: Callable[[str], str]) -> Element:
    """The root of an XML document; ``rename`` turns a name with its namespace into ours."""
    root = parse_whole(data, MOST_TAGS)
    _check_shape(root, data)
    return Element(root, rename)


def _check_shape(root: etree._Element, data: bytes) -> None:
    """Refuses what would cost time or stack to walk through."""
    if _TOO_DEEP(root):
        raise DocumentError(f"nests elements more than {DEEPEST} deep")
    if _LONG_TAG.search(data) and _TOO_WIDE(root):
        raise DocumentError(f"has an element with more than {MOST_ATTRIBUTES} attributes")
