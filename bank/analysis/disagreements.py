"""Where the marks that results tell are not those by the manifest: by question, with what was given as an answer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ..errors import visible
from ..language import count
from .assessment import SatItem, SatPart
from .sameness import differs
from .table import Table

if TYPE_CHECKING:
    import pandas as pd


DOUBTFUL = 0.02  # of the answers: beyond it figures of a question rest on marks in doubt (house rule, no source)
MOST_TOLD = 5
LONGEST = 40


@dataclass(frozen=True)
class Disagreement:
    """An answer, as often as it was given to one item and marked so: the marks told, and those by the manifest."""

    item: str
    answer: str
    key: str
    told: float
    marked_again: float
    count: int

    def __str__(self) -> str:
        times = "once" if self.count == 1 else count(self.count, "time")
        return (
            f"“{self.answer}”, given {times}, earned {self.told:g} and earns {self.marked_again:g} by the manifest "
            f"(key {self.key})"
        )


@dataclass(frozen=True)
class MarkedAgain:
    """What came of marking the answers to a question again.

    ``answers`` could be marked again, ``differing`` of them have other marks. ``told`` and ``marked_again`` are the
    shares of the marks that they earned, by the results and by the manifest. ``first`` are the commonest differences.
    """

    answers: int
    differing: int
    told: float
    marked_again: float
    first: tuple[Disagreement, ...]

    @property
    def is_doubtful(self) -> bool:
        """Whether so many differ that no figure of the question can be trusted."""
        return self.differing > DOUBTFUL * self.answers


def told_marks(found: Iterable[MarkedAgain | None]) -> str:
    """What came of marking again in all questions, in a sentence."""
    known = [each for each in found if each]
    answers, differing = sum(each.answers for each in known), sum(each.differing for each in known)
    if not answers:
        return "No answer could be marked again."
    told = f"{differing:,} of {answers:,} answers that could be marked again"
    if not differing:
        return f"{told} have other marks than the manifest gives them."
    where = count(sum(each.differing > 0 for each in known), "question")
    return f"{told} have other marks than the manifest gives them, in {where}: find out first which are right."


def marked_again(table: Table) -> list[MarkedAgain | None]:
    """For each question of a table what came of it, None where no answer could be marked again."""
    known = table.answers[(table.answers["again"] + table.answers["score"]).notna()]
    made: list[MarkedAgain | None] = [None] * len(table.questions)
    by_question: Any = known.groupby("column")
    for column, answers in by_question:
        made[column] = _question(table, column, answers)
    return made


def _question(table: Table, column: int, answers: pd.DataFrame) -> MarkedAgain:
    question = table.questions[column]
    differing = answers[differs(answers["again"], answers["score"])]
    keys = ["inside", "response", "score", "again"]
    counted: Any = differing.groupby(keys, observed=True).size().sort_values(ascending=False, kind="stable")
    first = [
        _disagreement(question.items[inside], str(response), told, again, int(number))
        for (inside, response, told, again), number in counted.head(MOST_TOLD).items()
    ]
    return MarkedAgain(
        len(answers),
        len(differing),
        float(answers["score"].mean() / question.marks),
        float(answers["again"].mean() / question.marks),
        tuple(first),
    )


def _disagreement(item: SatItem, response: str, told: float, again: float, number: int) -> Disagreement:
    answer = visible(response[:LONGEST]) + ("..." if len(response) > LONGEST else "")
    return Disagreement(item.name, answer, "; ".join(map(_key, item.parts)), float(told), float(again), number)


def _key(part: SatPart) -> str:
    """The key of a part as people read it."""
    key = part.key
    if "number" in key:
        return f"{key['number']} ± {key['half_width']} {key['unit']}".rstrip()
    if "pairs" in key:
        return ", ".join(f"{row}-{column}" for row, column in key["pairs"])
    return ", ".join(key.get("order") or key.get("options", ()))
