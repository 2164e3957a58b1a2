"""The walk through a pack: archive, manifest, tests, then each item once, read, checked, marked and let go."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TypeAlias

from turnwright.bank.curriculum import Alignment
from turnwright.bank.errors import FileError
from turnwright.bank.item import Item
from turnwright.exporters.proof.agreed import Agreed
from turnwright.exporters.proof.archive import Archive, Limits, MemberError, open_archive
from turnwright.exporters.proof.asi_proving import AsiProof, is_asi
from turnwright.exporters.proof.authoring import Authors
from turnwright.exporters.proof.contents import Contents, Place, read_contents
from turnwright.exporters.proof.figures import Figures
from turnwright.exporters.proof.findings import Findings
from turnwright.exporters.proof.item_file import ItemFile, read_item
from turnwright.exporters.proof.item_proof import ItemProof, Wanted, prove_item
from turnwright.exporters.proof.leaks import Secret, Tally, check_exam_item, numbers_in, public_texts
from turnwright.exporters.proof.manifest import MANIFEST
from turnwright.exporters.proof.parsing import DocumentError
from turnwright.exporters.proof.references import check_references, check_references_again
from turnwright.exporters.proof.report import Band, Report, counted
from turnwright.exporters.proof.series import Series
from turnwright.exporters.proof.standards import missing_standards
from turnwright.exporters.proof.template import is_template
from turnwright.exporters.proof.template_proof import prove_template

Expected: TypeAlias = Item | tuple[Item, ...]


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
        proof.run(None if expected is None else iter(expected))
        return proof.report(path)


class _Proof:
    """The state of one run: what was found and counted so far; no item is kept."""

    def __init__(self, archive: Archive, limits: Limits, exam: bool | None, agreed: Agreed | None) -> None:
        self._archive, self._limits, self._agreed = archive, limits, agreed
        self._findings = Findings()
        self._findings.extend("", archive.faults())
        self._contents: Contents = read_contents(archive, limits, self._findings)
        self._exam = self._contents.withholds_feedback() if exam is None else exam
        self._figures = Figures(archive, limits, self._findings)
        self._series = Series()
        self._tally = Tally()
        self._authors = Authors()
        self._aligned: dict[Alignment, None] = {}
        self._full: dict[str, tuple[str, object]] = {}
        self._unmarked: Counter[str] = Counter()
        self._kinds: Counter[str] = Counter()
        self._bands: list[tuple[str, Band]] = []
        self._items = self._marked = self._tried = self._rows = 0

    def run(self, expected: Iterator[Expected] | None) -> None:
        """Goes through all items in the order of the tests, then through what else is in the archive."""
        if self._exam:
            self._findings.extend("", self._contents.check_exam())
        if self._agreed:
            self._findings.extend("", self._contents.check_session(self._agreed.sitting))
        count = len(self._contents.items)
        for place in self._contents.places():
            one = next(expected, None) if expected else None
            self._prove_place(place, one)
            if expected and one is None:
                self._findings.add("", f"the pack holds {count} items, {self._items - 1} expected")
                expected = None
        more = sum(1 for _ in expected) if expected else 0
        if more:
            self._findings.add("", f"the pack holds {count} items, {count + more} expected")
        self._findings.extend("", self._tally.findings())
        self._read_rest()

    def _prove_place(self, place: Place, expected: Expected | None) -> None:
        self._items += 1
        try:
            data = self._archive.read(place.name, self._limits.document)
            alike = self._series.read(place.name, data)
            item = alike or read_item(place.name, data, self._contents.dialect)
        except (MemberError, DocumentError) as error:
            self._findings.add(place.name, str(error))
            return
        before, check = len(self._findings), check_references_again if alike else check_references
        self._findings.extend(place.name, check(item, self._archive, place.provided))
        self._prove_read(item, place, expected)
        if not alike and len(self._findings) == before:
            self._series.add(item)

    def _prove_read(self, item: ItemFile, place: Place, expected: Expected | None) -> None:
        if expected is not None and is_template(item) != isinstance(expected, tuple):
            wanted = "a template item" if isinstance(expected, tuple) else "an item without template processing"
            self._findings.add(place.name, f"{wanted} expected")
        elif is_template(item):
            self._prove_template(item, place, expected if isinstance(expected, tuple) else None)
        else:
            self._prove_item(item, place, expected if isinstance(expected, Item) else None)

    def _wanted(self, expected: Item | None) -> Wanted:
        return Wanted(expected, self._exam, self._agreed, self._contents.limits_attempts())

    def _prove_item(self, item: ItemFile, place: Place, expected: Item | None) -> None:
        proof = prove_item(item, self._wanted(expected))
        self._findings.extend(place.name, proof.findings)
        self._check_pictures(place, proof)
        self._count(place, proof, keep_band=expected is None)
        self._check_silence(item, place, proof, expected)

    def _prove_template(self, item: ItemFile, place: Place, expected: tuple[Item, ...] | None) -> None:
        """A template counts as one item; each of its draws must keep its own key to itself."""

        def visit(delivered: ItemFile, proof: ItemProof, row: Item | None) -> None:
            self._check_pictures(place, proof)
            self._check_silence(delivered, place, proof, row)

        found = prove_template(item, expected, visit, self._wanted(None))
        self._findings.extend(place.name, found.proof.findings)
        self._rows += found.rows
        self._count(place, found.proof, keep_band=expected is None)

    def _check_pictures(self, place: Place, proof: ItemProof) -> None:
        for name, alternative in proof.pictures:
            if name in self._archive:
                self._findings.extend(place.name, self._figures.check_words(name, alternative))

    def _count(self, place: Place, proof: ItemProof, keep_band: bool) -> None:
        self._tried += proof.tried
        if proof.unmarked:
            self._unmarked[proof.unmarked] += 1
            return
        self._marked += 1
        self._kinds[proof.kind] += 1
        if proof.band and keep_band:
            self._bands.append((place.name, proof.band))
        first, full = self._full.setdefault(place.drawn_from, (place.name, proof.full))
        if place.drawn_from and full != proof.full:
            self._findings.add(place.name, f"full marks are {proof.full}, but {full} for {first}, drawn alike")
        elif proof.wanted is not None and proof.full is not None and proof.full != proof.wanted:
            self._findings.add(place.name, f"full marks are {proof.full}, {proof.wanted} expected")

    def _check_silence(self, item: ItemFile, place: Place, proof: ItemProof, expected: Item | None) -> None:
        counts = place.counts | {expected.variant} if expected else place.counts
        secrets = [Secret.of(key, item, counts) for key in proof.keys]
        images = [each.name for each in item.links() if each.is_image and each.name]
        for name in dict.fromkeys(each for each in images if each in self._archive):
            numbers = self._figures.numbers(name)
            for part, secret in enumerate(secrets):
                self._tally.meet("words of the picture", name, numbers, secret, part)
        for what, text in public_texts(item, place.names) if secrets else ():
            for part, secret in enumerate(secrets):
                self._tally.meet(what, text, numbers_in(text), secret, part)
        if self._exam:
            self._findings.extend(place.name, check_exam_item(item, secrets))
        if self._exam and expected:
            self._findings.extend(place.name, self._authors.check_item(item, expected, place.names))
        elif expected:
            self._aligned.update(dict.fromkeys(expected.metadata.alignment))

    def _read_rest(self) -> None:
        """Reads every member that nothing has read yet, so that no damage stays unseen."""
        if self._exam:
            self._search_rest()
        if self._aligned:
            data = self._archive.read(MANIFEST, self._limits.manifest)
            self._findings.extend(MANIFEST, missing_standards(data, self._aligned))
        for name in self._archive.names:
            if self._archive.is_sound(name) and name not in self._contents and name not in self._figures:
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
                self._findings.extend(name, self._authors.check_rest(name, data))

    def report(self, path: Path) -> Report:
        """The outcome of the run."""
        return Report(
            str(path),
            self._contents.format,
            self._exam,
            self._items,
            len(self._contents.tests),
            len(self._figures),
            self._marked,
            self._tried,
            tuple(counted(why, count) for why, count in self._unmarked.most_common(50)),
            tuple(self._bands),
            self._findings.lines(),
            dict(sorted(self._kinds.items())),
            self._rows,
        )
