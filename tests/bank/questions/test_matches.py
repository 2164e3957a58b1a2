"""Matches can't be solved by words: read as a candidate reads them who knows that words repeat, and no physics."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from itertools import permutations

import pytest
from turnwright.bank.item.item import MatchEntry, Paragraph, Words
from turnwright.bank.questions.matching import composing
from turnwright.bank.questions.matching.situations import Groups, ToldStory, alike

from tests.bank import models

SEEDS = (1, 2, 3)
CHANCE = 3 / 4  # rows of three that a guess among four columns finds
MARGIN = 0.15  # rows
PLACE = re.compile(r"Consider .* ((?:at|on) the \w+ (?:half )?of the (?:circle|centre of the circle))\.$")


def told(side: tuple[Paragraph, ...]) -> list[str]:
    return ["".join(part.text for part in each if isinstance(part, Words)) for each in side]


def place(story: str) -> str:
    """The place on the circle that a story ends with."""
    found = PLACE.search(story)
    return found[1] if found else ""


def words(story: str) -> frozenset[str]:
    """Its words without their endings."""
    return frozenset(re.sub(r"(?<=\w{3})(ing|ed|es|s|e)$", "", each) for each in re.findall(r"[a-z]+", story.lower()))


@cache
def entries() -> tuple[MatchEntry, ...]:
    """The entries of all match items of some seeds."""
    items = (item for seed in SEEDS for _, item in models.drawn("match", seed))
    return tuple(each for item in items for each in item.entries if isinstance(each, MatchEntry))


@cache
def groups() -> Groups:
    return alike(tuple(models.shipped_problems().values()))


def composed() -> Iterator[MatchEntry]:
    """What is composed now: one for each situation that has one."""
    for each in (one for group in groups() for one in group):
        found = composing.match(each, each.problem.scenes[0], groups(), "planted")
        if found:
            yield found.entry


def told_by_places(entry: MatchEntry) -> Iterator[str]:
    """The rows whose partner the words for places single out."""
    columns = [place(each) for each in told(entry.columns)]
    for row, partner in zip(told(entry.rows), entry.partners, strict=True):
        here = [at for at, each in enumerate(columns) if each == place(row)]
        if not here or here == [partner]:
            yield row


def told_by_words(entry: MatchEntry) -> Iterator[str]:
    """The words that a row shares with its partner alone."""
    columns = [words(each) for each in told(entry.columns)]
    for row, partner in zip(told(entry.rows), entry.partners, strict=True):
        others = (each for at, each in enumerate(columns) if at != partner)
        yield from (words(row) & columns[partner]).difference(*others)


def found(entry: MatchEntry, by_place: float, by_words: float) -> float:
    """The rows that are found by who takes the four columns in the likest way of all, and guesses at ties."""
    rows, columns = told(entry.rows), told(entry.columns)
    among = Counter(word for each in columns for word in words(each))

    def likeness(row: str, column: str) -> float:
        shared = sum(1 / among[each] for each in words(row) & words(column) if among[each] < 4)
        return by_place * (place(row) == place(column)) + by_words * shared

    table = [[likeness(row, column) for column in columns] for row in rows]
    ways = list(permutations(range(4), 3))
    sums = [round(sum(table[row][column] for row, column in enumerate(way)), 6) for way in ways]
    best = [way for way, each in zip(ways, sums, strict=True) if each == max(sums)]
    return sum(one == other for way in best for one, other in zip(way, entry.partners, strict=True)) / len(best)


def test_places_and_words_in_common_single_out_no_partner() -> None:
    assert len(entries()) >= 50 * len(SEEDS)
    assert {place(each) for entry in entries() for each in told(entry.rows)} >= {"", "at the top of the circle"}
    for each in entries():
        assert not list(told_by_places(each)), each
        assert not list(told_by_words(each)), each


def test_no_match_is_solved_from_first_to_last() -> None:
    assert not [each for each in entries() if each.partners == tuple(range(len(each.rows)))]


def test_a_match_from_first_to_last_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the columns stand as the rows do, and what is left over comes last."""

    def in_order(columns: list[ToldStory], partners: list[ToldStory]) -> list[ToldStory]:
        return [*partners, *(each for each in columns if each not in partners)]

    monkeypatch.setattr(composing, "_out_of_order", in_order)
    (model, *_) = models.asked("match")
    made = [entry for seed in (21, 22, 23) for item in model.draw(9, models.GRAVITY, seed) for entry in item.entries]
    assert any(each.partners == (0, 1, 2) for each in made if isinstance(each, MatchEntry))


@pytest.mark.parametrize(("rule", "reader"), [("told_by_places", told_by_places), ("singled_out", told_by_words)])
def test_a_composition_without_a_rule_is_noticed(
    rule: str, reader: Callable[[MatchEntry], Iterator[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(composing, rule, lambda rows, columns: 0)
    if rule == "singled_out":
        monkeypatch.setattr(composing, "singling", lambda seats, seat: lambda story: 0)
    monkeypatch.setattr(composing, "_is_known_by_words", lambda group, groups: False)
    monkeypatch.setattr(composing, "MOST_FOUND", 3)
    assert sum(any(reader(each)) for each in composed()) >= 5


@pytest.mark.parametrize(("by_place", "by_words"), [(1, 0), (0, 1), (100, 1)])
def test_who_goes_by_words_finds_no_more_than_who_guesses(by_place: float, by_words: float) -> None:
    """By places, by rare words, by places and then rare words; also who takes what is least alike."""
    right = [found(each, by_place, by_words) for each in entries()]
    assert sum(right) / len(right) <= CHANCE + MARGIN
    contrary = [found(each, -by_place, -by_words) for each in entries()]
    assert sum(contrary) / len(contrary) <= CHANCE + MARGIN


def test_matches_that_who_goes_by_words_would_solve_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: of the compositions found, the one in which places and words find most."""
    monkeypatch.setattr(composing, "told_by_places", lambda rows, columns: 0)
    monkeypatch.setattr(composing, "MOST_FOUND", 3)
    monkeypatch.setattr(composing, "_cost", lambda seats: -composing.guesses(seats[:3], seats[3:])[-1])
    right = [found(each, 100, 1) for each in composed()]
    assert sum(right) / len(right) > CHANCE + MARGIN


def test_where_each_composition_is_told_by_words_there_is_no_match(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: each story has a word that only those of its structure have."""
    kinds = {
        (each.problem.id, each.diagram.name): frozenset({"word", f"kind{at}"})
        for at, group in enumerate(groups())
        for each in group
    }
    assert list(composed())
    monkeypatch.setattr(
        ToldStory, "marks", property(lambda told: kinds[told.situation.problem.id, told.situation.diagram.name])
    )
    assert not list(composed())
