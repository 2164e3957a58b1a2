"""All that is proved about one item, once it is read: its marking part by part, their sum, its hints, its stem.

Of a part, that is its key, its options, its wrong answers, and what each of them is told.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from ....bank.item.item import Entry, Given, Item, NumberEntry, Paragraph, spoken
from ....bank.item.sitting import Sitting
from ...strangers.documents import Element
from ...strangers.parsing import Doubt, placed, shown
from ..processing.response import Marking
from ..processing.values import CannotMarkError, MixedTypesError, ReportedError
from ..reading.item_file import FEEDBACK, ItemFile
from ..report import AcceptedBand, Agreed, Edge, plain
from ..words.leaks import numbers_in
from ..words.printing import check_form, check_reading, check_stem
from .agreement import (
    check_hints,
    check_hints_of_options,
    check_key_of_number,
    check_key_of_options,
    check_mapping,
    check_number_in_solution,
)
from .answers import NumberTrial, examine
from .carried import examine_carried
from .choices import examine_choice, examine_several
from .hints import check_uncounted, examine_hints
from .pairing import examine_match, examine_order
from .parts import UNDECLARED, Kind, Parts, ReadPart, check_options, check_page, is_known, option_pictures, read_parts
from .stepwise import examine_together
from .trial import Answer, Bench, PartTrial, declared_key, expected_key, is_same, kind_of, listed, marks, wrong_score
from .wrong_numbers import examine_wrong_numbers, wrong_numbers_of

ROUNDING = 1e-9  # of a score in doubles
WIDEST = Decimal("0.10")  # share of a key by which a tolerance may be off it (common practice, no source)
# The examiner of each kind takes a trial, the entry of that kind if it is known, and whether feedback is due.
EXAMINERS: dict[Kind, Callable[[PartTrial, Any, bool], Iterator[str]]] = {
    "choice": examine_choice,
    "several": examine_several,
    "order": examine_order,
    "match": examine_match,
}


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
    ``pictures`` are the members that options show, each with the words that should describe it; ``choices`` are the
    options of single choices, each with the name of the right one; ``unmarked`` says why its rules were not run, where
    they were not.
    """

    findings: list[str] = field(default_factory=list)
    kind: str = ""
    keys: tuple[Decimal, ...] = ()
    full: Decimal | None = None
    wanted: int | None = None
    band: AcceptedBand | None = None
    pictures: tuple[tuple[str, str], ...] = ()
    choices: tuple[tuple[tuple[Element, ...], str], ...] = ()
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
            proof.findings.extend(_mixed_types(item))
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
        proof.findings.extend(check_givens(numbers_in(item.stem()), expected))
        proof.findings.extend((check_reading if wanted.agreed else check_stem)(item, expected))
    if wanted.agreed:
        proof.findings.extend(check_form(item, expected, wanted.agreed.delivery))
    return proof


def _mixed_types(item: ItemFile) -> Iterator[str]:
    """Rules of an item that is not marked which would mean nothing, whatever is answered."""
    try:
        Marking(item.root, item.declarations, Decimal)
    except MixedTypesError as error:
        yield f"its rules mean nothing: {error}"
    except CannotMarkError:
        return


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
        proof.findings.extend(wrong if alone else placed(f"part {number}", wrong) for wrong in each.findings)
    proof.keys = tuple(each.key for each in marked if each.key is not None)
    proof.band = marked[0].band if alone else None
    if wanted.exam:
        answered = zip(parts.parts, marked, strict=True)
        proof.choices = tuple((part.options, str(each.answer)) for part, each in answered if part.kind == "choice")
    proof.findings.extend(_told_before(item, list(zip(parts.parts, marked, strict=True)), wanted))
    _prove_whole(bench, parts, marked, wanted, proof)
    proof.tried = bench.tried + sum(each.tried for each in marked)


