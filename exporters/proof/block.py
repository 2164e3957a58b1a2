"""What is kept of a walk through a pack, whatever its format; and the proof of one block of items.

Each item is read once, checked, marked and let go. What came out, findings and counts and no item, is merged in order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeAlias

from ...bank.item.curriculum import Alignment
from ...bank.item.item import Item, NumberEntry
from ..strangers.archive import Archive, Limits, MemberError, Members
from ..strangers.parsing import DocumentError, Doubt, Findings, HouseRule, placed, shown
from .again.shown import Text
from .contents.pack import Contents, Figures, ItemPlace
from .marking.item_proof import ItemProof, Wanted, check_tolerance, prove_item
from .marking.template_proof import prove_template
from .reading.item_file import ItemFile, read_item
from .reading.references import check_references, check_references_again
from .report import AcceptedBand, Agreed, Report, counted
from .series import Alike, Series
from .words.across import Across
from .words.leaks import Authors, Secret, Tally, numbers_in, public_texts
from .words.printing import check_key
from .words.silence import check_exam_item, check_exam_member, check_exam_name
from .words.solution import check_solution

Expected: TypeAlias = Item | tuple[Item, ...]


@dataclass(frozen=True)
class Found:
    """Something wrong with the member ``where``."""

    where: str
    wrong: str


@dataclass(frozen=True)
class Picture:
    """A picture that is met in the block for the first time, with what is wrong with it."""

    name: str
    faults: tuple[str, ...]


@dataclass(frozen=True)
class Marks:
    """The full marks of an item, for comparison with those of the items that it is drawn with."""

    where: str
    drawn_from: str
    full: object
    wanted: int | None


@dataclass(frozen=True)
class Titled:
    """How an item calls itself, for comparison with all others."""

    where: str
    drawn_from: str
    identifier: str
    title: str


@dataclass(frozen=True)
class Missing:
    """So many items were proved before one for which none was expected."""

    items: int


Event: TypeAlias = Found | Picture | Marks | Titled | Missing


class ItemNames:
    """How all items of a pack call themselves."""

    def __init__(self) -> None:
        self._first: dict[str, str] = {}
        self._twice: list[Found] = []
        self._titles: dict[str, str | None] = {}

    def take(self, item: Titled) -> None:
        """Takes an item; what it is drawn from has one title as long as all items there have."""
        first = self._first.setdefault(item.identifier, item.where)
        if first != item.where:
            called = f"calls itself '{shown(item.identifier)}', as {shown(first)} does"
            self._twice.append(Found(item.where, called))
        if item.drawn_from and self._titles.setdefault(item.drawn_from, item.title) != item.title:
            self._titles[item.drawn_from] = None

    def findings(self, selections: Mapping[str, int]) -> Iterator[str]:
        """Items of one name, and variants of one question of which a candidate gets several."""
        yield from (placed(shown(each.where), each.wrong) for each in self._twice)
        for group, number in selections.items():
            if number > 1 and self._titles.get(group):
                title = shown(self._titles[group] or "")
                wrong = f"section '{shown(group)}' gives {number} items to a candidate, and all are called '{title}'"
                yield HouseRule(f"{wrong}: variants of one question, of which 1 is expected")


@dataclass
class BlockResult:
    """What came out for a block of items: ``events`` in their order, and counts."""

    events: list[Event] = field(default_factory=list)
    tally: Tally = field(default_factory=Tally)
    authors: Authors = field(default_factory=Authors)
    across: Across = field(default_factory=Across)
    aligned: dict[Alignment, None] = field(default_factory=dict)
    unmarked: Counter[str] = field(default_factory=Counter)
    kinds: Counter[str] = field(default_factory=Counter)
    bands: list[tuple[str, AcceptedBand]] = field(default_factory=list)
    marked: int = 0
    tried: int = 0
    rows: int = 0
    faults: int = 0

    def add(self, where: str, wrong: str) -> None:
        """Takes something that is wrong with a member."""
        self.faults += not isinstance(wrong, Doubt)
        self.events.append(Found(where, wrong))

    def count(self, where: str, proof: ItemProof, keep_band: bool) -> bool:
        """Takes what came out for an item; says whether it was marked."""
        self.tried += proof.tried
        if proof.unmarked:
            self.unmarked[proof.unmarked] += 1
            return False
        self.marked += 1
        self.kinds[proof.kind] += 1
        if proof.band and keep_band:
            self.bands.append((where, proof.band))
        return True

    def extend(self, where: str, wrongs: Iterable[str]) -> None:
        """Takes all that is wrong with a member."""
        for wrong in wrongs:
            self.add(where, wrong)

    def merge(self, later: BlockResult) -> None:
        """Takes what was counted for other items; their events are left to the caller."""
        self.tally.merge(later.tally)
        self.authors.merge(later.authors)
        self.across.merge(later.across)
        self.aligned.update(later.aligned)
        self.unmarked.update(later.unmarked)
        self.kinds.update(later.kinds)
        self.bands += later.bands
        self.marked += later.marked
        self.tried += later.tried
        self.rows += later.rows


class Walk:
    """The state of one run: what was found and counted so far."""

    def __init__(self, archive: Archive, limits: Limits, agreed: Agreed | None, *, is_ours: bool) -> None:
        self._archive, self._limits, self._agreed = archive, limits, agreed
        self._is_ours = is_ours
        self._findings = Findings(strict=is_ours)
        self._findings.extend("", archive.faults())
        self._all = BlockResult()

    def _search_exam(self, is_passed: Container[str], is_named: Container[str], shown: Container[str]) -> None:
        """Looks in all members of an exam that are not passed for what only its authors should see.

        The names of those that are named so by their format tell nothing; ``shown`` are the figures of items.
        """
        for name in self._archive.names:
            if not self._archive.is_sound(name) or name in is_passed:
                continue
            try:
                data = self._archive.read(name, self._limits.manifest)
            except MemberError:  # which is told where the member is read for itself
                continue
            self._findings.extend(name, self._all.authors.check_rest(name, data))
            self._findings.extend(name, check_exam_member(data))
            if name not in is_named:
                self._findings.extend(name, check_exam_name(name))
                if name not in shown:
                    self._findings.add(name, HouseRule("no item of the exam shows it"))

    def _read_rest(self, is_read: Callable[[str], bool]) -> None:
        """Reads every member that nothing has read yet, so that no damage stays unseen."""
        for name in self._archive.names:
            if self._archive.is_sound(name) and not is_read(name):
                try:
                    data = self._archive.read(name, self._limits.member)
                except MemberError as error:
                    self._findings.add(name, str(error))
                    continue
                if data.startswith(b"PK\x03\x04"):
                    self._findings.add(name, "is an archive inside the archive")

    def _report(self, path: Path, format_name: str, exam: bool, items: int, tests: int, figures: int) -> Report:
        """The outcome of the run."""
        if not self._is_ours and items and not self._all.marked and not self._findings:
            self._findings.add("", "none of its items could be marked by its own rules, so nothing is proved")
        return Report(
            str(path),
            format_name,
            exam,
            items,
            tests,
            figures,
            self._all.marked,
            self._all.tried,
            tuple(counted(why, count) for why, count in self._all.unmarked.most_common(50)),
            tuple(self._all.bands),
            self._findings.lines(),
            dict(sorted(self._all.kinds.items())),
            self._all.rows,
            self._findings.warnings(),
        )


class Prover:
    """Proves the items of a pack block by block; what it keeps from one block to the next only makes it quicker."""

    def __init__(
        self, archive: Members, limits: Limits, contents: Contents, *, exam: bool, agreed: Agreed | None
    ) -> None:
        self._archive, self._limits, self._contents = archive, limits, contents
        self._exam, self._agreed = exam, agreed
        self._limited = contents.limits_attempts()
        self._series = Series()
        self._figures = Figures(archive, limits, self._meet)
        self._out = BlockResult()

    def prove(self, places: Iterable[tuple[int, ItemPlace]], expected: Iterator[Expected] | None) -> BlockResult:
        """What came out for some items, each with its number in the pack, counted from 0."""
        self._out = BlockResult()
        self._figures.begin()
        for number, place in places:
            one = next(expected, None) if expected else None
            self._prove_place(place, one)
            if expected and one is None:
                self._out.events.append(Missing(number))
                expected = None
        return self._out

    def _meet(self, name: str, faults: Sequence[str]) -> None:
        self._out.events.append(Picture(name, tuple(faults)))

    def _prove_place(self, place: ItemPlace, expected: Expected | None) -> None:
        try:
            data = self._archive.read(place.name, self._limits.document)
            alike = self._series.read(place.name, data)
            if alike and expected is not None and self._prove_again(alike, place, expected):
                return
            filled = alike.filled() if alike else None
            item = filled or read_item(place.name, data, self._contents.dialect)
        except (MemberError, DocumentError) as error:
            self._out.add(place.name, str(error))
            return
        self._name(place, item.root.get("identifier"), item.root.get("title"))
        before = self._out.faults
        check = check_references_again if filled else check_references
        self._out.extend(place.name, check(item, self._archive, place.provided))
        proof = self._prove_read(item, place, expected)
        if self._out.faults > before:
            return
        kept = self._wanted(replace(expected, solution=())) if isinstance(expected, Item) else None
        if alike is None:
            self._series.add(item, proof, kept)
        elif filled and proof and kept:
            alike.keep(item, proof, kept)

    def _name(self, place: ItemPlace, identifier: str, title: str) -> None:
        self._out.events.append(Titled(place.name, place.drawn_from, identifier, title))

    def _prove_again(self, alike: Alike, place: ItemPlace, expected: Expected) -> bool:
        """Proves an item of which all is known but its numbers; says whether that can be, without a finding."""
        known = alike.known
        if known is None or not isinstance(expected, Item) or not known.shown.finds_links(place.name, place.provided):
            return False
        stem = known.proves(expected, alike.numbers)
        if stem is None:
            return False
        self._name(place, known.shown.identifier.filled(alike.numbers), known.shown.title)
        self._out.extend(place.name, check_tolerance(expected.entry))
        self._count(place, known.proof, keep_band=False)
        secrets = [Secret.of(expected.entry.key, stem, place.counts | {expected.variant})]
        texts = known.shown.texts(place.name, place.names, alike.numbers)
        self._meet_texts(known.shown.images, texts, secrets)
        self._out.aligned.update(dict.fromkeys(expected.metadata.alignment))
        return True

    def _prove_read(self, item: ItemFile, place: ItemPlace, expected: Expected | None) -> ItemProof | None:
        """Proves an item of whatever kind; what came out, where it is no template."""
        if expected is not None and item.is_template != isinstance(expected, tuple):
            wanted = "a template item" if isinstance(expected, tuple) else "an item without template processing"
            self._out.add(place.name, f"{wanted} expected")
        elif item.is_template:
            self._prove_template(item, place, expected if isinstance(expected, tuple) else None)
        else:
            return self._prove_item(item, place, expected if isinstance(expected, Item) else None)
        return None

    def _wanted(self, expected: Item | None) -> Wanted:
        return Wanted(expected, self._exam, self._agreed, self._limited)

    def _prove_item(self, item: ItemFile, place: ItemPlace, expected: Item | None) -> ItemProof:
        proof = prove_item(item, self._wanted(expected))
        self._out.extend(place.name, proof.findings)
        if expected and not self._exam:
            self._out.extend(place.name, check_solution(item, expected))
            if len(expected.entries) == 1 and isinstance(expected.entries[0], NumberEntry):
                self._out.extend(place.name, check_key(item, expected))
        self._check_pictures(place, proof)
        self._count(place, proof, keep_band=expected is None)
        self._check_silence(item, place, proof, expected)
        return proof

    def _prove_template(self, item: ItemFile, place: ItemPlace, expected: tuple[Item, ...] | None) -> None:
        """A template counts as one item; each of its draws must keep its own key to itself."""

        def visit(delivered: ItemFile, proof: ItemProof, row: Item | None) -> None:
            self._check_pictures(place, proof)
            self._check_silence(delivered, place, proof, row)

        found = prove_template(item, expected, visit, self._wanted(None))
        self._out.extend(place.name, found.proof.findings)
        self._out.rows += found.rows
        self._count(place, found.proof, keep_band=expected is None)

    def _check_pictures(self, place: ItemPlace, proof: ItemProof) -> None:
        for name, alternative in proof.pictures:
            if name in self._archive:
                self._out.extend(place.name, self._figures.check_words(name, alternative))

    def _count(self, place: ItemPlace, proof: ItemProof, keep_band: bool) -> None:
        if self._out.count(place.name, proof, keep_band):
            self._out.events.append(Marks(place.name, place.drawn_from, proof.full, proof.wanted))

    def _check_silence(self, item: ItemFile, place: ItemPlace, proof: ItemProof, expected: Item | None) -> None:
        out = self._out
        counts = place.counts | {expected.variant} if expected else place.counts
        stem = numbers_in(item.stem()) if proof.keys else frozenset()
        secrets = [Secret.of(key, stem, counts) for key in proof.keys]
        images = [each.name for each in item.links() if each.is_image and each.name]
        shown = public_texts(item, place.names) if secrets else ()
        texts = ((what, text, numbers_in(text)) for what, text in shown)
        self._meet_texts(dict.fromkeys(each for each in images if each in self._archive), texts, secrets)
        if self._exam:
            out.extend(place.name, check_exam_item(item, secrets))
            group = place.drawn_from or place.name
            out.across.take(place.name, group, item, expected)
            for options, right in proof.choices:
                out.across.asks(place.name, group, options, right)
        if self._exam and expected:
            out.extend(place.name, out.authors.check_item(item, expected, place.names))
        elif expected:
            out.aligned.update(dict.fromkeys(expected.metadata.alignment))

    def _meet_texts(self, images: Iterable[str], texts: Iterable[Text], secrets: Sequence[Secret]) -> None:
        """Takes what an item with these keys shows before it is answered."""
        for name in images:
            numbers = self._figures.numbers(name)
            for part, secret in enumerate(secrets):
                self._out.tally.meet("words of the picture", name, numbers, secret, part)
        for what, text, found in texts:
            for part, secret in enumerate(secrets):
                self._out.tally.meet(what, text, found, secret, part)
