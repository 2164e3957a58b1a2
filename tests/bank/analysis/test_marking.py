"""Each response is marked again from the manifest, and where results tell other marks, that comes before all else."""

from __future__ import annotations

from math import isnan, nan
from typing import Any

import pytest
from turnwright.bank.analysis import Outcome, analyse, assessment
from turnwright.bank.analysis.marking import earned
from turnwright.bank.analysis.responses import given_to, numbers
from turnwright.bank.analysis.table import UNMARKED, UNTOLD

from tests.bank.analysis.test_table import item, rows

SPEED = {"number": "4.20", "half_width": "0.08", "unit": "m/s"}
LOAD = {"number": "1200", "half_width": "24", "unit": "N"}
PARTS = [
    {"marks": 1, "key": {"options": ["A"]}, "options": [{"name": "A", "right": True}, {"name": "B"}]},
    {"marks": 2, "key": SPEED, "carried": [{"part": 1, "option": "B", "value": "2.10", "half_width": "0.04"}]},
]
ITEMS = [
    item("p_speed", "lantern.speed", kind="number", options=[], key=SPEED),
    item("p_load", "lantern.load", kind="number", options=[], key=LOAD, marks=2),
    item("p_way", "lantern.way/direction", kind="direction", key={"options": ["A"]}),
    item("p_forces", "lantern.forces/forces", kind="forces", key={"options": ["A"]}, marks=3),
    item("p_rank", "lantern.rank/rank", kind="rank", options=[], key={"order": ["B", "A", "C"]}),
    item("p_match", "lantern.match/match", kind="match", options=[], key={"pairs": [[1, "B"], [2, "A"]]}),
    item("p_steps", "lantern.steps/stepwise", kind="stepwise", options=[], key={"parts": []}, parts=PARTS, marks=3),
    item("p_paper", "lantern.paper", kind="number", options=[], key=SPEED, marks=5, by_people=True),
]
FAIR = assessment(
    {"assessment": "a", "title": "Fair", "bank": {"version": "1"}, "forms": [{"form": "A", "items": ITEMS}]}
)
BY_NAME = {each.name: each for each in FAIR.forms[0].items}


RIGHT = ("4.20", "4,2", " 4.2 m/s", "4.2m/s", "+4.28", "4.12", "0.42e1", "42 × 10⁻¹", "42 x 10^-1 m/s", "v = 4.2")


@pytest.mark.parametrize("typed", [*RIGHT, "4.199999999999999"])
def test_a_right_number_is_right_however_people_type_it(typed: str) -> None:
    assert earned(BY_NAME["p_speed"], typed) == 1


@pytest.mark.parametrize(
    "typed", ["4.11", "4.29", "-4.2", "42", "1e9", "4.2 km/h", "4.2.", "nan", "inf", "1e999999999999", "four", "4 2"]
)
def test_a_wrong_number_and_a_text_that_is_none_earn_nothing(typed: str) -> None:
    assert earned(BY_NAME["p_speed"], typed) == 0


def test_a_comma_between_thousands_is_no_decimal_comma_alone() -> None:
    assert [earned(BY_NAME["p_load"], each) for each in ("1,200", "1 200 N", "1.200,0", "1,20", "12,00")] == [
        2, 2, 2, 0, 0,
    ]  # fmt: skip
    assert [str(each) for each in numbers("1,200")] == ["1.200", "1200"]


@pytest.mark.parametrize(
    ("name", "response", "marks"),
    [
        ("p_way", "A", 1), ("p_way", "B", 0), ("p_way", "", 0), ("p_way", "A B", nan), ("p_way", "option-3", nan),
        ("p_forces", "A", 3), ("p_forces", "A B", 2), ("p_forces", "B C", 0), ("p_forces", "B", 1),
        ("p_rank", "B A C", 1), ("p_rank", "A B C", 0.5), ("p_rank", "B C A", 0.5), ("p_rank", "C A B", 0),
        ("p_rank", "B", nan),
        ("p_match", "R1 C2 R2 C1", 1), ("p_match", "R2 C1 R1 C1", 0.5), ("p_match", "R1 C1", 0),
        ("p_match", "1 B", nan),
        ("p_steps", "RESPONSE_1=A RESPONSE_2=4,2 m/s", 3), ("p_steps", "RESPONSE_1=B RESPONSE_2=2.1", 2),
        ("p_steps", "RESPONSE_1=A RESPONSE_2=2.1", 1), ("p_steps", "RESPONSE_2=4.2", 2), ("p_steps", "4.2", nan),
        ("p_paper", "4.2", nan),
    ],
)  # fmt: skip
def test_each_kind_is_marked_by_the_rules_that_the_pack_states(name: str, response: str, marks: float) -> None:
    found = earned(BY_NAME[name], response)
    assert isnan(found) if isnan(marks) else found == pytest.approx(marks)


