"""Options that several commands share, and how their texts are read."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from turnwright.bank.problem import Problem

LONGEST_TITLE = 200
KIND_HELP = (
    "Kinds of questions: number, choice, expression, direction, forces, diagram, equation, change, limit, rank, "
    "stepwise; or all."
)


def gravity_of(text: str) -> Decimal:
    """g as it was typed, with its digits; a usage error for what is no field strength."""
    try:
        number = Decimal(text)
    except InvalidOperation:
        raise click.BadParameter(f"'{text}' is no number; write for example 9.81") from None
    if not number.is_finite() or not Decimal("0.01") <= number <= 1000 or len(number.as_tuple().digits) > 6:
        raise click.BadParameter(f"'{text}' is not between 0.01 and 1000, with at most six digits")
    return number


def title_of(text: str) -> str:
    """A title that a candidate can read; a usage error for anything else."""
    if not text.strip() or not text.isprintable() or len(text) > LONGEST_TITLE:
        raise click.BadParameter(f"expected up to {LONGEST_TITLE} visible characters")
    return text


def options(*chosen: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """A decorator that adds several options, the first one first."""

    def add(function: Any) -> Any:
        for option in reversed(chosen):
            function = option(function)
        return function

    return add


BANK = click.option(
    "--bank",
    "bank_paths",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="PATH",
    help="Problem file or folder to use in place of the shipped bank; may be given more than once.",
)
JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON for a script.")
GRAVITY = click.option(
    "--g", "gravity", type=gravity_of, metavar="NUMBER", default="9.8", show_default=True, help="g in N/kg."
)
SEED = click.option("--seed", type=click.IntRange(0, 2**31 - 1), default=1, show_default=True, help="Seed of the draw.")

RULES = options(
    click.option(
        "--attempts",
        type=click.IntRange(0, 100),
        metavar="N",
        help="Attempts at each question, 0 for any number. Practice: 0; exam: 1.",
    ),
    click.option("--hints/--no-hints", default=None, help="Hints that can be asked for; never in an exam."),
    click.option("--feedback/--no-feedback", default=None, help="Feedback on each answer; never in an exam."),
    click.option("--solution/--no-solution", default=None, help="The worked solution; never in an exam."),
    click.option(
        "--shuffle/--no-shuffle",
        default=None,
        help="Questions, and options whose order means nothing, in another order for each candidate. Exam: yes.",
    ),
    click.option(
        "--minutes", type=click.IntRange(0, 1440), metavar="N", help="Time for the whole pack, 0 for no limit."
    ),
)


def bank_of(paths: tuple[Path, ...]) -> tuple[Problem, ...]:
    """The problems of a user's bank, or the shipped ones. Raises BankFaultsError."""
    from turnwright.bank.reader import problem_files, read_bank

    return read_bank(problem_files(paths) if paths else None)
