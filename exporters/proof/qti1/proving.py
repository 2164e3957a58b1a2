"""The walk through a pack of QTI 1.2.1, plain or a cartridge: manifest, files of questions, each item in them once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from ....bank.item.item import Item
from ...strangers.archive import Archive, Limits, MemberError, resolve
from ...strangers.documents import Element
from ...strangers.grammar import Judge
from ...strangers.parsing import DocumentError, HouseRule, Seen, shown
from ..block import Walk
from ..contents.manifest import MANIFEST, QTI1_FILE, Manifest, Resource, check_manifest, read_manifest
from ..contents.pack import Figures, check_told_gravity
from ..dialect import CARTRIDGE_QUESTIONS, QUESTIONS
from ..marking.item_proof import ItemProof, Wanted
from ..report import Agreed, Report, written_key
from ..words.leaks import Secret, numbers_in
from ..words.silence import check_exam_keywords
from .html import Html
from .item import Qti1Item, read_item
from .item_proof import prove_item, public_texts, stem_numbers
from .limits import EXAM_PROFILE, check_file_limits, check_item_limits
from .manifest import check_cartridge, read_organizations
from .stream import ItemGroup, Outline, QuestionsListener, bare, read_items

CARTRIDGE = "http://www.imsglobal.org/xsd/imsccv1p"
FILE_BASE = "$IMS-CC-FILEBASE$"


class Qti1Proof(Walk):
    """The walk through a pack of QTI 1.2.1."""

    def __init__(
        self, archive: Archive, limits: Limits, exam: bool | None, agreed: Agreed | None, *, is_ours: bool
    ) -> None:
        super().__init__(archive, limits, agreed, is_ours=is_ours)
        # without feedback on answers, the format tells no more than in an exam
        self._exam_asked = True if agreed and not agreed.sitting.feedback else exam
        self._figures = Figures(archive, limits, self._findings.extend)
        self._manifest = Manifest()
        self._documents: list[Resource] = []
        self._idents: Seen = {}
        self._items = 0
        self._exams: list[bool] = []

    @property
    def _is_cartridge(self) -> bool:
        return self._manifest.namespace.startswith(CARTRIDGE)

    def run(self, expected: Iterator[Item] | None) -> None:
        """Goes through all files of questions in the order of the manifest, then through what else there is."""
        try:
            self._read_manifest()
        except (MemberError, DocumentError) as error:
            self._findings.add(MANIFEST, str(error))
            return
        for resource in self._documents:
            name = self._file_of(resource)
            if name:
                self._prove_file(name, resource, expected)
        more = sum(1 for _ in expected) if expected is not None else 0
        if more:
            self._findings.add("", f"the pack holds {self._items} items, {self._items + more} expected")
        if not self._items:
            self._findings.add("", "the pack holds no item")
        self._findings.extend("", self._all.tally.findings())
        if self._exams and all(self._exams):
            self._findings.extend(MANIFEST, check_exam_keywords(self._manifest.keywords))
            self._search_exam({self._own_file(each) for each in self._documents}, {MANIFEST}, self._figures)
        self._read_rest(self._is_read())

    def _own_file(self, resource: Resource) -> str:
        return resolve(resource.href or next(iter(resource.others), "") or "-") or ""

    def _read_manifest(self) -> None:
        self._manifest = manifest = read_manifest(self._archive, self._limits)
        self._findings.extend(MANIFEST, check_manifest(manifest, self._archive))
        self._documents = [each for each in manifest.resources if each.kind.startswith(QTI1_FILE)]
        if not self._documents:
            self._findings.add(MANIFEST, "lists no file of questions")
        if self._is_cartridge:
            found = read_organizations(self._archive, self._limits)
            self._findings.extend(MANIFEST, check_cartridge(manifest, found, self._documents))

    def _file_of(self, resource: Resource) -> str:
        """The member that a resource is; its own file, or the first that it lists."""
        href = resource.href or next(iter(resource.others), "")
        name = resolve(href) if href else None
        if not name or name not in self._archive:
            self._findings.add(MANIFEST, f"resource '{shown(resource.identifier)}' has no file of questions")
            return ""
        return name

    def _prove_file(self, name: str, resource: Resource, expected: Iterator[Item] | None) -> None:
        provided = self._provided_by(resource)
        outline = Outline()
        listener = QuestionsListener(Judge(CARTRIDGE_QUESTIONS if self._is_cartridge else QUESTIONS))
        pieces = self._archive.pieces(name, self._limits.total)
        try:
            for group, root in read_items(pieces, outline, 200 * self._limits.entries, listener):
                self._prove_one(name, provided, outline, group, root, expected)
        except (MemberError, DocumentError) as error:
            self._findings.add(name, str(error))
        self._findings.extend(name, listener.judge.faults(bare))
        if listener.has_comment and self._is_exam(outline):
            self._findings.add(name, "holds a comment in an exam")
        self._exams.append(self._is_exam(outline))
        self._check_outline(name, outline, resource, expected is not None)

    def _prove_one(
        self,
        name: str,
        provided: Seen,
        outline: Outline,
        group: ItemGroup,
        root: Element,
        expected: Iterator[Item] | None,
    ) -> None:
        self._items += 1
        one = next(expected, None) if expected is not None else None
        if expected is not None and one is None:
            self._findings.add(name, f"line {root.line}: an item more than expected")
        item = read_item(root)
        group.titles.add(item.title)
        where = f"{name}, item {item.ident}"
        if item.ident in self._idents or not item.ident:
            self._findings.add(where, "another item has the same ident, or it has none")
        self._idents[item.ident] = None
        exam = self._is_exam(outline)
        proof = prove_item(item, Wanted(one, exam), cartridge=self._is_cartridge)
        self._findings.extend(where, proof.findings)
        if self._agreed:
            limits = check_item_limits(item, one, self._agreed.sitting, cartridge=self._is_cartridge)
            self._findings.extend(where, limits)
        self._check_pictures(where, name, provided, item)
        self._all.count(where, proof, keep_band=expected is None)
        self._search(item, group, proof, one)

    def _is_exam(self, outline: Outline) -> bool:
        """Whether no feedback may be there: as asked, or else where the file switches all of it off."""
        if self._exam_asked is not None:
            return self._exam_asked
        switches = [outline.control.get("feedbackswitch"), outline.facts.get("qmd_feedbackpermitted")]
        return "No" in switches

    def _provided_by(self, resource: Resource) -> Seen:
        """The members that a resource lists, and those of the resources it depends on."""
        needed = {resource.identifier, *resource.dependencies}
        hrefs = (href for each in self._manifest.resources if each.identifier in needed for href in each.files())
        return dict.fromkeys(name for name in map(resolve, hrefs) if name)

    def _check_pictures(self, where: str, name: str, provided: Seen, item: Qti1Item) -> None:
        for page in item.pages():
            for source, alternative in page.images:
                self._check_picture(where, name, provided, source, alternative)

    def _check_picture(self, where: str, name: str, provided: Seen, source: str, alternative: str) -> None:
        member = self._member(source, name)
        if member is None or member not in self._archive:
            self._findings.add(where, f"shows '{shown(source)}', which is not in the archive")
            return
        if member not in provided:
            self._findings.add(where, f"shows '{shown(member)}', which its resource does not lean on")
        if not alternative.strip():
            self._findings.add(where, f"the picture '{shown(member)}' has no text alternative")
        self._findings.extend(where, self._figures.check_words(member, alternative, begins=True))

    def _member(self, source: str, name: str) -> str | None:
        """The member that a picture's source means: from the root by the token of cartridges, or from the file."""
        if source.startswith(FILE_BASE):
            return resolve(source.removeprefix(FILE_BASE).lstrip("/"))
        return resolve(source, name)

    def _search(self, item: Qti1Item, group: ItemGroup, proof: ItemProof, expected: Item | None) -> None:
        """Whether the key of a number stands somewhere that a candidate sees before answering."""
        ordinals = {self._items, group.items, expected.variant if expected else 0}
        for part, key in enumerate(proof.keys):
            written = written_key(key)
            counts = {str(each - start) for each in ordinals for start in (0, 1)}
            stem = stem_numbers(item)
            secret = Secret(written, stem | {written} if written in counts else stem)
            texts = [*public_texts(item), ("section title", group.title), ("section name", group.ident)]
            for what, text in texts:
                self._all.tally.meet(what, text, numbers_in(text), secret, part)
            for page in _asked(item):
                for source, _ in page.images:
                    member = self._member(source, "") or ""
                    if member in self._figures:
                        self._all.tally.meet(
                            "words of the picture", member, self._figures.numbers(member), secret, part
                        )

    def _check_outline(self, name: str, outline: Outline, resource: Resource, known: bool) -> None:
        """What is wrong with the file around its items."""
        if outline.root != "questestinterop":
            self._findings.add(name, f"is no file of questions: its root is {shown(outline.root)}")
        seen: Seen = {}
        for group in outline.groups:
            if not group.ident or group.ident in seen:
                self._findings.add(name, f"two sections are called '{shown(group.ident)}', or one has no name")
            seen[group.ident] = None
        if self._is_cartridge:
            self._check_profile(name, outline, resource)
        for group in outline.groups:
            if group.draws.isdecimal() and int(group.draws) > 1 and len(group.titles) == 1 and group.items > 1:
                wrong = f"section '{shown(group.ident)}' gives {shown(group.draws)} items to a candidate"
                called = shown(next(iter(group.titles)))
                self._findings.add(name, HouseRule(f"{wrong}, and all are called '{called}': 1 is expected"))
        if known and not self._is_cartridge:
            for group in outline.groups:
                if group.kind == "section" and group.draws != "1":
                    self._findings.add(
                        name, f"section '{shown(group.ident)}' draws '{shown(group.draws)}' items, not 1"
                    )
            if self._agreed:
                self._findings.extend(name, check_told_gravity(self._agreed.gravity, outline.instructions))
        permitted = [value for label, value in outline.facts.items() if label.endswith("permitted")]
        if self._exam_asked and "Yes" in (*outline.control.values(), *permitted):
            self._findings.add(name, "an exam switches feedback on")
        if self._agreed:
            found = check_file_limits(outline, self._agreed.sitting, cartridge=self._is_cartridge)
            self._findings.extend(name, found)

    def _check_profile(self, name: str, outline: Outline, resource: Resource) -> None:
        """A cartridge's file is one bank, or one assessment of one section."""
        kinds = [group.kind for group in outline.groups]
        wanted = ["objectbank"] if resource.kind.endswith("/question-bank") else ["assessment", "section"]
        if kinds != wanted:
            self._findings.add(name, f"holds {shown(', '.join(kinds[:9]))}, {', '.join(wanted)} expected")
        if wanted[0] == "assessment" and outline.facts.get("cc_profile") != EXAM_PROFILE:
            self._findings.add(name, "its assessment has no profile cc.exam.v0p1")

    def _is_read(self) -> Callable[[str], bool]:
        """What tells whether a member was read on the way."""
        read = {MANIFEST, *map(self._own_file, self._documents)}
        return lambda name: name in read or name in self._figures

    def report(self, path: Path) -> Report:
        """The outcome of the run."""
        tests = sum(not each.kind.endswith("/question-bank") for each in self._documents)
        exam = bool(self._exams) and all(self._exams)
        return self._report(path, self._format(), exam, self._items, tests, len(self._figures))

    def _format(self) -> str:
        if not self._is_cartridge:
            return "qti-1.2.1"
        version = self._manifest.namespace.removeprefix(CARTRIDGE)[:1]
        bank = any(each.kind.endswith("/question-bank") for each in self._documents)
        return f"common-cartridge-1.{shown(version)}{'-bank' if bank else ''}"


def _asked(item: Qti1Item) -> Iterator[Html]:
    """What a candidate sees before answering."""
    yield item.stem
    yield from (label.page for response in item.responses for label in response.labels)
