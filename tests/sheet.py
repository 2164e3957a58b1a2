"""All sketches of the bank on one page, to be looked at: ``python -m tests.sheet FILE.html``."""

from __future__ import annotations

import argparse
import base64
from collections.abc import Iterator
from html import escape
from pathlib import Path

from turnwright.bank.drawing.sketches.sketch import draw_sketch
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.reading.files import read_bank
from turnwright.bank.writing.sketched.view import sketch_of
from turnwright.exporters.markup.svg import svg

STYLE = """body { font: 12px serif; display: flex; flex-wrap: wrap; gap: 8px }
figure { width: 260px; margin: 0; border: 1px solid #bbb; padding: 4px } figcaption { overflow-wrap: anywhere }"""


def sketches(*, letters: bool) -> Iterator[tuple[str, Drawing]]:
    """The name and the sketch of every scene at each of its places."""
    for problem in read_bank():
        for scene in problem.scenes:
            for diagram in problem.diagrams or (None,):
                view = sketch_of(problem, diagram, scene, tuple(problem.quantities) if letters else ())
                if view:
                    yield ".".join(filter(None, (problem.id, scene.name, diagram and diagram.name))), draw_sketch(view)


def page(*, letters: bool, named: bool) -> str:
    """The page; without names it is one on which a reader may guess."""
    cells = []
    for number, (name, drawing) in enumerate(sketches(letters=letters), 1):
        source = base64.b64encode(svg(drawing)).decode()
        told = f"{name}: {drawing.alternative}" if named else str(number)
        picture = f'<img width="260" alt="" src="data:image/svg+xml;base64,{source}">'
        cells.append(f"<figure>{picture}<figcaption>{escape(told)}</figcaption></figure>")
    return f'<!doctype html><html lang="en"><title>Sketches</title><style>{STYLE}</style>{"".join(cells)}</html>'


def main() -> None:
    """Writes the page."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("file", type=Path)
    asked.add_argument("--letters", action="store_true", help="with all letters")
    asked.add_argument("--unnamed", action="store_true", help="with numbers in place of names")
    chosen = asked.parse_args()
    chosen.file.write_text(page(letters=chosen.letters, named=not chosen.unnamed), "utf-8")


if __name__ == "__main__":
    main()
