"""The command that reads a pack back and marks it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..language import count
from .options import JSON
from .printing import print_json

if TYPE_CHECKING:
    from ...exporters.proof import Report


@click.command(short_help="Read a pack back and mark it.")
@click.argument("path", type=click.Path(path_type=Path), metavar="PACK")
@JSON
def prove(path: Path, as_json: bool) -> int:
    """Read a PACK back and mark its keys, near misses and empty answers by its own rules."""
    from ...exporters import proof

    result = proof.prove(path)
    print_proof(path, result, as_json)
    return 0 if result.ok else 1


def print_proof(path: Path, report: Report, as_json: bool) -> None:
    """What a pack holds and what its proof found."""
    if as_json:
        print_json({"path": str(path), **report.as_json()})
        return
    for finding in report.findings:
        click.echo(f"{path}: {finding}")
    for warning in report.warnings:
        click.echo(f"{path}: warning: {warning}")
    held = f"{count(report.items, 'item')}, {count(report.tests, 'test')}, {count(report.figures, 'figure')}"
    click.echo(f"{path}: {report.format}, {held}; {report.marked} marked with {report.answers_tried:,} answers")
    for reason in report.unmarked[:20]:
        click.echo(f"not marked: {reason}")
    warned = f", with {count(len(report.warnings), 'warning')}" if report.warnings else ""
    click.echo(f"proved{warned}" if report.ok else f"not proved: {count(len(report.findings), 'finding')}")
