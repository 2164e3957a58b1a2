"""The command that makes parallel forms from a blueprint, and makes their keys again years later."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click
from turnwright.bank.command_options import BANK, JSON, bank_of, options, order

if TYPE_CHECKING:
    from turnwright.bank.problem import Problem
    from turnwright.bank.solving import SolvedQuestion
    from turnwright.exporters.packing import Order


@click.command(short_help="Make parallel forms from a blueprint.")
@click.argument("blueprint", type=click.Path(path_type=Path), metavar="[BLUEPRINT.yaml]", required=False)
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="FOLDER", help="Where packs, papers and the manifest go."
)
@click.option("--paper", is_flag=True, help="Each form as a paper as well, with its key and marking guide.")
@click.option(
    "--check", "manifest", type=click.Path(path_type=Path), metavar="FILE.json",
    help="Instead, make the keys of a manifest again from the bank, and tell what differs.",
)  # fmt: skip
@order
@options(BANK, JSON)
def form(
    blueprint: Path | None,
    *,
    order: Order,
    out: Path | None,
    paper: bool,
    manifest: Path | None,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> int:
    """Make all forms of a BLUEPRINT at once: proved packs, papers, and assessment.json, which tells of them all."""
    from turnwright.bank.errors import UsageError

    if (blueprint is None) == (manifest is None):
        raise UsageError("name a blueprint to make forms from, or a manifest with --check, and not both")
    if manifest is not None:
        return _check(manifest, bank_paths, as_json)
    assert blueprint is not None
    _make(blueprint, out or Path(), order, paper, bank_paths, as_json)
    return 0


def _make(path: Path, out: Path, order: Order, paper: bool, bank_paths: tuple[Path, ...], as_json: bool) -> None:
    from turnwright.bank import report, report_form
    from turnwright.bank.form.assessment import assess
    from turnwright.bank.form.blueprint_reader import read_blueprint
    from turnwright.bank.form.candidate import candidates
    from turnwright.bank.form.manifest import bank_version
    from turnwright.bank.form.measured import measured
    from turnwright.bank.mistake_reader import shipped_mistakes
    from turnwright.exporters.forms import checked_folder, write_forms

    blueprint = read_blueprint(path)
    checked_folder(out)
    problems = bank_of(bank_paths)
    results = measured(problems)
    solved = _solved(problems)
    found = candidates(solved, shipped_mistakes(), problems, results)
    with report.progress("Choosing", 1) as done:
        made = assess(blueprint, found, problems)
        done(1)
    version = bank_version(problems, shipped_mistakes())
    written = write_forms(made, version, out, order, report.progress, solved if paper else None)
    report_form.forms(made, written, as_json)


def _solved(problems: tuple[Problem, ...]) -> list[SolvedQuestion]:
    from turnwright.bank import report
    from turnwright.bank.cache import solved_question
    from turnwright.bank.catalogue import all_questions

    questions = all_questions(problems)
    with report.progress("Solving", len(questions)) as done:
        found = []
        for problem, question in questions:
            found.append(solved_question(problem, question))
            done(1)
    return found


def _check(path: Path, bank_paths: tuple[Path, ...], as_json: bool) -> int:
    from turnwright.bank import report, report_form
    from turnwright.bank.form.reproduction import read_manifest, reproduce
    from turnwright.bank.mistake_reader import shipped_mistakes

    data = read_manifest(path)
    problems = bank_of(bank_paths)
    total = sum(len(each["items"]) for each in data["forms"])
    with report.progress("Making keys again", total) as done:
        found = reproduce(data, problems, shipped_mistakes(), done)
    report_form.reproduction(path, found, as_json)
    return 1 if found.differences else 0
