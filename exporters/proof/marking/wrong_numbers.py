"""Wrong numbers that an item recognises: each scores nothing, says more than any wrong number hears, and stays apart.

They come from the entry that the item was written from, or else from the numbers that its rules compare with.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ....bank.item.item import NumberEntry
from ...strangers.documents import Element
from ...strangers.parsing import HouseRule, shown
from ..processing.values import parse
from ..reading.item_file import ItemFile
from ..report import AcceptedBand, plain
from ..words.wording import plain_words, says_something
from .parts import ReadPart
from .trial import PartTrial

OUTSIDE = Decimal("1.000001")  # times the half-width: just not recognised any more


@dataclass(frozen=True)
class WrongNumber:
    """A wrong number that is recognised from ``value - below`` to ``value + above``; ``told`` is what it should say."""

    value: Decimal
    below: Decimal
    above: Decimal
    told: str = ""

    def holds(self, number: Decimal, reach: Decimal = Decimal(1)) -> bool:
        """Whether a number is recognised, or nearly so."""
        return self.value - reach * self.below <= number <= self.value + reach * self.above

    @property
    def outside(self) -> tuple[Decimal, Decimal]:
        """Numbers that are just not recognised any more, below and above."""
        return self.value - OUTSIDE * self.below, self.value + OUTSIDE * self.above


def wrong_numbers_of(
    item: ItemFile, part: ReadPart, entry: NumberEntry | None, key: Decimal
) -> tuple[WrongNumber, ...]:
    """The wrong numbers that a part recognises; where ``entry`` is known, those of the entry come first."""
    recognised = entry.recognised if entry else ()
    told = [WrongNumber(each.value, each.half_width, each.half_width, each.feedback) for each in recognised]
    known = {each.value for each in told} | {key}
    written = (each for each in _written(item, part) if each.value not in known)
    return (*told, *written)


def _written(item: ItemFile, part: ReadPart) -> Iterator[WrongNumber]:
    """The numbers written in the rules that an answer is compared with."""
    for equal in item.all("qti-equal", "qti-equal-rounded"):
        names = [each.get("identifier") for each in equal.children if each.name == "qti-variable"]
        numbers = [each for each in equal.children if each.name == "qti-base-value"]
        value = parse(numbers[0].text, "float", Decimal) if len(numbers) == 1 else None
        if names == [part.response.identifier] and value is not None:
            below, above = _tolerances(equal, value)
            yield WrongNumber(value, below, above)
    for within in item.all("qti-lte"):
        known = _distance(item, part, within)
        if known:
            yield known


def _distance(item: ItemFile, part: ReadPart, within: Element) -> WrongNumber | None:
    """The band of a rule |response - value| <= width; None for any other rule, and for a band that nothing meets."""
    shape = [each.name for each in within.walk()]
    if shape[1:3] != ["qti-math-operator", "qti-subtract"] or len(shape) != 6 or len(within.children) != 2:
        return None
    response, value = within.children[0].children[0].children
    if within.children[0].get("name") != "abs" or response.get("identifier") != part.response.identifier:
        return None
    number, width = _number(item, value), _number(item, within.children[1])
    return WrongNumber(number, width, width) if number is not None and width is not None and width >= 0 else None


def _number(item: ItemFile, element: Element) -> Decimal | None:
    """The number that is written, or that a template variable was drawn to be."""
    declared = item.declarations.get(element.get("identifier"))
    texts = declared.default if declared and declared.kind == "template" else (element.text,)
    found = parse(texts[0], "float", Decimal) if len(texts) == 1 else None
    return found if isinstance(found, Decimal) else None


def _tolerances(equal: Element, value: Decimal) -> tuple[Decimal, Decimal]:
    texts = equal.get("tolerance").split()
    found = [parse(each, "float", Decimal) or Decimal(0) for each in texts[:2]]
    mode = equal.get("tolerance-mode")
    if not found or mode not in ("absolute", "relative"):
        return Decimal(0), Decimal(0)
    scale = Decimal(1) if mode == "absolute" else abs(value) / 100
    return found[0] * scale, found[-1] * scale


def examine_wrong_numbers(
    trial: PartTrial, wrong_numbers: Sequence[WrongNumber], band: AcceptedBand | None, practice: bool
) -> Iterator[str]:
    """What is wrong with how wrong numbers are recognised; ``band`` are the right ones."""
    far = str(_unknown(wrong_numbers, Decimal(str(trial.key))))
    outside = [each.outside for each in wrong_numbers]
    for place, known in enumerate(wrong_numbers):
        called = f"the wrong number {plain(known.value)}"
        if band and _overlap(known, band):
            yield (
                f"{called}, recognised from {plain(known.value - known.below)} to {plain(known.value + known.above)}, "
                f"overlaps the right answers from {band}"
            )
            continue
        for answer in (known.value, known.value - known.below, known.value + known.above):
            if trial.score(typed := str(answer)) != 0:
                yield from trial.scores(typed, 0, f"{called}, typed as {plain(answer)},")
        if practice:
            yield from _check_feedback(trial, known, called, far)
            low, high = outside[place]
            near = [each for each in outside if each is not outside[place] and each[0] <= high and low <= each[1]]
            yield from _check_edges(trial, known, near, band, far)


def _overlap(known: WrongNumber, band: AcceptedBand) -> bool:
    return known.value - known.below <= band.upper.value and known.value + known.above >= band.lower.value


def _unknown(wrong_numbers: Sequence[WrongNumber], key: Decimal) -> Decimal:
    """A number that is neither right nor recognised."""
    far = 2000 * (abs(key) + 1)
    while any(each.holds(far, Decimal(2)) for each in wrong_numbers):
        far *= 3
    return far


def _check_feedback(trial: PartTrial, known: WrongNumber, called: str, far: str) -> Iterator[str]:
    typed = str(known.value)
    brought, said = trial.brings(typed), trial.told(typed)
    if not says_something(said):
        yield HouseRule(f"{called} brings no feedback")
    elif brought == trial.brings(far):
        yield HouseRule(f"{called} brings no feedback of its own, but that of any wrong number")
    elif plain_words(known.told) not in said:
        yield f"{called} brings the feedback '{shown(said)}', '{shown(known.told)}' expected"


def _check_edges(
    trial: PartTrial, known: WrongNumber, near: Sequence[tuple[Decimal, Decimal]], band: AcceptedBand | None, far: str
) -> Iterator[str]:
    """Its own feedback comes up to its edges and no further, except in a band ``near`` it, which may come first."""
    if trial.part.response.base == "integer" or not (known.below and known.above):
        return
    own, unknown = trial.brings(str(known.value)), trial.brings(far)
    for sign, reach in ((-1, known.below), (1, known.above)):
        edge, outside = known.value + sign * reach, known.value + sign * reach * OUTSIDE
        if near and any(low <= number <= high for low, high in near for number in (edge, outside)):
            continue
        if trial.brings(str(edge)) != own:
            yield f"the wrong number {plain(known.value)} is not recognised at {plain(edge)}, the edge expected"
        right = band is not None and band.lower.value <= outside <= band.upper.value
        if not right and trial.brings(str(outside)) != unknown:
            place = f"at {plain(outside)}, past its edge {plain(edge)}"
            yield f"the wrong number {plain(known.value)} is recognised {place}"
