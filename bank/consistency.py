"""Checks that the schema cannot make: names, dimensions, draws and words fit together inside one problem.

Each part notes what it finds in the problem's document. What an earlier fault leaves open is passed over, so that one
mistake is told once.
"""

from __future__ import annotations

from collections.abc import Callable

from turnwright.bank.consistency_curriculum import check_alignments
from turnwright.bank.consistency_dimensions import check_dimensions
from turnwright.bank.consistency_mistakes import check_mistakes
from turnwright.bank.consistency_model import check_model
from turnwright.bank.consistency_numbers import check_numbers
from turnwright.bank.consistency_questions import check_questions
from turnwright.bank.consistency_symbols import check_symbols
from turnwright.bank.consistency_words import check_words
from turnwright.bank.problem import Problem

_PARTS: tuple[Callable[[Problem], None], ...] = (
    check_symbols,
    check_model,
    check_dimensions,
    check_numbers,
    check_words,
    check_questions,
    check_mistakes,
    check_alignments,
)


def check_consistency(problem: Problem) -> None:
    """Note every inconsistency of the problem in its document."""
    for check in _PARTS:
        check(problem)
