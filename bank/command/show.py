"""The command that shows one item."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import click

from .naming import QUESTION_NAME
from .opening import bank_for
from .options import BANK, FORCE, GRAVITY, JSON, MOST_VARIANTS, SEED, kinds_from, options

PIXELS_WIDE = 1200  # sharp across half a page


@click.command(short_help="Show one variant of a question, with its solution.")
@click.argument("question", type=QUESTION_NAME)
@click.option(
    "--variant", type=click.IntRange(1, MOST_VARIANTS), default=1, show_default=True, help="Which variant of the draw."
)
@click.option(
    "--figure",
    type=click.Path(path_type=Path),
    metavar="FILE.svg|FILE.png",
    show_default="none",
    help="Write the force diagram there, as SVG or PNG.",
)
@options(FORCE, GRAVITY, SEED, BANK, JSON)
def show(
    question: str,
    *,
    variant: int,
    figure: Path | None,
    force: bool,
    gravity: Decimal,
    seed: int,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Show one variant of a QUESTION: stem, key, tolerance and the worked solution.

    With /kind behind its id it is asked in another kind, as in over-the-top.least-speed/choice; 'turnwright list
    over-the-top --kind all' tells these ids.
    """
    if figure:
        from ..storage.targets import free_for

        free_for(figure, _picture(figure), force=force)
    bank = bank_for(bank_paths, [question], kinds_from(None))
    from ..errors import TooFewVariantsError
    from ..questions.selection import find_item_model  # what loads much comes after what may be wrong
    from .item_text import print_item

    items = find_item_model(bank, question).draw(variant, gravity, seed)
    if len(items) < variant:
        raise TooFewVariantsError(question, len(items), variant)
    item = items[variant - 1]
    if figure:
        _write_figure(item.figure or item.forces, question, figure)
    print_item(item, as_json)


def _picture(target: Path) -> str:
    """The ending of a picture. Raises UsageError for another."""
    from ..errors import UsageError

    ending = target.suffix.lower()
    if ending not in (".svg", ".png"):
        raise UsageError(f"--figure {target}: a figure is written as SVG or PNG; let the name end in .svg or .png")
    return ending


def _write_figure(drawing: Any, question: str, target: Path) -> None:
    from ...exporters.markup.png import png
    from ...exporters.markup.svg import svg
    from ..errors import UsageError
    from ..storage.files import write_together

    if drawing is None:
        raise UsageError(f"{question} has neither a sketch nor a force diagram; leave --figure out")
    picture = svg(drawing)
    write_together({target: png(picture, PIXELS_WIDE) if _picture(target) == ".png" else picture})
