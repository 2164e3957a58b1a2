"""The manifest: which files a pack lists, what each is, and whether they are all there."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from sys import intern
from typing import NamedTuple

from ...strangers.archive import Archive, Limits, MemberError, Members, resolve
from ...strangers.grammar import Judge
from ...strangers.parsing import DocumentError, HouseRule, Seen, parse_pieces, shown
from ..dialect import MANIFESTS

MANIFEST = "imsmanifest.xml"
QTI1_FILE = "imsqti_xmlv1p"  # how the types of files of QTI 1.2.1 begin
MOST_KEYWORDS = 100
XML_BASE = "{http://www.w3.org/XML/1998/namespace}base"


class Resource(NamedTuple):
    """One resource: its own file, whether it lists that, the other files it lists, and the resources it depends on.

    A pack has one for each item, so what many of them say is kept once.
    """

    identifier: str
    kind: str
    href: str
    lists_itself: bool
    others: tuple[str, ...]
    dependencies: tuple[str, ...]

    def files(self) -> tuple[str, ...]:
        """All files that it lists."""
        return (self.href, *self.others) if self.lists_itself else self.others


@dataclass
class Manifest:
    """What ``imsmanifest.xml`` says; ``moves_base`` tells whether an ``xml:base`` changes what its paths mean.

    ``faults`` is what does not fit into the grammar of manifests, ``keywords`` are the first of all records.
    """

    namespace: str = ""
    schema: str = ""
    identifiers: list[str] = field(default_factory=list)
    resources: list[Resource] = field(default_factory=list)
    offers_solution: bool = False
    moves_base: bool = False
    faults: tuple[str, ...] = ()
    keywords: list[str] = field(default_factory=list)


def read_manifest(archive: Members, limits: Limits) -> Manifest:
    """The manifest of the pack."""
    builder = _ManifestBuilder(10 * limits.entries)
    pieces = archive.pieces(MANIFEST, limits.manifest)
    judge = Judge(MANIFESTS)
    parse_pieces(pieces, builder, 200 * limits.entries, judge)
    builder.manifest.faults = tuple(judge.faults())
    return builder.manifest


class _ManifestBuilder:
    """Takes the tags of a manifest one after the other, as a parser hands them out."""

    def __init__(self, most: int) -> None:
        self.line = 1
        self.manifest = Manifest()
        self._room = most
        self._resource: Mapping[str, str] | None = None
        self._files: list[str] = []
        self._dependencies: list[str] = []
        self._kept: dict[tuple[str, ...], tuple[str, ...]] = {}
        self._text = ""
        self._in_keyword = False

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Takes what a start tag says, where it is one of the manifest's own."""
        namespace, name = _split(tag)
        if not self.manifest.namespace:
            self.manifest.namespace = namespace if name == "manifest" else "no manifest"
        self._text = ""
        self._in_keyword |= name == "keyword"
        if namespace == self.manifest.namespace:
            self.manifest.moves_base |= XML_BASE in attributes
            if name in ("manifest", "resource", "file", "dependency"):
                self._take(name, attributes)

    def _take(self, name: str, attributes: Mapping[str, str]) -> None:
        self._room -= 1
        if self._room < 0:
            raise DocumentError("lists more resources, files and dependencies than are read")
        if name in ("manifest", "resource"):
            self.manifest.identifiers.append(intern(attributes.get("identifier", "")))
        if name == "resource":
            self._finish()
            self._resource = attributes
        elif name == "file":
            self._files.append(intern(attributes.get("href", "")))
        elif name == "dependency":
            self._dependencies.append(intern(attributes.get("identifierref", "")))

    def data(self, text: str) -> None:
        """Takes the beginning of a text."""
        self._text = (self._text + text)[:200]

    def end(self, tag: str) -> None:
        """Takes the text of an element, or a resource that is complete."""
        namespace, name = _split(tag)
        if self._in_keyword and self._text.strip() and len(self.manifest.keywords) < MOST_KEYWORDS:
            self.manifest.keywords.append(self._text.strip())
        self._in_keyword &= name != "keyword"
        if name == "schema" and not self.manifest.schema:
            self.manifest.schema = self._text.strip()
        elif name == "solutionAvailable" and self._text.strip() == "true":
            self.manifest.offers_solution = True
        elif name == "resource" and namespace == self.manifest.namespace:
            self._finish()
        self._text = ""

    def _finish(self) -> None:
        """Keeps the resource that is open, if one is; what stands outside any is let go."""
        if self._resource is not None:
            identifier, kind, href = (intern(self._resource.get(each, "")) for each in ("identifier", "type", "href"))
            others = self._once(each for each in self._files if not href or each != href)
            lists_itself = len(others) < len(self._files)
            dependencies = self._once(self._dependencies)
            self.manifest.resources.append(Resource(identifier, kind, href, lists_itself, others, dependencies))
        self._resource, self._files, self._dependencies = None, [], []

    def _once(self, texts: Iterable[str]) -> tuple[str, ...]:
        found = tuple(texts)
        return self._kept.setdefault(found, found)

    def close(self) -> None:
        """Lets go of what only reading needs: a parser is not freed at once, and holds its target."""
        self._kept.clear()


