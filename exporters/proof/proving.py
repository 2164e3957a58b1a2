"""The walk through a pack: archive, manifest, tests, then each item once, read, checked, marked and let go."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import islice
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Protocol, runtime_checkable
from weakref import finalize

from ...bank.errors import FileError
from ...bank.item.item import Item
from ..strangers.archive import Archive, Limits, open_archive
from ..strangers.parsing import Findings, Seen
from ..workers import ALONE, Workers, in_order, local
from .block import BlockResult, Event, Expected, Found, ItemNames, Marks, Missing, Picture, Prover, Titled, Walk
from .contents.manifest import MANIFEST, check_manifest, lists_qti1
from .contents.pack import Contents, ItemPlace, missing_standards, read_contents
from .early import EarlyProof
from .qti1.proving import Qti1Proof
from .report import Agreed, Report
from .words.silence import check_exam_keywords

ITEMS = 200  # of a block: a reader learns what a series of items has in common once a block


@runtime_checkable
class SeriesToProve(Protocol):
    """Items that are made when they are asked for, from the first or from any other; so several can prove a pack."""

    @property
    def workers(self) -> Workers:
        """Who proves them."""

    @property
    def portable(self) -> Callable[[], Iterable[Expected]] | None:
        """How a process that has nothing of this one comes to them, as what can be pickled; None where it can't."""

    def __iter__(self) -> Iterator[Expected]:
        """All of them."""

    def starting(self, start: int) -> Iterator[Expected]:
        """Those from the one at ``start`` on, which counts from 0."""


class _Source:
    """The places of all items with what is expected there.

    A block is asked for after those before it; or alone and once more, where what is expected can start anywhere.
    """

    def __init__(self, contents: Contents, expected: Iterable[Expected] | None) -> None:
        self._startable = expected if isinstance(expected, SeriesToProve) else None
        self._rest = None if expected is None or self._startable else iter(expected)
        self._known = expected is not None
        self._contents = contents
        self._places, self._at = enumerate(contents.places()), 0

    def workers(self, count: int) -> Workers:
        """Who can share the work."""
        if self._startable:
            return self._startable.workers
        return ALONE if self._known else local(count)

    def block(self, where: range) -> tuple[Iterable[tuple[int, ItemPlace]], Iterator[Expected] | None]:
        """The places of a block, each with its number, and what is expected there."""
        if where.start < self._at:
            self._places, self._at = enumerate(self._contents.places()), 0
        places = islice(self._places, where.start - self._at, where.stop - self._at)
        self._at = where.stop
        return places, self._startable.starting(where.start) if self._startable else self._rest

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
    progress: Callable[[int], None] = lambda _: None,
    seen: EarlyProof | None = None,
) -> Report:
    """What the pack at ``path`` holds, and whether it marks as it should.

    ``expected`` are the items it was written from, in the order of its item references, and for a template item those
    of all its rows; each is let go after use.
    ``exam`` says that no feedback or solution may be there; by default, where the tests switch all feedback off.
    ``agreed`` are the rules and the form that the pack was made for. ``progress`` hears how many more items are proved.
    ``seen`` is what was seen of the items while they were made; where it says that all is well it is believed as far as
    the archive holds the very bytes that were seen, and anything else is proved from the archive alone.
    A pack of which neither is known may be anybody's, and is only warned of what breaks a rule of ours.
    A file that is no pack at all is a ``FileError``.
    """
    limits, is_ours = limits or Limits(), expected is not None or agreed is not None
    with open_archive(path, limits) as archive:
        if MANIFEST not in archive:
            raise FileError(str(path), f"has no {MANIFEST} at its root", "give a question pack")
        if lists_qti1(archive, limits):
            of_qti1 = Qti1Proof(archive, limits, exam, agreed, is_ours=is_ours)
            of_qti1.run(None if expected is None else (each for each in expected if isinstance(each, Item)))
            return of_qti1.report(path)
        if seen and seen.is_of(archive):
            proof = _Proof(path, archive, limits, exam, agreed, is_ours=is_ours, seen=seen)
            proof.run(expected, progress)
            if (report := proof.report()).ok:
                return report
        proof = _Proof(path, archive, limits, exam, agreed, is_ours=is_ours)
        proof.run(expected, progress)
        return proof.report()


def _prove_block(prover: Prover, source: _Source, where: range) -> BlockResult:
    return prover.prove(*source.block(where))


