"""From question names to a proved pack on disk.

How a pack is made is plain data: so that it is made again, the same, in another process or on another day.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from ... import exporters
from ...bank.errors import LeftOutError
from ...bank.item.item import Item
from ...bank.item.pack import Pack
from ...bank.model.problem import Problem
from ...bank.questions.item_model import Settings
from ...bank.questions.selection import Share, count_solved, pack_of, select, share
from ..adapting.adaptation import Adapted, Remaking
from ..adapting.template import TemplateItem
from ..packages.delivery import PLAIN, Delivery
from ..packages.package import Packed
from ..proof import Agreed, EarlyProof, Limits, MadeMember, Report, SeenItems, prove
from ..workers import Progress, Workers, seldom_tidied

WRITTEN = 0.3  # of the work on an item; its proof is the rest


@dataclass(frozen=True)
class Recipe:
    """What a pack is made from: the bank, the names of its questions, and what a user decided.

    ``shares`` says which variants of which questions are taken, where a pack holds a part of a pool.
    """

    bank: tuple[Problem, ...]
    names: tuple[str, ...]
    settings: Settings
    shares: tuple[Share, ...] = ()

    def pack(self) -> Pack:
        """The pack. Raises UnknownNameError, SolveError or TooFewVariantsError."""
        if self.shares:
            return share(self.bank, self.settings, self.shares)
        return pack_of(select(self.bank, self.names, self.settings).models, self.settings)


@dataclass(frozen=True)
class Making:
    """A recipe with the format that its pack is made ready for."""

    recipe: Recipe
    format_name: str
    delivery: Delivery

    def adapted(self) -> Adapted:
        """The pack, ready for the format."""
        return exporters.exporter(self.format_name).adapt(self.recipe.pack(), self.delivery)


def _room_for(items: int) -> Limits:
    """Limits of a proof for a pack of our own: those for strangers, and more where the pack is long."""
    usual, blocks = Limits(), 1 + items // 10_000
    return replace(
        usual,
        entries=usual.entries * blocks,
        manifest=usual.manifest * blocks,
        test=usual.test * blocks,
        total=usual.total * blocks,
    )


@dataclass(frozen=True)
class Written:
    """A pack that was written and proved; ``title`` is the format's name in a sentence."""

    path: Path
    format_name: str
    title: str
    adapted: Adapted
    report: Report
    situations: int


@dataclass(frozen=True)
class Order:
    """How a pack is to be carried: in which formats, as the user decides; ``strict`` refuses to leave items out.

    ``workers`` do the work; by default all cores where the pack is long.
    """

    formats: tuple[str, ...] = ("qti-3.0",)
    delivery: Delivery = PLAIN
    strict: bool = False
    workers: Workers | None = None


def write_pack(
    problems: Sequence[Problem],
    names: Sequence[str],
    target: Path,
    settings: Settings,
    progress: Progress,
    order: Order = Order(),
) -> Written:
    """Write the pack of the named questions in the first format; it takes its place at ``target`` after its proof.

    Raises UnknownNameError, SolveError, TooFewVariantsError, LeftOutError, FileError or ProofError; then ``target`` is
    as it was.
    """
    (written,) = _write(
        problems, names, lambda _: target, settings, progress, replace(order, formats=order.formats[:1])
    )
    return written


def write_packs(
    problems: Sequence[Problem],
    names: Sequence[str],
    folder: Path,
    settings: Settings,
    progress: Progress,
    order: Order,
) -> list[Written]:
    """Write a pack of the named questions in each format into ``folder``, each under the name of its format.

    Raises what ``write_pack`` raises; a pack that was proved before the fault stays.
    Raises FileError for what can't be read or written.
    """

    def target(name: str) -> Path:
        return folder / f"turnwright-{name}{exporters.exporter(name).SUFFIX}"

    return _write(problems, names, target, settings, progress, order)


def _write(
    problems: Sequence[Problem],
    names: Sequence[str],
    target: Callable[[str], Path],
    settings: Settings,
    progress: Progress,
    order: Order,
) -> list[Written]:
    for name in order.formats:
        exporters.exporter(name)  # an unknown format is told before the work
    recipe = Recipe(tuple(problems), tuple(names), settings)
    with progress("Solving", count_solved(problems, names)) as done:
        models = select(problems, names, settings, done).models
    with progress("Making questions", len(models)) as done:
        made = pack_of(models, settings, done)
    return write_made(made, target, progress, order, recipe)


