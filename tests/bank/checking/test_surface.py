"""No key can be guessed from the looks of its options: the bank, and planted patterns that a classifier must see."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Literal

import pytest
from turnwright.bank.checking.plain_rules import ENOUGH, Held, held
from turnwright.bank.checking.surface import MOST_ABOVE_CHANCE, Sighted, guessing
from turnwright.bank.item.drawing import Drawing, Shape
from turnwright.bank.item.item import ChoiceEntry, Option, Words
from turnwright.bank.questions.kinds import Kind

from tests.bank import models
from tests.bank.models import GRAVITY

SCENES = 9  # more than any problem has
AT_MOST_HALF = 0.25  # above chance among four: whoever knows a rule is left with two of them


@cache
def choices(kind: Kind, step: int, wanted: int) -> list[Sighted]:
    """The choices of one kind from each ``step``-th question of the bank."""
    return [
        Sighted(asked.metadata.problem, entry)
        for asked in models.asked(kind, step)
        for item in asked.draw(wanted, GRAVITY, 1)
        for entry in item.entries
        if isinstance(entry, ChoiceEntry)
    ]


@pytest.mark.parametrize(
    ("kind", "step", "wanted"),
    [
        ("choice", 4, 3),
        ("expression", 1, 1),
        ("direction", 1, SCENES),
        ("forces", 1, SCENES),
        ("diagram", 1, SCENES),
        ("equation", 1, SCENES),
        ("change", 2, 1),
        ("graph", 1, SCENES),
        ("limit", 1, SCENES),
    ],
)
def test_no_key_of_the_bank_is_told_by_its_looks(kind: Kind, step: int, wanted: int) -> None:
    found = choices(kind, step, wanted)
    assert len(found) >= 100
    assert guessing(found).above_chance <= MOST_ABOVE_CHANCE, guessing(found)


# --- the parts of stepwise items ------------------------------------------------------------------

Part = Literal["direction", "diagram", "equation", "limit"]


OF_57 = 0.06  # the standard deviation of the share of keys that chance finds of so many choices, those of limits


def part_of(entry: ChoiceEntry) -> Part:
    asked = " ".join(each.text for each in entry.prompt if isinstance(each, Words))
    if isinstance(entry.options[0].content, Drawing):
        return "diagram"
    if "Which equation" in asked:
        return "equation"
    return "direction" if "What is the direction of the acceleration" in asked else "limit"


@cache
def parts(kind: Part) -> list[Sighted]:
    """The parts of one kind of all stepwise questions, one a scene."""
    return [
        Sighted(asked.problem.id, entry)
        for asked in models.questions()
        if asked.problem.diagrams and asked.steps.exist
        for entries in asked.steps.of_scene.values()
        for entry in entries
        if part_of(entry) == kind
    ]


@pytest.mark.parametrize("kind", ["direction", "diagram", "equation", "limit"])
def test_no_key_of_a_part_is_told_by_its_looks(kind: Part) -> None:
    found = parts(kind)
    assert len(found) >= (50 if kind == "limit" else 400)
    assert guessing(found).above_chance <= MOST_ABOVE_CHANCE + (OF_57 if kind == "limit" else 0.0), guessing(found)


def test_a_diagram_part_whose_key_has_most_arrows_is_noticed() -> None:
    """Planted: one arrow of every wrong diagram is taken away."""

    def fewer(option: Option) -> Option:
        content = option.content
        assert isinstance(content, Drawing)
        arrow = next(each for each in content.marks if isinstance(each, Shape))
        kept = tuple(each for each in content.marks if each is not arrow)
        return option if option.right else replace(option, content=replace(content, marks=kept))

    found = [
        replace(each, entry=replace(each.entry, options=tuple(map(fewer, each.entry.options))))
        for each in parts("diagram")
    ]
    assert guessing(found).above_chance > 0.5
    assert "alone most arrows" in {each.rule for each in telling(found)}


def test_a_graph_whose_line_is_always_of_one_look_is_noticed() -> None:
    """Planted: the key of every graph question begins beside the origin, and no other line does."""

    def moved(option: Option) -> Option:
        content = option.content
        assert isinstance(content, Drawing)
        start = "on the vertical axis above the origin" if option.right else "at the origin"
        told = f"{content.title}. The line begins {start} and rises in a straight line."
        return replace(option, content=replace(content, alternative=told))

    found = [
        replace(each, entry=replace(each.entry, options=tuple(map(moved, each.entry.options))))
        for each in choices("graph", 1, SCENES)
    ]
    assert guessing(found).above_chance > 0.5


# a rule finds little over all questions, and where it says something it leaves two options at least
def telling(found: list[Sighted]) -> list[Held]:
    return [
        each
        for each in held(found)
        if each.above_chance > MOST_ABOVE_CHANCE or (each.said >= ENOUGH and each.above_chance_there > AT_MOST_HALF)
    ]


@pytest.mark.parametrize(
    ("kind", "step", "wanted"),
    [
        ("choice", 4, 3),
        ("direction", 1, SCENES),
        ("diagram", 1, SCENES),
        ("change", 2, 1),
        ("graph", 1, SCENES),
        ("limit", 1, SCENES),
    ],
)
def test_no_plain_rule_finds_the_keys_of_the_bank(kind: Kind, step: int, wanted: int) -> None:
    assert telling(choices(kind, step, wanted)) == []


def test_no_plain_rule_finds_the_diagram_of_a_part() -> None:
    assert telling(parts("diagram")) == []


# Planted: choices of which a mark that has nothing to do with physics tells the key, and choices without such a mark.

WORDS = ("north", "south", "east", "west", "up", "down", "left", "right")


def drawn(arrows: int, name: str) -> Drawing:
    return Drawing(10.0, 10.0, (Shape(((0.0, 0.0),)),) * arrows, "A diagram", f"A diagram {name}.")


def fewest_arrows(dice: random.Random) -> list[Option]:
    """What the bank's diagrams were: the key is the one with the fewest arrows."""
    few = dice.randint(1, 3)
    return [Option(drawn(few + (place > 0), WORDS[place]), place == 0) for place in range(4)]