def test_several_values_of_one_part_stay_together() -> None:
    assert given_to("RESPONSE_1=A RESPONSE_2=C RESPONSE_2=D RESPONSE_3=4.2 m/s", 3) == ("A", "C D", "4.2 m/s")
    assert given_to("RESPONSE=B", 1) == ("B",)


def sat(*answers: tuple[str, float], name: str = "p_speed", again: bool = False) -> Outcome:
    """Each answer from a hundred candidates, who all know the direction."""
    made = [(f"c{place}-{n}", name, *each) for place, each in enumerate(answers) for n in range(100)]
    return analyse(rows(*made, *((who, "p_way", "A", 1.0) for who, *_ in made)), FAIR, again=again)


@pytest.mark.parametrize(("typed", "told"), [("4.20", 0.0), ("4,2", 0.0), ("1e9", 1.0)])
def test_marks_that_the_manifest_denies_come_first_and_silence_what_rests_on_them(typed: str, told: float) -> None:
    found = sat((typed, told), ("4.2" if told else "7", told))
    (question,) = found.disagreements
    again = question.marked_again
    assert again is not None
    assert (question.id, again.answers, again.differing) == ("lantern.speed", 200, 100)
    assert (again.told, again.marked_again) == (told, 0.5)
    (first,) = again.first
    assert (first.answer, first.key, first.told, first.count) == (typed, "4.20 ± 0.08 m/s", told, 100)
    assert str(first).startswith(f"“{typed}”, given 100 times, earned {told:g} and earns")
    assert [each.rule for each in question.flags] == ["marks in doubt"]


def test_figures_can_rest_on_the_manifest() -> None:
    found = sat(("4,2", 0.0), ("7", 0.0), again=True)
    question = found.questions[0]
    assert (question.facility, question.is_doubtful) == (0.5, False)
    assert question.marked_again is not None
    assert question.marked_again.told == 0
    assert "marks in doubt" not in {each.rule for each in question.flags}


def test_marks_that_agree_and_those_that_nobody_can_check_are_no_disagreement() -> None:
    assert not sat(("4.2", 1.0), ("7", 0.0)).disagreements
    assert not sat(("RESPONSE_1=B RESPONSE_2=2.1", 2.0), name="p_steps").disagreements
    assert not sat(("7", 3.0), name="p_paper").disagreements  # the working earned them
    untold = sat(("", 1.0), ("RESPONSE 17", 1.0), name="p_rank")
    assert not untold.disagreements
    assert [(each.what, each.count, each.lost) for each in untold.notes] == [
        (UNTOLD, 100, False), (UNMARKED, 100, False),
    ]  # fmt: skip


def test_a_few_marks_of_a_marker_leave_the_figures() -> None:
    answers: list[tuple[str, str, str, float]] = [(f"c{n}", "p_speed", "7", 0.0) for n in range(200)]
    answers[0] = ("c0", "p_speed", "7", 1.0)
    (question,) = analyse(rows(*answers), FAIR).disagreements
    assert question.marked_again is not None
    assert question.marked_again.differing == 1
    assert "facility below 0.30" in {each.rule for each in question.flags}


def test_a_manifest_of_any_kind_is_held_against_results() -> None:
    strange: list[dict[str, Any]] = [
        {"pairs": []}, {"order": []}, {"options": []}, {"parts": []}, {"pairs": [[1, "A1"]]}, {},
    ]  # fmt: skip
    for key in strange:
        told = {**item("p", "lantern.speed", key=key, options=[]), "parts": []}
        forms = [{"form": "A", "items": [told]}]
        made = assessment({"assessment": "a", "title": "Fair", "bank": {"version": "1"}, "forms": forms})
        assert not earned(made.forms[0].items[0], "A B") > 0
