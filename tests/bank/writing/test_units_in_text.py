"""In sentences a unit without an SI symbol is written out: 53.0 revolutions per minute, not 53.0 r/min."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from turnwright.bank.item.item import ChoiceEntry, Given, Item, NumberEntry, OrderEntry, Paragraph, Words
from turnwright.bank.quantities.units import unit
from turnwright.bank.questions.items import Generator
from turnwright.bank.variants.variant import VariantPool
from turnwright.bank.writing.stem import answer_instruction

from tests.bank import models

SYMBOL = re.compile(r"(?:[0-9][ \u00a0]|\bin )(?:r/min|r/s|min|h|d|r)(?![A-Za-z/²])")


def numbers() -> Iterator[Item]:
    """One number item of each question in each of its scenes."""
    for name in models.shipped_ids():
        solved = models.shipped(name)
        maker, seen = Generator(solved), set[str]()
        for variant in VariantPool(solved, models.GRAVITY).draw_up_to(2 * len(solved.problem.scenes), 1):
            if variant.scene.name not in seen:
                seen.add(variant.scene.name)
                yield maker.item(variant, 1)


def told(item: Item) -> Iterator[str]:
    """What a candidate reads in sentences: stem, prompts, options, and how to answer."""
    yield from map(plain, item.stem)
    for entry in item.entries:
        if isinstance(entry, NumberEntry):
            yield answer_instruction(entry.unit, entry.figures)
            continue
        yield plain(entry.prompt)
        if isinstance(entry, OrderEntry):
            yield from map(plain, entry.options)
        if isinstance(entry, ChoiceEntry):
            yield from (plain(each.content) for each in entry.options if isinstance(each.content, tuple))


def plain(paragraph: Paragraph) -> str:
    return "".join(each.text for each in paragraph if isinstance(each, Words | Given))


def with_symbols(items: Iterator[Item]) -> list[str]:
    return [text for item in items for text in told(item) if SYMBOL.search(text)]


def test_no_stem_and_no_answer_instruction_has_a_unit_without_an_si_symbol() -> None:
    made = list(numbers())
    assert not with_symbols(iter(made))
    assert sum("revolutions per minute" in text for item in made for text in told(item)) > 50
    (planted,) = with_symbols(
        iter([replace(made[0], stem=((Words("It rotates at "), Given("omega", "53.0", "r/min")),))])
    )
    assert planted == "It rotates at 53.0\u00a0r/min"
    assert SYMBOL.search(answer_instruction(unit("h").printed, 3))


def test_no_option_has_a_unit_without_an_si_symbol() -> None:
    drawn = [item for _, item in (*models.drawn("choice", 1, 2), *models.drawn("rank"))]
    assert len(drawn) > 300
    assert not with_symbols(iter(drawn))


@pytest.mark.parametrize(
    ("symbol", "words"),
    [("r/min", "revolutions per minute"), ("d", "days"), ("h", "hours"), ("min", "minutes"), ("km/h", "km/h")],
)
def test_si_symbols_stay_and_others_are_written_out(symbol: str, words: str) -> None:
    assert unit(symbol).in_text == words
