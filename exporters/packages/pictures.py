"""The file of a drawing, in the form that a delivery asks for."""

from __future__ import annotations

from ...bank.item.drawing import Drawing
from ..markup.svg import svg
from .delivery import Figures
from .naming import PackNames, figure_href
from .package import Package

PIXELS_WIDE = 800  # twice as wide as a drawing, for screens with small pixels and for paper


def add_pictures(box: Package, contents: PackNames, figures: Figures) -> None:
    """Puts all figures and option drawings into the package."""
    for question in contents.questions:
        for index, drawing in enumerate(question.section.figures):
            box.add(figure_href(question.figure(index), f".{figures}"), picture(drawing, figures))
        for index, drawing in enumerate(question.pictures):
            box.add(figure_href(question.picture(index), f".{figures}"), picture(drawing, figures))


def names(contents: PackNames) -> list[str]:
    """The identifiers of all figures and option drawings, in the order in which they are put in."""
    return [
        name
        for question in contents.questions
        for name in (
            *map(question.figure, range(len(question.section.figures))),
            *map(question.picture, range(len(question.pictures))),
        )
    ]


def picture(drawing: Drawing, figures: Figures) -> bytes:
    """The drawing as a file."""
    drawn = svg(drawing)
    if figures == "svg":
        return drawn
    from ..markup.png import png

    return png(drawn, PIXELS_WIDE)
