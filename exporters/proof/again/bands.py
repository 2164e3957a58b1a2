"""The bands of a number item: that its rules have those expected, and that no answer can be taken for another.

Rules that ask of a number only in which bands it lies mark all numbers alike that lie in the same bands, whatever
numbers bound these. So what came out for an item whose bands lie apart holds for every item with the same rules whose
bands lie apart, too: each answer that would be typed into it lies in the band that it is to lie in, or in none. That is
by more than the share by which answers are typed outside a band, and by more than doubles are rounded.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, localcontext
from itertools import pairwise

from ....bank.item.item import NumberEntry
from ....bank.quantities.quantity import from_float
from ...strangers.documents import Element
from ..marking.answers import beside_edges
from ..processing.response import EXACT, Marking
from ..processing.values import parse
from ..reading.item_file import ItemFile
from ..report import AcceptedBand, Edge
from .texts import Numbers, NumberText

RIGHT, NOWHERE = -1, -2  # in place of the number of a wrong answer: the band of right ones, and none
ASIDE = 1.00001  # half-widths; answers are typed at most a millionth of one outside
FINEST = 1e-8  # of a number: a band so narrow is beyond what this reasoning can tell
LONGEST = 30  # letters of a number that is compared as it is written


@dataclass(frozen=True)
class BandTest:
    """A test for one band as it is written: the number in its midst, and its tolerances."""

    value: NumberText
    tolerance: NumberText

    def written(self, numbers: Numbers) -> list[str]:
        """Its numbers as they are written."""
        return [self.value.filled(numbers), *self.tolerance.filled(numbers).split()]


@dataclass(frozen=True)
class Bands:
    """The tests of an item's rules for all bands of its entry, each once.

    ``written`` is all their numbers, set apart by spaces; ``order`` says of each test which wrong number it is for, and
    how many tolerances it has.
    """

    written: NumberText
    order: tuple[tuple[int, int], ...]

    def are_as_expected(self, entry: NumberEntry, numbers: Numbers) -> bool:
        """Whether an item with these numbers marks as one does that was proved, with the numbers of the entry."""
        found = self.written.filled(numbers).split()
        wanted = [number for of, tolerances in self.order for number in _wanted(entry, of, tolerances)]
        return (
            len(found) == len(wanted)
            and all(map(says, found, wanted))
            and lie_apart(entry)
            and self._holds_in_doubles(entry, found)
        )

    def _holds_in_doubles(self, entry: NumberEntry, written: Sequence[str]) -> bool:
        """Whether answers beside the edges of the right band are inside or outside in doubles, too."""
        start = 0
        for of, tolerances in self.order:
            if of == RIGHT:
                break
            start += 1 + tolerances
        value, below, above = float(written[start]), float(written[start + 1]), float(written[start + tolerances])
        low, high = value - below, value + above
        with localcontext(EXACT):
            band = AcceptedBand(Edge(entry.key - entry.half_width), Edge(entry.key + entry.half_width))
            beside = list(beside_edges(band, entry.key))
        return all((low <= float(str(answer)) <= high) is inside for answer, inside in ((entry.key, True), *beside))


def _wanted(entry: NumberEntry, of: int, tolerances: int) -> list[Decimal]:
    """The numbers that the test for a band should have."""
    known = None if of == RIGHT else entry.recognised[of]
    value, half_width = (known.value, known.half_width) if known else (entry.key, entry.half_width)
    return [value, *[half_width] * tolerances]


def says(text: str, number: Decimal) -> bool:
    """Whether a text is read as this number."""
    return (text == str(number) and len(text) <= LONGEST) or parse(text, "float", Decimal) == number


def lie_apart(entry: NumberEntry) -> bool:
    """Whether the bands of right and of known wrong numbers lie apart, and the unrounded key in that of right ones."""
    known = [(float(each.value), float(each.half_width)) for each in entry.recognised]
    key, width = float(entry.key), float(entry.half_width)
    if any(half_width <= FINEST * abs(value) or half_width <= 0 for value, half_width in ((key, width), *known)):
        return False
    spans = sorted(
        (value - ASIDE * half_width, value + ASIDE * half_width) for value, half_width in ((key, width), *known)
    )
    apart = all(before[1] < after[0] for before, after in pairwise(spans))
    return apart and width < abs(key) + 1 and entry.accepts(from_float(entry.exact))


def bands_of(
    item: ItemFile, response: str, key: NumberText, numbers: Numbers, setting: tuple[NumberEntry, bool]
) -> Bands | None:
    """The bands of an item that was proved and has marks now; None where its rules ask anything else of the response.

    ``key`` is the declared right answer. The ``setting`` is the entry, and whether each wrong number brings feedback.
    """
    entry, practice = setting
    tests = [_test(equal, response, key) for equal in item.all("qti-equal")]
    order = [_place(each.written(numbers), entry) for each in tests if each]
    places = [of for of, _ in order]
    complete = sorted(places) == [RIGHT, *range(len(entry.recognised))] if practice else RIGHT in places
    if len(places) < len(tests) or NOWHERE in places or len(set(places)) < len(places) or not complete:
        return None
    marking: Marking = item.kept["exact"]
    if marking.count_bands(response) != len(tests) or not lie_apart(entry):
        return None
    written = " ".join(text.marked for each in tests if each for text in (each.value, each.tolerance))
    return Bands(NumberText.of(written), tuple(order))


def _test(equal: Element, response: str, key: NumberText) -> BandTest | None:
    """The test for one band with both its edges; None for any other."""
    names = [each.name for each in equal.children]
    included = all(equal.get(f"include-{side}-bound") in ("", "true", "1") for side in ("lower", "upper"))
    if equal.get("tolerance-mode") != "absolute" or not included or names[1:] != ["qti-variable"]:
        return None
    number, variable = equal.children
    if variable.get("identifier") != response:
        return None
    tolerance = NumberText.of(equal.get("tolerance"))
    if number.name == "qti-correct" and number.get("identifier") == response:
        return BandTest(key, tolerance)
    is_number = number.name == "qti-base-value" and number.get("base-type") == "float"
    return BandTest(NumberText.of(number.text), tolerance) if is_number else None


def _place(written: Sequence[str], entry: NumberEntry) -> tuple[int, int]:
    """Which band of the entry a test with these numbers is for, and how many tolerances it has."""
    tolerances = len(written) - 1
    for of in (RIGHT, *range(len(entry.recognised))):
        if tolerances in (1, 2) and all(map(says, written, _wanted(entry, of, tolerances))):
            return of, tolerances
    return NOWHERE, tolerances