def longest(dice: random.Random) -> list[Option]:
    texts = [" ".join(dice.choices(WORDS, k=3 if place else 5)) for place in range(4)]
    return [Option((Words(text),), place == 0) for place, text in enumerate(texts)]


def same_words(dice: random.Random) -> list[Option]:
    """What the bank's directions were: the key always says the same."""
    texts = ["towards the centre", *dice.sample(WORDS, 3)]
    return [Option((Words(text),), place == 0) for place, text in enumerate(texts)]


def most_alike(dice: random.Random) -> list[Option]:
    """The key shares its words with the others, which share none with each other."""
    own = dice.sample(WORDS, 3)
    rest = [each for each in WORDS if each not in own]
    texts = [own, [own[0], *rest[:2]], [own[1], *rest[2:4]], [own[2], rest[4], "round"]]
    return [Option((Words(" ".join(text)),), place == 0) for place, text in enumerate(texts)]


def nothing(dice: random.Random) -> list[Option]:
    return [Option((Words(each),), place == 0) for place, each in enumerate(dice.sample(WORDS, 4))]


def planted(make: Callable[[random.Random], list[Option]], *, in_place: bool = False) -> list[Sighted]:
    dice = random.Random(7)
    found = []
    for number in range(160):
        options = make(dice)
        if not in_place:
            dice.shuffle(options)
        found.append(Sighted(f"problem {number % 16}", ChoiceEntry((Words("Which?"),), tuple(options))))
    return found


@pytest.mark.parametrize("make", [fewest_arrows, longest, same_words, most_alike])
def test_a_mark_of_the_key_is_seen(make: Callable[[random.Random], list[Option]]) -> None:
    assert guessing(planted(make)).accuracy > 0.9


def test_a_key_in_one_place_is_seen() -> None:
    assert guessing(planted(nothing, in_place=True)).accuracy > 0.9


def test_options_without_a_mark_are_guessed_no_better_than_by_chance() -> None:
    found = guessing(planted(nothing))
    assert found.chance == pytest.approx(0.25)
    assert abs(found.above_chance) <= MOST_ABOVE_CHANCE


def test_a_mark_of_the_right_ones_among_several_is_seen() -> None:
    """What the forces were: the wrong ones are told by words that no right one has."""
    dice = random.Random(7)
    found = []
    for number in range(120):
        texts = [(each, True) for each in dice.sample(WORDS, 3)] + [("by the circle", False), ("by the motion", False)]
        dice.shuffle(texts)
        options = tuple(Option((Words(text),), right) for text, right in texts)
        found.append(Sighted(f"problem {number % 16}", ChoiceEntry((Words("Which?"),), options, several=True)))
    assert guessing(found).chance == pytest.approx(0.6)
    assert guessing(found).accuracy > 0.95


# Planted: what second readers of the bank found by a rule alone.


def equations(*texts: str) -> list[Option]:
    return [Option((Words(text),), place == 0) for place, text in enumerate(texts)]


def only_right_side(dice: random.Random) -> list[Option]:
    """What some equations were: all left sides are the same, and only one right side is known by heart."""
    left = dice.choice(WORDS)
    return equations(*(f"{left} = {right}" for right in ("m v²/r", "m v/r", "m v²/r²", "m v/r²")))


def most_arrows(dice: random.Random) -> list[Option]:
    few = dice.randint(1, 3)
    return [Option(drawn(few + (place == 0), WORDS[place]), place == 0) for place in range(4)]


def no_factor(dice: random.Random) -> list[Option]:
    return equations(*(f"x = {factor}{dice.choice(WORDS)}" for factor in ("", "2 ", "½ ", "4 π² ")))


@pytest.mark.parametrize(
    ("make", "rule"),
    [
        (only_right_side, "alone with m a known by heart"),
        (most_arrows, "alone most arrows"),
        (no_factor, "alone without a factor"),
    ],
)
def test_a_plain_rule_that_finds_the_key_is_noticed(make: Callable[[random.Random], list[Option]], rule: str) -> None:
    assert rule in {each.rule for each in telling(planted(make))}


def test_rules_find_nothing_where_options_have_no_mark() -> None:
    assert telling(planted(nothing)) == []
