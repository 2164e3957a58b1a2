"""Rows are held against the manifest; what can't be used is counted with its place, and the rest is analysed."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from turnwright.bank.analysis import Ledger, Rows, analyse, assessment, sameness
from turnwright.bank.analysis import table as tables
from turnwright.bank.analysis.rows import frame


def item(name: str, question: str, **more: Any) -> dict[str, Any]:
    options = [{"name": "A", "right": True}, {"name": "B", "mistakes": ["weight-left-out"]}, {"name": "C"}]
    usual = {"version": 1, "kind": "choice", "variant": 1, "marks": 1, "fingerprint": f"of {name}", "options": options}
    return {"item": name, "question": question, **usual, **more}


FORMS: list[dict[str, Any]] = [
    {"form": "A", "items": [item("pa_q1", "lantern.pull"), item("pa_q2", "lantern.speed", marks=2)]},
    {
        "form": "B",
        "items": [item("pb_q1", "swing.pull"), item("pb_q2_v1", "swing.speed"), item("pb_q2_v2", "swing.speed")],
    },
]
ASSESSMENT = assessment({"assessment": "a", "title": "Fair", "bank": {"version": "1"}, "forms": FORMS})


def rows(*each: tuple[str, str, str, float], unplaced: bool = False, **more: list[str]) -> Rows:
    candidates, items, responses, scores = zip(*each, strict=True)
    columns: dict[str, Any] = {"candidate": candidates, "item": items, "response": responses, "score": scores}
    columns |= {"source": ["f.csv"] * len(each), "place": range(2, len(each) + 2), **more}
    return Rows(frame(columns), Ledger(), unplaced)


def told(found: Rows) -> list[str]:
    return [str(each) for each in found.ledger.notes()]


def test_absent_and_empty_answers_are_omitted() -> None:
    (made,) = tables.tables(rows(("x", "pa_q1", "A", 1), ("y", "pa_q1", "", float("nan"))), ASSESSMENT)
    assert made.scores.tolist() == [[1, 0], [0, 0]]
    assert made.omitted.tolist() == [[False, True], [True, True]]


def test_absent_answers_are_unknown_where_rows_could_not_be_read() -> None:
    (made,) = tables.tables(rows(("x", "pa_q1", "A", 1), unplaced=True), ASSESSMENT)
    assert np.isnan(made.scores[0, 1])
    assert not made.omitted[0, 1]


def test_what_cannot_be_used_is_told_with_its_place() -> None:
    found = rows(
        ("x", "pa_q1", "A", 1),
        ("x", "pa_q2", "A", 3),  # out of range
        ("x", "pa_q9", "A", 1),  # unknown
        ("x", "pz_q1", "A", 1),  # another pack
        ("x", "pb_q1", "A", 1),  # another form
        ("y", "pa_q1", "A", float("nan")),
        ("", "pa_q1", "A", 1),
        ("y", "pa_q2", "A", 1),
        ("y", "pa_q2", "B", 0),  # twice
    )
    (made,) = tables.tables(found, ASSESSMENT)
    assert [each.partition(":")[0] for each in told(found)] == [
        tables.NO_NAME, tables.UNKNOWN, tables.OTHER_PACK, tables.OTHER_FORM, tables.TWICE, tables.NO_SCORE,
        tables.RANGE,
    ]  # fmt: skip
    assert f"{tables.RANGE}: 1 (f.csv line 3)" in told(found)
    assert f"{tables.TWICE}: 1 (f.csv line 9)" in told(found)
    assert np.isnan(made.scores).tolist() == [[False, True], [True, False]]
    assert made.scores[1, 1] == 0
    assert found.ledger.lost == 7


@pytest.mark.parametrize(("score", "is_right", "is_told"), [(0.99, True, True), (1.01, True, True), (0.98, False, True),
                                                            (1.02, False, False)])  # fmt: skip
def test_a_score_that_was_told_with_two_decimals_is_that_score(score: float, is_right: bool, is_told: bool) -> None:
    """In all figures alike: 0.33 three times is a whole mark, to those who count and to those who doubt."""
    found = rows(("x", "pa_q1", "A", score))
    (made,) = tables.tables(found, ASSESSMENT)
    assert any(tables.RANGE in each for each in told(found)) == (not is_told)
    outcome = analyse(rows(("x", "pa_q1", "A", score), ("y", "pa_q1", "B", 0)), ASSESSMENT)
    sorts = {each.sort: each.count for each in outcome.questions[0].chosen}
    assert sorts.get("right", 0) == is_right
    assert bool(sameness.differs(np.array(score), np.array(1.0))) == (not is_right)
    assert np.isnan(made.scores[0, 0]) == (not is_told)


@pytest.mark.parametrize(("correct", "fits"), [("1.6e-19", True), ("1.7e-19", False), ("0", False)])
def test_the_key_of_a_tiny_number_is_known_from_another(correct: str, fits: bool) -> None:
    part = {"number": "1.6e-19", "half_width": "0.1e-19", "unit": "C"}
    only = item("pa_q1", "charge.drop", kind="number", parts=[{"marks": 1, "key": part}])
    (question,) = (
        assessment(
            {"assessment": "a", "title": "Fair", "bank": {"version": "1"}, "forms": [{"form": "A", "items": [only]}]}
        )
        .forms[0]
        .items
    )
    assert tables.is_key(question, correct) == fits


def test_the_last_attempt_counts_by_its_time() -> None:
    found = rows(
        ("x", "pb_q2_v2", "B", 0), ("x", "pb_q2_v1", "A", 1), ("x", "pb_q1", "A", 1),
        stamp=["2026-03-04T11:00:00", "2026-03-04T10:00:00", "2026-03-04T10:00:00"],
    )  # fmt: skip
    (made,) = tables.tables(found, ASSESSMENT)
    assert made.scores.tolist() == [[1, 0]]
    assert made.variant.tolist() == [[0, 1]]
    assert told(found) == [f"{tables.ATTEMPTS}: 1 (f.csv line 3)"]


@pytest.mark.parametrize(
    "column, value, what", [("fingerprint", "other", tables.OTHER_PRINT), ("correct", "C", tables.OTHER_KEY)]
)
def test_an_item_that_was_changed_is_known_by_its_print_or_key(column: str, value: str, what: str) -> None:
    same = {"fingerprint": "of pa_q1", "correct": "A"}[column]
    found = rows(("x", "pa_q1", "A", 1), ("y", "pa_q1", "A", 1), **{column: [same, value]})
    (made,) = tables.tables(found, ASSESSMENT)
    assert made.candidates == 1
    assert told(found) == [f"{what}: 1 (f.csv line 3)"]


def test_small_samples_are_met_with_silence_that_says_so() -> None:
    outcome = analyse(rows(*[(f"c{n}", "pa_q1", "B", 0.0) for n in range(50)]), ASSESSMENT)
    assert not any(each.flags for each in outcome.questions)
    assert "below 100" in outcome.forms[0].silence[0]
    assert np.isnan(outcome.questions[0].difficulty)


def test_a_wrong_key_is_flagged_before_all() -> None:
    strong = [
        (f"s{n}", name, *answer) for n in range(80) for name, answer in (("pa_q1", ("B", 0.0)), ("pa_q2", ("A", 2.0)))
    ]
    weak = [
        (f"w{n}", name, *answer) for n in range(80) for name, answer in (("pa_q1", ("A", 1.0)), ("pa_q2", ("B", 0.0)))
    ]
    outcome = analyse(rows(*strong, *weak), ASSESSMENT)
    rules = {flag.rule for flag in outcome.questions[0].flags}
    assert {"corrected discrimination below 0", "wrong answer of stronger candidates"} <= rules
    assert outcome.thoughts[0].mistake == "weight-left-out"
    assert outcome.thoughts[0].count == 160
