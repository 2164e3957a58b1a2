"""Items without numbers end with their answer said: the last step of each names its key, over the whole bank."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.item import ChoiceEntry, Item, MatchEntry, Math, OrderEntry
from turnwright.bank.questions.kinds import KINDS, Kind
from turnwright.bank.writing import bearings, match_words
from turnwright.bank.writing.solution import EITHER_WAY

from tests.bank import models
from tests.bank.drawing.told import told_forces
from tests.bank.writing.test_solutions import text

SEED = 1
WITHOUT_NUMBERS: tuple[Kind, ...] = tuple(
    each for each in KINDS if each not in ("number", "choice", "data", "stepwise")
)
LEAST = {"direction": 500, "rank": 200, "match": 50}


@cache
def drawn(kind: Kind) -> list[Item]:
    """The items of a kind in all scenes."""
    return [item for _, item in models.drawn(kind, SEED)]


def unsaid(item: Item) -> Iterator[str]:
    """What the key holds and the last step does not say."""
    (entry,) = item.entries
    last = text(item.solution[-1].paragraphs)
    for told in keys(item, entry):
        if told not in last:
            yield f"{item.question_id} {item.metadata.scene}: {told!r} is not said in {last!r}"


def keys(item: Item, entry: object) -> Iterator[str]:
    """The texts that say the key of an entry."""
    if isinstance(entry, OrderEntry):
        yield "; then ".join(text([entry.options[place]]) for place in entry.ranking)
    elif isinstance(entry, MatchEntry):
        yield from (f"{one} and {other} match." for one, other in partners(item))
    elif isinstance(entry, ChoiceEntry):
        for each in entry.options:
            if each.right and not isinstance(each.content, Drawing):
                yield _said(text([each.content]))
            elif each.right and isinstance(each.content, Drawing) and item.metadata.kind == "graph":
                yield each.content.alternative.partition(". The line ")[2]
            elif each.right and isinstance(each.content, Drawing):
                yield from arrows(item)


def _said(option: str) -> str:
    """An option as it stands inside a sentence."""
    return "no direction, because it is zero" if option == bearings.NOWHERE else option.removeprefix("It ").strip(".")


def arrows(item: Item) -> Iterator[str]:
    """Each force of a diagram with its direction, from the step before the last one."""
    acting = next(each for each in item.solution if each.stage == "free body")
    for force, direction in re.findall(r"the ([a-z ]+ \{[^}]+\}) exerted by [^(]+(\([^)]+\))", text(acting.paragraphs)):
        yield f"the {force} {direction}" if EITHER_WAY not in direction else f"the {force} ({_drawn(item, force)})"


def _drawn(item: Item, force: str) -> str:
    """Which way a force that may act either way points in the right diagram, from the text beside the picture."""
    (entry,) = item.entries
    assert isinstance(entry, ChoiceEntry)
    (key,) = (each.content for each in entry.options if each.right)
    assert isinstance(key, Drawing)
    name = force.partition(" {")[0]
    (way,) = {way for told, _, way in told_forces(key) if told == name.removeprefix("the ")}
    return way


GAINS = {"downwards along the path": True, "upwards along the path": False, "upwards": False, "downwards": True}


def test_the_speed_changes_as_gravity_has_it() -> None:
    """Only the weight acts along these paths, so what moves down gains speed and what moves up loses it."""
    seen = set()
    for item in drawn("direction"):
        said = re.search(r"[Tt]he speed is (increasing|decreasing)", text(item.solution[-1].paragraphs))
        if said is None or item.question_id.endswith("-changing-speed"):  # which says how it changes
            continue
        moving = re.search(r"is moving ([a-z ]+?)[,.]", text([item.entries[0].prompt]))  # type: ignore[union-attr]
        way = moving and next((each for each in GAINS if moving[1].startswith(each)), None)
        assert way, text([item.entries[0].prompt])  # type: ignore[union-attr]
        assert GAINS[way] == (said[1] == "increasing"), item.question_id
        seen.add(GAINS[way])
    assert seen == {True, False}


def partners(item: Item) -> Iterator[tuple[str, str]]:
    """The bodies and places of each pair, in the words of the last step, checked against the key by their stories."""
    (entry,) = item.entries
    assert isinstance(entry, MatchEntry)
    told = [re.match(r"(.+?) match\. ", text([each])) for each in item.solution[-1].paragraphs[1:-1]]
    assert len(told) == len(entry.rows)
    for pair, row, column in zip(told, entry.rows, entry.partners, strict=True):
        assert pair, item.question_id
        one, other = _split(pair[1], text([row]), text([entry.columns[column]]))
        yield one, other


def _split(pair: str, row: str, column: str) -> tuple[str, str]:
    """The two halves of "A and B": the body of each half stands in the story of its side."""
    for found in re.finditer(" and ", pair):
        halves = pair[: found.start()], pair[found.end() :]
        if all(_body(half) in story for half, story in zip(halves, (row, column), strict=True)):
            return halves
    raise AssertionError(f"{pair!r} is no pair of {row!r} and {column!r}")


def _body(half: str) -> str:
    """The words of the body, at the start: what stands before its place."""
    places = "at|in|on|moving"
    return re.split(rf" (?={places}\b)", half.removeprefix("The ").removeprefix("the "))[0]


@pytest.mark.parametrize("kind", WITHOUT_NUMBERS)
def test_the_last_step_names_the_key(kind: Kind) -> None:
    items = drawn(kind)
    assert len(items) >= LEAST.get(kind, 40)
    assert [told for item in items for told in unsaid(item)] == []


@pytest.mark.parametrize("kind", WITHOUT_NUMBERS)
def test_a_solution_that_stops_at_the_equation_is_noticed(kind: Kind) -> None:
    """Planted: what solutions were before, without their last step; or the last step of another item."""
    some = drawn(kind)[::10]
    if kind == "match":  # whose only step it is
        for place, item in enumerate(some):
            with pytest.raises(AssertionError):
                list(unsaid(replace(item, solution=some[place - 1].solution)))
        return
    if kind in ("equation", "direction"):  # which may stand in a step before as well
        cut = [replace(item, solution=some[place - 1].solution) for place, item in enumerate(some)]
    else:
        cut = [replace(item, solution=item.solution[:-1]) for item in some if len(item.solution) > 1]
    noticed = [item for item in cut if list(unsaid(item))]
    # a factor may be named in a step before, and two items may have one equation or one direction
    by_chance = kind in ("direction", "change", "equation")
    assert len(noticed) > 0.5 * len(cut) if by_chance else noticed == cut


def test_the_reason_of_a_direction_that_turns_is_that_of_its_key() -> None:
    """In a quarter of a revolution an arrow turns through 90°, and its name by two eighths of the page."""
    tried = 0
    for item in drawn("direction"):
        told = re.search(
            r"turns through (\d+)° (?:anti)?clockwise: at first it points ([a-z -]+?), "
            r"and (?:after .+? it points|at the end it points) ([a-z -]+?)\.",
            text(item.solution[-1].paragraphs),
        )
        if told:
            names = next(each for each in bearings.WAYS.values() if {told[2], told[3]} <= {*each})
            turned = abs(names.index(told[3]) - names.index(told[2])) * 45
            assert int(told[1]) % 360 in (turned, 360 - turned) or (int(told[1]), turned) == (360, 0), item.question_id
            tried += 1
    assert tried >= 80


def test_a_match_has_one_short_caution_for_all_its_situations() -> None:
    cautions = {item.metadata.caution for item in drawn("match")}
    assert cautions == {match_words.CAUTION} and len(match_words.CAUTION.split()) < 25


def test_every_letter_of_a_match_is_explained() -> None:
    """A letter in an equation of the solution is said to be something: in the first line, or after the equations."""
    unexplained = []
    for item in drawn("match"):
        common, *told = item.solution[-1].paragraphs
        for paragraph in told:
            letters = {symbol for part in paragraph if isinstance(part, Math) for symbol in symbols(part.node)}
            said = text([common, paragraph])
            unexplained += [
                f"{item.question_id}: {formula.text(each)}"
                for each in letters
                if f"{{{formula.text(each)}}} is " not in said
            ]
    assert unexplained == []


def symbols(node: formula.Node) -> Iterator[formula.Symbol]:
    """The symbols of a formula."""
    if isinstance(node, formula.Symbol):
        yield node
    else:
        parts = vars(node).values()
        inner = (each for part in parts for each in (part if isinstance(part, tuple) else (part,)))
        for each in inner:
            if not isinstance(each, str | int | bool):
                yield from symbols(each)


def test_the_reader_of_this_test() -> None:
    assert _said("It increases by a factor of 2.") == "increases by a factor of 2"
    assert _body("The bead at the top of the circle") == "bead"
    assert formula.text(formula.Symbol("F", "N")) == "F_N"
