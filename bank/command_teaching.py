"""Two commands for the lesson: the catalogue of mistakes, and the card of a demonstration."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import click
from turnwright.bank.command_options import BANK, GRAVITY, JSON, bank_of, options


@click.command(short_help="The catalogue of mistakes, and where each is live.")
@click.argument("names", nargs=-1, metavar="[QUESTIONS]...")
@options(BANK, JSON)
def mistakes(names: tuple[str, ...], bank_paths: tuple[Path, ...], as_json: bool) -> None:
    """List the mistakes with the thinking behind each, and in how many of the questions it gives a wrong answer."""
    from turnwright.bank import report, report_teaching
    from turnwright.bank.cache import solved_question
    from turnwright.bank.catalogue import find_questions
    from turnwright.bank.mistake_reader import shipped_mistakes
    from turnwright.bank.slip import slips

    found = find_questions(bank_of(bank_paths), names)
    live: dict[str, list[str]] = {}
    idle: dict[str, dict[str, str]] = {}
    with report.progress("Making mistakes", len(found)) as done:
        for problem, question in found:
            solved = solved_question(problem, question)
            wrong, nothing = slips(solved, shipped_mistakes())
            for slip in wrong:
                live.setdefault(slip.mistake.id, []).append(solved.id)
            for each in nothing:
                idle.setdefault(each.mistake.id, {})[solved.id] = each.why
            done(1)
    own = {each.id: each for problem, _ in found for each in problem.mistakes}
    report_teaching.mistakes((*own.values(), *shipped_mistakes()), live, idle, len(found), as_json)


@click.command(short_help="The card of a demonstration, with your own numbers.")
@click.argument("question")
@click.option("--set", "settings", multiple=True, metavar="SYMBOL=VALUE[UNIT]", help="A given, such as r=0.85.")
@options(GRAVITY, BANK, JSON)
def demo(
    question: str, settings: tuple[str, ...], *, gravity: Decimal, bank_paths: tuple[Path, ...], as_json: bool
) -> None:
    """Print what to do, what the class predicts, the number for your own set-up, and the caution."""
    from turnwright.bank import report_teaching
    from turnwright.bank.catalogue import find_question
    from turnwright.bank.errors import UsageError
    from turnwright.bank.one_off import solve_for

    problem, found = find_question(bank_of(bank_paths), question)
    if not problem.demonstration:
        raise UsageError(f"{problem.id} has no demonstration; write one under 'demonstration' in its file")
    answer = solve_for(problem, found, settings, None, gravity) if settings else None
    report_teaching.demonstration(problem, found, answer, as_json)
