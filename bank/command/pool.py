"""The command that writes a pool of items as several packs with one index."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..language import count, listed
from .naming import NAMES
from .opening import bank_of
from .options import BANK, JSON, options, order, settings
from .printing import CAUTION, megabytes, print_json, progress

if TYPE_CHECKING:
    from ...exporters.pool import Pool
    from ...exporters.running.packing import Order
    from ..questions.item_model import Settings


def print_pool(made: Pool, as_json: bool) -> None:
    """The pool, for a person or a script."""
    if as_json:
        print_json(
            {
                "index": str(made.index.resolve()),
                "packs": [each.file for each in made.packs],
                "items": len(made),
                "answers": sum(each.answers for each in made.packs),
                "kept": made.kept,
                "without": list(made.without),
            }
        )
        return
    size = megabytes(sum(each.bytes for each in made.packs))
    answers = sum(each.answers for each in made.packs)
    click.echo(f"{made.index}: {count(len(made.packs), 'pack')} of {count(len(made), 'item')}, {size}")
    if made.kept:
        click.echo(f"Kept as finished before: {count(made.kept, 'pack')}.")
    click.echo(f"Proved: each pack was read back, and {count(answers, 'answer')} were marked by its own rules.")
    if made.without:
        click.echo(f"Without an item: {listed(made.without)}.")
    click.echo(CAUTION)


MOST_ITEMS = 100_000


@click.command(short_help="Write a large pool as several proved packs with one index.")
@NAMES
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="FOLDER", required=True, help="Where packs and index go."
)
@click.option(
    "--items-per-pack", "most", type=click.IntRange(1, MOST_ITEMS), default=10_000, show_default=True,
    help="How many items a pack holds at most.",
)  # fmt: skip
@order
@settings
@options(BANK, JSON)
def pool(
    names: tuple[str, ...],
    *,
    settings: Settings,
    order: Order,
    out: Path,
    most: int,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Write up to --variants variants of each named question (all if none is named) as several proved packs.

    The same command goes on where an earlier one was stopped: packs that are finished and unchanged are kept.
    """
    from ...exporters.pool import write_pool
    from ..errors import UsageError
    from ..storage.targets import folder_for

    if len(order.formats) > 1:
        raise UsageError("a pool is written in one format; name it, as in --format qti-3.0")
    with folder_for(out) as folder:
        made = write_pool(bank_of(bank_paths), names, folder, settings, progress, order, most)
    print_pool(made, as_json)