def _told_before(item: ItemFile, parts: Sequence[tuple[ReadPart, PartProof]], wanted: Wanted) -> Iterator[str]:
    """What tells a key too early, or tells those who mark another; of what nothing is known, all is asked of itself."""
    if not wanted.exam:  # where no rubric at all may hold it
        yield from check_hints(item, [each.key for _, each in parts if each.key is not None])
    alone, is_known = len(parts) == 1, wanted.item is not None
    for number, (part, found) in enumerate(parts, 1):
        if part.kind == "number":
            assert isinstance(found.answer, str)
            yield from check_key_of_number(item, number, alone, Decimal(found.answer), found.band)
            if not is_known:
                yield from check_number_in_solution(item, Decimal(found.answer), found.band)
        else:
            yield from check_key_of_options(item, number, alone, part, found.answer)
            if not is_known:
                yield from check_hints_of_options(item, part, found.answer)
                yield from check_mapping(part)


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
        if expected and all(isinstance(each, Doubt) for each in proof.findings):
            proof.findings.extend(examine_carried(bench, trials, expected.entries, wanted.feedback(bench.item)))
    right = {part.response.identifier: each.answer for part, each in zip(parts.parts, marked, strict=True)}
    if wanted.exam:
        proof.findings.extend(f"line {button.line}: a hint in an exam" for button in parts.buttons)
    elif parts.buttons or wanted.hints or parts.kind != "number":
        proof.findings.extend(examine_hints(bench, parts.buttons, right, wanted.hints))
    if wanted.limited:
        proof.findings.extend(check_uncounted(parts.buttons))
    if wanted.agreed:
        proof.findings.extend(_check_solution(bench, right, wanted.agreed.sitting))
    if bench.is_adaptive and bench.mark(right)["completionStatus"] != "completed":
        proof.findings.append("right answers do not complete the item, though it is adaptive")


def _check_solution(bench: Bench, right: Mapping[str, Answer], rules: Sitting) -> Iterator[str]:
    """A worked solution that right answers do not bring; or one that is there though there should be none."""
    feedback = bench.feedback
    if rules.solution:
        if not any(map(feedback.is_solution, feedback.shown(bench.mark(right)))):
            yield "right answers bring no worked solution"
        return
    if feedback.has_solution():
        yield "the item holds a worked solution, none expected"
    for rubric in bench.item.all("qti-rubric-block"):
        yield f"line {rubric.line}: a rubric beside the item, though no solution is to be told"


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


def check_givens(numbers: frozenset[str], expected: Item) -> Iterator[str]:
    """The numbers of the stem, against the item it was written from."""
    for paragraph in expected.stem:
        for part in spoken(paragraph):
            if isinstance(part, Given) and not numbers_in(part.number) <= numbers:
                yield f"the stem does not give {shown(part.symbol)} = {shown(part.text)}"


@dataclass
class PartProof:
    """What came out for one part; ``answer`` is the right one, ``full`` what it is worth, ``key`` a secret number.

    ``trial`` is there where its options bear the names that its key has.
    """

    findings: list[str] = field(default_factory=list)
    answer: Answer = ""
    full: Any = None
    trial: PartTrial | None = None
    key: Decimal | None = None
    band: AcceptedBand | None = None
    tried: int = 0


@dataclass(frozen=True)
class PartSetting:
    """What all parts of an item share: the bench, whether there is only one part, and whether feedback is due.

    ``shuffle``: options come in another order for each candidate, where that order means nothing.
    """

    bench: Bench
    alone: bool
    practice: bool
    shuffle: bool = True


def prove_part(setting: PartSetting, part: ReadPart, entry: Entry | None) -> PartProof | None:
    """What came out for one part; ``entry`` is what it was written from. None where no right answer is known."""
    declared = declared_key(part)
    key = (expected_key(part, entry) if entry else None) or declared
    if key is None:
        return None
    proof = PartProof(answer=key)
    if entry and declared is None:
        proof.findings.append("no correct response is declared")
    elif entry and declared is not None and not is_same(part, declared, key):
        proof.findings.append(f"the correct response is {_quoted(declared)}, {_quoted(key)} expected")
    if entry:
        proof.findings.extend(check_page(setting.bench.item, part, entry, setting.shuffle))
    if part.kind == "number":
        assert isinstance(key, str)
        assert entry is None or isinstance(entry, NumberEntry)
        _prove_number(setting, part, entry, Decimal(key), proof)
    else:
        _prove_options(setting, part, entry, key, proof)
    return proof


def _quoted(answer: Answer) -> str:
    return shown(answer if isinstance(answer, str) else listed(answer))


def _full(setting: PartSetting, entry: Entry | None) -> Decimal | None:
    """What a part is worth: the full marks of the item, or the marks of the entry; None where neither is known."""
    if setting.alone:
        return setting.bench.full_marks[0] if setting.bench.full_marks else None
    return Decimal(entry.marks) if entry else None


