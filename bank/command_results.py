"""The command that reads results and says which questions worked and what the class thinks."""

from __future__ import annotations

from pathlib import Path

import click
from turnwright.bank.command_options import BANK, JSON, bank_of, options, title_of


@click.command(short_help="Analyse results: which questions worked, what the class thinks.")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILES...")
@click.option(
    "--pack", "manifest", type=click.Path(path_type=Path), required=True, metavar="MANIFEST",
    help="Manifest (JSON) that was written with the packs.",
)  # fmt: skip
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="FILE.html",
    help="Where the report goes; turnwright-results.html, and with --json nowhere, if left out.",
)  # fmt: skip
@click.option(
    "--group", type=click.Path(path_type=Path), metavar="FILE.csv",
    help="Groups to compare: a CSV with the columns candidate and group. A results CSV may have its own column group.",
)  # fmt: skip
@click.option("--reference", metavar="NAME", default="", help="Group that others are compared with; else the largest.")
@click.option(
    "--salt", metavar="TEXT", default="", envvar="TURNWRIGHT_SALT",
    help="Salt of the pseudonyms. If left out, one is made and forgotten. The variable TURNWRIGHT_SALT keeps it out "
    "of the list of processes.",
)  # fmt: skip
@click.option(
    "--write-back", is_flag=True, help="Keep measured values beside the problems, in <problem>.statistics.json."
)
@click.option("--date", type=title_of, metavar="TEXT", help="A date for the report and the values.")
@options(BANK, JSON)
def results(
    files: tuple[Path, ...],
    *,
    manifest: Path,
    out: Path | None,
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

    from turnwright.bank import report, report_results
    from turnwright.bank.analysis import analyse, read_assessment
    from turnwright.bank.durable import write_together
    from turnwright.bank.errors import FileError
    from turnwright.exporters.report import Head, report_page, statistics_files
    from turnwright.exporters.results import Pseudonyms, read_results, with_groups

    assessment = read_assessment(manifest)
    pseudonyms = Pseudonyms(salt)
    with report.progress("Reading results", len(files)) as done:
        rows = read_results(files, pseudonyms, done)
    if group:
        rows = with_groups(rows, group, pseudonyms)
    outcome = analyse(rows, assessment, reference)
    if not outcome.forms:
        told = "; ".join(map(str, outcome.notes))
        raise FileError(
            str(manifest), f"no answer belongs to it ({told})", "name the manifest of the packs that were sat"
        )
    target = out or (None if as_json else Path("turnwright-results.html"))
    problems = bank_of(bank_paths) if target or write_back else ()
    made: dict[Path, bytes] = {}
    left: list[str] = []
    if target:
        made[target] = report_page(outcome, Head(version("turnwright"), date or "", report_results.words(problems)))
    if write_back:
        places = {each.id: (Path(each.document.file), each) for each in problems}
        beside, left = statistics_files(outcome, places, date or "")
        made |= beside
    write_together(made)
    report_results.results(outcome, target, [path for path in made if path != target], left, as_json)
