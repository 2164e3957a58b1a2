"""Bands that lie apart: whatever their numbers, a proof in full of rules with just these bands finds nothing."""

from __future__ import annotations

from decimal import Decimal, localcontext
from types import SimpleNamespace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as some
from turnwright.bank.item.formula import Symbol
from turnwright.bank.item.item import NumberEntry, Recognised
from turnwright.exporters.proof.again.bands import RIGHT, lie_apart
from turnwright.exporters.proof.marking.answers import examine
from turnwright.exporters.proof.marking.wrong_numbers import WrongNumber, examine_wrong_numbers
from turnwright.exporters.proof.processing.response import EXACT

NUMBERS = some.decimals(-9000, 9000, places=2)
WIDTHS = some.decimals(Decimal("0.001"), 90, places=3)
UNKNOWN = -2


def entry_of(key: Decimal, width: Decimal, wrong: list[tuple[Decimal, Decimal]], off: float) -> NumberEntry:
    known = tuple(Recognised(value, half, f"You took number {place}.", ()) for place, (value, half) in enumerate(wrong))
    return NumberEntry(Symbol("v"), "speed", key, float(key) + off * float(width), width, "m/s", 3, known)


class Marked:
    """What rules with just the bands of an entry make of an answer: the first band in which it lies counts."""

    def __init__(self, entry: NumberEntry) -> None:
        self.entry, self.number, self.key, self.whole = entry, entry.key, str(entry.key), False
        self.full, self.full_marks, self.typed = Decimal(1), (Decimal(1),), 0
        self.part = SimpleNamespace(response=SimpleNamespace(base="float"))
        with localcontext(EXACT):
            pairs = [(entry.key, entry.half_width), *((each.value, each.half_width) for each in entry.recognised)]
            self._exact = [(value - width, value + width) for value, width in pairs]
        self._binary = [(float(value) - float(width), float(value) + float(width)) for value, width in pairs]

    def _place(self, bands: Any, number: Any) -> int:
        return next((place for place, (low, high) in enumerate(bands, RIGHT) if low <= number <= high), UNKNOWN)

    def _taken(self, answer: Decimal | str) -> int:
        return self._place(self._exact, Decimal(answer)) if answer not in ("", "abc") else UNKNOWN

    def type(self, answer: Decimal | str) -> Decimal:
        return Decimal(self._taken(answer) == RIGHT)

    def type_in_doubles(self, answer: Decimal) -> Decimal:
        return Decimal(self._place(self._binary, float(str(answer))) == RIGHT)

    def is_right(self, answer: Decimal) -> bool:
        return bool(self.type(answer))

    score = type

    def brings(self, answer: str) -> frozenset[int]:
        return frozenset({self._taken(answer)})

    def told(self, answer: str) -> str:
        taken = self._taken(answer)
        return f"Youtooknumber{taken}." if taken >= 0 else "Thatisit."


def findings(entry: NumberEntry) -> list[str]:
    trial: Any = Marked(entry)
    band, found = examine(trial, entry)
    known = [WrongNumber(each.value, each.half_width, each.half_width, each.feedback) for each in entry.recognised]
    return [*found, *examine_wrong_numbers(trial, known, band, True)]


@settings(max_examples=1500)
@given(NUMBERS, WIDTHS, some.lists(some.tuples(NUMBERS, WIDTHS), max_size=6), some.floats(-1.5, 1.5))
def test_nothing_is_wrong_with_bands_that_lie_apart(
    key: Decimal, width: Decimal, wrong: list[tuple[Decimal, Decimal]], off: float
) -> None:
    entry = entry_of(key, width, wrong, off)
    assert not lie_apart(entry) or findings(entry) == []


@settings(max_examples=300)
@given(some.decimals(1, 90, places=1), some.integers(-3, 3), some.integers(1, 3))
def test_bands_that_touch_lie_not_apart(key: Decimal, step: int, times: int) -> None:
    """Another band begins where that of the key ends, or a few millionths beside."""
    width = key / 50
    other = key + width * (1 + times) + Decimal(step).scaleb(-7) * width
    entry = entry_of(key, width, [(other, width * times)], 0)
    assert not lie_apart(entry)
    far = entry_of(key, width, [(other + width, width * times)], 0)
    assert lie_apart(far)
    assert findings(far) == []


def test_a_key_that_is_rounded_out_of_its_band_and_bands_without_width_are_told() -> None:
    assert lie_apart(entry_of(Decimal("7.5"), Decimal("0.1"), [], 0.9))
    assert not lie_apart(entry_of(Decimal("7.5"), Decimal("0.1"), [], 1.1))
    assert not lie_apart(entry_of(Decimal("7.5"), Decimal("0.1"), [(Decimal(9), Decimal(0))], 0))
    assert not lie_apart(entry_of(Decimal("7.5"), Decimal("1e-9"), [], 0))
