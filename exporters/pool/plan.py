"""Which variants of which questions stand in which pack of a pool; nothing of an item is kept."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from ...bank.model.problem import Problem
from ...bank.questions.item_model import Settings
from ...bank.questions.selection import Share, select

ITEMS = 10_000  # of a pack, unless a user wants another number


@dataclass(frozen=True)
class Plan:
    """The shares of each pack, in order, and the questions that have no item."""

    packs: tuple[tuple[Share, ...], ...]
    without: tuple[str, ...] = ()

    def __len__(self) -> int:
        return sum(size(shares) for shares in self.packs)


def size(shares: Iterable[Share]) -> int:
    """How many items these shares are."""
    return sum(each.stop - each.start for each in shares)


def plan(
    bank: Sequence[Problem],
    names: Sequence[str],
    settings: Settings,
    most: int = ITEMS,
    done: Callable[[int], None] = lambda _: None,
) -> Plan:
    """Up to as many variants of each question as the settings want, in packs of at most ``most`` items.

    A question that has fewer gives what it has. ``done`` hears of each question that is looked at. Raises
    UnknownNameError or SolveError.
    """
    chosen = select(bank, names, settings, done)
    wanted = (settings.variants, settings.gravity, settings.seed)
    counts = {each.id: each.count(*wanted) for each in chosen.models}
    packs = tuple(_packs(counts.items(), most))
    return Plan(packs, tuple(name for name, found in counts.items() if not found))


def _packs(counts: Iterable[tuple[str, int]], most: int) -> Iterator[tuple[Share, ...]]:
    """Packs that are full but for the last; a question that does not fit goes on in the next one."""
    shares: list[Share] = []
    room = most
    for question, found in counts:
        start = 0
        while start < found:
            stop = min(start + room, found)
            shares.append(Share(question, start, stop))
            room -= stop - start
            start = stop
            if not room:
                yield tuple(shares)
                shares, room = [], most
    if shares:
        yield tuple(shares)
