"""The command that writes the sign-off page."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..language import count
from .naming import NAMES
from .opening import bank_for
from .options import BANK, FORCE, GRAVITY, JSON, KIND_HELP, SEED, kind_option, kinds_from, options, title_of
from .printing import megabytes, print_json, progress

if TYPE_CHECKING:
    from ...exporters.book import Book
    from ..questions.item_model import Settings


def print_book(written: Book, settings: Settings, as_json: bool) -> None:
    """Where the page is, what is on it, and what waits for a person."""
    size = written.path.stat().st_size
    if as_json:
        print_json(
            {
                "path": str(written.path.resolve()),
                "bytes": size,
                "g": f"{settings.gravity} N/kg",
                "seed": settings.seed,
                "variants": settings.variants,
                "questions": list(written.questions),
                "to_judge": list(written.to_judge),
                "without_item": list(written.without_item),
            }
        )
        return
    questions, g = count(len(written.questions), "question"), f"g = {settings.gravity} N/kg"
    click.echo(f"{written.path}: {questions}, {megabytes(size)} ({g}, seed {settings.seed}).")
    if written.to_judge:
        click.echo(f"To judge: {count(len(written.to_judge), 'question')}, listed under the contents of the page.")
    if written.without_item:
        click.echo(f"Without an item: {count(len(written.without_item), 'question')}, named on the page.")
    click.echo("Next: open the file in a browser; it needs no network. It tells every key, so keep it from candidates.")


MOST_IN_FULL = 20
MOST_ROWS = 200


@click.command(short_help="Write the page on which questions are signed off.")
@NAMES
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default="turnwright-book.html",
    show_default=True,
    metavar="FILE.html",
    help="Where the page goes.",
)
@FORCE
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
@click.option("--date", type=title_of, metavar="TEXT", show_default="none", help="A date to stand on the page.")
@kind_option("all", KIND_HELP)
@click.option("--every", is_flag=True, help="All derived questions, not one of each kind from a problem.")
@options(SEED, GRAVITY, BANK, JSON)
def book(
    names: tuple[str, ...],
    *,
    out: Path,
    force: bool,
    variants: int,
    rows: int,
    title: str,
    date: str | None,
    kind_names: str | None,
    every: bool,
    seed: int,
    gravity: Decimal,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Write one HTML page with all that a person reads who signs questions off: the named ones, or all."""
    from ..storage.targets import free_for

    free_for(out, ".html", force=force)
    from ...exporters.book import write_book
    from ..questions.item_model import Settings

    kinds = kinds_from(kind_names)
    settings = Settings(title, "practice", gravity, variants, seed, every=every, **kinds)
    problems = bank_for(bank_paths, names, kinds)
    written = write_book(problems, names, out, settings, progress, rows, date or "")
    print_book(written, settings, as_json)
