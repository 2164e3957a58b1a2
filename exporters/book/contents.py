"""What stands above the sheets: contents by family and by objective, counts, and where a judgement is needed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from .sheet import Sheet


@dataclass(frozen=True)
class ContentsEntry:
    """One line of the contents, and what the filters of the page ask about its sheet."""

    id: str
    title: str
    kind: str
    family: str
    situation: str
    problem: str
    level: str
    objectives: tuple[str, ...]
    source: str
    clear: bool


def entry_of(sheet: Sheet) -> ContentsEntry:
    """The line of a sheet."""
    facts = sheet.metadata
    return ContentsEntry(
        id=sheet.id,
        title=facts.title,
        kind=facts.kind,
        family=facts.family,
        situation=sheet.situation.title,
        problem=facts.problem,
        level=facts.level,
        objectives=facts.objectives,
        source=sheet.quality.question,
        clear=sheet.quality.clear,
    )


@dataclass(frozen=True)
class SituationEntry:
    """The questions of one problem, with their places among all sheets."""

    problem: str
    title: str
    entries: tuple[tuple[int, ContentsEntry], ...]


@dataclass(frozen=True)
class Family:
    """The situations of one family."""

    name: str
    situations: tuple[SituationEntry, ...]

    @property
    def size(self) -> int:
        """How many questions it has."""
        return sum(len(each.entries) for each in self.situations)


def families(entries: Sequence[ContentsEntry]) -> tuple[Family, ...]:
    """All entries by family and problem; families in alphabetical order, all else in the order of the bank."""
    numbered = list(enumerate(entries))
    found = []
    for name in values(entries, lambda each: (each.family,)):
        mine = [each for each in numbered if each[1].family == name]
        groups = groupby(sorted(mine, key=_problem_order(mine)), key=lambda each: each[1].problem)
        found.append(Family(name, tuple(_situation(tuple(group)) for _, group in groups)))
    return tuple(found)


def _problem_order(numbered: Sequence[tuple[int, ContentsEntry]]) -> Callable[[tuple[int, ContentsEntry]], int]:
    """Sorting by it brings the questions of a problem together, problems in the order of their first ones."""
    first: dict[str, int] = {}
    for place, entry in numbered:
        first.setdefault(entry.problem, place)
    return lambda each: first[each[1].problem]


def _situation(entries: tuple[tuple[int, ContentsEntry], ...]) -> SituationEntry:
    first = entries[0][1]
    return SituationEntry(first.problem, first.situation, entries)


def values(entries: Iterable[ContentsEntry], of: Callable[[ContentsEntry], Iterable[str]]) -> tuple[str, ...]:
    """The values that entries have, each once, in alphabetical order."""
    return tuple(sorted({value for each in entries for value in of(each)}))


def counts(entries: Sequence[ContentsEntry], of: Callable[[ContentsEntry], str]) -> tuple[tuple[str, int], ...]:
    """How many entries have each value, in the order in which the values come."""
    found: dict[str, int] = {}
    for each in entries:
        found[of(each)] = found.get(of(each), 0) + 1
    return tuple(found.items())


def by_objective(entries: Sequence[ContentsEntry]) -> tuple[tuple[str, tuple[ContentsEntry, ...]], ...]:
    """Each objective with the questions that serve it."""
    names = values(entries, lambda each: each.objectives)
    return tuple((name, tuple(each for each in entries if name in each.objectives)) for name in names)


def to_judge(entries: Sequence[ContentsEntry]) -> tuple[ContentsEntry, ...]:
    """The first sheet of each solved question whose quality report leaves something to judge."""
    first: dict[str, ContentsEntry] = {}
    for each in entries:
        if not each.clear:
            first.setdefault(each.source, each)
    return tuple(first.values())
