"""Whether an item says what it was written from, word by word: its stem; in a template also its solution and its key.

A template item sets formulas with numbers as plain text, so that a formula may stand there in either way.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal

from turnwright.bank import formula
from turnwright.bank.item import Item, Math, Paragraph, Words
from turnwright.exporters.proof.documents import Element
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import FEEDBACK, NOT_STEM, ItemFile
from turnwright.exporters.proof.leaks import numbers_in
from turnwright.exporters.proof.wording import expected_words, said_by

_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]{1,3})?")


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
        yield from _check_key(item, expected)


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
    plain = tuple(Words(formula.text(part.node)) if isinstance(part, Math) else part for part in paragraph)
    return *expected_words(paragraph), *expected_words(plain)


def _check_key(item: ItemFile, expected: Item) -> Iterator[str]:
    """The key and how near an answer must come: in one line for those who mark, and in no hint."""
    key, width = expected.entry.key, expected.entry.half_width
    lines = [each.string() for rubric in item.all("qti-rubric-block") for each in _lines(rubric)]
    if lines and not any({key, width} <= set(map(Decimal, _NUMBER.findall(line))) for line in lines):
        yield f"those who mark are not told {key}, and {width} around it"
    counts = {str(number) for number in range(len(expected.hints) + 1)}
    given = {
        number for paragraph in expected.hints for words in expected_words(paragraph) for number in numbers_in(words)
    }
    for block in item.all("qti-feedback-block"):
        if not _is_solution(block) and f"{abs(key):f}" in numbers_in(block.string()) - given - counts:
            yield f"a hint tells the key {key}"


def _lines(rubric: Element) -> Iterator[Element]:
    return (each for each in rubric.walk() if each.name == "p")
