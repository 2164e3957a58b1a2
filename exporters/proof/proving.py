"""The walk through a pack: archive, manifest, tests, then each item once, read, checked, marked and let go."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Protocol, runtime_checkable

from turnwright.bank.errors import FileError
from turnwright.bank.item import Item
from turnwright.exporters.blocks import ITEMS, cores, in_order
from turnwright.exporters.proof.agreed import Agreed
from turnwright.exporters.proof.archive import Archive, Limits, MemberError, open_archive
from turnwright.exporters.proof.asi_proving import AsiProof, is_asi
from turnwright.exporters.proof.block import Event, Expected, Found, Marks, Missing, Outcome, Picture, Prover
from turnwright.exporters.proof.contents import Contents, Place, read_contents
from turnwright.exporters.proof.findings import Findings, Seen
from turnwright.exporters.proof.manifest import MANIFEST
from turnwright.exporters.proof.report import Report, counted
from turnwright.exporters.proof.standards import missing_standards


@runtime_checkable
class Startable(Protocol):
    """Items that are made when they are asked for, from the first or from any other; so several can prove a pack."""

    def __iter__(self) -> Iterator[Expected]:
        """All of them."""

    def starting(self, start: int) -> Iterator[Expected]:
        """Those from the one at ``start`` on, which counts from 0."""


class _Source:
    """The places of all items with what is expected there; a block is asked for after those before it, or alone."""

    def __init__(self, contents: Contents, expected: Iterable[Expected] | None) -> None:
        self._startable = expected if isinstance(expected, Startable) else None
        self._rest = None if expected is None or self._startable else iter(expected)
        self._known = expected is not None
        self._places, self._at = enumerate(contents.places()), 0

    def workers(self, count: int) -> int:
        """How many processes can share the work."""
        return cores(count) if self._startable or not self._known else 1

    def block(self, start: int) -> tuple[Iterable[tuple[int, Place]], Iterator[Expected] | None]:
        """The places from ``start`` on, each with its number, and what is expected there."""
        places = islice(self._places, start - self._at, start - self._at + ITEMS)
        self._at = start + ITEMS
        return places, self._startable.starting(start) if self._startable else self._rest

    def after(self, count: int) -> int:
        """How many more are expected than there are places."""
        rest = self._startable.starting(count) if self._startable else self._rest
        return sum(1 for _ in rest) if rest else 0


def prove(
    path: Path,
    expected: Iterable[Expected] | None = None,
    *,
    exam: bool | None = None,
    limits: Limits | None = None,
    agreed: Agreed | None = None,
) -> Report:
    """What the pack at ``path`` holds, and whether it marks as it should.

    ``expected`` are the items it was written from, in the order of its item references, and for a template item those
    of all its rows; each is let go after use.
    ``exam`` says that no feedback or solution may be there; by default, where the tests switch all feedback off.
    ``agreed`` are the rules and the form that the pack was made for.
    A file that is no pack at all is a ``FileError``.
    """
    limits = limits or Limits()
    with open_archive(path, limits) as archive:
        if MANIFEST not in archive:
            raise FileError(str(path), f"has no {MANIFEST} at its root", "give a question pack")
        if is_asi(archive, limits):
            asi = AsiProof(archive, limits, exam, agreed)
            asi.run(None if expected is None else (each for each in expected if isinstance(each, Item)))
            return asi.report(path)
        proof = _Proof(archive, limits, exam, agreed)
        proof.run(expected)
        return proof.report(path)


class _Proof:
    """The state of one run: what was found and counted so far; no item is kept."""

    def __init__(self, archive: Archive, limits: Limits, exam: bool | None, agreed: Agreed | None) -> None:
        self._archive, self._limits, self._agreed = archive, limits, agreed
        self._findings = Findings()
        self._findings.extend("", archive.faults())
        self._contents: Contents = read_contents(archive, limits, self._findings)
        self._exam = self._contents.withholds_feedback() if exam is None else exam
        self._all = Outcome()
        self._shown: Seen = {}
        self._full: dict[str, tuple[str, object]] = {}
        self._lacking = False

    def run(self, expected: Iterable[Expected] | None) -> None:
        """Goes through all items in the order of the tests, then through what else is in the archive."""
        if self._exam:
            self._findings.extend("", self._contents.check_exam())
        if self._agreed:
            self._findings.extend("", self._contents.check_session(self._agreed.sitting))
        source = _Source(self._contents, expected)
        prover = Prover(self._archive, self._limits, self._contents, exam=self._exam, agreed=self._agreed)
        count = len(self._contents.items)
        tasks = range(0, count, ITEMS)
        workers = source.workers(count)
        for outcome in in_order(tasks, lambda start: prover.prove(*source.block(start)), workers, apart=True):
            self._merge(outcome)
        more = 0 if self._lacking else source.after(count)
        if more:
            self._findings.add("", f"the pack holds {count} items, {count + more} expected")
        self._findings.extend("", self._all.tally.findings())
        self._read_rest()

    def _merge(self, block: Outcome) -> None:
        """Takes what came out for the next block of items."""
        for event in block.events:
            self._take(event)
        everything = self._all
        everything.tally.merge(block.tally)
        everything.authors.merge(block.authors)
        everything.aligned.update(block.aligned)
        everything.unmarked.update(block.unmarked)
        everything.kinds.update(block.kinds)
        everything.bands += block.bands
        everything.marked += block.marked
        everything.tried += block.tried
        everything.rows += block.rows

    def _take(self, event: Event) -> None:
        match event:
            case Found(where=where, wrong=wrong):
                self._findings.add(where, wrong)
            case Picture(name=name, faults=faults) if name not in self._shown:
                self._shown[name] = None
                self._findings.extend(name, faults)
            case Marks():
                self._compare(event)
            case Missing(items=items) if not self._lacking:
                self._lacking = True
                count = len(self._contents.items)
                self._findings.add("", f"the pack holds {count} items, {items} expected")

    def _compare(self, marks: Marks) -> None:
        first, full = self._full.setdefault(marks.drawn_from, (marks.where, marks.full))
        if marks.drawn_from and full != marks.full:
            self._findings.add(marks.where, f"full marks are {marks.full}, but {full} for {first}, drawn alike")
        elif marks.wanted is not None and marks.full is not None and marks.full != marks.wanted:
            self._findings.add(marks.where, f"full marks are {marks.full}, {marks.wanted} expected")

    def _read_rest(self) -> None:
        """Reads every member that nothing has read yet, so that no damage stays unseen."""
        if self._exam:
            self._search_rest()
        if self._all.aligned:
            data = self._archive.read(MANIFEST, self._limits.manifest)
            self._findings.extend(MANIFEST, missing_standards(data, self._all.aligned))
        for name in self._archive.names:
            if self._archive.is_sound(name) and name not in self._contents and name not in self._shown:
                try:
                    data = self._archive.read(name, self._limits.member)
                except MemberError as error:
                    self._findings.add(name, str(error))
                    continue
                if data.startswith(b"PK\x03\x04"):
                    self._findings.add(name, "is an archive inside the archive")

    def _search_rest(self) -> None:
        """Looks in all that is no item for what only the authors should see."""
        for name in self._archive.names:
            if self._archive.is_sound(name) and name not in self._contents.items:
                try:
                    data = self._archive.read(name, self._limits.manifest)
                except MemberError:  # which is told where the member is read for itself
                    continue
                self._findings.extend(name, self._all.authors.check_rest(name, data))

    def report(self, path: Path) -> Report:
        """The outcome of the run."""
        return Report(
            str(path),
            self._contents.format,
            self._exam,
            len(self._contents.items),
            len(self._contents.tests),
            len(self._shown),
            self._all.marked,
            self._all.tried,
            tuple(counted(why, count) for why, count in self._all.unmarked.most_common(50)),
            tuple(self._all.bands),
            self._findings.lines(),
            dict(sorted(self._all.kinds.items())),
            self._all.rows,
        )
