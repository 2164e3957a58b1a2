"""Whether an item says what it was written from, word by word, and in the form that was agreed on.

That is all that a candidate reads before answering, no word less, and none more; in a template also its solution and
its key. A template item sets formulas with numbers as plain text, so that a formula may stand there in either way.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from itertools import takewhile
from typing import TypeAlias

from ....bank.item import formula
from ....bank.item.item import (
    ChoiceEntry,
    Entry,
    Item,
    MatchEntry,
    Math,
    NumberEntry,
    OrderEntry,
    Paragraph,
    Words,
    spoken,
)
from ...packages.delivery import Delivery
from ...packages.instructions import how_exact
from ...strangers.documents import Element
from ...strangers.parsing import shown
from ..dialect import MATHML
from ..reading.item_file import FEEDBACK, NOT_STEM, ItemFile
from .leaks import numbers_in
from .wording import BOX, expected_words, plain_words, said_by

_NUMBER = re.compile(r"([-−]?[0-9]+(?:\.[0-9]+)?)(?:[eE]([-+]?[0-9]{1,3})|\s?×\s?10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]{1,4}))?")
_RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹−", "-0123456789-")
Ways: TypeAlias = Sequence[str]  # of saying one thing: with MathML, on a line of HTML, as plain text
BEFORE = 20  # letters that a finding quotes before the first that differs
MATHML_NAMESPACE = MATHML.strip("{}").encode()


def check_stem(item: ItemFile, expected: Item) -> Iterator[str]:
    """What the stem should say and does not."""
    body = item.root.child("qti-item-body")
    yield from _check("the stem", said_by(body, NOT_STEM) if body else "", expected.stem)


def check_print(item: ItemFile, expected: Item, *, practice: bool) -> Iterator[str]:
    """What is printed, beside the stem, otherwise than in the item that this one was written from."""
    body = item.root.child("qti-item-body")
    if body is None:
        yield "has no body"
        return
    if practice:
        steps = [paragraph for step in expected.solution for paragraph in step.paragraphs]
        solution = "".join(said_by(each) for each in _solutions(body))
        yield from _check("the worked solution", solution, steps)
        yield from check_key(item, expected)


def _solutions(body: Element) -> Iterator[Element]:
    return (each for each in body.children if each.name in FEEDBACK and _is_solution(each))


def _is_solution(block: Element) -> bool:
    return "SOLUTION" in f"{block.get('outcome-identifier')} {block.get('identifier')}".upper()


def _check(what: str, said: str, paragraphs: Sequence[Paragraph]) -> Iterator[str]:
    """Each paragraph in turn, after the one before."""
    for paragraph in paragraphs:
        places = [(said.find(words), words) for words in ways(paragraph)]
        place, words = next((each for each in places if each[0] >= 0), places[0])
        if place < 0:
            yield f"{what} does not say '{shown(words)}' where it should"
        else:
            said = said[place + len(words) :]


def ways(paragraph: Paragraph) -> tuple[str, ...]:
    """What a paragraph says: with formulas as MathML, on a line of HTML, or as the plain text of a template."""
    plain = tuple(Words(formula.text(part.node)) if isinstance(part, Math) else part for part in spoken(paragraph))
    return *expected_words(paragraph), *expected_words(plain)


def check_key(item: ItemFile, expected: Item) -> Iterator[str]:
    """The key and how near an answer must come: in one line for those who mark, and in no hint."""
    key = expected.entry.key
    yield from check_rubrics([each.string() for each in rubric_lines(item)], expected.entry)
    counts = {str(number) for number in range(len(expected.hints) + 1)}
    given = {
        number for paragraph in expected.hints for words in expected_words(paragraph) for number in numbers_in(words)
    }
    for block in item.all("qti-feedback-block"):
        if not _is_solution(block) and f"{abs(key):f}" in numbers_in(block.string()) - given - counts:
            yield f"a hint tells the key {key}"


def check_rubrics(lines: Sequence[str], entry: NumberEntry) -> Iterator[str]:
    """Where no line of the rubrics tells the key, with all its figures, and how near an answer must come."""
    telling = [line for line in lines if {entry.key, entry.half_width} <= set(numbers_of(line))]
    if lines and not telling:
        yield f"those who mark are not told {entry.key}, and {entry.half_width} around it"
    elif telling and not any(has_figures(line, entry.key, entry.figures) for line in telling):
        yield f"those who mark are told {entry.key} with other than its {entry.figures} figures"


def numbers_of(line: str) -> Iterator[Decimal]:
    """The numbers of a line, with a power of ten typed or printed."""
    return (_value(*found) for found in _NUMBER.findall(line))


def has_figures(line: str, key: Decimal, figures: int) -> bool:
    """Whether the key stands in the line with all its figures; of the zeros at the end of 2500 any may count."""
    written = (digits for digits, typed, raised in _NUMBER.findall(line) if _value(digits, typed, raised) == key)
    return any(len(each.strip("-−").lstrip("0.").replace(".", "")) >= figures or not key for each in written)


def _value(digits: str, typed: str, raised: str) -> Decimal:
    return Decimal(digits.translate(_RAISED)).scaleb(int(typed or raised.translate(_RAISED) or 0))


def rubric_lines(item: ItemFile) -> Iterator[Element]:
    """The lines of all rubrics."""
    return (each for rubric in item.all("qti-rubric-block") for each in rubric.walk() if each.name == "p")


def check_reading(item: ItemFile, expected: Item) -> Iterator[str]:
    """Where the page says something else than it should, or more."""
    body = item.root.child("qti-item-body")
    yield from follow(said_by(body, NOT_STEM) if body else "", _page(expected))


def follow(said: str, pieces: Iterable[Ways], what: str = "the page") -> Iterator[str]:
    """Where a page that says ``said`` does not say these pieces one after the other, and then ends."""
    for wanted in pieces:
        found = max((each for each in wanted if said.startswith(each)), key=len, default=None)
        if found is None:
            start = max(len(_shared(said, wanted[0])) - BEFORE, 0)  # so that the difference is seen
            yield f"{what} says '{shown(said[start:])}' where '{shown(wanted[0][start:])}' should stand"
            return
        said = said[len(found) :]
    if said:
        yield f"{what} says '{shown(said)}' where it should end"


def _shared(one: str, other: str) -> str:
    """How two texts begin, as far as they are alike."""
    return "".join(a for a, _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))


def _page(item: Item) -> Iterator[Ways]:
    """What follows what."""
    yield from map(ways, item.stem)
    yield from page_after_stem(item)


def page_after_stem(item: Item) -> Iterator[Ways]:
    """What follows the stem on the page, one thing after the other."""
    if item.figure:
        yield expected_words(item.figure)
    for number, entry in enumerate(item.entries, 1):
        if len(item.entries) > 1:
            yield (plain_words(f"Part {number}"),)
        yield from _part(entry)


def _part(entry: Entry) -> Iterator[Ways]:
    match entry:
        case NumberEntry(symbol=symbol, unit=unit):
            yield (plain_words(how_exact(entry)),)
            yield ways((Math(symbol),))
            yield (plain_words(f"={BOX}{unit}"),)
        case ChoiceEntry(prompt=prompt, options=options):
            yield from map(expected_words, (prompt, *(each.content for each in options)))
        case OrderEntry(prompt=prompt, options=contents):
            yield from map(expected_words, (prompt, *contents))
        case MatchEntry(prompt=prompt, rows=rows, columns=columns):
            yield from map(expected_words, (prompt, *rows, *columns))


def check_form(item: ItemFile, expected: Item | None, delivery: Delivery) -> Iterator[str]:
    """Formulas that are MathML though plain HTML was agreed on, or the other way round; drawings of another kind."""
    written = MATHML_NAMESPACE in item.data
    if delivery.mathematics == "html" and written:
        yield "formulas are MathML, plain HTML expected"
    if delivery.mathematics == "mathml" and not written and expected and _asks_with_formulas(expected):
        yield "no formula is MathML, which is expected"
    if item.data.count(b"<math") > item.data.count(b" alttext="):  # which takes a tenth of the time of a walk
        for silent in item.root.lacking("math", "alttext"):
            yield f"line {silent.line}: a formula has no reading in words"
    for link in item.links():
        if link.is_image and not link.href.endswith(f".{delivery.figures}"):
            yield f"the drawing '{shown(link.href)}' is no {delivery.figures.upper()}, which is expected"


def _asks_with_formulas(item: Item) -> bool:
    """Whether a formula stands where a candidate reads it before answering."""
    paragraphs = list(item.stem)
    for entry in item.entries:
        if isinstance(entry, NumberEntry):
            return True
        paragraphs.append(entry.prompt)
        if isinstance(entry, ChoiceEntry):
            paragraphs.extend(each.content for each in entry.options if isinstance(each.content, tuple))
    return any(isinstance(part, Math) for paragraph in paragraphs for part in paragraph)
