"""A test of the pack: its sections, what is drawn from each, and the items that it refers to in order.

It is read tag by tag, so that a long one takes the memory of its item references and no more.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from sys import intern
from typing import NamedTuple

from ...strangers.archive import resolve
from ...strangers.documents import DEEPEST, MOST_ATTRIBUTES, MOST_TAGS
from ...strangers.grammar import Judge
from ...strangers.parsing import DocumentError, HouseRule, Seen, parse_pieces, shown
from ..dialect import Dialect

SECTION, SECTION_REF, ITEM_REF = "qti-assessment-section", "qti-assessment-section-ref", "qti-assessment-item-ref"
TEST, PART = "qti-assessment-test", "qti-test-part"
DRAWN = frozenset({SECTION, SECTION_REF, ITEM_REF})
NAMED = DRAWN | {PART}
LONGEST_INSTRUCTIONS = 20_000  # characters


@dataclass
class TestSection:
    """One section, or another part of a test that may hold some; ``selection`` is what draws from its children."""

    identifier: str
    parent: TestSection | None
    selection: Mapping[str, str] | None = None
    children: int = 0
    required: int = 0

    @cached_property
    def drawn_from(self) -> str:
        """The innermost section with a selection, this one or around it, or empty; asked for when all is read."""
        if self.selection is not None:
            return self.identifier
        return self.parent.drawn_from if self.parent else ""


class ItemRef(NamedTuple):
    """One place of an item in a test; ``name`` is the member it means, None when that is out of the pack."""

    identifier: str
    name: str | None
    section: TestSection
    weights: tuple[tuple[str, str], ...]

    @property
    def drawn_from(self) -> str:
        """The section that a selection draws it from, or empty."""
        return self.section.drawn_from


class Mention(NamedTuple):
    """Where the outcome processing of a test names a variable or a section."""

    line: int
    element: str
    name: str
    section: str


@dataclass
class TestFile:
    """One test that was read, with its item references in document order; ``faults`` were found while reading.

    ``switches`` are all values of ``show-feedback``, ``feedback`` the lines where the test has feedback of its own;
    ``attempts`` all values of ``max-attempts``, ``limits`` all of ``max-time``, ``shuffled`` the sections that shuffle.
    ``instructions`` is the beginning of what its rubrics tell a candidate.
    """

    refs: list[ItemRef] = field(default_factory=list)
    sections: list[TestSection] = field(default_factory=list)
    outcomes: set[str] = field(default_factory=set)
    mentions: list[Mention] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    switches: set[str] = field(default_factory=set)
    feedback: list[int] = field(default_factory=list)
    attempts: set[str] = field(default_factory=set)
    limits: set[str] = field(default_factory=set)
    shuffled: set[str] = field(default_factory=set)
    shows_solution: bool = False
    instructions: str = ""

    def withholds_feedback(self) -> bool:
        """Whether feedback is switched off wherever the test says anything about it."""
        return self.switches == {"false"}


def check_assessment(test: TestFile, listed: Container[str], provided: Container[str]) -> Iterator[str]:
    """What is wrong with a test; ``listed`` are the items of the pack, ``provided`` what its resource brings along."""
    yield from test.faults
    for section in test.sections:
        yield from _check_selection(section)
    for ref in test.refs:
        yield from _check_ref(ref, listed, provided)
    if not test.refs:
        yield "the test refers to no item"
    yield from _check_weights(test)
    yield from _check_outcomes(test)


def _check_selection(section: TestSection) -> Iterator[str]:
    if section.selection is None:
        return
    called = f"section '{shown(section.identifier)}'"
    select = section.selection.get("select", "")
    if not re.fullmatch(r"[0-9]{1,9}", select, re.ASCII) or not int(select):
        yield f"{called} selects '{shown(select)}', a whole number from 1 expected"
    elif int(select) > section.children and section.selection.get("with-replacement") != "true":
        yield f"{called} selects {int(select)} of {section.children}"
    elif int(select) < section.required:
        yield f"{called} selects {int(select)}, but {section.required} of its children are required"


def _check_ref(ref: ItemRef, listed: Container[str], provided: Container[str]) -> Iterator[str]:
    called = f"item reference '{shown(ref.identifier)}'"
    if ref.name is None:
        yield f"{called} points at no place in the pack"
    elif ref.name not in listed:
        yield f"{called} points at '{shown(ref.name)}', which the manifest lists as no item"
    elif ref.name not in provided:
        yield HouseRule(f"{called} points at '{shown(ref.name)}', which the test's resource does not depend on")


def _check_weights(test: TestFile) -> Iterator[str]:
    """One candidate's total must not depend on which item of a section was drawn."""
    first: dict[str, tuple[tuple[str, str], ...]] = {}
    for ref in test.refs:
        if ref.drawn_from and first.setdefault(ref.drawn_from, ref.weights) != ref.weights:
            yield f"item reference '{shown(ref.identifier)}' weighs unlike others of '{shown(ref.drawn_from)}'"


def _check_outcomes(test: TestFile) -> Iterator[str]:
    refs = dict.fromkeys(each.identifier for each in test.refs)
    sections = {each.identifier for each in test.sections}
    for line, element, name, section in test.mentions:
        known = name in test.outcomes or (element == "qti-variable" and name.partition(".")[0] in refs)
        if element in ("qti-variable", "qti-set-outcome-value") and not known:
            yield f"line {line}: {element} names '{shown(name)}', which is no outcome of the test"
        if section and section not in sections:
            yield f"line {line}: {element} names the section '{shown(section)}', which is not there"