@lru_cache(maxsize=256)
def _split(tag: str) -> tuple[str, str]:
    """Namespace and name of an element."""
    namespace, _, name = tag.rpartition("}")
    return namespace.removeprefix("{"), name


def lists_qti1(archive: Archive, limits: Limits) -> bool:
    """Whether the manifest lists files of QTI 1.2.1, found in its bytes: such packs are read apart."""
    wanted, before = QTI1_FILE.encode(), b""
    try:
        for piece in archive.pieces(MANIFEST, limits.manifest):
            if wanted in before + piece:
                return True
            before = piece[-len(wanted) :]
    except MemberError:
        return False
    return False


def check_manifest(manifest: Manifest, archive: Archive) -> Iterator[str]:
    """What is wrong between the manifest and the members of the archive."""
    yield from manifest.faults
    if manifest.moves_base:
        yield "an xml:base changes what paths mean; this reader does not follow it"
    yield from _check_identifiers(manifest)
    listed: Seen = {MANIFEST: None}
    own: Seen = {}
    known = dict.fromkeys(each.identifier for each in manifest.resources)
    for resource in manifest.resources:
        yield from _check_resource(resource, known, archive)
        if resource.href and resource.href in own:
            yield f"two resources are '{shown(resource.href)}'"
        own[resource.href] = None
        listed.update(dict.fromkeys(name for name in map(resolve, (resource.href, *resource.others)) if name))
    for name in archive.names:
        if name not in listed:
            yield HouseRule(f"'{shown(name)}' is in the archive, but no resource lists it")


def _check_identifiers(manifest: Manifest) -> Iterator[str]:
    seen: Seen = {}
    for identifier in manifest.identifiers:
        if not identifier:
            yield "a manifest or resource has no identifier"
        elif identifier in seen:
            yield f"the identifier '{shown(identifier)}' is given twice"
        seen[identifier] = None


def _check_resource(resource: Resource, known: Container[str], archive: Archive) -> Iterator[str]:
    called = f"resource '{shown(resource.identifier)}'"
    if resource.href and not resource.lists_itself:
        yield f"{called} does not list its own href '{shown(resource.href)}' as a file"
    for href in dict.fromkeys((resource.href, *resource.others) if resource.href else resource.others):
        name = resolve(href)
        if name is None:
            yield f"{called} points at '{shown(href)}', which is no place in the pack"
        elif name not in archive:
            yield f"{called} lists '{shown(name)}', which is not in the archive"
    for identifier in resource.dependencies:
        if identifier not in known:
            yield f"{called} depends on '{shown(identifier)}', which is no resource"
