"""A pack whose number questions become template items: one for each scene, with a row for each variant."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from ...bank.item.item import Item
from ...bank.item.pack import Section
from ...bank.language import count
from .adaptation import Adapted, Conversion
from .alignment import UnlikeError, align
from .computing import computed
from .template import TemplateItem

NUMBER = "number"  # the only kind of question whose variants differ in numbers alone
MOST_ROWS = 250
PLAIN_LINES = "in the worked solution, lines with numbers are plain text"
STATIC = "as static items"


def with_templates(adapted: Adapted) -> Adapted:
    """The pack with template items where they are possible, as its delivery asks."""
    tally = _RowTally()
    sections = tuple(_templated(each, adapted.delivery.variants == "computed", tally) for each in adapted.pack.sections)
    others = [replace(each, told=_also(each.told, STATIC)) for each in adapted.table if each.kind != NUMBER]
    return replace(adapted, pack=replace(adapted.pack, sections=sections), table=(*others, *tally.carried()))


def _also(told: str, more: str) -> str:
    return f"{told}; {more}" if told else more


@dataclass
class _RowTally:
    """How many templates hold how many variants, and why some variants are held by none."""

    templates: int = 0
    held: int = 0
    computed: int = 0
    unrounded: int = 0
    wanted: bool = False
    static: dict[str, int] = field(default_factory=dict)

    def take(self, item: Item, platform: bool) -> None:
        if not isinstance(item, TemplateItem):
            self.leave("a single variant needs no template", 1)
            return
        self.templates += 1
        self.held += len(item.rows)
        self.wanted = self.wanted or platform
        self.computed += item.computed is not None
        self.unrounded += item.computed is not None and item.computed.figures != item.entry.figures

    def leave(self, why: str, items: int) -> None:
        self.static[why] = self.static.get(why, 0) + items

    def carried(self) -> Iterator[Conversion]:
        if self.held:
            told = [f"as {count(self.templates, 'template item')}", PLAIN_LINES]
            if self.wanted:
                told.append(f"the platform works the key out in {self.computed} of them")
            if self.unrounded:
                told.append(f"and keeps it unrounded in {self.unrounded}, where halves would be rounded otherwise")
            yield Conversion(NUMBER, "changed", "; ".join(told), self.held)
        for why, items in self.static.items():
            yield Conversion(NUMBER, "as is", f"{STATIC}: {why}", items)


def _templated(section: Section, platform: bool, tally: _RowTally) -> Section:
    """The section with its variants in templates; unchanged where they differ in more than numbers."""
    if section.metadata.kind != NUMBER:
        return section
    try:
        files = [(item, group[0]) for item, group in _files(section, platform)]
    except UnlikeError as error:
        tally.leave(str(error), len(section))
        return section
    for item, _ in files:
        tally.take(item, platform)
    return replace(
        section,
        figure_of=[section.figure_of[first] for _, first in files],
        items=partial(_items, section, platform),
        held=[len(item.rows) if isinstance(item, TemplateItem) else 1 for item, _ in files],
    )


def _items(section: Section, platform: bool) -> Iterator[Item]:
    return (item for item, _ in _files(section, platform))


def _files(section: Section, platform: bool) -> Iterator[tuple[Item, Sequence[int]]]:
    """The item of each file, with the places of the variants that it holds."""
    items = list(section.items())
    scenes: dict[str, list[int]] = {}
    for place, item in enumerate(items):
        scenes.setdefault(item.metadata.scene, []).append(place)
    for places in scenes.values():
        for start in range(0, len(places), MOST_ROWS):
            group = places[start : start + MOST_ROWS]
            yield file_of([items[place] for place in group], platform), group


def file_of(rows: Sequence[Item], platform: bool) -> Item:
    """The item for the file of some variants: a template, whose key the ``platform`` may work out, or the only one."""
    if len(rows) == 1:
        return rows[0]
    template = align(rows)
    return (computed(template) or template) if platform else template
