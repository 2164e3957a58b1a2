"""What the commands for the lesson print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import click
from turnwright.bank.mistake import Mistake
from turnwright.bank.one_off import Answer
from turnwright.bank.problem import Problem, Question
from turnwright.bank.report import print_json
from turnwright.bank.stem import asked_name


def mistakes(
    catalogue: Sequence[Mistake],
    live: Mapping[str, Sequence[str]],
    idle: Mapping[str, Mapping[str, str]],
    asked: int,
    as_json: bool,
) -> None:
    """Each mistake with its thinking, its source, where it gives a wrong number, and why not where it gives none."""
    if as_json:
        print_json(
            {
                "questions": asked,
                "mistakes": [
                    {
                        "id": each.id,
                        "thinking": each.thinking,
                        "edit": {each.edit[0]: each.edit[1]},
                        "families": list(each.families),
                        "feedback": each.feedback,
                        "source": each.source,
                        "live_in": list(live.get(each.id, ())),
                        "no_number_in": dict(idle.get(each.id, {})),
                    }
                    for each in catalogue
                ],
            }
        )
        return
    for each in catalogue:
        click.echo(f"{each.id}: wrong numbers in {len(live.get(each.id, ()))} of {asked} questions")
        click.echo(f"   “{each.thinking}”")
        click.echo(f"   source: {each.source}")
        if asked == 1 and each.id in idle:
            click.echo(f"   here: {next(iter(idle[each.id].values()))}")


def demonstration(problem: Problem, question: Question, answer: Answer | None, as_json: bool) -> None:
    """The card: what to do, what to have predicted, the number to expect, what to watch for."""
    card = problem.demonstration
    name = asked_name(problem, question, problem.scenes_of(question)[0])
    if as_json:
        number = {"name": name, "text": answer.text, "value_si": answer.value_si} if answer else None
        print_json({"problem": problem.id, **card, "expect": number})
        return
    click.echo(f"{problem.title}\n")
    click.echo(f"Do: {card['do']}\n")
    click.echo(f"Let the class predict: {card['predict']}\n")
    if answer:
        click.echo(
            f"With your numbers: {name} {answer.ask} = {answer.text} (from {answer.ask} = {answer.closed_form})\n"
        )
    else:
        wanted = " ".join(f"--set {name}=..." for name in question.given)
        click.echo(f"For the number of your own set-up add {wanted}\n")
    click.echo(f"Caution: {card['caution']}")
