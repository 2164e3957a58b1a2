"""On which side of a limit its question stands: "the minimum period" where every shorter one would keep what holds.

The asked quantity is set free, moved a little off the limit in both directions, and the hold whose edge the limit is
decides which way is allowed. A question that uses none of the words, or whose hold stays open, is passed over.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np
import sympy

from ..errors import Fault
from ..mechanics.equations import system_of
from ..model.evaluation import evaluate
from ..model.problem import Question, Reason
from ..reading.consistency.questions import is_edge
from ..solving.solution import SolvedQuestion, gap, samples_of, sign_of

_STEP: Final = 1e-3
_SENTENCE: Final = re.compile(r"(?<=[.?!])\s+")
# "at least" and "the lowest point" name a condition and a place, no limit of what is asked
_WORDS: Final = {
    "greatest": re.compile(r"\b(maximum|greatest|longest|largest|fastest)\b", re.IGNORECASE),
    "least": re.compile(r"\b(minimum|(?<!at )least|shortest|smallest|slowest)\b", re.IGNORECASE),
}
_OTHER: Final = {"greatest": "least", "least": "greatest"}
_WAY: Final = {"greatest": "smaller", "least": "greater"}


def limit_faults(solved: SolvedQuestion) -> Iterator[Fault]:
    """The name and the stem of a limiting question that speak of the other side of its limit."""
    side = side_of(solved)
    if side is None:
        return
    question = solved.question
    for part, text in (("name", question.asked_name), ("stem", _last_sentence(question))):
        said, meant = (_WORDS[each].search(text) for each in (_OTHER[side], side))
        if said and not meant:
            allowed = f"{_WAY[side]} values of {question.ask} are allowed"
            wrong = f"questions.{question.name}: '{said[0]}' is said, and {allowed}"
            right = f"the limit is the {side} value: mend the word, or the sign in 'holds'"
            yield Fault(solved.problem.place_of(question, part), wrong, right)


def side_of(solved: SolvedQuestion) -> str | None:
    """Whether the limit is the greatest or the least value that keeps the hold; None where that stays open."""
    hold = _hold_of(solved)
    margin = _margin(solved, hold) if hold else None
    if margin is None:
        return None
    values = samples_of(solved.problem, solved.question)
    limit = evaluate(solved.solution.closed_form, values)
    above, below = (evaluate(margin, {**values, solved.question.ask: limit * (1 + by)}) for by in (_STEP, -_STEP))
    grown, shrunk = (np.atleast_1d(each > 0) for each in (above, below))  # what is not real is not allowed either
    if shrunk.all() and not grown.any():
        return "greatest"
    return "least" if grown.all() and not shrunk.any() else None


def _hold_of(solved: SolvedQuestion) -> Reason | None:
    limit = solved.question.limiting
    return next((each for each in solved.problem.holds if limit and is_edge(limit, each.relation)), None)


def _margin(solved: SolvedQuestion, hold: Reason) -> sympy.Expr | None:
    """What must not be negative, in the givens and the asked quantity, off the limit; None where that is open."""
    problem, question = solved.problem, solved.question
    given = (*question.given, question.ask)
    other = next((each for each in problem.quantities if each not in given), None)
    if other is None:
        return None
    found = sign_of(system_of(problem, replace(question, ask=other, given=given, extra=(), limiting=None)), gap(hold))
    return found.expression if found else None


def _last_sentence(question: Question) -> str:
    return _SENTENCE.split(question.stem.strip())[-1]
