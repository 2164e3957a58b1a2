"""The command that writes proved packs, and what it says: where each is, what is in it, what became of everything."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..language import count, listed
from .naming import QUESTION_NAME
from .opening import bank_for, bank_of
from .options import BANK, FORCE, JSON, MANIFEST, options, order, settings
from .printing import CAUTION, megabytes, print_json, progress

if TYPE_CHECKING:
    from ...exporters.adapting.adaptation import Adapted
    from ...exporters.running.packing import Order, Written
    from ..item.pack import Pack
    from ..model.problem import Problem
    from ..questions.item_model import Settings


TABLE = "turnwright-packs.txt"  # what became of everything, beside the packs of all formats
WIDTH = 110
MOST_TOLD = 12  # groups of questions that answer each other, told one by one
WAYS = {"as is": "As is", "changed": "Changed", "left out": "Left out"}
DRAWS = {
    "drawn": "the test draws one variant of each question for every candidate",
    "one each": "each assessment holds one variant of each question",
    "bank": "take one variant of each question for a quiz; their titles tell them apart",
}


FIRST_UNIT = ("flat-curve", "banked-curve")
FIRST_WORDS = (
    f"A first unit, bends in a road ({' and '.join(FIRST_UNIT)}), with what its questions need of the bank. "
    "Other families: 'turnwright names families'; the whole bank: 'turnwright pack --all'."
)


def names_or_first_unit(ctx: click.Context, _: click.Parameter, names: tuple[str, ...]) -> tuple[str, ...]:
    """The names; those of a first unit where nothing at all is said of what goes into the pack, and that is told."""
    if names or ctx.params.get("bank_paths") or ctx.params.get("everything"):
        return names
    click.echo(FIRST_WORDS, err=True)
    return FIRST_UNIT


@click.command(short_help="Write a proved question pack.")
@click.argument("names", nargs=-1, metavar="[QUESTIONS]...", type=QUESTION_NAME, callback=names_or_first_unit)
@click.option("--all", "everything", is_flag=True, help="The whole shipped bank; by default a first unit of it.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="FILE|FOLDER",
    show_default="turnwright-practice or turnwright-exam, with the ending of the format; this folder for all formats",
    help="Where the pack goes; a folder is made.",
)
@FORCE
@MANIFEST
@order
@settings
@options(BANK, JSON)
def pack(
    names: tuple[str, ...],
    *,
    everything: bool,
    settings: Settings,
    order: Order,
    out: Path | None,
    force: bool,
    manifest: Path | None,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Write a proved pack of the named questions, problems or families.

    If none is named, a first unit of the shipped bank is packed (--all for all of it), or the whole of your own bank.
    """
    from ..errors import UsageError
    from ..storage.files import write_together
    from ..storage.targets import folder_for, free_for

    if everything and (names or bank_paths):
        raise UsageError("--all means the shipped bank; leave the names and --bank out, or leave --all out")
    targets = _targets(order.formats, out, settings.purpose)
    for target, suffix in [*targets.values(), *([(manifest, ".json")] if manifest else [])]:
        free_for(target, suffix, force=force)  # what can't be written is told before the work
    from ...exporters.running.packing import write_pack, write_packs

    kinds = {"kinds": settings.kinds, "named": settings.named}
    problems = bank_of(bank_paths) if manifest else bank_for(bank_paths, names, kinds)
    if len(order.formats) > 1:
        with folder_for(out or Path()) as folder:
            written = write_packs(problems, names, folder, settings, progress, order)
            told = "\n".join(lines(written)) + "\n"
            write_together({folder / TABLE: told.encode()})
    else:
        ((target, _),) = targets.values()
        written = [write_pack(problems, names, target, settings, progress, order)]
    if manifest:
        from ...exporters.running.assessment_facts import manifest_bytes

        write_together({manifest: manifest_bytes(problems, settings, written)})
    print_packs(written, as_json, enemies_of(names, settings, written[0].adapted.pack, problems))