@dataclass(frozen=True)
class _Proving:
    """What a process needs that proves blocks of the pack and has nothing of this one, not even its disk."""

    data: bytes
    expected: Callable[[], Iterable[Expected]] | None
    limits: Limits
    exam: bool
    agreed: Agreed | None

    def prepare(self) -> Callable[[range], BlockResult]:
        """What proves a block."""
        with NamedTemporaryFile(prefix="turnwright-", suffix=".zip") as file:
            file.write(self.data)
            file.flush()
            archive = open_archive(Path(file.name), self.limits)  # open until this process has other work
        contents = read_contents(archive, self.limits, Findings())
        prover = Prover(archive, self.limits, contents, exam=self.exam, agreed=self.agreed)
        finalize(prover, archive.close)
        return partial(_prove_block, prover, _Source(contents, self.expected and self.expected()))


class _Proof(Walk):
    """The walk through a pack of QTI 2 or 3, whoever proves its blocks."""

    def __init__(
        self,
        path: Path,
        archive: Archive,
        limits: Limits,
        exam: bool | None,
        agreed: Agreed | None,
        *,
        is_ours: bool,
        seen: EarlyProof | None = None,
    ) -> None:
        super().__init__(archive, limits, agreed, is_ours=is_ours)
        self._path = path
        self._seen = seen
        if seen:
            self._contents = seen.contents
            self._findings.extend(MANIFEST, check_manifest(self._contents.manifest, archive))
        else:
            self._contents = read_contents(archive, limits, self._findings)
        self._exam = self._contents.withholds_feedback() if exam is None else exam
        self._shown: Seen = {}
        self._names = ItemNames()
        self._full: dict[str, tuple[str, object]] = {}
        self._lacking = False

    def run(self, expected: Iterable[Expected] | None, progress: Callable[[int], None]) -> None:
        """Goes through all items in the order of the tests, then through what else is in the archive."""
        if self._exam:
            self._findings.extend("", self._contents.check_exam())
        if self._agreed:
            self._findings.extend("", self._contents.check_session(self._agreed))
        source = _Source(self._contents, expected)
        prover = Prover(self._archive, self._limits, self._contents, exam=self._exam, agreed=self._agreed)
        count = len(self._contents.items)
        if self._seen:
            self._merge(self._seen.outcome)
        start = count if self._seen else 0
        blocks = [range(start, min(start + ITEMS, count)) for start in range(start, count, ITEMS)]
        work = partial(_prove_block, prover, source)
        outcomes = in_order(blocks, work, source.workers(count), self._portable(expected))
        for block, outcome in zip(blocks, outcomes, strict=True):
            self._merge(outcome)
            progress(len(block))
        more = 0 if self._lacking else source.after(count)
        if more:
            self._findings.add("", f"the pack holds {count} items, {count + more} expected")
        self._findings.extend("", self._all.tally.findings())
        self._findings.extend("", self._names.findings(self._contents.selections()))
        self._check_rest()

    def _portable(self, expected: Iterable[Expected] | None) -> Callable[[], _Proving] | None:
        """How others come to prove blocks of the pack; None where they can't know what is expected."""
        again = expected.portable if isinstance(expected, SeriesToProve) else None
        if expected is not None and again is None:
            return None
        return lambda: _Proving(self._path.read_bytes(), again, self._limits, self._exam, self._agreed)

    def _merge(self, block: BlockResult) -> None:
        """Takes what came out for the next block of items."""
        for event in block.events:
            self._take(event)
        self._all.merge(block)

    def _take(self, event: Event) -> None:
        match event:
            case Found(where=where, wrong=wrong):
                self._findings.add(where, wrong)
            case Picture(name=name, faults=faults) if name not in self._shown:
                self._shown[name] = None
                self._findings.extend(name, faults)
            case Marks():
                self._compare(event)
            case Titled():
                self._names.take(event)
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

    def _check_rest(self) -> None:
        if self._exam:
            self._search_exam(self._contents.items, {MANIFEST, *self._contents.tests}, self._shown)
            self._findings.extend("", self._all.across.findings())
            self._findings.extend(MANIFEST, check_exam_keywords(self._contents.manifest.keywords))
        if self._all.aligned:
            data = self._archive.read(MANIFEST, self._limits.manifest)
            self._findings.extend(MANIFEST, missing_standards(data, self._all.aligned))
        self._read_rest(lambda name: name in self._contents or name in self._shown)

    def report(self) -> Report:
        """The outcome of the run."""
        contents = self._contents
        tests = len(contents.tests)
        return self._report(self._path, contents.format, self._exam, len(contents.items), tests, len(self._shown))