def read_assessment(name: str, pieces: Iterator[bytes], dialect: Dialect) -> TestFile:
    """The test in the member ``name``."""
    builder = _TestBuilder(name, dialect)
    judge = Judge(dialect.grammar)
    parse_pieces(pieces, builder, MOST_TAGS, judge)
    builder.test.faults.extend(judge.faults(dialect.rename))
    return builder.test


@dataclass(slots=True)
class _Open:
    """An element whose end has not come yet.

    ``holds`` is the section to which item references just inside belong: none where they would not be delivered.
    """

    name: str
    attributes: Mapping[str, str]
    section: TestSection | None = None
    holds: TestSection | None = None
    weights: list[tuple[str, str]] = field(default_factory=list)
    in_processing: bool = False
    in_rubric: bool = False

    def get(self, attribute: str) -> str:
        """The value of an attribute, empty when it is missing."""
        return self.attributes.get(attribute, "")


class _TestBuilder:
    """Takes the tags of a test one after the other, as a parser hands them out."""

    def __init__(self, member: str, dialect: Dialect) -> None:
        self.line = 1
        self.test = TestFile()
        self._member, self._rename = member, dialect.rename
        self._open: list[_Open] = []
        self._identifiers: Seen = {}
        self._has_processing = False

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """Takes what a start tag says. Raises DocumentError for what is refused."""
        if len(self._open) > DEEPEST:
            raise DocumentError(f"nests elements more than {DEEPEST} deep")
        if len(attributes) > MOST_ATTRIBUTES:
            raise DocumentError(f"has an element with more than {MOST_ATTRIBUTES} attributes")
        element = _Open(self._rename(tag), {self._rename(name): value for name, value in attributes.items()})
        if self._open:
            self._take(element, self._open[-1])
        elif element.name == TEST:
            element.holds = TestSection("", None)
        else:
            raise DocumentError(f"is no test: its root is {shown(element.name)}")
        self._open.append(element)

    def _take(self, element: _Open, parent: _Open) -> None:
        if element.name in NAMED:
            self._take_named(element, parent)
        elif element.name == "qti-selection" and parent.section and parent.section.selection is None:
            parent.section.selection = element.attributes
        elif element.name == "qti-weight":
            parent.weights.append((element.get("identifier"), element.get("value")))
        elif element.name == "qti-item-session-control":
            self.test.switches.update(value for name, value in element.attributes.items() if name == "show-feedback")
            self.test.attempts.update(value for name, value in element.attributes.items() if name == "max-attempts")
            self.test.shows_solution |= element.get("show-solution") == "true"
        elif element.name == "qti-time-limits":
            self.test.limits.add(element.get("max-time"))
        elif element.name == "qti-ordering" and parent.section and element.get("shuffle") == "true":
            self.test.shuffled.add(parent.section.identifier)
        elif element.name == "qti-test-feedback":
            self.test.feedback.append(self.line)
        elif element.name == "qti-outcome-declaration" and len(self._open) == 1:
            self.test.outcomes.add(element.get("identifier"))
        self._take_processing(element, parent)
        told = element.name == "qti-rubric-block" and "candidate" in element.get("view").split()
        element.in_rubric = told or parent.in_rubric

    def _take_named(self, element: _Open, parent: _Open) -> None:
        """Takes a part, a section or a reference: its name, and its place in the section around it."""
        self._check_identifier(element)
        if parent.section and element.name in DRAWN:
            parent.section.children += 1
            parent.section.required += element.get("required") == "true"
        if element.name == SECTION:
            element.section = TestSection(element.get("identifier"), parent.holds)
            self.test.sections.append(element.section)
        elif element.name == SECTION_REF:
            self._fault(f"{SECTION_REF} is not followed; the items there are not proved")
        if parent.holds and element.name != ITEM_REF:
            element.holds = element.section or parent.holds

    def _check_identifier(self, element: _Open) -> None:
        identifier = element.get("identifier")
        if not identifier:
            self._fault(f"{element.name}: has no identifier")
        elif identifier in self._identifiers:
            self._fault(f"{element.name}: the identifier '{shown(identifier)}' is given twice")
        self._identifiers[intern(identifier)] = None

    def _fault(self, wrong: str) -> None:
        self.test.faults.append(f"line {self.line}: {wrong}")

    def _take_processing(self, element: _Open, parent: _Open) -> None:
        """Notes what the first outcome processing of the test names."""
        starts = element.name == "qti-outcome-processing" and len(self._open) == 1 and not self._has_processing
        self._has_processing |= starts
        element.in_processing = starts or parent.in_processing
        if element.in_processing:
            name, section = element.get("identifier"), element.get("section-identifier")
            self.test.mentions.append(Mention(self.line, element.name, name, section))

    def data(self, text: str) -> None:
        """Takes what a candidate is told before the first item."""
        if self._open and self._open[-1].in_rubric and len(self.test.instructions) < LONGEST_INSTRUCTIONS:
            self.test.instructions += text[:LONGEST_INSTRUCTIONS]

    def end(self, tag: str) -> None:
        """Takes an item reference that is complete."""
        element = self._open.pop()
        holds = self._open[-1].holds if self._open else None
        if element.name == ITEM_REF and holds:
            name = resolve(element.get("href"), self._member)
            name = name and intern(name)
            self.test.refs.append(ItemRef(intern(element.get("identifier")), name, holds, tuple(element.weights)))

    def close(self) -> None:
        """Lets go of what only reading needs: a parser is not freed at once, and holds its target."""
        self._identifiers.clear()