def _targets(formats: Sequence[str], out: Path | None, purpose: str) -> dict[str, tuple[Path, str]]:
    """Where the pack of each format goes, and its ending."""
    from ... import exporters

    endings = {name: exporters.exporter(name).SUFFIX for name in formats}
    if len(formats) == 1:
        return {name: (out or Path(f"turnwright-{purpose}{suffix}"), suffix) for name, suffix in endings.items()}
    folder = out or Path()
    if not folder.is_dir():
        return {}
    return {name: (folder / f"turnwright-{name}{suffix}", suffix) for name, suffix in endings.items()}


def enemies_of(
    names: tuple[str, ...], settings: Settings, made: Pack, problems: Sequence[Problem]
) -> tuple[tuple[str, ...], ...]:
    """The questions that answer each other: of an exam all, else where they were chosen one by one."""
    from ..forms.enemies import answering_each_other

    chosen = len(names) > 1 and all("." in name for name in names) and settings.named == ("number",)
    return answering_each_other(made, problems) if chosen or settings.purpose == "exam" else ()


def enemy_lines(enemies: Sequence[tuple[str, ...]]) -> Iterator[str]:
    """What is told of questions that answer each other; of many groups, how many there are."""
    if len(enemies) > MOST_TOLD:
        told = f"{len(enemies)} groups of these questions answer each other or ask the same (--json names them)"
        yield f"note: {told}; for a test, keep one of each, as 'turnwright form' does"
        return
    for group in enemies:
        yield f"note: {listed(group)} answer each other or ask the same; for a test, keep one of them"


def print_packs(packs: Sequence[Written], as_json: bool, enemies: Sequence[tuple[str, ...]] = ()) -> None:
    """Where the packs are, what is in them, which of their questions answer each other, and what to do next."""
    if as_json:
        found = [_data(each) | {"answer_each_other": [list(group) for group in enemies]} for each in packs]
        print_json(found[0] if len(found) == 1 else {"packs": found})
        return
    for line in (*enemy_lines(enemies), *lines(packs)):
        click.echo(line)


def lines(packs: Sequence[Written]) -> Iterator[str]:
    """What is told of the packs, line by line; what none of them has is told once."""
    for each in packs:
        yield from _pack(each)
    without = packs[0].adapted.pack.without if packs else ()
    if without:
        yield f"In no pack, for want of two honest wrong answers or of cases apart: {', '.join(without)}."
    yield CAUTION


def _data(written: Written) -> dict[str, Any]:
    made = written.adapted.pack
    return {
        "path": str(written.path.resolve()),
        "format": written.format_name,
        "bytes": written.path.stat().st_size,
        "for": made.purpose,
        "g": made.gravity,
        "seed": made.seed,
        "questions": {section.question_id: len(section) for section in made.sections},
        "items": len(made),
        "without": list(made.without),
        "carried": [
            {"kind": each.kind, "how": each.how, "told": each.told, "items": each.items}
            for each in written.adapted.table
        ],
        "proof": written.report.as_json(),
    }


def _pack(written: Written) -> Iterator[str]:
    made, proof = written.adapted.pack, written.report
    yield f"{written.path}: a {written.title} pack for {made.purpose}, {megabytes(written.path.stat().st_size)}"
    held = listed((count(len(made.sections), "question"), count(len(made), "item")))
    yield f"In it: {count(written.situations, 'situation')}, {held} (g = {made.gravity}, seed {made.seed})."
    tried = count(proof.answers_tried, "answer")
    yield f"Proved: {count(proof.marked, 'item')} read back and marked with {tried}, no finding."
    yield from _table(written.adapted)
    yield (
        f"Next: import the file in your course system where it takes {written.title} packages; "
        f"{DRAWS[written.adapted.pools]}."
    )


def _table(adapted: Adapted) -> Iterator[str]:
    """A line for each thing that is told, with the kinds and the number of items that it is true of."""
    rows: dict[tuple[str, str], list[str]] = {}
    for each in adapted.table:
        rows.setdefault((each.how, each.told), []).append(f"{each.kind} {each.items:,}")
    for way, heading in WAYS.items():
        mine = [(told, kinds) for (how, told), kinds in rows.items() if how == way]
        for place, (told, kinds) in enumerate(mine):
            what = ", ".join(kinds)
            line = f"{heading if place == 0 else '':9} {what}{f': {told}' if told else ''}"
            yield textwrap.fill(line, WIDTH, subsequent_indent=" " * 12)
        if not mine:
            yield f"{heading:9} nothing"
