"""Whether the worked solution is there exactly if the rules of the sitting say so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from turnwright.bank.sitting import Sitting
from turnwright.exporters.proof.trial import Answer, Bench


def check_solution(bench: Bench, right: Mapping[str, Answer], rules: Sitting) -> Iterator[str]:
    """A worked solution that right answers do not bring; or one that is there though there should be none."""
    feedback = bench.feedback
    if rules.solution:
        if not any(map(feedback.is_solution, feedback.shown(bench.mark(right)))):
            yield "right answers bring no worked solution"
        return
    if feedback.has_solution():
        yield "the item holds a worked solution, none expected"
    for rubric in bench.item.all("qti-rubric-block"):
        yield f"line {rubric.line}: a rubric beside the item, though no solution is to be told"
