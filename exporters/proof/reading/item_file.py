"""One item as it stands in the pack: its elements by name, its variables, its files, and what may stand where."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import Any, TypeVar

from ...strangers.archive import resolve
from ...strangers.documents import Element, read_document
from ...strangers.parsing import DocumentError, shown
from ..dialect import Dialect
from ..processing.values import Declaration, read_declarations

Kept = TypeVar("Kept")

FEEDBACK = frozenset({"qti-modal-feedback", "qti-feedback-inline", "qti-feedback-block"})
INTERACTION = ("-interaction", "Interaction")  # the second where a name of QTI 2.x stands in another namespace
IMAGES = frozenset({"img", "object"})

# Elements that draw in another file of the pack, and the attributes that name it.
LINKS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "audio": ("src",),
        "img": ("src", "longdesc"),
        "object": ("data",),
        "qti-assessment-stimulus-ref": ("href",),
        "qti-stylesheet": ("href",),
        "source": ("src",),
        "track": ("src",),
        "video": ("src",),
    }
)
DEMANDED = frozenset({("img", "src"), ("qti-stylesheet", "href")})
TEMPLATE_PROCESSING = "qti-template-processing"
NOT_STEM = FEEDBACK | {"qti-rubric-block"}


@dataclass(frozen=True)
class Link:
    """A file that an element draws in; ``name`` is the member it means, None when that is out of the pack."""

    element: Element
    href: str
    name: str | None

    @property
    def is_image(self) -> bool:
        """Whether a picture is meant."""
        return self.element.name in IMAGES


@dataclass(frozen=True)
class ItemFile:
    """An item that was read; ``elements`` are in document order under each name that any check asks for.

    ``kept`` is what was made of its structure alone, which other items of a series share.
    """

    name: str
    data: bytes
    root: Element
    elements: Mapping[str, list[Element]]
    declarations: dict[str, Declaration]
    dialect: Dialect
    kept: dict[str, Any] = field(default_factory=dict, compare=False)

    def keep(self, what: str, make: Callable[[], Kept]) -> Kept:
        """What ``make`` makes of the structure, once."""
        if what not in self.kept:
            self.kept[what] = make()
        found: Kept = self.kept[what]
        return found

    def all(self, *names: str) -> Iterator[Element]:
        """All elements of these names."""
        for name in names:
            yield from self.elements.get(name, ())

    def interactions(self) -> list[Element]:
        """All interactions, of whatever kind."""
        return [each for name in self.elements if name.endswith(INTERACTION) for each in self.elements[name]]

    def links(self) -> list[Link]:
        """All files that the item draws in."""
        return [
            Link(each, each.get(attribute), resolve(each.get(attribute), self.name))
            for element, attributes in LINKS.items()
            for each in self.elements.get(element, ())
            for attribute in attributes
            if attribute in each.attributes or (element, attribute) in DEMANDED
        ]

    def holders(self, attribute: str) -> list[Element]:
        """The elements with an attribute, those of other namespaces included."""
        # Mostly there are none, and the bytes tell that in a tenth of the time of a walk through all formulas.
        named = attribute.encode() in self.data and _written(attribute).search(self.data)
        return self.root.holders(attribute) if named else []

    @property
    def is_template(self) -> bool:
        """Whether its values are drawn on delivery."""
        return self.root.child(TEMPLATE_PROCESSING) is not None

    def stem(self) -> str:
        """What a candidate reads before answering, without rubrics and feedback."""
        return self._stem

    @cached_property
    def _stem(self) -> str:
        body = self.root.child("qti-item-body")
        return body.string(NOT_STEM) if body is not None else ""


def read_item(name: str, data: bytes, dialect: Dialect) -> ItemFile:
    """The item in the member ``name``. Raises DocumentError for what is refused."""
    root = read_document(data, dialect.rename)
    if root.name != "qti-assessment-item":
        raise DocumentError(f"is no item: its root is {shown(root.name)}")
    return item_of(name, data, root, dialect, read_declarations(root))


def item_of(name: str, data: bytes, root: Element, dialect: Dialect, declarations: dict[str, Declaration]) -> ItemFile:
    """The item of a tree that was read from ``data``."""
    elements = root.by_name(dialect.namespace, _has_meaning)
    if _interaction_tags(data) > sum(len(elements[each]) for each in elements if each.endswith(INTERACTION)):
        for each in root.walk():  # one in another namespace can not be answered, and must not go unseen
            if each.name.startswith("{") and each.name.endswith(INTERACTION):
                elements.setdefault(each.name, []).append(each)
    return ItemFile(name, data, root, elements, declarations, dialect)


def _interaction_tags(data: bytes) -> int:
    """How many start tags of interactions there are at most, in whatever namespace."""
    found = re.finditer(rb"[Ii]nteraction[\s/>]", data)
    return sum(not data.startswith(b"</", data.rfind(b"<", 0, each.start())) for each in found)


@lru_cache(maxsize=16)
def _written(attribute: str) -> re.Pattern[bytes]:
    return re.compile(rb"%b\s*=" % attribute.encode())


def _has_meaning(name: str) -> bool:
    """Whether a check may ask for elements of that name: all but those that merely set text, such as ``p``."""
    return "-" in name or name in LINKS or name.endswith(INTERACTION)


def check_grammar(item: ItemFile) -> Iterator[str]:
    """What the grammar of the format has not, or has elsewhere or otherwise."""
    return item.root.unfit(item.dialect.grammar)
