"""The command that writes a pool of items as several packs with one index."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click
from turnwright.bank.command_options import BANK, JSON, bank_of, options, order, settings

if TYPE_CHECKING:
    from turnwright.bank.asked import Settings
    from turnwright.exporters.packing import Order

MOST_ITEMS = 100_000


@click.command(short_help="Write a large pool as several proved packs with one index.")
@click.argument("names", nargs=-1, metavar="[QUESTIONS]...")
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
    from turnwright.bank import report, report_pool
    from turnwright.bank.errors import UsageError
    from turnwright.exporters.pool import write_pool

    if len(order.formats) > 1:
        raise UsageError("a pool is written in one format; name it, as in --format qti-3.0")
    made = write_pool(bank_of(bank_paths), names, out, settings, report.progress, order, most)
    report_pool.pool(made, as_json)
