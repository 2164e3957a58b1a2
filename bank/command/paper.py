"""What the command for exam papers prints."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..language import count, listed
from .naming import NAMES
from .opening import bank_for, bank_of
from .options import (
    BANK,
    FORCE,
    GRAVITY,
    JSON,
    KIND_HELP,
    MANIFEST,
    SEED,
    appearance,
    kind_option,
    kinds_from,
    options,
    title_of,
)
from .pack import enemies_of, enemy_lines
from .printing import CAUTION, megabytes, print_json, progress

if TYPE_CHECKING:
    from ...exporters.paper import PaperLayout, WrittenPapers


def papers(written: WrittenPapers, as_json: bool, enemies: Sequence[tuple[str, ...]]) -> None:
    """Where the papers are, what is in them, and which of their questions answer each other."""
    if as_json:
        print_json(
            {
                "questions": _path(written.questions),
                "marking": _path(written.marking),
                "editable": [str(path.resolve()) for path in written.editable],
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
                "answer_each_other": [list(group) for group in enemies],
            }
        )
        return
    for path, told in ((written.questions, "for candidates"), (written.marking, "for those who mark only")):
        if path:
            click.echo(f"{path}: {told}, {megabytes(path.stat().st_size)}")
    for path in written.editable:
        click.echo(f"{path}: the same, to be edited, {megabytes(path.stat().st_size)}")
    for line in enemy_lines(enemies):
        click.echo(line)
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
    click.echo(CAUTION)


MOST_VERSIONS = 26


_LAYOUT = (
    click.option(
        "--versions",
        type=click.IntRange(1, MOST_VERSIONS),
        default=1,
        show_default=True,
        help="Versions A, B, C and so on, with other numbers and stories.",
    ),
    click.option(
        "--size", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Size of the sheets."
    ),
    click.option(
        "--parts",
        "part_names",
        metavar="PART,...",
        default="questions,key,guide",
        show_default=True,
        help="Parts to make: questions, key, guide, formulas; or all.",
    ),
    click.option(
        "--heading",
        type=click.Path(path_type=Path, dir_okay=False),
        metavar="FILE.yaml",
        show_default="none",
        help="What the school puts on its papers: names, instructions, lines for working (schemas/heading.json).",
    ),
    click.option(
        "--editable", is_flag=True, help="Each file as a document to be edited, too (.docx, with its formulas)."
    ),
    click.option("--shuffle", is_flag=True, help="Another order of questions and options in each version."),
)


def layout(function: Any) -> Any:
    """Adds the options of how a paper looks; the command gets them as one ``layout``, when the files can be written."""

    @options(FORCE, *_LAYOUT)
    @wraps(function)
    def command(*names: Any, part_names: str, heading: Path | None, out: Path, force: bool, **rest: Any) -> Any:
        from ...exporters.paper import Heading, PaperLayout, parts_of, paths_of, read_heading
        from ..storage.targets import free_for

        chosen = {name: rest.pop(name) for name in ("versions", "size", "editable", "shuffle")}
        head = read_heading(heading) if heading else Heading()
        made = PaperLayout(parts=parts_of(part_names), heading=head, **chosen)
        for path in paths_of(out, made):
            free_for(path, path.suffix.lower(), force=force)
        return function(*names, layout=made, out=out, **rest)

    return command


@click.command(short_help="Make exam papers as PDF, with keys and marking guide.")
@NAMES
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default="paper.pdf",
    show_default=True,
    metavar="FILE.pdf",
    help="Where the question papers go; the file for those who mark stands beside it as FILE-marking.pdf.",
)
@MANIFEST
@layout
@click.option(
    "--title", type=title_of, metavar="TEXT", default="Circular motion", show_default=True, help="Title of the paper."
)
@kind_option("number", KIND_HELP, "number")
@click.option("--every", is_flag=True, help="All derived questions, not one of each kind from a problem.")
@options(SEED, GRAVITY, appearance, BANK, JSON)
def paper(
    names: tuple[str, ...],
    *,
    kind_names: str,
    every: bool,
    layout: PaperLayout,
    out: Path,
    manifest: Path | None,
    title: str,
    seed: int,
    gravity: Decimal,
    looks: dict[str, Any],
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Make question papers of the named questions, problems or families, and apart from them keys and marking guide."""
    from ..storage.files import write_together
    from ..storage.targets import free_for

    if manifest:
        free_for(manifest, ".json", force=False)  # what can't be written is told before the work
    from ...exporters.paper import write_papers
    from ..questions.item_model import Settings

    kinds = kinds_from(kind_names)
    chosen = {"every": every, **looks, **kinds}
    settings = Settings(title, "exam", gravity, layout.versions, seed, **chosen)
    problems = bank_of(bank_paths) if manifest else bank_for(bank_paths, names, kinds)
    written = write_papers(problems, names, out, settings, layout, progress)
    if manifest:
        from ...exporters.running.assessment_facts import paper_manifest_bytes

        write_together({manifest: paper_manifest_bytes(problems, settings, written)})
    papers(written, as_json, enemies_of(names, settings, written.pack, problems))
