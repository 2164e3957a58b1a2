"""What was agreed on for a pack before it was written, and what its proof came to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from ...bank.errors import ProofError
from ...bank.item.sitting import Sitting
from ..packages.delivery import PLAIN, Delivery


def plain(number: Decimal) -> str:
    """A number without an exponent, unless it is very large or very small."""
    return f"{number:f}" if -7 < number.adjusted() < 16 else str(number)


def written_key(key: Decimal) -> str:
    """A key as it would be read in a text, without its sign."""
    return f"{abs(key):f}" if -12 < key.adjusted() < 16 else str(abs(key)).partition("E")[0]


def counted(why: str, count: int) -> str:
    """What was not marked, with how many items that was."""
    return f"{count} {'item' if count == 1 else 'items'}: {why}"


@dataclass(frozen=True, slots=True)
class Edge:
    """Where right answers end, and whether the answer just there is right."""

    value: Decimal
    included: bool = True


@dataclass(frozen=True, slots=True)
class AcceptedBand:
    """The answers that an item takes as right, from ``lower`` to ``upper``."""

    lower: Edge
    upper: Edge

    @property
    def width(self) -> Decimal:
        """How far the edges are apart."""
        return self.upper.value - self.lower.value

    def __str__(self) -> str:
        lower = "" if self.lower.included else "over "
        upper = "" if self.upper.included else "under "
        return f"{lower}{plain(self.lower.value)} to {upper}{plain(self.upper.value)}"


@dataclass(frozen=True)
class Report:
    """What was read and marked, and all that was found wrong.

    ``figures`` are the pictures that items show; ``marked`` the items whose own rules were run, ``answers_tried`` how
    often: as often as for another item where only the numbers of these rules differ. ``unmarked`` says what else there
    is, and why it was not. ``bands`` are the accepted answers by item, as found where nothing was expected.
    ``marked_by_kind`` counts the marked items by what they ask for. ``rows`` are the draws of template items that were
    marked. ``warnings`` say what breaks a rule of ours in a pack that others have written, and what is hardly meant.
    """

    path: str
    format: str
    exam: bool
    items: int
    tests: int
    figures: int
    marked: int
    answers_tried: int
    unmarked: tuple[str, ...]
    bands: tuple[tuple[str, AcceptedBand], ...]
    findings: tuple[str, ...]
    marked_by_kind: Mapping[str, int] = field(default_factory=dict)
    rows: int = 0
    warnings: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether nothing was found wrong."""
        return not self.findings

    def raise_if_failed(self) -> None:
        """Nothing when all is well, else a ``ProofError`` with all findings."""
        if self.findings:
            raise ProofError(self.path, self.findings)

    def as_json(self) -> dict[str, Any]:
        """The report as plain values."""
        return {
            "file": self.path,
            "format": self.format,
            "purpose": "exam" if self.exam else "practice",
            "ok": self.ok,
            "items": self.items,
            "tests": self.tests,
            "figures": self.figures,
            "marked": self.marked,
            "marked_by_kind": dict(self.marked_by_kind),
            "answers_tried": self.answers_tried,
            "rows": self.rows,
            "unmarked": list(self.unmarked),
            "accepted": {name: str(band) for name, band in self.bands},
            "findings": list(self.findings),
            "warnings": list(self.warnings),
        }


@dataclass(frozen=True)
class Agreed:
    """Under what rules candidates sit, in what form formulas and drawings reach them, and what g they are told.

    ``gravity`` is as the pack's instructions say it ("9.8 N/kg"), empty where they need not say any.
    """

    sitting: Sitting
    delivery: Delivery = PLAIN
    gravity: str = ""
