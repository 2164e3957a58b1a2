"""An item that was proved, as what its proof depends on: of an item like it, only that is looked at again.

Two items of a series have the same bytes but for numbers, and these stand where they can change no more than
``Series`` says. So of the later one all is known that no number can change: elements, names, rules, hints, what
feedback says. What a number can change is held against what is expected:

- the page, all of it, against stem and entry: these words and numbers, and nothing else;
- the declared right answer and the bands of the rules against key, tolerance and known wrong numbers (``Bands``);
- the numbers of the worked solution, wherever it is told.

Where anything is not as expected, or not as it was, ``proves`` says no. Then the item is proved in full, and that tells
what is wrong. Which texts could tell the key is known too (``ShownTexts``); whether they do, the whole pack tells.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ....bank.item import formula
from ....bank.item.item import Item, NumberEntry
from ...packages.instructions import how_exact
from ...strangers.documents import Element
from ..marking.agreement import hints_of, is_telling
from ..marking.item_proof import ItemProof, Wanted, check_givens, check_mask
from ..marking.parts import read_parts
from ..processing.values import parse
from ..reading.item_file import NOT_STEM, ItemFile
from ..report import written_key
from ..words.feedback import Feedback
from ..words.leaks import numbers_in
from ..words.printing import check_rubrics, follow, page_after_stem, rubric_lines
from ..words.solution import HEADING, solution_said, tellers, way_of
from ..words.wording import of_formula, on_a_line, plain_words, raw_words, written_words
from .bands import Bands, bands_of, says
from .shown import ShownTexts, shown_by
from .texts import Numbers, NumberText, VaryingText, marked

SetFormula = Callable[[formula.Node], str]


@dataclass(frozen=True)
class SaidPage:
    """All that a page says: the words of the stem, formulas set in one way, then what is the same for all items."""

    said: NumberText
    set_formula: SetFormula
    after_stem: str

    def is_as_expected(self, item: Item, numbers: Numbers) -> bool:
        """Whether it says, with these numbers, just what the item does."""
        stem = [written_words(each, self.set_formula) for each in item.stem]
        return self.said.filled(numbers) == "".join([*stem, self.after_stem])


@dataclass(frozen=True)
class ToldSolution:
    """The worked solution wherever it is told, in this one of ``WAYS``, and the lines of rubrics."""

    places: tuple[NumberText, ...]
    rubrics: tuple[NumberText, ...]
    way: int

    def is_as_expected(self, item: Item, numbers: Numbers) -> bool:
        """Whether it says, with these numbers, just what the item's does, and those who mark are told the key."""
        wanted = solution_said(item, self.way) if self.places else ""
        if any(said.filled(numbers) != wanted for said in self.places):
            return False
        return not any(True for _ in check_rubrics([told.filled(numbers) for told in self.rubrics], item.entry))


@dataclass(frozen=True)
class Known:
    """What a proof without a finding depended on; ``proof`` is what came out, ``expected`` what it was held against.

    ``hinted`` are the numbers in hints and in rubrics for candidates, ``mask`` is the pattern for what is typed.
    """

    expected: Item
    proof: ItemProof
    page: SaidPage
    key: NumberText
    bands: Bands
    told: ToldSolution
    shown: ShownTexts
    hinted: frozenset[str]
    mask: str

    def proves(self, expected: Item, numbers: Numbers) -> frozenset[str] | None:
        """The numbers in the stem of an item with these numbers, if it is as expected; None where that is not known."""
        if type(expected) is not Item or not is_like(expected, self.expected):
            return None
        entry, key = expected.entry, self.key.filled(numbers)
        is_sound = (
            says(key, entry.key)
            and parse(key, "float", Decimal) is not None
            and self.page.is_as_expected(expected, numbers)
            and self.bands.are_as_expected(entry, numbers)
            and self.told.is_as_expected(expected, numbers)
            and not any(True for _ in check_mask(self.mask, entry.key))
        )
        stem = numbers_in(self.shown.stem.filled(numbers)) if is_sound else frozenset()
        is_sound = is_sound and not (is_telling(entry.key) and written_key(entry.key) in self.hinted - stem)
        return stem if is_sound and not any(True for _ in check_givens(stem, expected)) else None


