"""What the command for forms prints: how alike the forms are, what that rests on, and where they lie."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..language import count, listed
from .opening import bank_of
from .options import BANK, JSON, options, order
from .printing import CAUTION, print_json, progress

if TYPE_CHECKING:
    from ...exporters.running.forms import WrittenForms
    from ...exporters.running.packing import Order
    from ..forms.assessment import Assessment, Form
    from ..forms.reproduction import Reproduction
    from ..model.problem import Problem
    from ..solving.solution import SolvedQuestion


LINKING = "Before scores of two forms are compared, link them: alike by prediction is not yet equal."


def forms(made: Assessment, written: WrittenForms, as_json: bool) -> None:
    """The forms side by side, and the files."""
    if as_json:
        print_json(_data(made, written))
        return
    for path in written.files:
        click.echo(f"{path}: {path.stat().st_size / 1e3:.0f} kB")
    click.echo()
    click.echo("form  questions  marks  minutes  facility  keys")
    for each in made.forms:
        keys = "  ".join(f"{letter} {number}" for letter, number in each.letters.items())
        click.echo(
            f"{each.name:<4}  {len(each.questions):>9}  {each.marks:>5}  {each.minutes:>7}  {each.facility:>8.3f}  "
            f"{keys}"
        )
    click.echo()
    for line in (*_search(made), *_basis(made), *_thinking(made), *written.told):
        click.echo(line)
    click.echo(f"{count(written.proved, 'item')} read back and marked, none refused.")
    if len(made.forms) > 1:
        click.echo(LINKING)
    click.echo(CAUTION)


def _search(made: Assessment) -> list[str]:
    if len(made.forms) == 1:
        return [f"Chosen among {made.candidates:,} questions."]
    assembled, choice = made.assembled, made.choice
    return [
        f"Chosen among {made.candidates:,} questions: the largest difference between forms is "
        f"{assembled.difference:.2f} (a minute, a mark or 0.01 of mean facility is 1, and up to 1 counts as none), "
        f"optimality gap {assembled.gap:.2f}.",
        f"Variants: the largest difference is {choice.difference:.2f} (1 is one key more on a letter, or 0.01 of mean "
        f"facility), optimality gap {choice.gap:.2f}.",
    ]


def _basis(made: Assessment) -> list[str]:
    total = sum(len(each.questions) for each in made.forms)
    if made.measured == total:
        return ["Facility: measured for all questions."]
    share = (
        f"measured for {made.measured} of {total} questions, predicted for the others" if made.measured else "predicted"
    )
    return [f"Facility: {share}. The prediction rests on house weights (steps, conversions, limits, axes, angles)."]


def _thinking(made: Assessment) -> list[str]:
    lines = []
    for each in made.forms:
        found = Counter(question.candidate.thinking for question in each.questions)
        lines.append(f"Form {each.name}: {listed(f'{number} {name}' for name, number in found.items())}.")
    return lines


def _data(made: Assessment, written: WrittenForms) -> dict[str, Any]:
    return {
        "assessment": made.blueprint.id,
        "files": [str(path.resolve()) for path in written.files],
        "candidates": made.candidates,
        "difference": made.assembled.difference,
        "optimality_gap": made.assembled.gap,
        "variants": {"difference": made.choice.difference, "optimality_gap": made.choice.gap},
        "proved": written.proved,
        "left_out": list(written.told),
        "forms": [_form(each) for each in made.forms],
    }


def _form(each: Form) -> dict[str, Any]:
    return {
        "form": each.name,
        "marks": each.marks,
        "minutes": each.minutes,
        "facility": round(each.facility, 4),
        "keys": each.letters,
        "questions": [
            {
                "id": question.candidate.id,
                "variant": question.number,
                "scene": question.scene,
                "thinking": question.candidate.thinking,
                "facility": round(question.candidate.facility_in(question.scene), 4),
                "facility_is": "measured" if question.candidate.measured else "predicted",
                "minutes": question.candidate.minutes,
            }
            for question in each.questions
        ],
    }


def reproduction(path: Path, found: Reproduction, as_json: bool) -> None:
    """Whether the keys come out again, and each item that differs."""
    if as_json:
        print_json(
            {
                "items": found.items,
                "same_bank": found.same_bank,
                "differences": [
                    {"form": each.form, "place": each.place, "question": each.question, "told": each.told}
                    for each in found.differences
                ],
            }
        )
        return
    for each in found.differences:
        click.echo(f"{path}: {each}")
    bank = "the bank is the same" if found.same_bank else "the bank has changed since"
    same = found.items - len(found.differences)
    click.echo(f"{same} of {found.items} items come out with the same stem and key; {bank}.")


@click.command(short_help="Make parallel forms from a blueprint.")
@click.argument("blueprint", type=click.Path(path_type=Path), metavar="[BLUEPRINT.yaml]", required=False)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    show_default="this folder",
    help="Where packs, papers and the manifest go; it is made.",
)
@click.option("--paper", is_flag=True, help="Each form as a paper as well, with its key and marking guide.")
@click.option(
    "--check", "manifest", type=click.Path(path_type=Path), metavar="FILE.json", show_default="none",
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
    from ..errors import UsageError

    if (blueprint is None) == (manifest is None):
        raise UsageError("name a blueprint to make forms from, or a manifest with --check, and not both")
    if manifest is not None:
        return _check(manifest, bank_paths, as_json)
    assert blueprint is not None
    from ..storage.targets import folder_for

    with folder_for(out or Path()) as folder:
        _make(blueprint, folder, order, paper, bank_paths, as_json)
    return 0


def _make(path: Path, out: Path, order: Order, paper: bool, bank_paths: tuple[Path, ...], as_json: bool) -> None:
    from ...exporters.running.forms import write_forms
    from ..forms.assessment import assess
    from ..forms.blueprint_reader import read_blueprint
    from ..forms.candidate import candidates
    from ..forms.manifest import bank_version
    from ..forms.measured import measured
    from ..reading.mistakes import shipped_mistakes

    blueprint = read_blueprint(path)
    problems = bank_of(bank_paths)
    results = measured(problems)
    solved = _solved(problems)
    found = candidates(solved, shipped_mistakes(), problems, results)
    with progress("Choosing", 1) as done:
        made = assess(blueprint, found, problems)
        done(1)
    version = bank_version(problems, shipped_mistakes())
    written = write_forms(made, version, out, order, progress, solved if paper else None)
    forms(made, written, as_json)


def _solved(problems: tuple[Problem, ...]) -> list[SolvedQuestion]:
    from ..questions.selection import all_questions
    from ..solving.cache import solved_question

    questions = all_questions(problems)
    with progress("Solving", len(questions)) as done:
        found = []
        for problem, question in questions:
            found.append(solved_question(problem, question))
            done(1)
    return found


def _check(path: Path, bank_paths: tuple[Path, ...], as_json: bool) -> int:
    from ..forms.reproduction import read_manifest, reproduce
    from ..reading.mistakes import shipped_mistakes

    data = read_manifest(path)
    problems = bank_of(bank_paths)
    total = sum(len(each["items"]) for each in data["forms"])
    with progress("Making keys again", total) as done:
        found = reproduce(data, problems, shipped_mistakes(), done)
    reproduction(path, found, as_json)
    return 1 if found.differences else 0
