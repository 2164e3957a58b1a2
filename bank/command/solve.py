"""The command that solves a question for a user's own numbers."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..language import listed
from .opening import index_of, tell
from .options import BANK, GRAVITY, JSON, SET, options
from .printing import print_json, print_steps, steps_data

if TYPE_CHECKING:
    from ..index.lookup import Index
    from ..questions.own_numbers import OwnAnswer


@click.command(short_help="Solve a question for your own numbers.")
@click.argument("question", metavar="QUESTION|FILE.yaml#QUESTION")
@SET
@click.option(
    "--ask",
    metavar="SYMBOL",
    show_default="what the question asks",
    help="Another asked quantity, or a ratio such as N_low/N.",
)
@options(GRAVITY, BANK, JSON)
def solve(
    question: str,
    settings: tuple[str, ...],
    ask: str | None,
    gravity: Decimal,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Solve a QUESTION for your own numbers, from any set of givens that is enough."""
    index, name = _named(question, bank_paths)
    problem, found = index.question(name)
    tell(index.faults)
    from ..questions.own_numbers import solve_for  # what loads much comes after what may be wrong

    print_answer(solve_for(problem, found, settings, ask, gravity), as_json)


def _named(question: str, bank_paths: tuple[Path, ...]) -> tuple[Index, str]:
    """The index to look in, and the id to look for: ``FILE.yaml#question`` brings its own file."""
    from ..errors import UsageError

    path, _, name = question.rpartition("#")
    if not path:
        if question.endswith((".yaml", ".yml")):
            raise UsageError(f"{question} is a file; name a question in it, as in {question}#least-speed")
        return index_of(bank_paths), question
    if bank_paths:
        raise UsageError(f"{question} names its own file; leave --bank out")
    index = index_of((Path(path),))
    ids = [each.id for each in index.files]
    return index, f"{ids[0]}.{name}" if len(ids) == 1 and "." not in name else name


def told_units(answer: OwnAnswer) -> str:
    """In which unit each value was taken that was set without one."""
    return f"with {listed(answer.taken)}, since no other unit was typed"


def print_answer(answer: OwnAnswer, as_json: bool) -> None:
    """The answer to a question with a user's numbers."""
    if as_json:
        print_json(
            {
                "ask": answer.ask,
                "value_si": answer.value_si,
                "text": answer.text,
                "closed_form": answer.closed_form,
                "steps": steps_data(answer.steps),
                "taken": list(answer.taken),
            }
        )
        return
    click.echo(f"{answer.ask} = {answer.text}   ({answer.ask} = {answer.closed_form})")
    if answer.taken:
        click.echo(told_units(answer))
    print_steps(answer.steps)
