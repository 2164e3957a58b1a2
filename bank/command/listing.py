"""The command that lists questions."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from . import printing
from .naming import NAMES
from .options import BANK, JSON, bank_of, kinds_from, options

if TYPE_CHECKING:
    from ..model.problem import Problem, Question

LIST_KINDS = "List the questions of these kinds too, each under the id that the other commands take; or all."


@click.command("list", short_help="List questions.")
@NAMES
@click.option("--kind", "kind_names", metavar="KIND,...", help=LIST_KINDS)
@options(BANK, JSON)
def list_(names: tuple[str, ...], *, kind_names: str | None, bank_paths: tuple[Path, ...], as_json: bool) -> None:
    """List questions: all, or those of the named questions, problems or families."""
    if kind_names:
        list_kinds(names, kind_names, bank_paths, as_json)
        return
    from ..limits.budget import guarded
    from ..quantities.gravity import GRAVITY
    from ..questions.selection import find_questions
    from ..solving.cache import solved_question
    from ..variants.variant import VariantPool

    found = find_questions(bank_of(bank_paths), names)
    with printing.progress("Counting variants", len(found)) as done:
        rows = []
        for problem, question in found:
            pool = VariantPool(solved_question(problem, question), GRAVITY)
            with guarded(problem, question):
                rows.append((problem, question, pool.count))
            done(1)
    print_questions(rows, as_json)


def list_kinds(names: tuple[str, ...], kind_names: str, bank_paths: tuple[Path, ...], as_json: bool) -> None:
    """List the questions of some kinds by the ids under which ``pack``, ``paper`` and ``book`` take them."""
    from ..questions.item_model import Settings
    from ..questions.selection import count_solved, select

    bank = bank_of(bank_paths)
    settings = Settings(every=True, **kinds_from(kind_names))
    with printing.progress("Solving", count_solved(bank, names)) as done:
        models = select(bank, names, settings, done).models
    if as_json:
        found = [{"id": each.id, "kind": each.kind, "title": each.metadata.title} for each in models]
        printing.print_json({"questions": found})
        return
    for each in models:
        click.echo(f"{each.id}\t{each.kind}\t{each.metadata.title}")


def print_questions(rows: Sequence[tuple[Problem, Question, int]], as_json: bool) -> None:
    """The list of questions with the number of their variants."""
    data = [_question(problem, question, variants) for problem, question, variants in rows]
    if as_json:
        printing.print_json({"questions": data})
        return
    if not printing.is_terminal():
        for each in data:
            click.echo(
                "\t".join(
                    map(str, (each["id"], each["asks"], ",".join(each["given"]), each["variants"], each["title"]))
                )
            )
        return
    from rich.console import Console
    from rich.table import Table

    table = Table("question", "asks", "from", "scenes", "variants", box=None, header_style="bold")
    for each in data:
        cells = (each["id"], each["asks"], " ".join(each["given"]), str(len(each["scenes"])), f"{each['variants']:,}")
        table.add_row(*cells)
    Console().print(table)


def _question(problem: Problem, question: Question, variants: int) -> dict[str, Any]:
    return {
        "id": f"{problem.id}.{question.name}",
        "title": question.title,
        "family": problem.family,
        "level": question.level,
        "asks": question.ask,
        "given": list(question.given),
        "scenes": [scene.name for scene in problem.scenes_of(question)],
        "variants": variants,
    }
