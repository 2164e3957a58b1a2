"""From which to which number an answer is right, as markers read it in the file, against what the question accepts."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest
from turnwright.bank.item.item import Item
from turnwright.bank.questions.items import items
from turnwright.bank.variants.variant import VariantPool
from turnwright.exporters.paper import guide, keys
from turnwright.exporters.paper.keys import wrong_answers

from tests.bank import models
from tests.exporters import samples
from tests.exporters.paper.reading import made, pack_of, poppler_text

_ROW = re.compile(r"= *(?P<key>−?[0-9.]+).*? {2,}(?P<low>−?[0-9.]+) to (?P<high>−?[0-9.]+) {2,}[0-9]+$", re.MULTILINE)


def with_key(key: str, half_width: str) -> Item:
    item = samples.pull()
    return replace(item, entries=(replace(item.entry, key=Decimal(key), half_width=Decimal(half_width)),))


def shipped(name: str) -> Item:
    return next(iter(items(models.shipped(name), models.GRAVITY, 1, 1)))


def ranges(*asked: Item) -> Iterator[tuple[Decimal, Decimal, Decimal]]:
    """Key, least and greatest right number of each row of the key, as they are printed."""
    text = poppler_text(made(pack_of(*asked)).marking, "-layout")
    for row in _ROW.finditer(text):
        key, low, high = (Decimal(row[each].replace("−", "-")) for each in ("key", "low", "high"))
        yield key, low, high


def faults(*asked: Item) -> list[str]:
    """Where the printed range is not the one that the question accepts: both ends are right, a hair beyond is wrong."""
    found = list(ranges(*asked))
    told = [] if len(found) == len(asked) else [f"{len(found)} rows for {len(asked)} questions"]
    for item, (key, low, high) in zip(asked, found, strict=False):
        hair = Decimal(1).scaleb(-9)
        rows = ((low - hair, False), (low, True), (key, True), (high, True), (high + hair, False))
        told += [f"{key}: {answer}" for answer, right in rows if item.entry.accepts(answer) is not right]
    return told


def test_the_ranges_are_these() -> None:
    """Worked out on paper: 2.97 ± 0.025, 0.60 ± 0.0305, -3.20 ± 0.065, 1250 ± 25.5."""
    asked = (("2.97", "0.025"), ("0.60", "0.0305"), ("-3.20", "0.065"), ("1250", "25.5"))
    assert [tuple(map(str, each[1:])) for each in ranges(*(with_key(*each) for each in asked))] == [
        ("2.945", "2.995"),
        ("0.5695", "0.6305"),
        ("-3.265", "-3.135"),
        ("1224.5", "1275.5"),
    ]


def test_the_printed_range_is_the_one_that_the_question_accepts() -> None:
    asked = [shipped(name) for name in models.shipped_ids()[::16]]
    assert faults(*asked) == []
    for item, (key, low, high) in zip(asked, ranges(*asked), strict=True):
        if item.entry.unit != "°":  # two percent; at most a twentieth of that more, and what rounding to figures moves
            least = abs(key) / 50
            assert least <= (high - low) / 2 <= least * Decimal("1.06") + Decimal(1).scaleb(key.as_tuple().exponent)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "wrong",
    [
        lambda entry: f"{entry.key - 2 * entry.half_width} to {entry.key + entry.half_width}",
        lambda entry: f"{entry.key} to {entry.key + entry.half_width}",
        lambda entry: f"{entry.key - entry.half_width / 2} to {entry.key + entry.half_width / 2}",
        lambda entry: f"{entry.key - entry.half_width} to {entry.key + entry.half_width * Decimal('1.1')}",
        lambda entry: "",
    ],
)
def test_another_range_in_the_key_is_noticed(wrong, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setattr(guide, "accepted", wrong)
    assert faults(samples.least_speed(), samples.pull())


# --- what a marker is told of wrong answers ------------------------------------------------------


def with_known_numbers() -> Item:
    """A shipped item with the wrong numbers that its first variant is known by."""
    diagnosed, item = models.diagnosed("smooth-bank.speed"), shipped("smooth-bank.speed")
    drawn = VariantPool(diagnosed.solved, models.GRAVITY).draw_up_to(1, 1)
    (known,) = map(diagnosed.recognised, drawn, diagnosed.columns(drawn))
    return replace(item, entries=(replace(item.entry, recognised=known),))


def to_the_candidate(*asked: Item) -> list[str]:
    """What is told of wrong answers before the advice, and outside the quoted thoughts, in words to the candidate."""
    told = [each.thinking for item in asked for entry in item.entries for each in wrong_answers(entry)]
    assert len(told) > 3
    opening = [re.sub("“.*?”", "", each.partition("Advice for the candidate:")[0]) for each in told]
    return [each for each in opening if re.search(r"\b(you|your|option contains)\b", each, re.IGNORECASE)]


def test_the_guide_speaks_to_the_marker_and_quotes_every_thought() -> None:
    item = with_known_numbers()
    assert to_the_candidate(item) == []
    known = {each.thinking for each in wrong_answers(item.entry)}
    assert len(known) == len(item.entry.recognised)
    for each in item.entry.recognised:
        assert each.cause is not None
        assert any(all(f"“{thought.text}”" in told for thought in each.cause.thoughts) for told in known)
    several = next(each for each in item.entry.recognised if len(each.mistakes) > 1)
    assert several.cause is not None
    assert len(several.cause.thoughts) == len(several.mistakes)


def test_a_guide_that_repeats_the_feedback_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keys, "_told", lambda feedback, why: feedback)
    assert to_the_candidate(with_known_numbers())
