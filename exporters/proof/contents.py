"""What a pack says it holds: its manifest and tests, read and checked, and the places of its items in order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from turnwright.exporters.proof.archive import Archive, Limits, MemberError
from turnwright.exporters.proof.assessment import Assessment, ItemRef, check_assessment, read_assessment
from turnwright.exporters.proof.dialect import DIALECTS, Dialect, find_dialect
from turnwright.exporters.proof.documents import DocumentError
from turnwright.exporters.proof.findings import Findings, shown
from turnwright.exporters.proof.manifest import MANIFEST, Manifest, Resource, check_manifest, read_manifest, resolve

_NONE: frozenset[str] = frozenset()
NOWHERE = ItemRef("", None, "", ())


@dataclass(frozen=True)
class Place:
    """Where an item stands: its member, the section it is drawn from, its names, and the numbers that count it."""

    name: str
    drawn_from: str
    names: tuple[str, ...]
    counts: frozenset[int]
    provided: frozenset[str]


@dataclass
class Contents:
    """Manifest and tests of a pack.

    ``items`` maps the member of each listed item to its resource, ``files`` a resource's identifier to its members.
    """

    dialect: Dialect
    format: str = "unknown"
    manifest: Manifest = field(default_factory=Manifest)
    items: dict[str, Resource] = field(default_factory=dict)
    tests: dict[str, Assessment] = field(default_factory=dict)
    files: dict[str, frozenset[str]] = field(default_factory=dict)

    def members(self) -> frozenset[str]:
        """The members that are manifest, test or item."""
        return frozenset({MANIFEST, *self.items, *self.tests})

    def withholds_feedback(self) -> bool:
        """Whether there are tests, and every one switches feedback off."""
        return bool(self.tests) and all(test.withholds_feedback() for test in self.tests.values())

    def check_exam(self) -> Iterator[str]:
        """What tests and manifest must not say in an exam."""
        if self.manifest.offers_solution:
            yield f"{MANIFEST}: an item of an exam is said to have a solution"
        for name, test in self.tests.items():
            if test.shows_solution():
                yield f"{shown(name)}: the test of an exam shows solutions"
            for element in test.root.walk():
                if element.name == "qti-test-feedback":
                    yield f"{shown(name)}: line {element.line}: {element.name} in an exam"

    def places(self) -> Iterator[Place]:
        """All items once, in the order of the references to them, then those that no test refers to."""
        refs: dict[str, tuple[str, ItemRef]] = {}
        for test, assessment in self.tests.items():
            for ref in assessment.refs:
                if ref.name in self.items:
                    refs.setdefault(ref.name, (test, ref))
        names = [*refs, *(name for name in self.items if name not in refs)]
        drawn: Counter[str] = Counter()
        for position, name in enumerate(names, 1):
            test, ref = refs.get(name, ("", NOWHERE))
            group = f"{test} {ref.drawn_from}" if ref.drawn_from else ""
            drawn[group] += 1
            ordinals = (position, drawn[group], len(drawn))
            counts = frozenset(number - start for number in ordinals for start in (0, 1))
            given = (self.items[name].identifier, ref.identifier)
            yield Place(name, group, given, counts, self.provided_by(self.items[name]))

    def provided_by(self, resource: Resource) -> frozenset[str]:
        """The members that a resource lists, and those of the resources it depends on."""
        needed = dict.fromkeys(resource.dependencies)
        return self.files.get(resource.identifier, _NONE).union(*(self.files.get(each, _NONE) for each in needed))


def read_contents(archive: Archive, limits: Limits, findings: Findings) -> Contents:
    """The contents of a pack, as far as they can be read; what is wrong goes to ``findings``."""
    contents = Contents(DIALECTS[0])
    try:
        contents.manifest = read_manifest(archive, limits)
    except (MemberError, DocumentError) as error:
        findings.add(MANIFEST, str(error))
        return contents
    manifest = contents.manifest
    dialect = find_dialect(manifest.namespace, manifest.schema)
    if dialect is None:
        known = " or ".join(f"{each.schema} of {each.manifest_namespace}" for each in DIALECTS)
        found = f"{shown(manifest.schema) or 'no schema'} of {shown(manifest.namespace) or 'no namespace'}"
        findings.add(MANIFEST, f"names {found}, {known} expected")
        return contents
    contents.dialect, contents.format = dialect, dialect.name
    findings.extend(MANIFEST, check_manifest(manifest, archive))
    _read_resources(contents, archive, limits, findings)
    return contents


def _read_resources(contents: Contents, archive: Archive, limits: Limits, findings: Findings) -> None:
    """Takes items and tests from the resources; a test is read at once, an item when its turn comes."""
    resources = [(resolve(each.href), each) for each in contents.manifest.resources if each.href]
    contents.items = {name: each for name, each in resources if name and each.kind == contents.dialect.item_type}
    contents.files = {
        each.identifier: frozenset(name for name in map(resolve, each.files) if name)
        for each in contents.manifest.resources
    }
    if not contents.items:
        findings.add(MANIFEST, "lists no item")
    tried: set[str] = set()
    for name, resource in resources:
        if name and name in archive and name not in tried and resource.kind == contents.dialect.test_type:
            tried.add(name)
            try:
                test = read_assessment(name, archive.read(name, limits.test), contents.dialect)
            except (MemberError, DocumentError) as error:
                findings.add(name, str(error))
                continue
            contents.tests[name] = test
            findings.extend(name, check_assessment(test, frozenset(contents.items), contents.provided_by(resource)))
    _check_used(contents, findings)


def _check_used(contents: Contents, findings: Findings) -> None:
    used = {ref.name for test in contents.tests.values() for ref in test.refs}
    if contents.tests:
        findings.extend("", (f"no test refers to {shown(name)}" for name in contents.items if name not in used))
