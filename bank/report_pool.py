"""What the pool command prints: where the index is, how many packs and items, what was kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click
from turnwright.bank.prose import count, listed
from turnwright.bank.report import megabytes, print_json
from turnwright.bank.report_pack import CAUTION

if TYPE_CHECKING:
    from turnwright.exporters.pool import Pool


def pool(made: Pool, as_json: bool) -> None:
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
