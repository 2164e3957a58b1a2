"""What a name means: a question is itself, in the order in which it was named; problems and families give their all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from click.shell_completion import ShellComplete
from turnwright.bank.command.main import turnwright
from turnwright.bank.errors import UnknownNameError
from turnwright.bank.forms.enemies import answering_each_other
from turnwright.bank.model.problem import Problem
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.kinds import KINDS
from turnwright.bank.questions.selection import pack_of, select
from turnwright.bank.reading.files import read_bank

# a quiz of ten questions on vertical circles, in no order that the bank has
TEN = (
    "through-the-bottom.pull-at-the-bottom",
    "over-the-top.least-speed",
    "over-the-crest.greatest-speed/limit-less",
    "over-the-top.top/direction",
    "round-the-circle.mass-from-force/choice",
    "over-the-crest.greatest-speed",
    "through-the-dip.normal-force/stepwise",
    "over-the-top.speed-from-force",
    "big-wheel.top/forces",
    "over-the-top.pull-at-the-top/expression",
)


@pytest.fixture(scope="module")
def bank() -> Sequence[Problem]:
    return read_bank()


USUAL = Settings()


def named(bank: Sequence[Problem], *names: str, settings: Settings = USUAL) -> list[str]:
    return [each.id for each in select(bank, names, settings).models]


def test_ten_named_questions_are_ten_in_the_order_of_their_names(bank: Sequence[Problem]) -> None:
    assert named(bank, *TEN) == list(TEN)
    made = pack_of(select(bank, TEN, Settings()).models, Settings(variants=1))
    assert [section.question_id for section in made.sections] == list(TEN)
    assert named(bank, TEN[1], TEN[0], TEN[1]) == [TEN[1], TEN[0]]  # each once, where it was named first


def test_a_named_question_comes_in_other_kinds_only_where_they_are_asked_for(bank: Sequence[Problem]) -> None:
    name = "over-the-top.least-speed"
    assert named(bank, f"{name}/number") == [name]
    asked = Settings(kinds=("choice", "stepwise"), named=("choice", "stepwise"))
    assert named(bank, name, settings=asked) == [f"{name}/choice", f"{name}/stepwise"]


def test_problems_and_families_give_their_questions_in_bank_order(bank: Sequence[Problem]) -> None:
    numbers = Settings(kinds=("number",))
    own = named(bank, "over-the-top", settings=numbers)
    assert own == [f"over-the-top.{each.name}" for each in _problem(bank, "over-the-top").questions]
    family = named(bank, "vertical-circle", settings=numbers)
    assert set(own) < set(family)
    assert named(bank, own[2], "over-the-top", settings=numbers) == [own[2], *(each for each in own if each != own[2])]
    whole = named(bank, "big-wheel")
    assert sum(each.endswith("/stepwise") for each in whole) == 1  # one of each derived kind
    every = named(bank, "big-wheel", settings=replace(Settings(), every=True))
    assert set(whole) < set(every)
    assert len({each.partition("/")[2].partition("-")[0] for each in every}) == len(KINDS)


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("over-the-top.least-sped", "over-the-top.least-speed"),
        ("over-the-top.least-speed/limit-mor", "over-the-top.least-speed/limit-more"),
        ("over-the-top.least-speed/essay", "over-the-top.least-speed/"),
        ("over-the-tip.least-speed/choice", "over-the-top.least-speed/choice"),
    ],
)
def test_a_name_that_nobody_bears_is_told_with_near_ones(bank: Sequence[Problem], name: str, near: str) -> None:
    with pytest.raises(UnknownNameError) as told:
        named(bank, name)
    assert near in str(told.value)


def test_questions_that_answer_each_other_are_told(bank: Sequence[Problem]) -> None:
    def told(*names: str) -> tuple[tuple[str, ...], ...]:
        return answering_each_other(pack_of(select(bank, names, Settings()).models, Settings(variants=1)), bank)

    number, direction = "over-the-top.least-speed", "over-the-top.top/direction"
    assert told(number, f"{number}/limit-more") == ((number, f"{number}/limit-more"),)
    assert told(direction, "over-the-top.top/forces") == ((direction, "over-the-top.top/forces"),)
    assert told(number, "through-the-dip.normal-force") == ()


@pytest.mark.parametrize(
    ("begun", "offered"),
    [
        ("over-the-t", ["over-the-top"]),
        ("over-the-top.pull", ["over-the-top.pull-at-the-top"]),
        (
            "over-the-top.least-speed/l",
            [f"over-the-top.least-speed/limit-{each}" for each in ("m-more", "less", "more")],
        ),
    ],
)
def test_a_shell_is_offered_problems_then_questions_then_kinds(begun: str, offered: list[str]) -> None:
    found = ShellComplete(turnwright, {}, "turnwright", "_TURNWRIGHT_COMPLETE").get_completions(["pack"], begun)
    assert [each.value for each in found] == offered


def _problem(bank: Sequence[Problem], name: str) -> Problem:
    return next(each for each in bank if each.id == name)


def test_an_exam_shows_no_diagram_that_it_asks_for(bank: Sequence[Problem]) -> None:
    asking = ("over-the-top.top/direction", "over-the-top.least-speed")
    exam, at_home = (Settings(variants=1, purpose=each, stem_picture="forces") for each in ("exam", "practice"))  # type: ignore[arg-type]
    made = pack_of(select(bank, asking, exam).models, exam)
    assert [section.figures for section in made.sections] == [(), ()]
    assert all(item.figure is None for section in made.sections for item in section.items())
    practice = pack_of(select(bank, asking, at_home).models, at_home)
    apart = pack_of(select(bank, asking[1:], exam).models, exam)
    assert len(practice.sections[1].figures) == len(apart.sections[0].figures) == 1
    assert answering_each_other(practice, bank) == (asking,)
    assert answering_each_other(made, bank) == ()
    sketched = pack_of(select(bank, asking, Settings(variants=1)).models, Settings(variants=1))
    assert {each.subject for section in sketched.sections for each in section.figures} == {"situation"}
    assert answering_each_other(sketched, bank) == ()
