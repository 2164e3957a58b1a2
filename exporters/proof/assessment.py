"""A test of the pack: its sections, what is drawn from each, and the items that it refers to in order."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from turnwright.exporters.proof.findings import shown

SECTION, SECTION_REF, ITEM_REF = "qti-assessment-section", "qti-assessment-section-ref", "qti-assessment-item-ref"


@dataclass
class Section:
    """One section, or another part of a test that may hold some; ``selection`` is what draws from its children."""

    identifier: str
    parent: Section | None
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
    section: Section
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
class Assessment:
    """One test that was read, with its item references in document order; ``faults`` were found while reading.

    ``switches`` are all values of ``show-feedback``, ``feedback`` the lines where the test has feedback of its own;
    ``attempts`` all values of ``max-attempts``, ``limits`` all of ``max-time``, ``shuffled`` the sections that shuffle.
    ``instructions`` is the beginning of what its rubrics tell a candidate.
    """

    refs: list[ItemRef] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
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


def check_assessment(test: Assessment, listed: Container[str], provided: Container[str]) -> Iterator[str]:
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


def _check_selection(section: Section) -> Iterator[str]:
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
        yield f"{called} points at '{shown(ref.name)}', which the test's resource does not depend on"


def _check_weights(test: Assessment) -> Iterator[str]:
    """One candidate's total must not depend on which item of a section was drawn."""
    first: dict[str, tuple[tuple[str, str], ...]] = {}
    for ref in test.refs:
        if ref.drawn_from and first.setdefault(ref.drawn_from, ref.weights) != ref.weights:
            yield f"item reference '{shown(ref.identifier)}' weighs unlike others of '{shown(ref.drawn_from)}'"


def _check_outcomes(test: Assessment) -> Iterator[str]:
    refs = dict.fromkeys(each.identifier for each in test.refs)
    sections = {each.identifier for each in test.sections}
    for line, element, name, section in test.mentions:
        known = name in test.outcomes or (element == "qti-variable" and name.partition(".")[0] in refs)
        if element in ("qti-variable", "qti-set-outcome-value") and not known:
            yield f"line {line}: {element} names '{shown(name)}', which is no outcome of the test"
        if section and section not in sections:
            yield f"line {line}: {element} names the section '{shown(section)}', which is not there"
