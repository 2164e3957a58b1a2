"""A test of the pack: its sections, what is drawn from each, and the items that it refers to in order."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from turnwright.exporters.proof.dialect import Dialect
from turnwright.exporters.proof.documents import DocumentError, Element, read_document
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.manifest import resolve

SECTION, SECTION_REF, ITEM_REF = "qti-assessment-section", "qti-assessment-section-ref", "qti-assessment-item-ref"
_NAMED = frozenset({"qti-test-part", SECTION, SECTION_REF, ITEM_REF})


@dataclass(frozen=True)
class ItemRef:
    """One place of an item in a test; ``drawn_from`` is the section that a selection draws it from, or empty."""

    identifier: str
    name: str | None
    drawn_from: str
    weights: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Assessment:
    """One test that was read, with its item references in document order."""

    root: Element
    refs: tuple[ItemRef, ...]

    def withholds_feedback(self) -> bool:
        """Whether feedback is switched off wherever the test says anything about it."""
        switches = {each.attributes.get("show-feedback") for each in self._session_controls()} - {None}
        return switches == {"false"}

    def shows_solution(self) -> bool:
        """Whether the test shows solutions to candidates anywhere."""
        return any(each.get("show-solution") == "true" for each in self._session_controls())

    def _session_controls(self) -> Iterator[Element]:
        return (each for each in self.root.walk() if each.name == "qti-item-session-control")


def read_assessment(name: str, data: bytes, dialect: Dialect) -> Assessment:
    """The test in the member ``name``."""
    root = read_document(data, dialect.rename)
    if root.name != "qti-assessment-test":
        raise DocumentError(f"is no test: its root is {shown(root.name)}")
    return Assessment(root, tuple(_refs(root, name, "")))


def _refs(element: Element, test: str, drawn_from: str) -> Iterator[ItemRef]:
    """All item references below ``element``; a section with a selection starts a new group."""
    if element.name == SECTION and element.child("qti-selection") is not None:
        drawn_from = element.get("identifier")
    for child in element.children:
        if child.name == ITEM_REF:
            weights = [each for each in child.children if each.name == "qti-weight"]
            weighed = tuple((each.get("identifier"), each.get("value")) for each in weights)
            yield ItemRef(child.get("identifier"), resolve(child.get("href"), test), drawn_from, weighed)
        elif child.name in _NAMED:
            yield from _refs(child, test, drawn_from)


def check_assessment(test: Assessment, listed: frozenset[str], provided: frozenset[str]) -> Iterator[str]:
    """What is wrong with a test; ``listed`` are the items of the pack, ``provided`` what its resource brings along."""
    yield from _check_identifiers(test)
    for element in test.root.walk():
        if element.name == SECTION:
            yield from _check_selection(element)
        elif element.name == SECTION_REF:
            yield f"line {element.line}: {SECTION_REF} is not followed; the items there are not proved"
    for ref in test.refs:
        yield from _check_ref(ref, listed, provided)
    if not test.refs:
        yield "the test refers to no item"
    yield from _check_weights(test)
    yield from _check_outcomes(test)


def _check_identifiers(test: Assessment) -> Iterator[str]:
    seen: set[str] = set()
    for element in test.root.walk():
        identifier = element.get("identifier")
        if element.name in _NAMED:
            if not identifier or identifier in seen:
                wrong = f"the identifier '{shown(identifier)}' is given twice" if identifier else "has no identifier"
                yield f"line {element.line}: {element.name}: {wrong}"
            seen.add(identifier)


def _check_selection(section: Element) -> Iterator[str]:
    selection = section.child("qti-selection")
    if selection is None:
        return
    called = f"section '{shown(section.get('identifier'))}'"
    children = [each for each in section.children if each.name in (SECTION, SECTION_REF, ITEM_REF)]
    required = sum(each.get("required") == "true" for each in children)
    select = selection.get("select")
    if not re.fullmatch(r"[0-9]{1,9}", select, re.ASCII) or not int(select):
        yield f"{called} selects '{shown(select)}', a whole number from 1 expected"
    elif int(select) > len(children) and selection.get("with-replacement") != "true":
        yield f"{called} selects {int(select)} of {len(children)}"
    elif int(select) < required:
        yield f"{called} selects {int(select)}, but {required} of its children are required"


def _check_ref(ref: ItemRef, listed: frozenset[str], provided: frozenset[str]) -> Iterator[str]:
    called = f"item reference '{shown(ref.identifier)}'"
    if ref.name is None:
        yield f"{called} points at no place in the pack"
    elif ref.name not in listed:
        yield f"{called} points at '{shown(ref.name)}', which the manifest lists as no item"
    elif ref.name not in provided:
        yield f"{called} points at '{shown(ref.name)}', which the test's resource does not depend on"


def _check_weights(test: Assessment) -> Iterator[str]:
    """One candidate's total must not depend on which item of a section was drawn."""
    first: dict[str, tuple[tuple[str, str], ...]] = {}
    for ref in test.refs:
        if ref.drawn_from and first.setdefault(ref.drawn_from, ref.weights) != ref.weights:
            yield f"item reference '{shown(ref.identifier)}' weighs unlike others of '{shown(ref.drawn_from)}'"


def _check_outcomes(test: Assessment) -> Iterator[str]:
    names = {each.get("identifier") for each in test.root.children if each.name == "qti-outcome-declaration"}
    refs = {each.identifier for each in test.refs}
    sections = {each.get("identifier") for each in test.root.walk() if each.name == SECTION}
    processing = test.root.child("qti-outcome-processing")
    for element in processing.walk() if processing is not None else ():
        name, section = element.get("identifier"), element.get("section-identifier")
        known = name in names or (element.name == "qti-variable" and name.partition(".")[0] in refs)
        if element.name in ("qti-variable", "qti-set-outcome-value") and not known:
            yield f"line {element.line}: {element.name} names '{shown(name)}', which is no outcome of the test"
        if section and section not in sections:
            yield f"line {element.line}: {element.name} names the section '{shown(section)}', which is not there"
