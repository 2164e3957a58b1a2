"""The sheet of formulas holds the general laws that the questions rest on, and nothing of the one situation."""

from __future__ import annotations

from functools import cache

import pytest
from turnwright.bank.item import formula
from turnwright.bank.questions.selection import find_question
from turnwright.bank.reading.files import read_bank
from turnwright.bank.solving.cache import solved_question
from turnwright.bank.writing.laws import laws, sheet

bank = cache(read_bank)


def lines(*names: str) -> list[str]:
    found = [solved_question(*find_question(bank(), name)) for name in names]
    return [
        formula.text(law.node) for law in sheet(law for each in found for law in laws(each, each.problem.scenes[0]))
    ]


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("rough-bank-fast.greatest-speed", ["a = v²/r", "F_net = m a", "F_g = m g", "f ≤ μ F_N"]),
        ("chair-ride.period", ["a = ω² r", "ω = 2 π/T", "F_net = m a", "F_g = m g"]),
        ("satellite.speed", ["a = v²/r", "F_net = m a", "F_g = G M m/r²"]),
        ("charged-particle.radius", ["a = v²/r", "F_net = m a", "F_B = q v B"]),
        ("loop-from-a-ramp.least-height", ["a = v²/r", "F_net = m a", "F_g = m g", "E = ½ m v² + m g h"]),
        ("rim-and-hub.inner-speed", ["v = ω r"]),
    ],
)
def test_a_question_has_the_laws_that_a_textbook_would_name(name: str, expected: list[str]) -> None:
    """Written down by hand beside the solutions; the laws are those of any introductory text (OpenStax, vol. 1)."""
    assert lines(name) == expected


def test_two_bodies_and_two_questions_share_one_line_for_one_law() -> None:
    shared = lines("cord-through-a-hole.speed", "two-loads-on-one-cord.inner-tension")
    assert shared == ["a = v²/r", "a = ω² r", "F_net = m a", "F_g = m g"]


def test_a_limit_and_a_length_of_the_situation_are_not_given_away() -> None:
    assert "N = 0" not in " ".join(lines("over-the-top.least-speed"))
    assert "L" not in " ".join(lines("chair-ride.speed"))
