"""The entries that the items in ``proof_items`` were written from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.formula import Fraction, Number, Power, Symbol, equals
from turnwright.bank.item.item import (
    ChoiceEntry,
    Entry,
    Item,
    MatchEntry,
    Math,
    Metadata,
    NumberEntry,
    Option,
    OrderEntry,
    Recognised,
    Words,
)

from tests.exporters.proof.items import HINTS


def words(text: str) -> tuple[Words]:
    return (Words(text),)


FORMULA = Math(equals(Symbol("a"), Fraction(Power(Symbol("v"), Number("2")), Symbol("r"))))
WRONG = Recognised(Decimal("6.28"), Decimal("0.05"), "You took the diameter.", ("diameter",))
SQUARED = Recognised(Decimal("9.86"), Decimal("0.1"), "Take the root.", ("root",))
SPEED = NumberEntry(Symbol("v"), "speed", Decimal("3.14"), 3.14159, Decimal("0.07"), "m/s", 3, (WRONG, SQUARED))


def drawing(way: str) -> Drawing:
    return Drawing(90, 90, (), "The lantern", f"The lantern with an arrow {way}.")


ENTRIES: Mapping[str, tuple[Entry, ...]] = {
    "choice": (
        ChoiceEntry(
            words("Which is right?"),
            (
                Option(words("a = v r"), False, "Look at the units."),
                Option((FORMULA,), True),
                Option(words("none"), False, "One is right."),
            ),
        ),
    ),
    "pictures": (
        ChoiceEntry(
            (),
            (
                Option(drawing("to the post"), True, "The cord pulls."),
                Option(drawing("away from the post"), False, "Nothing pushes outward."),
            ),
            shuffle=True,
        ),
    ),
    "several": (
        ChoiceEntry(
            words("Which forces act?"),
            (
                Option(words("weight"), True, "The earth pulls."),
                Option(words("a force outward"), False, "Nothing pushes outward."),
                Option(words("tension"), True),
                Option(words("a force forward"), False, "Nothing pushes forward."),
            ),
            several=True,
            marks=2,
        ),
    ),
    "order": (
        OrderEntry(
            words("Least pull first."),
            (words("6 m/s"), words("7 m/s"), words("5 m/s")),
            (2, 0, 1),
            "Compare the speeds.",
        ),
    ),
    "match": (
        MatchEntry(
            (),
            (words("at the top"), words("at the bottom"), words("at the top, faster")),
            (words("up"), words("down"), words("forward")),
            (1, 0, 1),
            "It points to the centre.",
            marks=3,
        ),
    ),
    "number": (SPEED,),
    "stepwise": (
        replace(SPEED, recognised=()),
        ChoiceEntry(
            (), (Option(words("inward"), True), Option(words("forward"), False, "The speed stays the same.")), marks=2
        ),
    ),
}


def expected(kind: str) -> Item:
    facts = Metadata("post-and-cord", kind, 1, "The lantern", "circle", (), "basic", "market", "CC-BY-4.0", 3)
    hints = tuple(map(words, HINTS)) if kind == "stepwise" else ()
    return Item(1, (), None, ENTRIES[kind], (), facts, hints)
