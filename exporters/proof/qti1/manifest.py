"""What only the manifest of a cartridge says: its one organization, and what it links to."""

from __future__ import annotations

from collections.abc import Iterator

from ...strangers.archive import Archive, Limits
from ...strangers.parsing import DocumentError, parse_pieces, shown
from ..contents.manifest import MANIFEST, Manifest, Resource

MOST_ITEMS = 100_000
BANK = "/question-bank"


class Organizations:
    """Takes the organizations out of the tags of a manifest: how many there are, and what their items lead to."""

    def __init__(self) -> None:
        self.line = 1
        self.count = 0
        self.structures: list[str] = []
        self.links: list[str] = []

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Takes a start tag. Raises DocumentError for what is refused."""
        name = tag.rpartition("}")[2]
        if name == "organization":
            self.count += 1
            self.structures.append(attributes.get("structure", ""))
        elif name == "item" and attributes.get("identifierref"):
            self.links.append(attributes["identifierref"])
            if len(self.links) > MOST_ITEMS:
                raise DocumentError(f"links more than {MOST_ITEMS} items")

    def end(self, tag: str) -> None:
        """Needs no end tag."""

    def data(self, text: str) -> None:
        """Needs no text."""

    def close(self) -> None:
        """Needs no end."""


def read_organizations(archive: Archive, limits: Limits) -> Organizations:
    """The organizations of the manifest."""
    found = Organizations()
    parse_pieces(archive.pieces(MANIFEST, limits.manifest), found, 200 * limits.entries)
    return found


def check_cartridge(manifest: Manifest, found: Organizations, documents: list[Resource]) -> Iterator[str]:
    """What is wrong with how a cartridge is put together."""
    known = {each.identifier for each in manifest.resources}
    if found.count != 1 or found.structures[:1] != ["rooted-hierarchy"]:
        yield f"organizations: {found.count}, just 1 that is a rooted-hierarchy expected"
    for link in found.links:
        if link not in known:
            yield f"the organization links to '{shown(link)}', which is no resource"
    banks = [each for each in documents if each.kind.endswith(BANK)]
    if len(banks) > 1:
        yield f"question banks: {len(banks)}, at most 1 expected"
    for each in banks:
        if each.identifier in found.links:
            yield f"the organization links to the question bank '{shown(each.identifier)}'"
    for resource in documents:
        if resource not in banks and resource.identifier not in found.links:
            yield f"the organization does not link to the assessment '{shown(resource.identifier)}'"
