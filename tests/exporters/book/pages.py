"""Sign-off pages made by hand, and what a reader of their HTML finds."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from lxml import html
from turnwright.bank.errors import Place
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.item import (
    ChoiceEntry,
    Given,
    Item,
    MatchEntry,
    Math,
    NumberEntry,
    Option,
    Paragraph,
    Step,
    Words,
)
from turnwright.bank.model.edit import edit_of
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.writing.demonstration import Card
from turnwright.exporters.book import BookHead, Quality, Sheet, page
from turnwright.exporters.book.sheet import SituationSheet
from turnwright.exporters.markup.elements import Element

from tests.exporters import samples

HEAD = BookHead("The lantern at the fair", "9.8 N/kg", 7, "0.1.0")
SITUATION = SituationSheet(
    "A lantern swung over the top",
    (samples.CAUTION,),
    Card(
        "Swing a soft ball.",
        "Does it stay?",
        (Words("It stays while "), Math(samples.V_TOP), Words(" is great.")),
        "Mind your head.",
    ),
)
QUALITY = Quality("lantern-over-the-top.least-speed", 1204, {"paper-lantern": 3})
MISTAKE = Mistake(
    "root-forgotten", "I stopped at the square.", edit_of("answer", "x**2"), "Take the root.", "A book", (), Place("")
)
HOSTILE = "\"'><script>alert(1)</script><img src=x onerror=alert(2)>&lt;b&gt;]]>-->{{ 7 * 7 }}</style>\u202egnp"
HOSTILE_SEEN = HOSTILE.replace("\u202e", "⟨U+202E⟩")


def sheet(kind: str, count: int = 3, shown: int = 2) -> Sheet:
    """The sheet of one of the samples' kinds."""
    items = tuple(samples.KINDS[kind](variant) for variant in range(1, count + 1))
    facts = replace(samples.LEAST_SPEED, question=f"least-speed/{kind}", kind=kind)
    thoughts = {f"thinking:{MISTAKE.id}": MISTAKE}
    return Sheet(facts, SITUATION, items, shown, f"{count}", QUALITY, thoughts)


def sheets() -> list[Sheet]:
    """A sheet for each kind."""
    return [sheet(kind) for kind in samples.KINDS]


def hostile() -> Sheet:
    """A sheet with words that try to be more, in every place that a bank fills."""
    words: Paragraph = (Words(HOSTILE), Given("r", HOSTILE, "m"), Math(formula.Symbol(HOSTILE)))
    drawing = replace(samples.figure(), title=HOSTILE, alternative=HOSTILE)
    facts = replace(
        samples.LEAST_SPEED, title=HOSTILE, family=HOSTILE, level=HOSTILE, scene=HOSTILE, licence=HOSTILE,
        caution=HOSTILE, objectives=("one", HOSTILE), kind=HOSTILE,
    )  # fmt: skip
    options = (Option(words, True, HOSTILE), Option(drawing, False, HOSTILE, (HOSTILE,)))
    entries = (ChoiceEntry(words, options), replace(samples.number(), unit=HOSTILE))
    item = Item(1, (words,), drawing, entries, (Step(1, HOSTILE, (words,)),), facts, (words,))
    quality = Quality(HOSTILE, 1, {HOSTILE: 1}, (HOSTILE,), (HOSTILE,), (HOSTILE,), {HOSTILE: 2})
    mistake = replace(MISTAKE, id=HOSTILE, thinking=HOSTILE, source=HOSTILE)
    situation = SituationSheet(HOSTILE, (HOSTILE,), Card(HOSTILE, HOSTILE, words, HOSTILE))
    return Sheet(facts, situation, (item,), 1, HOSTILE, quality, {f"thinking:{HOSTILE}": mistake})


def parsed(content: bytes) -> Element:
    """The page as a tree."""
    return html.document_fromstring(content.decode())


def made(*wanted: Sheet) -> Element:
    """The tree of a page of these sheets."""
    return parsed(page(HEAD, wanted))


def article(root: Element, id_: str) -> Element:
    """The article of a question."""
    (found,) = root.xpath("//article[@id=$id]", id=id_)
    return found


def text_of(element: Element) -> str:
    """All text of an element, white space taken together."""
    return tidy("".join(element.itertext()))


def tidy(text: str) -> str:
    """The text with single blanks."""
    return re.sub(r"\s+", " ", text).strip()


def told_in(item: Item) -> Iterator[str]:
    """Every piece of words that an item told in full must bring to the page."""
    for paragraph in item.stem:
        yield from _words(paragraph)
    if item.figure:
        yield item.figure.description
    for entry in item.entries:
        if isinstance(entry, NumberEntry):
            yield f"{entry.key}"
            for known in entry.recognised:
                yield from (known.feedback, *known.mistakes)
            continue
        yield from _words(entry.prompt)
        if isinstance(entry, MatchEntry):
            for line in (*entry.rows, *entry.columns):
                yield from _words(line)
            continue
        for option in entry.options:
            if isinstance(option, Option):
                yield from (option.feedback, *option.mistakes)
            content = option.content if isinstance(option, Option) else option
            yield from (content.alternative,) if isinstance(content, Drawing) else _words(content)


def solved_in(item: Item) -> Iterator[str]:
    """The words of the hints and the worked solution."""
    for step in item.solution:
        yield f"{step.number}. {step.heading}"
        for paragraph in step.paragraphs:
            yield from _words(paragraph)
    for hint in item.hints:
        yield from _words(hint)


def formulas_in(item: Item) -> Iterator[str]:
    """The formulas of the stem and the solution, as text."""
    for paragraph in (*item.stem, *(each for step in item.solution for each in step.paragraphs)):
        yield from (formula.spoken(part.node) for part in paragraph if isinstance(part, Math))


def _words(paragraph: Paragraph) -> Iterator[str]:
    return (tidy(part.text) for part in paragraph if not isinstance(part, Math))
