"""What the command for exam papers prints."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click
from turnwright.bank.prose import count, listed
from turnwright.bank.report import megabytes, print_json

if TYPE_CHECKING:
    from turnwright.exporters.paper import WrittenPapers


def papers(written: WrittenPapers, as_json: bool) -> None:
    """Where the papers are and what is in them."""
    if as_json:
        print_json(
            {
                "questions": _path(written.questions),
                "marking": _path(written.marking),
                "g": written.pack.gravity,
                "seed": written.pack.seed,
                "size": written.layout.size,
                "parts": list(written.layout.parts),
                "versions": [
                    {
                        "name": version.name,
                        "marks": version.marks,
                        "minutes": version.minutes,
                        "questions": [
                            {
                                "id": each.item.question_id,
                                "variant": each.item.variant,
                                "scene": each.item.metadata.scene,
                            }
                            for each in version.questions
                        ],
                    }
                    for version in written.versions
                ],
                "fewer_variants": written.repeated,
            }
        )
        return
    for path, told in ((written.questions, "for candidates"), (written.marking, "for those who mark only")):
        if path:
            click.echo(f"{path}: {told}, {megabytes(path.stat().st_size)}")
    _contents(written)


def _path(path: Path | None) -> str | None:
    return str(path.resolve()) if path else None


def _contents(written: WrittenPapers) -> None:
    names = [version.name for version in written.versions]
    first = written.versions[0]
    held = f"{count(len(first.questions), 'question')}, about {first.minutes} minutes"
    click.echo(f"Version{'s' if len(names) > 1 else ''} {listed(names)}: {held} (g = {written.pack.gravity}).")
    for question, variants in written.repeated.items():
        click.echo(f"note: {question} has {count(variants, 'variant')}, so that versions share it")
    click.echo("These are teaching calculations. They are no design, rating or operating limit of a road, ride or rig.")
