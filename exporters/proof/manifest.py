"""The manifest: which files a pack lists, what each is, and whether they are all there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

from lxml import etree
from turnwright.exporters.proof.archive import Archive, Limits
from turnwright.exporters.proof.documents import XML, DocumentError, check_prolog, safe_parser
from turnwright.exporters.proof.findings import shown

MANIFEST = "imsmanifest.xml"


@dataclass
class Resource:
    """One resource: its own file, all files it lists, and the resources it depends on."""

    identifier: str
    kind: str
    href: str
    files: list[str] = field(default_factory=list)
    dependencies: list[str] = field(default_factory=list)


@dataclass
class Manifest:
    """What ``imsmanifest.xml`` says; ``moves_base`` tells whether an ``xml:base`` changes what its paths mean."""

    namespace: str = ""
    schema: str = ""
    identifiers: list[str] = field(default_factory=list)
    resources: list[Resource] = field(default_factory=list)
    offers_solution: bool = False
    moves_base: bool = False


def read_manifest(archive: Archive, limits: Limits) -> Manifest:
    """The manifest of the pack; no tree is built, so that its length costs no memory."""
    data = archive.read(MANIFEST, limits.manifest)
    check_prolog(data, 200 * limits.entries)
    builder = _Builder(10 * limits.entries)
    try:
        etree.fromstring(data, safe_parser(builder))
    except etree.XMLSyntaxError as error:
        raise DocumentError(f"is not well-formed: {shown(str(error))}") from error
    return builder.manifest


class _Builder:
    """Takes the tags of a manifest one after the other, as lxml hands them to a parser target."""

    def __init__(self, most: int) -> None:
        self.manifest = Manifest()
        self._room = most
        self._resource: Resource | None = None
        self._text = ""

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        namespace, _, name = tag.rpartition("}")
        if not self.manifest.namespace:
            self.manifest.namespace = namespace.removeprefix("{") if name == "manifest" else "no manifest"
        self._text = ""
        if namespace.removeprefix("{") == self.manifest.namespace:
            self._take(name, attributes)

    def _take(self, name: str, attributes: dict[str, str]) -> None:
        self.manifest.moves_base |= f"{XML}base" in attributes
        if name in ("manifest", "resource", "file", "dependency"):
            self._room -= 1
            if self._room < 0:
                raise DocumentError("lists more resources, files and dependencies than are read")
        if name in ("manifest", "resource"):
            self.manifest.identifiers.append(attributes.get("identifier", ""))
        if name == "resource":
            identifier, kind, href = (attributes.get(each, "") for each in ("identifier", "type", "href"))
            self._resource = Resource(identifier, kind, href)
            self.manifest.resources.append(self._resource)
        elif name == "file" and self._resource:
            self._resource.files.append(attributes.get("href", ""))
        elif name == "dependency" and self._resource:
            self._resource.dependencies.append(attributes.get("identifierref", ""))

    def data(self, text: str) -> None:
        self._text = (self._text + text)[:200]

    def end(self, tag: str) -> None:
        name = tag.rpartition("}")[2]
        if name == "schema" and not self.manifest.schema:
            self.manifest.schema = self._text.strip()
        if name == "solutionAvailable" and self._text.strip() == "true":
            self.manifest.offers_solution = True
        if name == "resource":
            self._resource = None
        self._text = ""

    def close(self) -> None:
        """Nothing: the manifest is taken from the builder."""


def resolve(href: str, base: str = "") -> str | None:
    """The member that ``href`` in the member ``base`` points at; None when it points out of the pack."""
    try:
        parts = urlsplit(href)
    except ValueError:
        return None
    path = unquote(parts.path)
    if parts.scheme or parts.netloc or not path or path.startswith("/") or "\\" in path:
        return None
    name = normpath(join(dirname(base), path))
    return None if name in (".", "..") or name.startswith("../") else name


def check_manifest(manifest: Manifest, archive: Archive) -> Iterator[str]:
    """What is wrong between the manifest and the members of the archive."""
    if manifest.moves_base:
        yield "an xml:base changes what paths mean; this reader does not follow it"
    yield from _check_identifiers(manifest)
    listed = {MANIFEST}
    own: set[str] = set()
    known = {each.identifier for each in manifest.resources}
    for resource in manifest.resources:
        yield from _check_resource(resource, known, archive)
        if resource.href in own:
            yield f"two resources are '{shown(resource.href)}'"
        own.update({resource.href} - {""})
        listed.update(name for name in map(resolve, (resource.href, *resource.files)) if name)
    for name in archive.names:
        if name not in listed:
            yield f"'{shown(name)}' is in the archive, but no resource lists it"


def _check_identifiers(manifest: Manifest) -> Iterator[str]:
    seen: set[str] = set()
    for identifier in manifest.identifiers:
        if not identifier:
            yield "a manifest or resource has no identifier"
        elif identifier in seen:
            yield f"the identifier '{shown(identifier)}' is given twice"
        seen.add(identifier)


def _check_resource(resource: Resource, known: set[str], archive: Archive) -> Iterator[str]:
    called = f"resource '{shown(resource.identifier)}'"
    if resource.href and resource.href not in resource.files:
        yield f"{called} does not list its own href '{shown(resource.href)}' as a file"
    for href in dict.fromkeys((resource.href, *resource.files) if resource.href else resource.files):
        name = resolve(href)
        if name is None:
            yield f"{called} points at '{shown(href)}', which is no place in the pack"
        elif name not in archive:
            yield f"{called} lists '{shown(name)}', which is not in the archive"
    for identifier in resource.dependencies:
        if identifier not in known:
            yield f"{called} depends on '{shown(identifier)}', which is no resource"
