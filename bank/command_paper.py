"""The command that makes exam papers."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import click
from turnwright.bank.command_options import BANK, GRAVITY, JSON, KIND_HELP, SEED, bank_of, options, title_of

MOST_VERSIONS = 26


@click.command(short_help="Make exam papers as PDF, with keys and marking guide.")
@click.argument("names", nargs=-1, metavar="[QUESTIONS]...")
@click.option(
    "--out", type=click.Path(path_type=Path), default="paper.pdf", show_default=True, metavar="FILE.pdf",
    help="Where the question papers go; the file for those who mark stands beside it as FILE-marking.pdf.",
)  # fmt: skip
@click.option(
    "--versions", type=click.IntRange(1, MOST_VERSIONS), default=1, show_default=True,
    help="Versions A, B, C and so on, with other numbers and stories.",
)  # fmt: skip
@click.option(
    "--size", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Size of the sheets."
)
@click.option(
    "--parts", "part_names", metavar="PART,...", default="questions,key,guide", show_default=True,
    help="Parts to make: questions, key, guide, formulas; or all.",
)  # fmt: skip
@click.option("--shuffle", is_flag=True, help="Another order of questions and options in each version.")
@click.option(
    "--title", type=title_of, metavar="TEXT", default="Circular motion", show_default=True, help="Title of the paper."
)
@click.option("--kind", "kind_names", metavar="KIND,...", default="number", show_default=True, help=KIND_HELP)
@click.option("--every", is_flag=True, help="All derived questions, not one of each kind from a problem.")
@options(SEED, GRAVITY, BANK, JSON)
def paper(
    names: tuple[str, ...],
    *,
    kind_names: str,
    part_names: str,
    every: bool,
    shuffle: bool,
    out: Path,
    versions: int,
    size: Any,
    title: str,
    seed: int,
    gravity: Decimal,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Make question papers of the named questions, problems or families, and apart from them keys and marking guide."""
    from turnwright.bank import report, report_paper
    from turnwright.bank.asked import Settings, kinds_of
    from turnwright.exporters.paper import Layout, parts_of, write_papers

    layout = Layout(versions, size, parts_of(part_names), shuffle)
    settings = Settings(title, "exam", gravity, versions, seed, kinds_of(kind_names), every)
    written = write_papers(bank_of(bank_paths), names, out, settings, layout, report.progress)
    report_paper.papers(written, as_json)
