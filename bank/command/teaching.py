"""Two commands for the lesson: the catalogue of mistakes, and the card of a demonstration."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..language import listed
from .naming import NAMES, QUESTION_NAME
from .opening import bank_for, index_of, tell
from .options import BANK, GRAVITY, JSON, SET, options
from .printing import paragraph_text, print_json, progress
from .solve import told_units

if TYPE_CHECKING:
    from ..model.mistake import Mistake
    from ..model.problem import Problem, Question
    from ..questions.own_numbers import OwnAnswer
    from ..writing.demonstration import Card


def print_mistakes(
    catalogue: Sequence[Mistake],
    live: Mapping[str, Sequence[str]],
    idle: Mapping[str, Mapping[str, str]],
    asked: int,
    as_json: bool,
) -> None:
    """Each mistake with its thinking and feedback, its source, and where it gives a wrong number or option."""
    from ..questions.kinds import KINDS_OF_IDEA

    if as_json:
        print_json(
            {
                "questions": asked,
                "mistakes": [
                    {
                        "id": each.id,
                        "thinking": each.thinking,
                        "edit": {each.edit.name: each.edit.argument},
                        "families": list(each.families),
                        "feedback": each.feedback,
                        "source": each.source,
                        "prior": {"weight": each.prior.weight, "source": each.prior.source},
                        "live_in": list(live.get(each.id, ())),
                        "no_number_in": dict(idle.get(each.id, {})),
                        "option_in_kinds": list(KINDS_OF_IDEA.get(each.edit.name, ())),
                    }
                    for each in catalogue
                ],
            }
        )
        return
    for each in catalogue:
        ideas = KINDS_OF_IDEA.get(each.edit.name, ())
        options = f"an idea: a wrong option in questions of kind {listed(ideas)}"
        numbers = f"wrong numbers in {len(live.get(each.id, ()))} of {asked} questions"
        click.echo(f"{each.id}: {options if ideas else numbers}")
        click.echo(f"   “{each.thinking}”")
        click.echo(f"   feedback: {each.feedback}")
        click.echo(f"   source: {each.source}")
        click.echo(f"   met {each.prior.weight}: {each.prior.source}")
        if asked == 1 and each.id in idle:
            click.echo(f"   here: {next(iter(idle[each.id].values()))}")


def demonstration(problem: Problem, card: Card, question: Question, answer: OwnAnswer | None, as_json: bool) -> None:
    """The card: what to do, what to have predicted, the number to expect, what is seen, what to watch for."""
    from ..writing.stem import asked_name

    name = asked_name(problem, question, problem.scenes_of(question)[0])
    if as_json:
        number = {"name": name, "text": answer.text, "value_si": answer.value_si} if answer else None
        told = {"do": card.do, "predict": card.predict, "seen": paragraph_text(card.seen), "caution": card.caution}
        print_json({"problem": problem.id, **told, "expect": number})
        return
    click.echo(f"{problem.title}\n")
    click.echo(f"Do: {card.do}\n")
    click.echo(f"Let the class predict: {card.predict}\n")
    if answer:
        click.echo(f"With your numbers: {name} {answer.ask} = {answer.text} (from {answer.ask} = {answer.closed_form})")
        click.echo(f"{told_units(answer)}\n" if answer.taken else "")
    else:
        wanted = " ".join(f"--set {name}=..." for name in question.given)
        click.echo(f"For the number of your own set-up add {wanted}\n")
    click.echo(f"What is seen: {paragraph_text(card.seen)}\n")
    click.echo(f"Caution: {card.caution}")


@click.command(short_help="The catalogue of mistakes, and where each is live.")
@NAMES
@options(BANK, JSON)
def mistakes(names: tuple[str, ...], bank_paths: tuple[Path, ...], as_json: bool) -> None:
    """List the mistakes with the thinking behind each, and in how many of the questions it gives a wrong answer."""
    from ..questions.selection import find_questions
    from ..reading.mistakes import shipped_mistakes
    from ..solving.cache import solved_question
    from ..thinking.mistaken_forms import mistaken_forms

    found = find_questions(bank_for(bank_paths, names, {"kinds": (), "named": ()}), names)
    live: dict[str, list[str]] = {}
    idle: dict[str, dict[str, str]] = {}
    with progress("Making mistakes", len(found)) as done:
        for problem, question in found:
            solved = solved_question(problem, question)
            wrong, nothing = mistaken_forms(solved, shipped_mistakes())
            for form in wrong:
                live.setdefault(form.mistake.id, []).append(solved.id)
            for each in nothing:
                idle.setdefault(each.mistake.id, {})[solved.id] = each.why
            done(1)
    own = {each.id: each for problem, _ in found for each in problem.mistakes}
    print_mistakes((*own.values(), *shipped_mistakes()), live, idle, len(found), as_json)


@click.command(short_help="The card of a demonstration, with your own numbers.")
@click.argument("question", type=QUESTION_NAME)
@SET
@options(GRAVITY, BANK, JSON)
def demo(
    question: str, settings: tuple[str, ...], *, gravity: Decimal, bank_paths: tuple[Path, ...], as_json: bool
) -> None:
    """Print what to do, what the class predicts, the number for your own set-up, what is seen, and the caution."""
    from ..errors import UsageError
    from ..questions.own_numbers import solve_for
    from ..writing.demonstration import card

    index = index_of(bank_paths)
    problem, found = index.question(question)
    tell(index.faults)
    shown = card(problem)
    if shown is None:
        why = problem.demonstration.get("none")
        right = f": {why}" if why else "; write one under 'demonstration' in its file"
        raise UsageError(f"{problem.id} has no demonstration{right}")
    answer = solve_for(problem, found, settings, None, gravity) if settings else None
    demonstration(problem, shown, found, answer, as_json)
