"""Every number that is printed: a power of ten beyond 0.001 to 100 000, and as many zeros as there are figures."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from turnwright.bank.forms.telling import plain
from turnwright.bank.item.item import ChoiceEntry, Entry, Item, NumberEntry
from turnwright.bank.quantities.gravity import GRAVITY
from turnwright.bank.quantities.quantity import print_exact
from turnwright.bank.questions.items import items
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes

from tests.bank import models
from tests.bank.writing import printed

NAMES = models.shipped_ids()[::6]
SMALLEST, LARGEST = printed.decimal("0.001"), printed.decimal("100000")
NUMBER = re.compile(r"(?<![\w.⁻])[0-9]+(?:\.[0-9]+)?(?: × 10[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)?(?![\w.]*\w)")


def hard_to_read(text: str) -> Iterator[str]:
    """The numbers of a text that are beyond what is read easily in plain digits, and have no power of ten."""
    for number in NUMBER.findall(text):
        value = printed.decimal(number)
        if "×" not in number and value and not SMALLEST <= value < LARGEST:
            yield f"{number} in '{text}'"


def texts_of(item: Item) -> Iterator[str]:
    """Stem, key with its tolerance and solution of an item that asks for a number."""
    yield from map(plain, item.stem)
    yield from (plain(each) for step in item.solution for each in step.paragraphs)
    entry = item.entry
    yield f"{print_exact(entry.key, entry.figures)} within {print_exact(entry.half_width)} {entry.unit}"


def lost_zeros(item: Item) -> Iterator[str]:
    """The key where the solution, or the line for those who mark, prints it with fewer figures than it has."""
    entry = item.entry
    told = print_exact(entry.key, entry.figures)
    shown = [each for each in _numbers(item) if printed.decimal(each) == abs(entry.key)]
    yield from (each for each in (told.lstrip("−"), *shown[-1:]) if printed.figures(each) < entry.figures)


def _numbers(item: Item) -> list[str]:
    return [each for step in item.solution for line in step.paragraphs for each in NUMBER.findall(plain(line))]


@pytest.fixture(scope="module")
def sample() -> list[Item]:
    return [item for name in NAMES for item in items(models.shipped(name), GRAVITY, 1, seed=4)]


def test_no_number_is_hard_to_read(sample: list[Item]) -> None:
    assert not [each for item in sample for text in texts_of(item) for each in hard_to_read(text)]


@pytest.mark.parametrize("name", NAMES[::5])
def test_no_option_and_no_feedback_is_hard_to_read(name: str) -> None:
    """Of items to choose from, and of the wrong numbers that are recognised."""
    base = QuestionModels(models.shipped(name), shipped_mistakes())
    found = [item for asked in base.asked(("number", "choice")) for item in asked.draw(1, GRAVITY, 1)]
    texts = [text for item in found for entry in item.entries for text in _told(entry)]
    assert texts
    assert not [each for text in texts for each in hard_to_read(text)]


def _told(entry: Entry) -> Iterator[str]:
    if isinstance(entry, NumberEntry):
        yield from (each.feedback for each in entry.recognised)
    elif isinstance(entry, ChoiceEntry):
        yield from (text for each in entry.options for text in (plain(each.content), each.feedback))


def test_keys_are_printed_with_all_their_figures(sample: list[Item]) -> None:
    assert not [each for item in sample for each in lost_zeros(item)]


@pytest.mark.parametrize("text", ["about 0.000159 m", "a mass of 5970000 kg", "0.00012"])
def test_a_number_without_its_power_is_seen(text: str) -> None:
    assert list(hard_to_read(text))


@pytest.mark.parametrize("text", ["1.59 × 10⁻⁴ m", "5.97 × 10²⁴ kg", "0.00100 m", "99900 N", "m_1 = 2.50 kg"])
def test_numbers_that_read_well_pass(text: str) -> None:
    assert not list(hard_to_read(text))


def test_a_lost_zero_is_seen(sample: list[Item], monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the line for those who mark prints the bare decimal."""
    monkeypatch.setattr(f"{__name__}.print_exact", lambda value, figures=1: f"{value.normalize():f}")
    ending = [item for item in sample if printed.figures(f"{item.entry.key.normalize():f}") < item.entry.figures]
    assert ending and all(list(lost_zeros(item)) for item in ending)
