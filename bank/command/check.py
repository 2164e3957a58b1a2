"""The command that reports every fault of problem files."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..errors import Fault
from ..language import count
from .options import JSON
from .printing import difficulties, fault_data, print_json, progress

if TYPE_CHECKING:
    from ..checking.choices import ChoicesReport
    from ..checking.quality import Finding
    from ..checking.questions import QuestionReport
    from ..model.problem import Problem


@click.command(short_help="Report every fault of problem files.")
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--against",
    metavar="OLD",
    help="An earlier state (folder, file or REVISION:PATH): a key, stem or limit that changed needs a raised version.",
)
@JSON
def check(files: tuple[Path, ...], against: str | None, as_json: bool) -> int:
    """Report every fault of problem FILES or folders (the shipped bank if none is named)."""
    from ..checking.choices import check_choices
    from ..checking.questions import check_questions
    from ..checking.terms import documents_beside, term_notes
    from ..quantities.gravity import GRAVITY
    from ..reading.files import collect, problem_files, shipped_files

    paths = problem_files(files) if files else shipped_files()
    problems, faults = collect(paths)
    if against is not None:
        from ..change.versions import version_faults

        faults += version_faults(against, problems)
    total = sum(len(problem.questions) for problem in problems)
    with progress("Solving", total) as done:
        reports = check_questions(problems, done=lambda _: done(1))
    solved = [each.solved for each in reports if each.solved]
    with progress("Making choices", len(solved)) as done:
        choices = check_choices(solved, GRAVITY, lambda _: done(1))
    documents = [*(each.document for each in problems), *(() if files else documents_beside())]
    terms = [note for each in documents for note in term_notes(each)]
    print_check(len(paths), problems, reports, choices, faults, terms, as_json)
    return 1 if faults or choices.faults or any(each.faults for each in reports) else 0


def print_check(
    files: int,
    problems: Sequence[Problem],
    reports: Sequence[QuestionReport],
    choices: ChoicesReport,
    faults: Sequence[Fault],
    terms: Sequence[Fault],
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
                "terms": [fault_data(each) for each in terms],
            }
        )
        return
    for fault in found:
        click.echo(str(fault))
    for note in (*(note for each in reports for note in each.findings), *choices.findings, *choices.notes, *terms):
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