def is_like(item: Item, other: Item) -> bool:
    """Whether all that is expected of two items is the same but for stem, numbers of the entry, and solution."""
    if len(item.entries) != 1 or not isinstance(item.entries[0], NumberEntry):
        return False
    entry, its = item.entry, other.entry
    return (
        (entry.name, entry.unit, entry.figures, entry.marks) == (its.name, its.unit, its.figures, its.marks)
        and entry.symbol == its.symbol
        and how_exact(entry) == how_exact(its)
        and not entry.carried
        and [each.feedback for each in entry.recognised] == [each.feedback for each in its.recognised]
        and (item.figure is other.figure or item.figure == other.figure)
        and (item.hints is other.hints or item.hints == other.hints)
    )


def known_of(
    item: ItemFile, proof: ItemProof, wanted: Wanted, texts: Sequence[VaryingText], numbers: Numbers
) -> Known | None:
    """What the proof of an item depended on; None where a number that varies could change more than is known of."""
    expected, parts = wanted.item, read_parts(item)
    if expected is None or not is_like(expected, expected) or isinstance(parts, str) or wanted.exam:
        return None
    response, practice = parts.parts[0].response, wanted.feedback(item)
    feedback = item.kept.get("feedback")
    if response.base != "float" or not isinstance(feedback, Feedback):
        return None
    if not feedback.around(each.place.element for each in texts) <= feedback.solutions:
        return None
    if any(_answered(each.place.element) not in ("", response.identifier) for each in texts):
        return None
    with marked(texts, numbers):
        key = _key(item, response.identifier)
        bands = bands_of(item, response.identifier, key, numbers, (expected.entry, practice)) if key else None
        page, shown = _page(item, expected, numbers), shown_by(item)
        told = _solution(item)
    if key is None or bands is None or page is None or shown is None:
        return None
    hinted = frozenset[str]().union(*(numbers_in(each.string()) for each in hints_of(item)))
    mask = parts.parts[0].interaction.get("pattern-mask")
    return Known(expected, proof, page, key, bands, told, shown, hinted, mask)


def _answered(element: Element) -> str:
    """The response whose right answer an element tells; none for any other element."""
    around = element.around
    return around[1].get("identifier") if around and around[0].name == "qti-correct-response" else ""


def _key(item: ItemFile, response: str) -> NumberText | None:
    """The right answer that is declared for a response."""
    for each in item.all("qti-response-declaration"):
        correct = each.child("qti-correct-response") if each.get("identifier") == response else None
        if correct is not None and [value.name for value in correct.children] == ["qti-value"]:
            (value,) = correct.children
            return None if value.children else NumberText.of(value.text)
    return None


def _solution(item: ItemFile) -> ToldSolution:
    """The solution of an item with marks."""
    places = [raw_words(each).partition(HEADING)[2] for each in tellers(item)]
    rubrics = [raw_words(each) for each in rubric_lines(item)]
    return ToldSolution(_numbered(places), _numbered(rubrics), way_of(item))


def _numbered(told: Sequence[str]) -> tuple[NumberText, ...]:
    return tuple(NumberText.of(each, plain_words) for each in told)


def _page(item: ItemFile, expected: Item, numbers: Numbers) -> SaidPage | None:
    """The page of an item with marks; None where it says anything but its stem and entry, or that in several ways."""
    body = item.root.child("qti-item-body")
    template = NumberText.of(raw_words(body, NOT_STEM), plain_words) if body is not None else NumberText(("",), ())
    said = template.filled(numbers)
    for way in (of_formula, on_a_line):
        stem = "".join([written_words(each, way) for each in expected.stem])
        rest = said[len(stem) :]
        if said.startswith(stem) and not any(True for _ in follow(rest, page_after_stem(expected))):
            return SaidPage(template, way, rest)
    return None
