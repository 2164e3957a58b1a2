"""The command that lists questions."""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..questions.names import question_id
from . import printing
from .naming import NAMES
from .opening import index_of, needed, tell
from .options import BANK, JSON, kind_option, kinds_from, options

if TYPE_CHECKING:
    from ..index.file import DeclaredProblem, DeclaredQuestion
    from ..index.lookup import Index

LIST_KINDS = "List the questions of these kinds too, each under the id that the other commands take; or all."


@click.command("list", short_help="List questions.")
@NAMES
@kind_option("questions as they stand in their files", LIST_KINDS)
@click.option("--level", metavar="LEVEL", show_default="all", help="Only questions of this level.")
@click.option("--family", metavar="FAMILY", show_default="all", help="Only questions of this family.")
@click.option(
    "--objective",
    metavar="OBJECTIVE",
    show_default="all",
    help="Only questions with this objective, or one that begins so.",
)
@options(BANK, JSON)
def list_(
    names: tuple[str, ...],
    *,
    kind_names: str | None,
    level: str | None,
    family: str | None,
    objective: str | None,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> int:
    """List questions: all, or those of the named questions, problems or families.

    Columns in a pipe: id, asked symbol, givens, number of variants, title. Exit status 1 where files with faults are
    left out.
    """
    index = index_of(bank_paths)
    tell_names(index, level=level, family=family, objective=objective)
    found = [each for each in index.found(names) if _is_meant(*each, level, family, objective)]
    if kind_names and found:
        chosen = names if len(found) == len(index.found(names)) else [question_id(*each) for each in found]
        list_kinds(index, chosen, kind_names, as_json)
    else:
        print_questions(_counted(index, found), as_json)
    tell(index.faults)
    return 1 if index.faults and not names else 0


def _is_meant(
    problem: DeclaredProblem,
    question: DeclaredQuestion,
    level: str | None,
    family: str | None,
    objective: str | None,
) -> bool:
    return (
        level in (None, question.level)
        and family in (None, problem.family)
        and (objective is None or any(f"{each}.".startswith(f"{objective}.") for each in question.objectives))
    )


def tell_names(index: Index, **chosen: str | None) -> None:
    """Raises UnknownNameError for a level, family or objective that no question has."""
    from ..errors import UnknownNameError

    for what, name in chosen.items():
        known = index.words(what)
        begun = {each[: len(name)] for each in known if each.startswith(f"{name}.")} if name else set()
        if name is not None and name not in known and name not in begun:
            raise UnknownNameError(what, name, index.near(what, name))


def _counted(index: Index, found: Sequence[tuple[DeclaredProblem, DeclaredQuestion]]) -> list[dict[str, Any]]:
    """What is told of each question; variants that were not counted before are counted now."""
    from ..index.counts import count, counts, known_counts

    ids = {problem.id for problem, _ in found}
    files = [each for each in index.sound if each.id in ids]
    known = {each.id: counted for each in files if (counted := known_counts(each)) is not None}
    missing = [each for each in files if each.id not in known]
    if missing:
        many = [len(each.declared.questions) if each.declared else 0 for each in missing]
        found_now = printing.on_all_cores("Counting variants", missing, counts, many)
        known |= {each.id: one for each, one in zip(missing, found_now, strict=True)}
    by_id = {each.id: each for each in files}
    return [
        _question(problem, question, known[problem.id].get(question.name) or count(by_id[problem.id], question.name))
        for problem, question in found
    ]


def list_kinds(index: Index, names: Sequence[str], kind_names: str, as_json: bool) -> None:
    """List the questions of some kinds by the ids under which ``pack``, ``paper`` and ``book`` take them."""
    kinds = kinds_from(kind_names)["kinds"]
    bank = needed(index, names, kinds, kinds)
    from ..questions.item_model import Settings
    from ..questions.selection import count_solved, select

    settings = Settings(every=True, kinds=kinds, named=kinds)
    with printing.progress("Solving", count_solved(bank, names)) as done:
        models = select(bank, names, settings, done).models
    if as_json:
        found = [{"id": each.id, "kind": each.kind, "title": each.metadata.title} for each in models]
        printing.print_json({"questions": found})
        return
    for each in models:
        click.echo(f"{each.id}\t{each.kind}\t{each.metadata.title}")


@click.command(short_help="List what can be named: families, objectives, levels, kinds, formats, units.")
@click.argument("what", type=click.Choice(["families", "objectives", "levels", "kinds", "formats", "units"]))
@options(BANK, JSON)
def names(what: str, bank_paths: tuple[Path, ...], as_json: bool) -> None:
    """List what there is to be named: families, objectives and levels of the bank with the number of their questions;
    kinds of questions; formats of packs; units of problem files.
    """
    found = _of_bank(what, bank_paths) if what in _OF_BANK else _of_program(what)
    if as_json:
        printing.print_json({what: dict(found)})
        return
    widest = max((len(name) for name, _ in found), default=0)
    for name, told in found:
        click.echo(f"{name:<{widest}}  {told}".rstrip())


_OF_BANK = {"families": "family", "objectives": "objective", "levels": "level"}


def _of_bank(what: str, bank_paths: tuple[Path, ...]) -> list[tuple[str, str]]:
    from ..language import count as counted

    index = index_of(bank_paths)
    tell(index.faults)
    found = index.words(_OF_BANK[what])
    return [(name, counted(number, "question")) for name, number in sorted(found.items())]


def _of_program(what: str) -> list[tuple[str, str]]:
    """Names with what they mean."""
    if what == "kinds":
        from ..questions.kinds import KIND

        return [(each.name, f"about a {each.about}, answered by {_ANSWERS[each.entry]}") for each in KIND.values()]
    if what == "formats":
        from ... import exporters

        return [(name, exporters.title(name)) for name in exporters.available()]
    from ..language import spoken_unit
    from ..quantities.units import SYMBOLS, unit

    return [("1", "a pure number"), *((each, spoken_unit(unit(each).printed)) for each in SYMBOLS)]


_ANSWERS = {
    "number": "a number",
    "choice": "one option",
    "several": "several options",
    "order": "an order",
    "match": "pairs",
    "parts": "several parts",
}


def print_questions(data: Sequence[dict[str, Any]], as_json: bool) -> None:
    """The list of questions with the number of their variants."""
    if as_json:
        printing.print_json({"questions": data})
        return
    rows = [(each["id"], each["asks"], each["given"], f"{each['variants']}", each["title"]) for each in data]
    if not printing.is_terminal():
        for name, asks, given, variants, title in rows:
            click.echo("\t".join((name, asks, ",".join(given), variants, title)))
        return
    for line in _table(rows):
        click.echo(line)


def _table(rows: Sequence[tuple[str, str, Sequence[str], str, str]]) -> Iterator[str]:
    """Columns side by side where the terminal has the room for all ids, which are never cut; else titles below them."""
    cells = [("question", "asks", "from", "variants", "title")]
    cells += [(name, asks, " ".join(given), f"{int(many):,}", title) for name, asks, given, many, title in rows]
    widths = [max(len(row[at]) for row in cells) for at in range(4)]
    room = shutil.get_terminal_size().columns - sum(widths) - 4 * 2
    longest = max(len(row[4]) for row in cells)
    for name, asks, given, many, title in cells:
        line = f"{name:<{widths[0]}}  {asks:<{widths[1]}}  {given:<{widths[2]}}  {many:>{widths[3]}}"
        yield f"{line}  {title}" if longest <= room else f"{line}\n    {title}"


def _question(problem: DeclaredProblem, question: DeclaredQuestion, variants: int) -> dict[str, Any]:
    return {
        "id": question_id(problem, question),
        "title": question.title,
        "family": problem.family,
        "level": question.level,
        "asks": question.ask,
        "given": list(question.given),
        "scenes": list(question.scenes),
        "variants": variants,
    }