def _prove_number(
    setting: PartSetting, part: ReadPart, entry: NumberEntry | None, key: Decimal, proof: PartProof
) -> None:
    bench = setting.bench
    if entry:
        proof.findings.extend(check_mask(part.interaction.get("pattern-mask"), key))
    trial = NumberTrial(bench, part, key, setting.alone, Decimal(entry.marks) if entry else None)
    proof.trial = trial
    proof.key, proof.full = key, trial.full
    proof.band, findings = examine(trial, entry)
    proof.findings.extend(findings)
    proof.findings.extend(check_width(key, proof.band))
    proof.tried = trial.typed
    if not findings:
        wrong_numbers = wrong_numbers_of(bench.item, part, entry, key)
        proof.findings.extend(examine_wrong_numbers(trial, wrong_numbers, proof.band, setting.practice))
    if not setting.alone:  # for the comparison with other parts
        for answer in (key, -key, 10 * key, key / 10):
            trial.score(plain(answer))


def check_mask(mask: str, key: Decimal) -> Iterator[str]:
    """A mask that refuses the key in one of the ways in which people type numbers, or takes what is no number.

    Only masks of packs whose items are known are tried: a pattern of a stranger might never end.
    """
    if not mask:
        return
    try:
        pattern = re.compile(mask)
    except re.error:
        yield f"the mask '{shown(mask)}' is no pattern"
        return
    refused = [each for each in typed_ways(key) if not pattern.fullmatch(each)]
    if refused:
        yield f"the mask refuses '{shown(refused[0])}'"
    taken = [each for each in ("", "v", "12 m/s", "one") if pattern.fullmatch(each)]
    if taken:
        yield f"the mask takes '{taken[0]}', which is no number"


def typed_ways(key: Decimal) -> Iterator[str]:
    """A number as people type it: by itself, with a sign, a decimal comma, spaces, and a power of ten."""
    size = f"{abs(key):f}"
    sign = "-" if key < 0 else ""
    yield from (sign + size, f"{sign.replace('-', '−') or '+'}{size}", sign + size.replace(".", ","), f" {sign}{size} ")
    mantissa, _, power = f"{abs(key):e}".partition("e")
    exponent = str(int(power))
    raised = exponent.translate(str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻"))
    for way in ("{0}e{1}", "{0}E{1}", "{0}x10^{1}", "{0} × 10^{1}", "{0}*10^({1})", "{0} × 10{2}", "{0}·10{2}"):
        yield sign + way.format(mantissa, exponent, raised)
    yield f"{sign}{abs(key):,f}".replace(",", "\u202f")


def check_width(key: Decimal, band: AcceptedBand | None) -> Iterator[str]:
    """A doubt, where answers far off the key are right."""
    if band and key and band.width > 2 * WIDEST * abs(key):
        yield Doubt(f"answers from {band} are right, which is more than {WIDEST:.0%} off the key {plain(key)}")


def check_tolerance(entry: NumberEntry) -> Iterator[str]:
    """The same of a number that is known."""
    band = AcceptedBand(Edge(entry.key - entry.half_width), Edge(entry.key + entry.half_width))
    yield from check_width(entry.key, band)


def _prove_options(setting: PartSetting, part: ReadPart, entry: Entry | None, key: Answer, proof: PartProof) -> None:
    proof.findings.extend(check_options(part, entry))
    names = (key,) if isinstance(key, str) else key
    if not all(is_known(part, name) for name in names):
        return
    trial = PartTrial(setting.bench, part, key, _full(setting, entry))
    proof.trial, proof.full = trial, trial.full
    if trial.full is None or trial.full <= 0:
        proof.findings.append(f"full marks are {marks(trial.full)}, more than 0 expected")
        return
    proof.findings.extend(_check_key(trial))
    proof.findings.extend(trial.scores(trial.empty, 0, "an empty answer"))
    proof.findings.extend(EXAMINERS[part.kind](trial, entry, setting.practice))


def _check_key(trial: PartTrial) -> Iterator[str]:
    """The right answer earns all marks, in decimals and in doubles."""
    called = f"the right answer {_quoted(trial.key)}"
    wrong = list(trial.scores(trial.key, trial.full, called))
    found = trial.bench.score_in_doubles({trial.part.response.identifier: trial.key})
    doubles = None if found is None else Decimal(repr(found))
    yield from wrong or wrong_score(doubles, trial.full, f"{called}, in doubles,", Decimal(repr(ROUNDING)))
