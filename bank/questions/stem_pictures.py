"""Which picture stands above a question; no item of an exam shows the force diagram that another one asks for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal, TypeAlias

from ..item.item import Item
from ..item.pack import ItemSeries, Section
from .kinds import KIND

StemPicture: TypeAlias = Literal["sketch", "forces", "none"]


def with_stem_picture(item: Item, wanted: StemPicture) -> Item:
    """The item with the wanted picture above it; the force diagram only where it answers nothing of it."""
    figures = {"sketch": item.figure, "forces": item.forces, "none": None}
    return replace(item, figure=figures[wanted], forces=None)


def without_answers(sections: Sequence[Section]) -> tuple[Section, ...]:
    """The sections of an exam; those of a problem whose forces are asked for lose their force diagrams.

    Every stem says what its question needs: the diagram is a help, which most kinds of question do without.
    """
    asked = {each.metadata.problem for each in sections if answers_it(each)}
    return tuple(_without_figures(each) if each.metadata.problem in asked else each for each in sections)


def answers_it(section: Section) -> bool:
    """Whether the force diagram of its problem answers a question."""
    kind = next((each for each in KIND if each == section.metadata.kind), None)
    return kind is not None and KIND[kind].figure == "answers it"


def _without_figures(section: Section) -> Section:
    if not any(each.subject == "forces" for each in section.figures):
        return section
    assert isinstance(section.items, ItemSeries)
    return replace(section, figures=(), figure_of=[None] * len(section), items=section.items.changed(_without_figure))


def _without_figure(item: Item) -> Item:
    return replace(item, figure=None)
