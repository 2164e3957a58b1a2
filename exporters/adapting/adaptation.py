"""A pack made ready for a format: what the format can't carry becomes its nearest honest equivalent, or is left out.

Everything is decided here, on neutral items, and told: a writer gets only what it can write, and the proof holds the
file against the same adapted items.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain, islice, zip_longest
from typing import Any, Literal, Protocol, TypeAlias

from ...bank.item.item import Item, MatchEntry, NumberEntry, OrderEntry
from ...bank.item.pack import Pack, Section
from ...bank.item.sitting import Sitting
from ..packages.delivery import Delivery
from ..packages.package import Packed
from ..workers import Workers, local
from . import matches, numbers, orders
from .capacity import Capacity, Pools
from .converted import Converted, first_item, mapped
from .parts import split

How: TypeAlias = Literal["as is", "changed", "left out"]

ALL_OR_NOTHING = "all or nothing, no part of the marks"
HTML = "written as HTML with sub, sup and Unicode letters; the format does not promise MathML"
HINTS = "given as feedback after a wrong answer, if the system shows such feedback; nobody can ask for one before"
NO_FEEDBACK = "without feedback the format carries neither hints nor solutions"
NO_TEMPLATES = "an item for each variant: the format has no template items"
OPTIONS_SHUFFLED = "options only; the questions keep their order, unless the system shuffles them"
NO_RULES = "not carried: a bank has no rules of a sitting, so set them for the test that is drawn from it"
FEWER = "{asked} attempts become {most}: the format counts no more"
POOLS: dict[Pools, str] = {
    "one each": "no draw: assessment 1 holds the first variant of each question, assessment 2 the second, and so on",
    "bank": "no draw: all variants stand in the bank, and a teacher takes one of each question",
}


@dataclass(frozen=True)
class Conversion:
    """What became of the items of one kind in a format: how they went, in words what was changed or lost, how many."""

    kind: str
    how: How
    told: str
    items: int


class Remaking(Protocol):
    """How a process that has nothing of this one makes a pack ready once more; it is pickled."""

    def adapted(self) -> Adapted:
        """The pack, ready for the format."""


class Witness(Protocol):
    """One who looks at the members of a pack as they are made; a writer that can shows them."""

    def begin(self, members: Sequence[Packed]) -> None:
        """Takes the members that come before all pictures and items."""

    def look(self, numbers: Sequence[int], items: Sequence[Item], members: Sequence[Packed]) -> Any:
        """What is seen of items, by their numbers in the pack, in the process that has made them.

        ``members`` are their files, and all pictures that they may show.
        """

    def take(self, seen: Sequence[Any]) -> None:
        """Takes what was seen of some items, in the process that writes the archive; nothing where nobody looked."""


@dataclass(frozen=True)
class Adapted:
    """A pack that a format can carry whole, with the table of what became of everything.

    ``chosen`` workers write and prove it: by default all cores for a long pack, this process for a short one.
    ``making`` is how a process that has nothing of this one makes it again; None where only this one can.
    ``witness`` is shown what is made of it.
    """

    pack: Pack
    delivery: Delivery
    table: tuple[Conversion, ...] = ()
    pools: Pools = "drawn"
    chosen: Workers | None = field(default=None, compare=False, repr=False)
    making: Remaking | None = field(default=None, compare=False, repr=False)
    witness: Witness | None = field(default=None, compare=False, repr=False)

    @property
    def workers(self) -> Workers:
        """Who writes and proves the pack."""
        return self.chosen or local(len(self.pack))

    @property
    def left_out(self) -> int:
        """How many items the format could not carry at all."""
        return sum(each.items for each in self.table if each.how == "left out")

    def forms(self) -> Iterator[Iterator[tuple[int, int, Item]]]:
        """The items of each assessment, each with the place of its section and its own place there.

        One assessment holds all, section by section; or the first holds the first item of each section, and so on.
        """
        numbered = [_numbered(place, section) for place, section in enumerate(self.pack.sections)]
        if self.pools != "one each":
            yield chain.from_iterable(numbered)
            return
        for layer in zip_longest(*numbered):
            yield (each for each in layer if each is not None)

    def items(self) -> Iterator[Item]:
        """All items, in the order in which a writer writes them."""
        return (item for form in self.forms() for _, _, item in form)

    def items_from(self, start: int) -> Iterator[Item]:
        """The items from the one at ``start`` on, which counts from 0."""
        if self.pools == "one each":
            yield from islice(self.items(), start, None)
            return
        for section in self.pack.sections:
            if start < len(section):
                yield from section.items_from(start)
            start = max(start - len(section), 0)


def _numbered(place: int, section: Section) -> Iterator[tuple[int, int, Item]]:
    return ((place, index, item) for index, item in enumerate(section.items()))


@dataclass
class _Ledger:
    """Counts of items under what is told of them, in the order of telling."""

    counts: Counter[tuple[str, How, str]] = field(default_factory=Counter)

    def add(self, kind: str, how: How, told: str, items: int) -> None:
        if items:
            self.counts[kind, how, told] += items

    def table(self) -> tuple[Conversion, ...]:
        """The rows, those of one kind of question together; what holds for several kinds comes last."""
        ordered = sorted(self.counts.items(), key=lambda row: (row[0][0].startswith("("), row[0][0], row[0][1]))
        return tuple(Conversion(kind, how, told, items) for (kind, how, told), items in ordered)


def as_is(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack for a format that carries every kind of entry, hint, picture and formula natively; asks for no item."""
    return told(pack, delivery, lambda section: "")