def write_made(
    made: Pack,
    target: Callable[[str], Path],
    progress: Progress,
    order: Order,
    recipe: Recipe | None = None,
) -> list[Written]:
    """Write a pack in each format, where ``target`` says; each takes its place after its proof.

    Workers elsewhere need the ``recipe`` of the pack. Raises LeftOutError, FileError or ProofError.
    """
    formats = [(name, exporters.exporter(name)) for name in order.formats]
    situations = len({section.metadata.problem for section in made.sections})
    fitted = [(name, format_, _adapted(name, format_, made, order)) for name, format_ in formats]
    written = []
    for name, format_, adapted in fitted:
        place = target(name)
        making = Making(recipe, name, order.delivery) if recipe else None
        report = _write_one(format_, replace(adapted, chosen=order.workers, making=making), place, progress)
        written.append(Written(place, name, exporters.title(name), adapted, report, situations))
    return written


def _adapted(name: str, format_: exporters.Exporter, made: Pack, order: Order) -> Adapted:
    """The pack made ready for a format. Raises LeftOutError where items are lost that should not be, or all are."""
    adapted = format_.adapt(made, order.delivery)
    reasons = [f"{each.kind} ({each.items}): {each.told}" for each in adapted.table if each.how == "left out"]
    if (order.strict and reasons) or (reasons and not len(adapted.pack)):
        raise LeftOutError(name, reasons)
    return adapted


def _write_one(format_: exporters.Exporter, adapted: Adapted, target: Path, progress: Progress) -> Report:
    """The proof of a pack that was written and moved into place."""
    reports: list[Report] = []
    with progress("Writing and proving", len(adapted.pack)) as done, seldom_tidied():
        proof = ProofOnTheWay(adapted, lambda items: done((1 - WRITTEN) * items))

        def check(path: Path) -> None:
            reports.append(proof.report(path))
            reports[-1].raise_if_failed()

        format_.write(replace(adapted, witness=proof), target, check, lambda _: done(WRITTEN))
    return reports[-1]


class ProofOnTheWay:
    """The proof of a pack, which begins while it is written where its writer shows what it makes."""

    def __init__(self, adapted: Adapted, done: Callable[[int], None]) -> None:
        made = adapted.pack
        self._adapted, self._done, self._told = adapted, done, 0
        self._agreed = Agreed(made.sitting, adapted.delivery, made.gravity)
        self._exam, self._limits = made.purpose == "exam", _room_for(len(made))
        self._seen = EarlyProof(self._limits, exam=self._exam, agreed=self._agreed)

    def begin(self, members: Sequence[Packed]) -> None:
        """Takes manifest and test."""
        self._seen.begin([_on_its_way(each) for each in members])

    def look(self, numbers: Sequence[int], items: Sequence[Item], members: Sequence[Packed]) -> SeenItems | None:
        """What came out for some items."""
        return self._seen.look(numbers, to_prove(items), [_on_its_way(each) for each in members])

    def take(self, seen: Sequence[SeenItems | None]) -> None:
        """Takes what came out for some items."""
        for each in seen:
            self._seen.take(each)
            self._tell(each.count if each else 0)

    def report(self, path: Path) -> Report:
        """The proof of the archive."""
        expected = ToProve(self._adapted)
        return prove(
            path,
            expected,
            exam=self._exam,
            limits=self._limits,
            agreed=self._agreed,
            progress=self._tell,
            seen=self._seen,
        )

    def _tell(self, items: int) -> None:
        """Tells of items that are proved, each once, even where what was seen of them does not count."""
        more = min(items, len(self._adapted.pack) - self._told)
        self._told += more
        self._done(more)


def _on_its_way(member: Packed) -> MadeMember:
    return MadeMember(member.name, member.crc, member.size, member.data)


def to_prove(items: Iterable[Item]) -> Iterator[Item | tuple[Item, ...]]:
    """The items for their proof; of a template item, those of all rows."""
    return (item.rows if isinstance(item, TemplateItem) else item for item in items)


@dataclass(frozen=True)
class ToProve:
    """What is proved of a pack, from the first item or from any other."""

    adapted: Adapted

    @property
    def workers(self) -> Workers:
        """Who proves it."""
        return self.adapted.workers

    @property
    def portable(self) -> Callable[[], ToProve] | None:
        """How a process that has nothing of this one comes to what is proved; None where it can't."""
        return partial(_proved_again, self.adapted.making) if self.adapted.making else None

    def __iter__(self) -> Iterator[Item | tuple[Item, ...]]:
        return self.starting(0)

    def starting(self, start: int) -> Iterator[Item | tuple[Item, ...]]:
        """What is proved of the item at ``start`` and of those after it."""
        return to_prove(self.adapted.items_from(start))


def _proved_again(making: Remaking) -> ToProve:
    return ToProve(making.adapted())
