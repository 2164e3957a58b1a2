"""One part of an item put to the test: its key, its options, its wrong answers, and what each of them is told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from ....bank.item.item import Entry, NumberEntry
from ...strangers.parsing import shown
from ..reading.parts import Kind, ReadPart
from ..report import AcceptedBand, plain
from .answers import NumberMarker, examine
from .choices import examine_choice, examine_several
from .options import check_options, check_page, is_known
from .pairing import examine_match, examine_order
from .slips import examine_slips, slips_of
from .trial import Answer, Bench, PartTrial, declared_key, expected_key, is_same, listed, marks, wrong_score

ROUNDING = 1e-9  # of a score in doubles

# The examiner of each kind takes a trial, the entry of that kind if it is known, and whether feedback is due.
EXAMINERS: dict[Kind, Callable[[PartTrial, Any, bool], Iterator[str]]] = {
    "choice": examine_choice,
    "several": examine_several,
    "order": examine_order,
    "match": examine_match,
}


@dataclass
class PartProof:
    """What came out for one part; ``answer`` is the right one, ``full`` what it is worth, ``key`` a secret number.

    ``trial`` is there where more was marked than a plain number needs.
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


def _full(setting: PartSetting, part: ReadPart, entry: Entry | None, key: Answer) -> Decimal | None:
    """What a part is worth: the full marks of the item, or the marks of the entry; None where neither is known."""
    if setting.alone:
        return setting.bench.full_marks[0] if setting.bench.full_marks else None
    return Decimal(entry.marks) if entry else None


def _prove_number(
    setting: PartSetting, part: ReadPart, entry: NumberEntry | None, key: Decimal, proof: PartProof
) -> None:
    bench = setting.bench
    slips = slips_of(bench.item, part, entry, key)
    full = None
    if not setting.alone or slips:
        proof.trial = PartTrial(bench, part, str(key), _full(setting, part, entry, str(key)))
        full = None if setting.alone else Decimal(proof.trial.full or 0)
    sitting = NumberMarker(bench.item, part.response, key, (bench.exact, bench.binary), full)
    proof.key, proof.full = key, sitting.full
    proof.band, findings = examine(sitting, entry)
    proof.findings.extend(findings)
    proof.tried = sitting.tried
    if proof.trial and not findings:
        proof.findings.extend(examine_slips(proof.trial, slips, proof.band, setting.practice))
    if proof.trial and not setting.alone:  # for the comparison with other parts
        for answer in (key, -key, 10 * key, key / 10):
            proof.trial.score(plain(answer))


def _prove_options(setting: PartSetting, part: ReadPart, entry: Entry | None, key: Answer, proof: PartProof) -> None:
    proof.findings.extend(check_options(part, entry))
    names = (key,) if isinstance(key, str) else key
    if not all(is_known(part, name) for name in names):
        return
    trial = PartTrial(setting.bench, part, key, _full(setting, part, entry, key))
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
