"""The command that reads results and says which questions worked and what the class thinks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..language import count, listed
from .opening import bank_of
from .options import BANK, FORCE, JSON, options, title_of
from .printing import print_json, progress

if TYPE_CHECKING:
    from ..analysis import Outcome
    from ..analysis.outcome import FormOutcome
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
    _print_disagreements(outcome)
    for form in outcome.forms:
        click.echo(f"Form {form.name}: {', '.join(_of_form(form))}")
        for line in form.silence:
            click.echo(f"  {line}")
    for note in outcome.notes:
        click.echo(f"{'set aside' if note.lost else 'note'}: {note}")
    _print_thoughts(outcome)
    for question in outcome.questions:
        for flag in question.flags if not question.is_doubtful else ():
            click.echo(f"look at {question.form} {question.number} ({question.id}): {flag.words}")
    for reason in left:
        click.echo(f"not written back: {reason}")
    for path in written:
        click.echo(f"measured values in {path}")
    if page:
        click.echo(f"report in {page}")


def _print_disagreements(outcome: Outcome) -> None:
    """The answers of which the marks told are not those by the manifest, by question, before all else."""
    from ..analysis.disagreements import told_marks

    click.echo(told_marks(each.marked_again for each in outcome.questions))
    for question in outcome.disagreements[:FIRST]:
        found = question.marked_again
        assert found is not None
        doubt = ", its marks are in doubt" if question.is_doubtful else ""
        click.echo(f"  {question.form} {question.number} ({question.id}): {found.differing} of {found.answers}{doubt}")
        for each in found.first:
            click.echo(f"    {each}")
    if len(outcome.disagreements) > FIRST:
        click.echo(f"  and {count(len(outcome.disagreements) - FIRST, 'more question')}")


def _of_form(form: FormOutcome) -> Iterator[str]:
    """What is told of a form; a figure that is not defined is left out."""
    yield count(form.candidates, "candidate")
    yield count(form.questions, "question")
    if isfinite(form.mean):
        yield f"mean {form.mean:.0%} of the marks"
    if isfinite(form.reliability.alpha):
        yield f"alpha {form.reliability.alpha:.2f}"


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
    "--marked-again", "again", is_flag=True,
    help="Work out all figures from the marks by the manifest, where it can tell them, not from those in FILES.",
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
    again: bool,
    write_back: bool,
    date: str | None,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Analyse the results of a sitting: QTI results reporting (XML) or CSV; files, folders or zip files of them.

    Each response is marked again from the manifest, and where the marks in FILES are others, that is told first.
    A CSV has the columns candidate, item, response and score; form, group, duration, time and fingerprint are optional.
    """
    from importlib.metadata import version

    from ...exporters.report import ReportHead, report_page, statistics_files, statistics_paths
    from ...exporters.results import Pseudonyms, read_results, with_groups
    from ..analysis import analyse, read_assessment
    from ..errors import FileError
    from ..storage.files import rewrite
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
    outcome = analyse(rows, assessment, reference, again=again)
    if not outcome.forms:
        told = "; ".join(map(str, outcome.notes))
        raise FileError(
            str(manifest), f"no answer belongs to it ({told})", "name the manifest of the packs that were sat"
        )
    problems = bank_of(bank_paths) if target or write_back else ()
    page: dict[Path, bytes] = {}
    left: list[str] = []
    if target:
        page[target] = report_page(outcome, ReportHead(version("turnwright"), date or "", words(problems)))
    places = {each.id: (Path(each.document.file), each) for each in problems} if write_back else {}

    def with_values() -> dict[Path, bytes]:
        """The page, and what the files of values hold so far with the values of this sitting."""
        beside, left[:] = statistics_files(outcome, places, date or "") if write_back else ({}, [])
        return page | beside

    made = rewrite(statistics_paths(outcome, places), with_values)
    print_results(outcome, target, [path for path in made if path != target], left, as_json)
