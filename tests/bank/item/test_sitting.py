"""The rules of a sitting: presets, changes, and an exam that never tells."""

from __future__ import annotations

import pytest
from turnwright.bank.command.main import run
from turnwright.bank.item.pack import Pack
from turnwright.bank.item.sitting import EXAM, PRACTICE, Sitting, TellingExamError, sitting_for


def test_what_is_not_said_is_as_usual_for_the_purpose() -> None:
    assert sitting_for("practice", hints=None) == PRACTICE
    assert sitting_for("exam", minutes=45, shuffle=False) == Sitting(1, False, False, False, False, 45)


@pytest.mark.parametrize("told", ["hints", "feedback", "solution"])
def test_an_exam_that_would_tell_cannot_be_made(told: str) -> None:
    with pytest.raises(TellingExamError, match=rf"an exam carries no {told}; leave --{told} out, or make the pack"):
        sitting_for("exam", **{told: True})
    with pytest.raises(TellingExamError):
        Pack("At the fair", "exam", "", 1, (), rules=PRACTICE)
    assert not EXAM.told


def test_the_command_refuses_a_telling_exam_before_it_writes(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pack", "over-the-top", "--for", "exam", "--hints", "--solution", "--out", "fair.zip"]) == 2
    told = "an exam carries no hints or solution; leave --hints and --solution out, or make the pack --for practice"
    assert capsys.readouterr().err == f"turnwright: {told}; see 'turnwright pack --help'\n"
