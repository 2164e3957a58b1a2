"""The command that reads results and says which questions worked and what the class thinks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..language import count, listed
from .opening import bank_of
from .options import BANK, FORCE, JSON, options, title_of
from .printing import print_json, progress

if TYPE_CHECKING:
    from ..analysis import Outcome
    from ..model.problem import Problem


FIRST = 5


def words(problems: Sequence[Problem]) -> Mapping[str, str]:
    """What a student would say, by mistake; those of a single problem as ``problem:mistake``."""
    from ..reading.mistakes import shipped_mistakes

    own = {f"{problem.id}:{each.id}": each.thinking for problem in problems for each in problem.mistakes}
    return {**{each.id: each.thinking for each in shipped_mistakes()}, **own}


def print_results(
    outcome: Outcome, page: Path | None, written: Sequence[Path], left: Sequence[str], as_json: bool
) -> None:
    """The outcome for a script, or in a few lines."""
    if as_json:
        from ...exporters.report import outcome_data

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
    _print_thoughts(outcome)
    for question in outcome.questions:
        for flag in question.flags:
            click.echo(f"look at {question.form} {question.number} ({question.id}): {flag.words}")
    for reason in left:
        click.echo(f"not written back: {reason}")
    for path in written:
        click.echo(f"measured values in {path}")
    if page:
        click.echo(f"report in {page}")


def _print_thoughts(outcome: Outcome) -> None:
    """The thoughts that the answers show, and those of which too few answers tell."""
    from ..analysis.told_thoughts import NONE_SHOWN, OPEN, told_counts

    if not outcome.thoughts:
        return
    shown = [each for each in outcome.thoughts if each.is_shown]
    click.echo("What the class thinks:" if shown else "What the class thinks is not known: " + NONE_SHOWN)
    for thought in shown[:FIRST]:
        click.echo(f"  {thought.mistake}: {told_counts(thought)}, first in {thought.questions[0][0]}")
    still_open = [each.mistake for each in outcome.thoughts if each.is_open]
    if still_open:
        click.echo(f"  can't be known yet: {listed(still_open[:FIRST], 'or')}{_more(len(still_open))}; {OPEN}")


def _more(number: int) -> str:
    return f", or {number - FIRST} more" if number > FIRST else ""


@click.command(short_help="Analyse results: which questions worked, what the class thinks.")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILES...")
@click.option(
    "--pack", "manifest", type=click.Path(path_type=Path), required=True, metavar="MANIFEST",
    help="Manifest (JSON) that was written with the packs.",
)  # fmt: skip
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="FILE.html",
    show_default="turnwright-results.html, and nowhere with --json", help="Where the report goes.",
)  # fmt: skip
@click.option(
    "--group", type=click.Path(path_type=Path), metavar="FILE.csv",
    show_default="none",
    help="Groups to compare: a CSV with the columns candidate and group. A results CSV may have its own column group.",
)  # fmt: skip
@click.option(
    "--reference", metavar="NAME", default="", show_default="the largest", help="Group that others are compared with."
)
@click.option(
    "--salt", metavar="TEXT", default="", envvar="TURNWRIGHT_SALT",
    show_default="one that is made and forgotten",
    help="Salt of the pseudonyms. The variable TURNWRIGHT_SALT keeps it out "
    "of the list of processes.",
)  # fmt: skip
@click.option(
    "--write-back", is_flag=True, help="Keep measured values beside the problems, in <problem>.statistics.json."
)
@click.option(
    "--date", type=title_of, metavar="TEXT", show_default="none", help="A date for the report and the values."
)
@options(FORCE, BANK, JSON)
def results(
    files: tuple[Path, ...],
    *,
    manifest: Path,
    out: Path | None,
    force: bool,
    group: Path | None,
    reference: str,
    salt: str,
    write_back: bool,
    date: str | None,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Analyse the results of a sitting: QTI results reporting (XML) or CSV; files, folders or zip files of them.

    A CSV has the columns candidate, item, response and score; form, group, duration, time and fingerprint are optional.
    """
    from importlib.metadata import version

    from ...exporters.report import ReportHead, report_page, statistics_files
    from ...exporters.results import Pseudonyms, read_results, with_groups
    from ..analysis import analyse, read_assessment
    from ..errors import FileError
    from ..storage.files import write_together
    from ..storage.targets import free_for

    target = out or (None if as_json else Path("turnwright-results.html"))
    if target:
        free_for(target, ".html", force=force)
    assessment = read_assessment(manifest)
    pseudonyms = Pseudonyms(salt)
    with progress("Reading results", len(files)) as done:
        rows = read_results(files, pseudonyms, done)
    if group:
        rows = with_groups(rows, group, pseudonyms)
    outcome = analyse(rows, assessment, reference)
    if not outcome.forms:
        told = "; ".join(map(str, outcome.notes))
        raise FileError(
            str(manifest), f"no answer belongs to it ({told})", "name the manifest of the packs that were sat"
        )
    problems = bank_of(bank_paths) if target or write_back else ()
    made: dict[Path, bytes] = {}
    left: list[str] = []
    if target:
        made[target] = report_page(outcome, ReportHead(version("turnwright"), date or "", words(problems)))
    if write_back:
        places = {each.id: (Path(each.document.file), each) for each in problems}
        beside, left = statistics_files(outcome, places, date or "")
        made |= beside
    write_together(made)
    print_results(outcome, target, [path for path in made if path != target], left, as_json)
