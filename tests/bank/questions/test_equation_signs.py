"""No wrong equation is struck by its signs alone, none is right as well at a limit, and a sign is told rightly."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

import pytest
from turnwright.bank.checking.option_quality import shown
from turnwright.bank.item.item import ChoiceEntry
from turnwright.bank.mechanics.equations import Equation
from turnwright.bank.questions import equation_keys
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.reading.mistakes import shipped_mistakes

from tests.bank import models

Steps = Mapping[str, tuple[ChoiceEntry, ...]]


def is_equation(entry: object) -> bool:
    return isinstance(entry, ChoiceEntry) and bool(re.search(r" = ", _shown(entry)[0]))


def _shown(entry: ChoiceEntry) -> list[str]:
    return ["" if not isinstance(each.content, tuple) else shown(each) for each in entry.options]


def terms(side: str) -> list[str]:
    """The terms of a side as it is printed, each with its sign; what stands in brackets is one factor."""
    flat = re.sub(r"\([^()]*\)", "()", side)
    return [each.replace(" ", "") for each in re.split(r" (?=[+−] )", flat)]


def struck(entries: Iterable[object]) -> list[str]:
    """The equations with one side all negative and the other all positive."""
    found = []
    for entry in entries:
        if isinstance(entry, ChoiceEntry) and is_equation(entry):
            for told in _shown(entry):
                signs = [{term.startswith("−") for term in terms(side)} for side in told.split(" = ")]
                if sorted(map(sorted, signs)) == [[False], [True]]:
                    found.append(told)
    return found


def parts(name: str) -> Steps:
    return models.steps(name).of_scene


def anew(name: str) -> Steps:
    """The same made anew, with what is planted."""
    return QuestionModels(models.shipped(name), shipped_mistakes()).steps.of_scene


def with_diagrams() -> Iterator[str]:
    return (name for name in models.shipped_ids() if models.shipped(name).problem.diagrams and models.steps(name).exist)


def test_signs_are_read_from_what_is_printed() -> None:
    assert terms("−F_N sin θ − m g") == ["−F_Nsinθ", "−mg"]
    assert terms("m v²/(2 r − d)") == ["mv²/()"]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_no_equation_sets_a_sum_of_negatives_equal_to_something_positive(seed: int) -> None:
    entries = [entry for _, item in models.drawn("equation", seed) for entry in item.entries]
    assert len(entries) > 100
    assert all(map(is_equation, entries))
    assert struck(entries) == []


def test_nor_does_one_of_a_stepwise_question() -> None:
    entries = [entry for name in with_diagrams() for scene in parts(name).values() for entry in scene]
    assert sum(map(is_equation, entries)) > 550
    assert struck(entries) == []
    drawn = [entry for seed in (1, 2) for _, item in models.drawn("stepwise", seed, 16) for entry in item.entries]
    assert sum(map(is_equation, drawn)) > 20
    assert struck(drawn) == []


def test_a_sum_of_negatives_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the signs are not looked at."""
    monkeypatch.setattr(equation_keys, "cannot_hold", lambda _: False)
    names = list(with_diagrams())[::8]
    assert struck(entry for name in names for scene in anew(name).values() for entry in scene)


# --- at a limit ---------------------------------------------------------------------------------------


def right_without(entries: Iterable[ChoiceEntry], force: str) -> list[str]:
    """The wrong equations that are the right one once the terms of a force are gone."""
    found = []
    for entry in filter(is_equation, entries):
        kept = []
        for told in _shown(entry):
            left, right = told.split(" = ")
            rest = {each.lstrip("+") for each in terms(left) if force not in each}
            kept.append((rest, right))
        key = next(place for place, option in enumerate(entry.options) if option.right)
        found += [
            told
            for place, told in enumerate(_shown(entry))
            if place != key and kept[place] == kept[key] and kept[key][0]
        ]
    return found


VANISHING = {
    "loop-from-a-ramp.least-height": "F_top", "off-a-dome.height-of-leaving": "F_N",
    "over-on-a-cord.pull-at-the-limit": "F_top", "on-the-equator.shortest-period": "F_N",
    "big-wheel.floating-period": "F_top", "over-the-crest.greatest-speed": "F_N", "over-the-top.least-speed": "F_",
    "round-the-circle-high.least-speed": "F_",
}  # fmt: skip


@pytest.mark.parametrize("name", VANISHING)
def test_where_a_force_vanishes_no_other_equation_is_right_as_well(name: str) -> None:
    for scene in parts(name).values():
        assert sum(map(is_equation, scene)) == 1
        assert right_without(scene, VANISHING[name]) == []


def test_an_equation_that_is_right_at_the_limit_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the equations are compared away from the limit."""

    def anywhere(_: object, __: object) -> object:
        def same(each: Equation) -> Equation:
            return each

        return same

    monkeypatch.setattr(equation_keys, "_where_it_is_asked", anywhere)
    assert any(right_without(scene, force) for name, force in VANISHING.items() for scene in anew(name).values())


# --- what is told of a minus sign -----------------------------------------------------------------------


def test_the_sign_of_a_force_that_may_act_either_way_is_told_by_its_convention() -> None:
    """To ask which way a rod can exert a force helps nobody: it can push and pull."""
    items = [
        entry for model, item in models.drawn("equation") if "over-on-a-rod.top" in model.id for entry in item.entries
    ]
    steps = [
        entry
        for name in with_diagrams()
        if name.startswith("over-on-a-rod.")
        for scene in parts(name).values()
        for entry in scene
    ]
    turned = []
    for entry in (*items, *steps):
        if isinstance(entry, ChoiceEntry) and is_equation(entry):
            for option in entry.options:
                if "F_top" in shown(option):
                    assert "can the rod exert a force" not in option.feedback
                    turned += [option.feedback] if shown(option).startswith("m g − F_top = m v_top²/r") else []
    assert turned
    assert all("is taken as positive towards the centre" in each for each in turned)
