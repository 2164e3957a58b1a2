"""The command that writes the sign-off page."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import click
from turnwright.bank.command_options import BANK, GRAVITY, JSON, KIND_HELP, SEED, bank_of, options, title_of

MOST_IN_FULL = 20
MOST_ROWS = 200


@click.command(short_help="Write the page on which questions are signed off.")
@click.argument("names", nargs=-1, metavar="[QUESTIONS]...")
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE.html", help="Where the page goes.")
@click.option(
    "--variants",
    type=click.IntRange(1, MOST_IN_FULL),
    default=3,
    show_default=True,
    help="Variants of each question that are told in full.",
)
@click.option(
    "--rows", type=click.IntRange(1, MOST_ROWS), default=6, show_default=True, help="Rows of the table of variants."
)
@click.option(
    "--title", type=title_of, metavar="TEXT", default="Circular motion", show_default=True, help="Title of the page."
)
@click.option("--date", type=title_of, metavar="TEXT", help="A date to stand on the page; none if left out.")
@click.option("--kind", "kind_names", metavar="KIND,...", default="all", show_default=True, help=KIND_HELP)
@click.option("--every", is_flag=True, help="All derived questions, not one of each kind from a problem.")
@options(SEED, GRAVITY, BANK, JSON)
def book(
    names: tuple[str, ...],
    *,
    out: Path | None,
    variants: int,
    rows: int,
    title: str,
    date: str | None,
    kind_names: str,
    every: bool,
    seed: int,
    gravity: Decimal,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Write one HTML page with all that a person reads who signs questions off: the named ones, or all."""
    from turnwright.bank import report, report_book
    from turnwright.bank.asked import Settings, kinds_of
    from turnwright.exporters.book import write_book

    target = out or Path("turnwright-book.html")
    settings = Settings(title, "practice", gravity, variants, seed, kinds_of(kind_names), every)
    written = write_book(bank_of(bank_paths), names, target, settings, report.progress, rows, date or "")
    report_book.book(written, settings, as_json)
