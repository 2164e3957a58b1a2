"""Whether an item says what it was written from, word by word: its stem, and in practice its solution and its key.

A template item sets formulas with numbers as plain text, so that a formula may stand there in either way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from turnwright.bank import formula
from turnwright.bank.item import Item, Math, Paragraph, Words
from turnwright.exporters.proof.documents import Element
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import FEEDBACK, NOT_STEM, ItemFile
from turnwright.exporters.proof.wording import expected_words, said_by


def check_print(item: ItemFile, expected: Item, *, practice: bool) -> Iterator[str]:
    """What is printed otherwise than in the item that this one was written from."""
    body = item.root.child("qti-item-body")
    if body is None:
        yield "has no body"
        return
    yield from _check("the stem", said_by(body, NOT_STEM), expected.stem)
    if practice:
        steps = [paragraph for step in expected.solution for paragraph in step.paragraphs]
        solution = "".join(said_by(each) for each in _solutions(body))
        yield from _check("the worked solution", solution, steps)
        yield from _check_key(item, expected)


def _solutions(body: Element) -> Iterator[Element]:
    for each in body.children:
        if each.name in FEEDBACK and "SOLUTION" in f"{each.get('outcome-identifier')} {each.get('identifier')}".upper():
            yield each


def _check(what: str, said: str, paragraphs: Sequence[Paragraph]) -> Iterator[str]:
    """Each paragraph in turn, after the one before."""
    for paragraph in paragraphs:
        places = [(said.find(words), words) for words in _ways(paragraph)]
        place, words = next((each for each in places if each[0] >= 0), places[0])
        if place < 0:
            yield f"{what} does not say '{shown(words)}' where it should"
        else:
            said = said[place + len(words) :]


def _ways(paragraph: Paragraph) -> tuple[str, str]:
    plain = tuple(Words(formula.text(part.node)) if isinstance(part, Math) else part for part in paragraph)
    return expected_words(paragraph), expected_words(plain)


def _check_key(item: ItemFile, expected: Item) -> Iterator[str]:
    """What those who mark are told of the key, where they are told."""
    said = "".join(said_by(each) for each in item.all("qti-rubric-block"))
    for number in (expected.entry.key, expected.entry.half_width):
        if said and f"{number:f}" not in said:
            yield f"those who mark are not told {number:f}"
