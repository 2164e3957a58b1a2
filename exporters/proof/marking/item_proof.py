"""All that is proved about one item, once it is read: its marking part by part, their sum, its hints, its stem."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from ....bank.item.item import Entry, Given, Item, Paragraph
from ...strangers.documents import Element
from ...strangers.parsing import shown
from ..processing.declarations import ReportedError
from ..processing.values import CannotMarkError
from ..reading.item_file import FEEDBACK, ItemFile
from ..reading.parts import UNDECLARED, Parts, read_parts
from ..report import AcceptedBand, Agreed
from ..words.leaks import numbers_in
from ..words.printing import check_form, check_reading, check_stem
from ..words.solutions import check_solution
from .carried import examine_carried
from .hints import check_uncounted, examine_hints
from .options import option_pictures
from .part_proof import PartProof, PartSetting, prove_part
from .stepwise import examine_together
from .trial import Bench, kind_of


@dataclass(frozen=True)
class Wanted:
    """What an item is proved against: what it was written from, whether that is for an exam, and what was agreed on.

    ``limited``: the item may be answered only so many times.
    """

    item: Item | None
    exam: bool
    agreed: Agreed | None = None
    limited: bool = False

    def feedback(self, item: ItemFile) -> bool:
        """Whether each answer should bring feedback; where nothing is agreed, whether the item has any."""
        if self.agreed:
            return self.agreed.sitting.feedback
        return not self.exam and any(map(_is_about_an_answer, item.all(*FEEDBACK)))

    @property
    def hints(self) -> Sequence[Paragraph] | None:
        """The hints that can be asked for; None where they are not known."""
        if self.agreed and not self.agreed.sitting.hints:
            return ()
        return self.item.hints if self.item else None

    @property
    def shuffle(self) -> bool:
        """Whether options are shuffled where their order means nothing."""
        return self.agreed is None or self.agreed.sitting.shuffle


def _is_about_an_answer(feedback: Element) -> bool:
    """Whether a piece of feedback calls itself neither a solution nor a hint."""
    called = f"{feedback.get('outcome-identifier')} {feedback.get('identifier')}".upper()
    return "SOLUTION" not in called and "HINT" not in called


@dataclass
class ItemProof:
    """What came out for one item.

    ``keys`` are the numbers to be kept secret; ``full`` are its full marks, ``wanted`` what they should be;
    ``pictures`` are the members that options show, each with the words that should describe it; ``unmarked`` says why
    its rules were not run, where they were not.
    """

    findings: list[str] = field(default_factory=list)
    kind: str = ""
    keys: tuple[Decimal, ...] = ()
    full: Decimal | None = None
    wanted: int | None = None
    band: AcceptedBand | None = None
    pictures: tuple[tuple[str, str], ...] = ()
    tried: int = 0
    unmarked: str = ""


def prove_item(item: ItemFile, wanted: Wanted) -> ItemProof:
    """The marking of one item, put to the test."""
    expected = wanted.item
    proof = ItemProof(wanted=expected.marks if expected else None)
    try:
        parts = read_parts(item)
        if isinstance(parts, str):
            proof.unmarked = parts
        else:
            proof.kind = parts.kind
            _prove_parts(item, parts, wanted, proof)
    except ReportedError:
        proof.unmarked = UNDECLARED
    except CannotMarkError as error:
        proof.unmarked = "its response processing is not understood"
        proof.findings.append(f"cannot be marked: {error}")
    if proof.unmarked and expected:
        proof.findings.append(f"an item that can be marked expected, but {proof.unmarked}")
    if expected:
        proof.findings.extend(_check_givens(item, expected))
        proof.findings.extend((check_reading if wanted.agreed else check_stem)(item, expected))
    if wanted.agreed:
        proof.findings.extend(check_form(item, expected, wanted.agreed.delivery))
    return proof


def _prove_parts(item: ItemFile, parts: Parts, wanted: Wanted, proof: ItemProof) -> None:
    entries, wrong = _entries(parts, wanted.item)
    proof.findings.extend(wrong)
    both = list(zip(parts.parts, entries, strict=True))
    proof.pictures = tuple(each for part, entry in both for each in option_pictures(item, part, entry))
    bench = Bench(item)
    alone = len(parts.parts) == 1
    setting = PartSetting(bench, alone, practice=wanted.feedback(item), shuffle=wanted.shuffle)
    proofs = [prove_part(setting, part, entry) for part, entry in both]
    marked = [each for each in proofs if each is not None]
    if len(marked) < len(proofs):
        proof.unmarked = "it declares no correct response"
        return
    for number, each in enumerate(marked, 1):
        proof.findings.extend(wrong if alone else f"part {number}: {wrong}" for wrong in each.findings)
    proof.keys = tuple(each.key for each in marked if each.key is not None)
    proof.band = marked[0].band if alone else None
    _prove_whole(bench, parts, marked, wanted, proof)
    proof.tried = bench.tried + sum(each.tried for each in marked)


def _prove_whole(bench: Bench, parts: Parts, marked: list[PartProof], wanted: Wanted, proof: ItemProof) -> None:
    """What holds for all parts together: full marks, the sum of the parts, hints, the worked solution, an end."""
    expected = wanted.item
    proof.full = marked[0].full if len(marked) == 1 else next(iter(bench.full_marks), None)
    if parts.kind != "number" and len(set(bench.full_marks)) > 1:
        proof.findings.append("MAXSCORE says {} and the normal maximum {}".format(*bench.full_marks))
    if expected and "MAXSCORE" not in bench.item.declarations:
        proof.findings.append("MAXSCORE is not declared")
    trials = [each.trial for each in marked if each.trial and each.trial.full is not None]
    if len(marked) > 1 and len(trials) == len(marked):
        proof.findings.extend(examine_together(bench, trials, expected is not None))
        if expected and not proof.findings:
            proof.findings.extend(examine_carried(bench, trials, expected.entries, wanted.feedback(bench.item)))
    right = {part.response.identifier: each.answer for part, each in zip(parts.parts, marked, strict=True)}
    if wanted.exam:
        proof.findings.extend(f"line {button.line}: a hint in an exam" for button in parts.buttons)
    elif parts.buttons or wanted.hints or parts.kind != "number":
        proof.findings.extend(examine_hints(bench, parts.buttons, right, wanted.hints))
    if wanted.limited:
        proof.findings.extend(check_uncounted(parts.buttons))
    if wanted.agreed:
        proof.findings.extend(check_solution(bench, right, wanted.agreed.sitting))
    if bench.is_adaptive and bench.mark(right)["completionStatus"] != "completed":
        proof.findings.append("right answers do not complete the item, though it is adaptive")


def _entries(parts: Parts, expected: Item | None) -> tuple[list[Entry | None], list[str]]:
    """The entry that each part was written from, as far as their kinds agree, and where they do not."""
    found = parts.parts
    unknown: list[Entry | None] = [None] * len(found)
    if expected is None:
        return unknown, []
    if len(expected.entries) != len(found):
        return unknown, [f"entries to answer: {len(found)}, {len(expected.entries)} expected"]
    wrong = [
        f"entry {number} is of the kind '{part.kind}', '{kind_of(entry)}' expected"
        for number, (part, entry) in enumerate(zip(found, expected.entries, strict=True), 1)
        if part.kind != kind_of(entry)
    ]
    same = zip(found, expected.entries, strict=True)
    return [entry if part.kind == kind_of(entry) else None for part, entry in same], wrong


def _check_givens(item: ItemFile, expected: Item) -> Iterator[str]:
    """The numbers of the stem, against the item it was written from."""
    numbers = numbers_in(item.stem())
    for paragraph in expected.stem:
        for part in paragraph:
            if isinstance(part, Given) and not numbers_in(part.number) <= numbers:
                yield f"the stem does not give {shown(part.symbol)} = {shown(part.text)}"
