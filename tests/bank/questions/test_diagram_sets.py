"""The right diagram of a part is not told by how like the others it is, and few diagrams by their number of arrows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import chain

import pytest
from turnwright.bank.checking import surface
from turnwright.bank.checking.option_quality import shown
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.item import ChoiceEntry, Option
from turnwright.bank.questions.diagrams import keys as diagram_keys
from turnwright.bank.questions.diagrams import sets as diagram_sets
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes

from tests.bank import models

OFF_EVEN = 0.12  # how much more often than every other place the right one may have one: it is drawn, and some lack it


def of_diagrams(asked: Iterable[QuestionModels]) -> Iterator[surface.Sighted]:
    """The parts that ask for the diagram."""
    for one in asked:
        if one.problem.diagrams and one.steps.exist:
            for entry in chain.from_iterable(one.steps.of_scene.values()):
                if isinstance(entry.options[0].content, Drawing):
                    yield surface.Sighted(one.problem.id, entry)


@cache
def shipped() -> list[surface.Sighted]:
    return list(of_diagrams(models.questions()))


def made_anew() -> list[surface.Sighted]:
    """Those of each third question with what is planted."""
    names = models.shipped_ids()[::3]
    return list(of_diagrams(QuestionModels(models.shipped(name), shipped_mistakes()) for name in names))


def with_same_arrows(entry: ChoiceEntry) -> list[Option]:
    """The options with the same forces as the right one, which comes first."""
    key = next(each for each in entry.options if each.right)
    names = sorted(surface.words(key))
    return [key, *(each for each in entry.options if each is not key and sorted(surface.words(each)) == names)]


def place_as_told(entry: ChoiceEntry) -> float:
    """The place of the right one among those with its arrows, from the least like all to the most; equals share it."""
    told = {id(each): frozenset(shown(each).lower().replace(";", "").split()) for each in entry.options}

    def alike(one: Option) -> float:
        others = [told[id(each)] for each in entry.options if each is not one]
        return round(sum(len(told[id(one)] & each) / len(told[id(one)] | each) for each in others), 9)

    own, *rest = map(alike, with_same_arrows(entry))
    return sum((each < own) + (each == own) / 2 for each in rest)


def uneven(found: Iterable[surface.Sighted]) -> dict[tuple[int, int], float]:
    """The places that the right one has too often, with their shares, by the number of those with its arrows."""
    places: defaultdict[int, list[int]] = defaultdict(list)
    for each in found:
        fair = len(with_same_arrows(each.entry))
        places[fair].append(round(place_as_told(each.entry) + 0.01))
    shares = {(fair, at): of.count(at) / len(of) for fair, of in places.items() for at in range(fair)}
    return {where: share for where, share in shares.items() if share > 1 / where[0] + OFF_EVEN}


def odd(entry: ChoiceEntry) -> int:
    """How many diagrams have other forces than the right one."""
    return len(entry.options) - len(with_same_arrows(entry))


def too_many_odd(found: list[surface.Sighted]) -> bool:
    """Whether more than two parts of three offer a diagram with other forces, or one part of nine several."""
    numbers = [odd(each.entry) for each in found]
    return sum(map(bool, numbers)) > 2 / 3 * len(numbers) or sum(each > 1 for each in numbers) > len(numbers) / 9


def test_the_right_diagram_is_as_often_the_least_like_all_as_the_most_or_between() -> None:
    assert len(shipped()) >= 400
    assert uneven(shipped()) == {}


def always(place: int) -> Callable[[pytest.MonkeyPatch], None]:
    def plant(monkeypatch: pytest.MonkeyPatch) -> None:
        places = {fair: [float(at == min(place, fair - 1)) for at in range(fair)] for fair in range(1, 5)}
        monkeypatch.setattr(diagram_keys, "STEP_PLACES", places)

    return plant


def arrow_for_arrow_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """What it was: nobody looked at how like the others each is to one who hears them."""
    monkeypatch.setattr(diagram_sets, "_as_told", lambda known, sets, draw, often: list(sets))


@pytest.mark.parametrize("plant", [always(0), always(3), arrow_for_arrow_alone], ids=["least", "most", "by arrows"])
def test_a_right_diagram_in_one_place_is_noticed(
    monkeypatch: pytest.MonkeyPatch, plant: Callable[[pytest.MonkeyPatch], None]
) -> None:
    plant(monkeypatch)
    found = made_anew()
    assert len(found) >= 100
    assert uneven(found)
    assert surface.guessing(found).above_chance > surface.MOST_ABOVE_CHANCE


def test_few_diagrams_have_an_arrow_too_many_or_too_few() -> None:
    assert not too_many_odd(shipped())
    assert {len(each.entry.options) for each in shipped()} == {4}


def test_diagrams_with_an_arrow_too_many_or_too_few_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(diagram_sets, "OF_ODD", -1.0)
    assert too_many_odd(made_anew())
