"""What the commands print: a table or plain lines for a person, JSON for a script."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..errors import Fault
from ..item import formula
from ..item.item import Math, Paragraph, Step
from ..language import count
from ..model.problem import Problem, Question

if TYPE_CHECKING:
    from ...exporters.proof import Report
    from ..questions.check import QuestionReport
    from ..questions.check_choices import ChoicesReport
    from ..questions.own_numbers import OwnAnswer
    from ..questions.quality import Finding
    from ..solving.solved import SolvedQuestion


def is_terminal() -> bool:
    """Whether a person sees the output as it comes."""
    return sys.stdout.isatty()


@contextmanager
def progress(what: str, total: int) -> Iterator[Callable[[float], None]]:
    """A bar with rate and time left on a terminal, nothing in a pipe; it is told how many more are done."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    rate = TextColumn("{task.fields[rate]}", style="progress.data.speed")
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), rate, TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=total, rate="")

        def done(steps: float) -> None:
            bar.advance(task, steps)
            speed = bar.tasks[0].speed
            bar.update(task, rate=f"{speed:,.0f} a second" if speed and speed >= 1 else "")

        yield done


def megabytes(size: int) -> str:
    """The size of a file in MB, in kB where that would be nothing."""
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{max(size // 1000, 1)} kB"


def print_json(data: Any) -> None:
    """The data as JSON on standard output, in plain ASCII where the output takes no more."""
    encoding = (getattr(sys.stdout, "encoding", None) or "utf-8").lower().replace("-", "")
    click.echo(json.dumps(data, ensure_ascii=encoding != "utf8", indent=2))


def paragraph_text(paragraph: Paragraph) -> str:
    """A paragraph on one line."""
    return "".join(formula.text(part.node) if isinstance(part, Math) else part.text for part in paragraph)


def check(
    files: int,
    problems: Sequence[Problem],
    reports: Sequence[QuestionReport],
    choices: ChoicesReport,
    faults: Sequence[Fault],
    as_json: bool,
) -> None:
    """The faults, one a line, and a closing line."""
    found = [*faults, *(fault for each in reports for fault in each.faults), *choices.faults]
    if as_json:
        print_json(
            {
                "files": files,
                "faults": [fault_data(each) for each in found],
                "questions": [_checked(each, choices) for each in reports],
                "choices": {
                    "notes": [_note(each) for each in choices.findings],
                    "no_choice_form": list(choices.without),
                    "mistakes_of_no_use": [fault_data(each) for each in choices.notes],
                },
            }
        )
        return
    for fault in found:
        click.echo(str(fault))
    for note in (*(note for each in reports for note in each.findings), *choices.findings, *choices.notes):
        click.echo(f"note: {note}")
    variants = sum(each.variants for each in reports)
    summary = ", ".join(
        (
            count(files, "file"),
            count(len(problems), "situation"),
            count(len(reports), "question"),
            count(variants, "variant"),
        )
    )
    click.echo(f"{summary}: {'no fault found' if not found else count(len(found), 'fault')}")
    if choices.without:
        click.echo(f"Without a choice form, for want of two honest wrong answers: {', '.join(choices.without)}")


def fault_data(fault: Fault) -> dict[str, Any]:
    """A fault for a script."""
    place = fault.place
    return {"file": place.file, "line": place.line, "column": place.column, "wrong": fault.wrong, "right": fault.right}


def _checked(each: QuestionReport, choices: ChoicesReport) -> dict[str, Any]:
    return {
        "id": each.id,
        "closed_form": str(each.solved.solution.closed_form) if each.solved else None,
        "variants": each.variants,
        "dropped": each.breaking,
        "not_decided": list(each.undecided),
        "difficulty": difficulties(each.solved) if each.solved else {},
        "notes": [_note(note) for note in each.findings],
        "mistakes_without_a_number": dict(choices.idle.get(each.id, {})),
        "faults": [fault_data(fault) for fault in each.faults],
    }


def _note(note: Finding) -> dict[str, Any]:
    return {"question": note.question, "rule": note.rule, "source": note.source, "found": note.found}


def difficulties(solved: SolvedQuestion) -> dict[str, int]:
    """The index of difficulty of each scene."""
    from ..questions.quality import difficulty

    return {scene.name: difficulty(solved, scene) for scene in solved.problem.scenes_of(solved.question)}


def questions(rows: Sequence[tuple[Problem, Question, int]], as_json: bool) -> None:
    """The list of questions with the number of their variants."""
    data = [_question(problem, question, variants) for problem, question, variants in rows]
    if as_json:
        print_json({"questions": data})
        return
    if not is_terminal():
        for each in data:
            click.echo(
                "\t".join(
                    map(str, (each["id"], each["asks"], ",".join(each["given"]), each["variants"], each["title"]))
                )
            )
        return
    from rich.console import Console
    from rich.table import Table

    table = Table("question", "asks", "from", "scenes", "variants", box=None, header_style="bold")
    for each in data:
        cells = (each["id"], each["asks"], " ".join(each["given"]), str(len(each["scenes"])), f"{each['variants']:,}")
        table.add_row(*cells)
    Console().print(table)


def _question(problem: Problem, question: Question, variants: int) -> dict[str, Any]:
    return {
        "id": f"{problem.id}.{question.name}",
        "title": question.title,
        "family": problem.family,
        "level": question.level,
        "asks": question.ask,
        "given": list(question.given),
        "scenes": [scene.name for scene in problem.scenes_of(question)],
        "variants": variants,
    }


def steps_data(steps: Sequence[Step]) -> list[dict[str, Any]]:
    """A worked solution for a script."""
    return [
        {"step": each.number, "heading": each.heading, "lines": [paragraph_text(line) for line in each.paragraphs]}
        for each in steps
    ]


def print_steps(steps: Sequence[Step]) -> None:
    """A worked solution on the screen, formulas set in."""
    for step in steps:
        click.echo(f"\n{step.number}. {step.heading}")
        for paragraph in step.paragraphs:
            indent = "      " if isinstance(paragraph[0], Math) else "   "
            click.echo(indent + paragraph_text(paragraph))


def answer(answer: OwnAnswer, as_json: bool) -> None:
    """The answer to a question with a user's numbers."""
    if as_json:
        print_json(
            {
                "ask": answer.ask,
                "value_si": answer.value_si,
                "text": answer.text,
                "closed_form": answer.closed_form,
                "steps": steps_data(answer.steps),
            }
        )
        return
    click.echo(f"{answer.ask} = {answer.text}   ({answer.ask} = {answer.closed_form})")
    print_steps(answer.steps)


def proof(path: Path, report: Report, as_json: bool) -> None:
    """What a pack holds and what its proof found."""
    if as_json:
        print_json({"path": str(path), **report.as_json()})
        return
    for finding in report.findings:
        click.echo(f"{path}: {finding}")
    held = f"{count(report.items, 'item')}, {count(report.tests, 'test')}, {count(report.figures, 'figure')}"
    click.echo(f"{path}: {report.format}, {held}; {report.marked} marked with {report.answers_tried:,} answers")
    for reason in report.unmarked[:20]:
        click.echo(f"not marked: {reason}")
    click.echo("proved" if report.ok else f"not proved: {count(len(report.findings), 'finding')}")
