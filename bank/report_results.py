"""What the results command prints: what was read and set aside, the first mistakes, what to look at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click
from turnwright.bank.mistake_reader import shipped_mistakes
from turnwright.bank.prose import count
from turnwright.bank.report import print_json

if TYPE_CHECKING:
    from turnwright.bank.analysis import Outcome
    from turnwright.bank.problem import Problem

FIRST = 5


def words(problems: Sequence[Problem]) -> Mapping[str, str]:
    """What a student would say, by mistake; those of a single problem as ``problem:mistake``."""
    own = {f"{problem.id}:{each.id}": each.thinking for problem in problems for each in problem.mistakes}
    return {**{each.id: each.thinking for each in shipped_mistakes()}, **own}


def results(outcome: Outcome, page: Path | None, written: Sequence[Path], left: Sequence[str], as_json: bool) -> None:
    """The outcome for a script, or in a few lines."""
    if as_json:
        from turnwright.exporters.report import outcome_data

        files = {"report": str(page) if page else None, "statistics": [str(each) for each in written]}
        print_json({**outcome_data(outcome), **files, "not_written_back": list(left)})
        return
    for form in outcome.forms:
        click.echo(
            f"Form {form.name}: {count(form.candidates, 'candidate')}, {count(form.questions, 'question')}, "
            f"mean {form.mean:.0%} of the marks, alpha {form.reliability.alpha:.2f}"
        )
        for line in form.silence:
            click.echo(f"  {line}")
    for note in outcome.notes:
        click.echo(f"{'set aside' if note.lost else 'note'}: {note}")
    if outcome.thoughts:
        click.echo("What the class thinks:")
    for thought in outcome.thoughts[:FIRST]:
        click.echo(f"  {thought.mistake}: {count(thought.count, 'answer')}, first in {thought.questions[0][0]}")
    for question in outcome.questions:
        for flag in question.flags:
            click.echo(f"look at {question.form} {question.number} ({question.id}): {flag.words}")
    for reason in left:
        click.echo(f"not written back: {reason}")
    for path in written:
        click.echo(f"measured values in {path}")
    if page:
        click.echo(f"report in {page}")
