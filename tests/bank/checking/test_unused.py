"""Every equation of motion of the shipped bank is needed; one without need is planted in bank/reading/test_authors."""

from __future__ import annotations

from itertools import groupby

from turnwright.bank.checking.unused import unused_equations

from tests.bank import models


def test_every_equation_of_the_shipped_bank_is_needed() -> None:
    solved = map(models.shipped, models.shipped_ids())
    for _, questions in groupby(solved, key=lambda each: each.problem.id):
        assert not list(unused_equations(list(questions)))
