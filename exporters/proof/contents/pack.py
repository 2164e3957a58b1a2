"""What a pack says it holds: its manifest and tests, read and checked, the places of its items, and its pictures.

The rules of the sitting that a test states are held against those agreed on, and the standards that the manifest names
against those of the items. Each picture is read once, however many items show it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple
from xml.sax.saxutils import escape

from ....bank.item.curriculum import Alignment
from ....bank.item.sitting import Sitting
from ...strangers.archive import Archive, Limits, MemberError, Members, resolve
from ...strangers.documents import Element, read_document
from ...strangers.parsing import DocumentError, Findings, HouseRule, Seen, shown
from ..dialect import DIALECTS, DRAWINGS, SVG, Dialect, find_dialect
from ..report import Agreed
from ..words.leaks import numbers_in
from ..words.wording import plain_words, said_by
from .assessment import ItemRef, TestFile, TestSection, check_assessment, read_assessment
from .manifest import MANIFEST, Manifest, Resource, check_manifest, read_manifest

WITHOUT_END = "0"
NOWHERE = ItemRef("", None, TestSection("", None), ())
PNG = b"\x89PNG\r\n\x1a\n"  # how each such file begins (ISO/IEC 15948, 5.2)


def missing_standards(manifest: bytes, wanted: Iterable[Alignment]) -> Iterator[str]:
    """The codes and identifiers that no element of the manifest holds."""
    for name in dict.fromkeys(name for each in wanted for name in (each.code, each.guid) if name):
        if f">{escape(name)}<".encode() not in manifest:
            yield f"names no standard '{shown(name)}', which is expected"


def limits_attempts(test: TestFile) -> bool:
    """Whether an item may be answered only so many times, which is once where nothing is said."""
    return test.attempts != {WITHOUT_END}


def check_told_gravity(gravity: str, instructions: str) -> Iterator[str]:
    """Whether candidates are told the g that the answers were worked out with."""
    if gravity and f"g={plain_words(gravity)}" not in plain_words(instructions):
        yield f"candidates are not told that g = {shown(gravity)}"


def check_session(test: TestFile, rules: Sitting) -> Iterator[str]:
    """Where the test lets a candidate do, or see, something else than the rules say."""
    yield from _check("attempts at an item", test.attempts, str(rules.attempts))
    yield from _check("show-feedback", test.switches, "true" if rules.told else "false")
    yield from _check("seconds for the test", test.limits, str(60 * rules.minutes) if rules.minutes else None)
    outer = {each.identifier for each in test.sections if each.parent is not None and not each.parent.identifier}
    if rules.shuffle and not outer <= test.shuffled:
        yield "the questions come in one order for all, shuffled ones expected"
    elif not rules.shuffle and test.shuffled:
        yield f"section '{shown(min(test.shuffled))}' is shuffled, one order for all expected"


def _check(what: str, found: set[str], wanted: str | None) -> Iterator[str]:
    if found != ({wanted} if wanted is not None else set()):
        said = " and ".join(shown(each) for each in sorted(found)) or "not said"
        yield f"{what}: {said}, {wanted or 'no limit'} expected"


@dataclass(frozen=True)
class ItemPlace:
    """Where an item stands: its member, the section it is drawn from, its names, and the numbers that count it."""

    name: str
    drawn_from: str
    names: tuple[str, ...]
    counts: frozenset[int]
    provided: Container[str]


class Spot(NamedTuple):
    """A listed item among all: the first test that refers to it, and the numbers that count it from 1."""

    name: str
    test: str
    ref: ItemRef
    ordinals: tuple[int, int, int]


@dataclass
class Contents:
    """Manifest and tests of a pack.

    ``items`` maps the member of each listed item to its resource, ``resources`` an identifier to its resource.
    """

    dialect: Dialect
    format: str = "unknown"
    manifest: Manifest = field(default_factory=Manifest)
    items: dict[str, Resource] = field(default_factory=dict)
    tests: dict[str, TestFile] = field(default_factory=dict)
    resources: dict[str, Resource] = field(default_factory=dict)

    def __contains__(self, name: str) -> bool:
        """Whether a member is manifest, test or item."""
        return name == MANIFEST or name in self.items or name in self.tests

    def withholds_feedback(self) -> bool:
        """Whether there are tests, and every one switches feedback off."""
        return bool(self.tests) and all(test.withholds_feedback() for test in self.tests.values())

    def limits_attempts(self) -> bool:
        """Whether a test says how often an item may be answered at most."""
        return any(test.attempts and limits_attempts(test) for test in self.tests.values())

    def check_session(self, agreed: Agreed) -> Iterator[str]:
        """Where tests let a candidate do or know something else than was agreed on, or where there is not one test."""
        if len(self.tests) != 1:
            yield f"tests that can be read: {len(self.tests)}, 1 expected"
        for name, test in self.tests.items():
            yield from (f"{shown(name)}: {wrong}" for wrong in check_session(test, agreed.sitting))
            told = check_told_gravity(agreed.gravity, test.instructions)
            yield from (f"{shown(name)}: {wrong}" for wrong in told)

    def check_exam(self) -> Iterator[str]:
        """What tests and manifest must not say in an exam."""
        if self.manifest.offers_solution:
            yield f"{MANIFEST}: an item of an exam is said to have a solution"
        for name, test in self.tests.items():
            if test.shows_solution:
                yield f"{shown(name)}: the test of an exam shows solutions"
            for line in test.feedback:
                yield f"{shown(name)}: line {line}: qti-test-feedback in an exam"

    def selections(self) -> dict[str, int]:
        """How many items are drawn from each section that draws, known as its items know it."""
        return {
            f"{name} {section.identifier}": int(text)
            for name, test in self.tests.items()
            for section in test.sections
            if section.selection and (text := section.selection.get("select", "")).isdecimal() and len(text) < 10
        }

    def listed_tests(self) -> frozenset[str]:
        """The members that the manifest lists as tests, whether they can be read or not."""
        return frozenset(name for name, _ in _members(self.manifest.resources, self.dialect.test_type))

    def places(self) -> Iterator[ItemPlace]:
        """All items once, in the order of the references to them, then those that no test refers to."""
        return map(self.place, self.spots())

    def spots(self) -> Iterator[Spot]:
        """The spots of these places."""
        drawn: Counter[str] = Counter()
        for position, (name, test, ref) in enumerate(self._in_order(), 1):
            group = _group(test, ref)
            drawn[group] += 1
            yield Spot(name, test, ref, (position, drawn[group], len(drawn)))

    def place(self, spot: Spot) -> ItemPlace:
        """The place of an item."""
        resource = self.items[spot.name]
        counts = frozenset(number - start for number in spot.ordinals for start in (0, 1))
        given = (resource.identifier, spot.ref.identifier)
        return ItemPlace(spot.name, _group(spot.test, spot.ref), given, counts, self.provided_by(resource))

    def _in_order(self) -> Iterator[tuple[str, str, ItemRef]]:
        """Each item once, with the first test that refers to it and the reference there."""
        met: Seen = {}
        for test, assessment in self.tests.items():
            for ref in assessment.refs:
                if ref.name in self.items and ref.name not in met:
                    met[ref.name] = None
                    yield ref.name, test, ref
        yield from ((name, "", NOWHERE) for name in self.items if name not in met)

    def provided_by(self, resource: Resource) -> Container[str]:
        """The members that a resource lists, and those of the resources it depends on."""
        needed = dict.fromkeys((resource.identifier, *resource.dependencies))
        hrefs = (href for each in needed if each in self.resources for href in self.resources[each].files())
        return dict.fromkeys(name for name in map(resolve, hrefs) if name)


def _group(test: str, ref: ItemRef) -> str:
    """What an item is drawn from, in whichever test; empty where it is not drawn."""
    return f"{test} {ref.drawn_from}" if ref.drawn_from else ""


def read_contents(archive: Archive, limits: Limits, findings: Findings) -> Contents:
    """The contents of a pack, as far as they can be read; what is wrong goes to ``findings``."""
    return _read(archive, limits, findings, lambda manifest: check_manifest(manifest, archive))


def read_beginning(beginning: Members, limits: Limits, findings: Findings) -> Contents:
    """The contents of a pack of which there are only the manifest and tests yet."""
    return _read(beginning, limits, findings, lambda manifest: iter(()))


def _read(archive: Members, limits: Limits, findings: Findings, check: Callable[[Manifest], Iterator[str]]) -> Contents:
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
    findings.extend(MANIFEST, check(manifest))
    findings.extend(MANIFEST, _check_own_files(contents))
    _read_resources(contents, archive, limits, findings)
    return contents


def _read_resources(contents: Contents, archive: Members, limits: Limits, findings: Findings) -> None:
    """Takes items and tests from the resources; a test is read at once, an item when its turn comes."""
    resources = contents.manifest.resources
    contents.resources = {each.identifier: each for each in resources}
    contents.items = dict(_members(resources, contents.dialect.item_type))
    if not contents.items:
        findings.add(MANIFEST, "lists no item")
    tried: set[str] = set()
    for name, resource in _members(resources, contents.dialect.test_type):
        if name in archive and name not in tried:
            tried.add(name)
            try:
                test = read_assessment(name, archive.pieces(name, limits.test), contents.dialect)
            except (MemberError, DocumentError) as error:
                findings.add(name, str(error))
                continue
            contents.tests[name] = test
            findings.extend(name, check_assessment(test, contents.items, contents.provided_by(resource)))
    _check_used(contents, findings)


def _check_own_files(contents: Contents) -> Iterator[str]:
    """Items and tests without a file of their own, which nobody would find."""
    kinds = (contents.dialect.item_type, contents.dialect.test_type)
    for each in contents.manifest.resources:
        if each.kind in kinds and not each.href:
            yield f"resource '{shown(each.identifier)}' is of the type {shown(each.kind)} and has no href"


def _members(resources: Iterable[Resource], kind: str) -> Iterator[tuple[str, Resource]]:
    """The resources of a kind, each with the member that is its own file."""
    for each in resources:
        if each.kind == kind and each.href and (name := resolve(each.href)):
            yield name, each


def _check_used(contents: Contents, findings: Findings) -> None:
    used = dict.fromkeys(ref.name for test in contents.tests.values() for ref in test.refs)
    if contents.tests:
        findings.extend(
            "", (HouseRule(f"no test refers to {shown(name)}") for name in contents.items if name not in used)
        )


class Figures:
    """The pictures met so far, with the words and numbers of each; ``meet`` takes what is wrong with one."""

    def __init__(self, archive: Members, limits: Limits, meet: Callable[[str, Sequence[str]], None]) -> None:
        self._archive, self._limits, self._meet = archive, limits, meet
        self._numbers: dict[str, frozenset[str]] = {}
        self._words: dict[str, str] = {}
        self._faults: dict[str, list[str]] = {}
        self._met: set[str] = set()

    def __len__(self) -> int:
        return len(self._numbers)

    def __contains__(self, name: object) -> bool:
        return name in self._numbers

    def numbers(self, name: str) -> frozenset[str]:
        """The numbers in title and description of the picture in the member ``name``."""
        if name not in self._numbers:
            self._numbers[name] = self._read(name)
        if name not in self._met:
            self._met.add(name)
            self._meet(name, self._faults.get(name, []))
        return self._numbers[name]

    def begin(self) -> None:
        """Starts another block of items: what is wrong with a picture is told once more when it is met."""
        self._met.clear()

    def check_words(self, name: str, told: str, *, begins: bool = False) -> Iterator[str]:
        """A finding, where the picture in the member ``name`` describes itself in other words than it should.

        Its description ``begins`` with what is told where that is its text alternative alone.
        """
        self.numbers(name)
        found, wanted = self._words.get(name, ""), plain_words(told)
        if found and found != wanted and not (begins and found.startswith(wanted)):
            yield f"the picture {shown(name)} is described as '{shown(found)}', '{shown(wanted)}' expected"

    def _read(self, name: str) -> frozenset[str]:
        try:
            is_svg = name.lower().endswith(".svg")
            data = self._archive.read(name, self._limits.document if is_svg else self._limits.member)
            if not is_svg:
                if name.lower().endswith(".png") and not data.startswith(PNG):
                    self._faults[name] = ["is no PNG picture"]
                return frozenset()
            root = read_document(data, str)
        except (MemberError, DocumentError) as error:
            self._faults[name] = [str(error)]
            return frozenset()
        self._faults[name] = list(check_figure(root))
        self._words[name] = "".join(said_by(each) for each in root.children if each.name == f"{SVG}desc")
        return figure_numbers(root)


def check_figure(root: Element) -> Iterator[str]:
    """What an SVG picture must not carry: a program, or a reference to another place."""
    if root.name != f"{SVG}svg":
        yield f"is no SVG picture: its root is {shown(root.name)}"
        return
    yield from root.unfit(DRAWINGS)
    for element in root.walk():
        name = element.name.removeprefix(SVG).lower()
        if name in ("script", "foreignobject"):
            yield f"line {element.line}: the picture holds a {name}"
        for attribute, value in element.attributes.items():
            bare = attribute.rpartition("}")[2].lower()
            if bare.startswith("on"):
                yield f"line {element.line}: the picture runs a program ({shown(attribute)})"
            if bare in ("href", "src") and not value.startswith(("#", "data:image/")):
                yield f"line {element.line}: the picture draws in '{shown(value)}'"


def figure_numbers(root: Element) -> frozenset[str]:
    """The numbers in the title and description of a picture."""
    told = (each.string() for each in root.walk() if each.name in (f"{SVG}title", f"{SVG}desc"))
    return frozenset[str]().union(*map(numbers_in, told))
