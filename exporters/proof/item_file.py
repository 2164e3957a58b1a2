"""One item as it stands in the pack: its elements by name, its variables, and the files it shows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from turnwright.exporters.proof.declarations import Declaration, read_declarations
from turnwright.exporters.proof.dialect import Dialect
from turnwright.exporters.proof.documents import DocumentError, Element, read_document
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.manifest import resolve

FEEDBACK = frozenset({"qti-modal-feedback", "qti-feedback-inline", "qti-feedback-block"})
IMAGES = frozenset({"img", "object"})

# Elements that draw in another file of the pack, and the attribute that names it.
LINKS: Mapping[str, str] = MappingProxyType(
    {
        "audio": "src",
        "img": "src",
        "object": "data",
        "qti-assessment-stimulus-ref": "href",
        "qti-stylesheet": "href",
        "source": "src",
        "track": "src",
        "video": "src",
    }
)
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
    """An item that was read; ``elements`` are in document order under each name."""

    name: str
    root: Element
    elements: Mapping[str, list[Element]]
    declarations: Mapping[str, Declaration]

    def all(self, *names: str) -> Iterator[Element]:
        """All elements of these names."""
        for name in names:
            yield from self.elements.get(name, ())

    def interactions(self) -> list[Element]:
        """All interactions, of whatever kind."""
        return [each for name in self.elements if name.endswith("-interaction") for each in self.elements[name]]

    def links(self) -> list[Link]:
        """All files that the item draws in."""
        return [
            Link(each, each.get(attribute), resolve(each.get(attribute), self.name))
            for element, attribute in LINKS.items()
            for each in self.elements.get(element, ())
            if attribute in each.attributes or element in ("img", "qti-stylesheet")
        ]

    def stem(self) -> str:
        """What a candidate reads before answering, without rubrics and feedback."""
        body = self.root.child("qti-item-body")
        return body.string(NOT_STEM) if body is not None else ""


def read_item(name: str, data: bytes, dialect: Dialect) -> ItemFile:
    """The item in the member ``name``."""
    root = read_document(data, dialect.rename)
    if root.name != "qti-assessment-item":
        raise DocumentError(f"is no item: its root is {shown(root.name)}")
    elements: defaultdict[str, list[Element]] = defaultdict(list)
    for element in root.walk():
        elements[element.name].append(element)
    return ItemFile(name, root, dict(elements), read_declarations(root))