def told(pack: Pack, delivery: Delivery, changed: Callable[[Section], str]) -> Adapted:
    """The pack, every item of it; ``changed`` says in words what becomes of a section's items, empty for as is."""
    ledger = _Ledger()
    for section in pack.sections:
        words = changed(section)
        ledger.add(section.metadata.kind, "changed" if words else "as is", words, len(section))
    return Adapted(pack, delivery, ledger.table())


def adapted(pack: Pack, delivery: Delivery, capacity: Capacity) -> Adapted:
    """The pack as a format of this capacity can carry it."""
    ledger = _Ledger()
    choices = frozenset(each.question_id for each in pack.sections if each.metadata.kind == "choice")
    sections: list[Section] = []
    for section in pack.sections:
        sections += _fitted(section, delivery, capacity, choices, ledger)
    made = replace(pack, sections=tuple(_under_rules(each, pack.sitting) for each in sections))
    made = _counted(made, capacity, ledger)
    _tell_of_all(made, delivery, capacity, ledger)
    return Adapted(made, delivery, ledger.table(), capacity.pools)


def _counted(pack: Pack, capacity: Capacity, ledger: _Ledger) -> Pack:
    """The pack with no more attempts than the format can count: fewer than agreed is the stricter of two changes."""
    rules, most = pack.sitting, capacity.attempts
    if most is None or rules.attempts <= most or not capacity.limits:
        return pack
    ledger.add("(attempts)", "changed", FEWER.format(asked=rules.attempts, most=most), len(pack))
    return replace(pack, rules=replace(rules, attempts=most))


def _under_rules(section: Section, rules: Sitting) -> Section:
    """The section without the hints and solutions that its sitting leaves out, or that would need feedback."""
    hints, solution = (rules.feedback and each for each in (rules.hints, rules.solution))
    if hints and solution:
        return section
    return mapped(
        section,
        lambda item: replace(item, hints=item.hints if hints else (), solution=item.solution if solution else ()),
    )


def _fitted(
    section: Section, delivery: Delivery, capacity: Capacity, choices: frozenset[str], ledger: _Ledger
) -> list[Section]:
    """What a section becomes; its items are counted once, and once more where a part of them is left out."""
    kind = section.metadata.kind
    parts = Converted((section,))
    if len(first_item(section).entries) > 1 and not capacity.parts:
        parts = split(section)
    told = list(parts.told)
    sections: list[Section] = []
    lost = 0
    for part in parts.sections:
        fitted = _entry_fitted(part, delivery, capacity, choices)
        told += fitted.told
        sections += fitted.sections
        lost += fitted.lost
        ledger.add(kind, "left out", fitted.why, fitted.lost)
    whole = len(section) - (lost if len(parts.sections) == 1 else 0)
    ledger.add(kind, "changed" if told else "as is", "; ".join(dict.fromkeys(told)), whole)
    return sections


def _entry_fitted(section: Section, delivery: Delivery, capacity: Capacity, choices: frozenset[str]) -> Converted:
    """A section whose items have one entry, or several where the format takes them, made to fit."""
    entries = first_item(section).entries
    entry = entries[0]
    if len(entries) > 1:
        return Converted((section,))
    if isinstance(entry, NumberEntry):
        return Converted((section,)) if capacity.tolerance else numbers.told(section, delivery.numbers, choices)
    if isinstance(entry, OrderEntry):
        return Converted((section,)) if capacity.order else orders.as_choice(section)
    if isinstance(entry, MatchEntry):
        return Converted((section,)) if capacity.match else matches.as_choices(section)
    lossy = entry.several and not capacity.partial
    return Converted((section,), (ALL_OR_NOTHING,) if lossy else ())


def _tell_of_all(pack: Pack, delivery: Delivery, capacity: Capacity, ledger: _Ledger) -> None:
    """What holds for items of several kinds: their formulas, their hints, how variants are given out."""
    rules = pack.sitting
    if not capacity.mathml:
        ledger.add("(formulas)", "changed", HTML, len(pack))
    if not capacity.buttons:
        ledger.add("(hints)", "changed", HINTS, _count(pack.sections, "hints"))
        lost = not rules.feedback and (rules.hints or rules.solution)
        ledger.add("(hints and solutions)", "left out", NO_FEEDBACK, len(pack) if lost else 0)
    if not capacity.mixing and rules.shuffle:
        ledger.add("(shuffle)", "changed", OPTIONS_SHUFFLED, len(pack))
    if not capacity.limits and (rules.attempts or rules.minutes):
        ledger.add("(attempts and minutes)", "changed", NO_RULES, len(pack))
    if delivery.variants != "static":
        ledger.add("(templates)", "changed", NO_TEMPLATES, _numbers(pack.sections))
    if capacity.pools != "drawn":
        ledger.add("(variants)", "changed", POOLS[capacity.pools], len(pack))


def _count(sections: Iterable[Section], what: str) -> int:
    return sum(len(section) for section in sections if getattr(first_item(section), what))


def _numbers(sections: Iterable[Section]) -> int:
    return sum(len(section) for section in sections if section.metadata.kind == "number")
