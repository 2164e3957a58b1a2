"""All that is proved about one item, once it is read: its references, its marking, its stem, its silence."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from turnwright.bank.item import Given, Item
from turnwright.exporters.proof.answers import NUMBERS, Sitting, examine
from turnwright.exporters.proof.declarations import Declaration, ReportedError
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import ItemFile
from turnwright.exporters.proof.leaks import numbers_in
from turnwright.exporters.proof.report import Band, plain
from turnwright.exporters.proof.values import CannotMarkError, parse

ENTRY = "qti-text-entry-interaction"
UNDECLARED = "it names what is not declared"


@dataclass
class ItemProof:
    """What came out for one item; ``unmarked`` says why its rules were not run, where they were not."""

    findings: list[str] = field(default_factory=list)
    key: Decimal | None = None
    full: Decimal | None = None
    band: Band | None = None
    tried: int = 0
    unmarked: str = ""


def prove_item(item: ItemFile, expected: Item | None) -> ItemProof:
    """The marking of one item, put to the test; ``expected`` is what it was written from."""
    proof = ItemProof()
    response = _number_response(item)
    if isinstance(response, str):
        proof.unmarked = response
        proof.findings.extend([f"a number entry expected, but {response}"] if expected else [])
        return proof
    declared = parse("".join(response.correct[:1]), "float", Decimal)
    proof.key = expected.entry.key if expected else declared
    if proof.key is None:
        proof.unmarked = "it declares no correct response"
        return proof
    if expected:
        proof.findings.extend(_check_expected(item, declared, expected))
    _sit(item, response, expected, proof)
    return proof


def _sit(item: ItemFile, response: Declaration, expected: Item | None, proof: ItemProof) -> None:
    assert proof.key is not None
    try:
        sitting = Sitting(item, response, proof.key)
        proof.full = sitting.full
        proof.band, findings = examine(sitting, expected.entry if expected else None)
        proof.findings.extend(findings)
        proof.tried = sitting.tried
    except ReportedError:
        proof.unmarked = UNDECLARED
    except CannotMarkError as error:
        proof.unmarked = "its response processing is not understood"
        proof.findings.append(f"cannot be marked: {error}")


def _number_response(item: ItemFile) -> Declaration | str:
    """The one number that an item asks for, or why it is no such item."""
    interactions = item.interactions()
    obstacles = (
        (item.root.child("qti-template-processing") is not None, "its values are drawn on delivery"),
        (item.root.get("adaptive") == "true", "it is adaptive"),
        (len(interactions) != 1, f"it has {len(interactions)} interactions"),
        *((each.name != ENTRY, f"its answer is given in a {shown(each.name)}") for each in interactions),
    )
    for holds, why in obstacles:
        if holds:
            return why
    response = item.declarations.get(interactions[0].get("response-identifier"))
    if response is None or response.kind != "response":
        return UNDECLARED
    if response.cardinality != "single" or response.base not in NUMBERS:
        return f"its answer is a {shown(response.cardinality)} {shown(response.base)}, no number"
    return response


def _check_expected(item: ItemFile, declared: Decimal | None, expected: Item) -> Iterator[str]:
    """The key and the numbers of the stem, against the item it was written from."""
    if declared is not None and declared != expected.entry.key:
        yield f"the correct response is {plain(declared)}, {plain(expected.entry.key)} expected"
    stem = item.stem()
    numbers = numbers_in(stem)
    for paragraph in expected.stem:
        for part in paragraph:
            if isinstance(part, Given) and not numbers_in(part.number) <= numbers:
                yield f"the stem does not give {shown(part.symbol)} = {shown(part.text)}"
