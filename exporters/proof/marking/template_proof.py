"""A template item put to the test: every row marked like an item of its own, and what chance seeds draw is a row.

Where it is known what the rows should be, all are marked. Of a stranger's item some draws are, for it may have many.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from itertools import islice

from ....bank.item.item import Item
from ...strangers.parsing import placed
from ..processing.dice import EndlessError, Seeded, all_outcomes
from ..processing.template_rules import Draft
from ..processing.values import CannotMarkError, ReportedError
from ..reading.item_file import ItemFile
from ..reading.template import DrawnTemplate, Signature, Template, disagreements, signature
from ..words.printing import check_print
from .item_proof import ItemProof, Wanted, prove_item
from .parts import UNDECLARED

SEEDS = 200
MOST_OUTCOMES = 500
STRANGE_DRAWS = 20  # of an item of which nothing is known

Visit = Callable[[ItemFile, ItemProof, Item | None], None]


@dataclass
class TemplateProof:
    """What came out for one template item: how many ``rows`` were marked, and what is ``said`` to be wrong in which."""

    proof: ItemProof = field(default_factory=ItemProof)
    rows: int = 0
    said: dict[str, list[int]] = field(default_factory=dict)

    def take(self, row: int, proof: ItemProof) -> None:
        """Adds what was found in one row; what is found in several is told once."""
        for finding in proof.findings:
            self.said.setdefault(finding, []).append(row)
        if self.rows and proof.full != self.proof.full:
            self.proof.findings.append(f"full marks are {proof.full} in row {row}, but {self.proof.full} in the first")
        if not self.rows:
            self.proof.kind, self.proof.full, self.proof.wanted = proof.kind, proof.full, proof.wanted
            self.proof.band = proof.band
        self.proof.tried += proof.tried
        self.proof.unmarked = self.proof.unmarked or proof.unmarked
        self.rows += 1

    def findings(self) -> Iterator[str]:
        """All that is wrong, with the rows where it is."""
        for finding, rows in self.said.items():
            if self.rows == len(rows) > 1:
                yield placed("every row", finding)
            else:
                more = " and more" if len(rows) > 5 else ""
                yield placed(f"row {', '.join(map(str, rows[:5]))}{more}", finding)


def prove_template(item: ItemFile, expected: Sequence[Item] | None, visit: Visit, wanted: Wanted) -> TemplateProof:
    """The marking of a template item, draw by draw; ``visit`` sees each item as delivered, with its proof and its row.

    ``expected`` are the items of its rows, in their order; ``wanted`` is what holds for each of them.
    """
    found = TemplateProof()
    try:
        delivery = DrawnTemplate(item)
        for number, (draft, row) in enumerate(_draws(item, expected, found), 1):
            delivered = delivery.deliver(draft)
            proof = prove_item(delivered, replace(wanted, item=row))
            if row:
                proof.findings.extend(check_print(delivered, row, practice=wanted.feedback(delivered)))
            found.take(number, proof)
            visit(delivered, proof, row)
    except ReportedError:
        found.proof.unmarked = UNDECLARED
    except CannotMarkError as error:
        found.proof.unmarked = "its template processing is not understood"
        found.said.setdefault(f"its values cannot be drawn: {error}", []).append(found.rows + 1)
    found.proof.findings.extend(found.findings())
    if not found.rows:
        found.proof.unmarked = found.proof.unmarked or "no draw of its values came to an end"
    if found.proof.unmarked and expected:
        found.proof.findings.append(f"a template item that can be marked expected, but {found.proof.unmarked}")
    return found


def _draws(
    item: ItemFile, expected: Sequence[Item] | None, found: TemplateProof
) -> Iterator[tuple[Draft, Item | None]]:
    """The draws to be marked, each with the item of its row."""
    binary = Template(item, float)
    drafts = _outcomes(binary)
    if drafts:
        found.proof.findings.extend(_check_arithmetic(Template(item, Decimal), drafts))
        found.proof.findings.extend(_check_seeds(binary, {signature(each) for each in drafts}))
    if expected is not None:
        if len(drafts) != len(expected):
            found.proof.findings.append(f"draws of the template: {len(drafts) or 'endless'}, {len(expected)} expected")
        yield from zip(drafts, expected, strict=False)
    else:
        yield from ((draft, None) for draft in islice(drafts or _seeded(binary), STRANGE_DRAWS))


def _outcomes(template: Template) -> list[Draft]:
    """All draws that there are; none where they are endless."""
    try:
        return [draft for draft in all_outcomes(template.attempt, MOST_OUTCOMES) if draft is not None]
    except EndlessError:
        return []


def _check_arithmetic(exact: Template, drafts: Sequence[Draft]) -> Iterator[str]:
    """Whether every row has the same right answer in decimals and in doubles."""
    for number, (other, draft) in enumerate(zip(_outcomes(exact), drafts, strict=False), 1):
        yield from (f"row {number}: {wrong}" for wrong in disagreements(other, draft))


def _check_seeds(template: Template, rows: set[Signature]) -> Iterator[str]:
    """Whether chance draws whole rows."""
    for seed in range(SEEDS):
        if signature(template.draw(Seeded(seed))) not in rows:
            yield f"seed {seed} draws values that belong to no row"
            return


def _seeded(template: Template) -> Iterator[Draft]:
    """Different draws of as many seeds as are tried."""
    met: set[Signature] = set()
    for seed in range(SEEDS):
        draft = template.draw(Seeded(seed))
        if (mark := signature(draft)) not in met:
            met.add(mark)
            yield draft
