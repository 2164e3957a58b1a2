"""What the command for the sign-off page prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click
from turnwright.bank.asked import Settings
from turnwright.bank.prose import count
from turnwright.bank.report import megabytes, print_json

if TYPE_CHECKING:
    from turnwright.exporters.book import Book


def book(written: Book, settings: Settings, as_json: bool) -> None:
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
