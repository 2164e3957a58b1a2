"""A template question by hand: the lantern that circles below its peg, its key as a computation."""

from __future__ import annotations

import math as numbers
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import partial

from turnwright.bank.item.computation import Computation, Constant, Function, Node, Product, Quotient, Raised, Value
from turnwright.bank.item.formula import Call, Operator, Root, Row, Symbol, UnitNode, equals
from turnwright.bank.item.formula import Number as Printed
from turnwright.bank.item.item import Given, Item, Math, Metadata, NumberEntry, Recognised, Step, Words
from turnwright.bank.item.pack import Pack, Section
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.adapting.adaptation import Adapted
from turnwright.exporters.packages.delivery import Delivery, Variants
from turnwright.exporters.qti.qti30 import adapt

SPEED = Symbol("v")
ROOT_FORGOTTEN, SINE = "You stopped at the square of the speed.", "You took the sine of the angle, not its tangent."
FACTS = Metadata(
    problem="lantern-below-a-peg",
    question="speed",
    version=1,
    title="A lantern that circles below a peg",
    family="horizontal circle",
    objectives=("net-force.inward",),
    level="",
    scene="paper-lantern",
    licence="CC-BY-4.0",
    minutes=4,
)
# radius in cm and angle of the cord in degrees, as printed; keys in km/h are worked out below
ROWS = (("60.0", "25.0"), ("75.0", "32.0"), ("48.0", "41.0"), ("90.0", "18.5"))

# v = √(g r tan θ), in km/h
FORM: Node = Quotient(
    Raised(Product((Value("g"), Value("r"), Function("tan", Value("theta")))), Constant(Decimal("0.5"))),
    Constant(Decimal("0.277777777777778")),
)


def item(number: int, scene: str = "paper-lantern") -> Item:
    """Variant ``number``, which counts from 1."""
    radius, angle = ROWS[number - 1]
    theta, g = numbers.radians(float(angle)), 9.8
    exact = 3.6 * numbers.sqrt(g * float(radius) / 100 * numbers.tan(theta))
    key = Decimal(f"{exact:.2f}")
    givens = (("g", Decimal("9.8")), ("r", Decimal(radius) / 100), ("theta", Decimal(f"{theta:.15f}")))
    width = Decimal("0.125") if key < 7 else Decimal("0.165")
    entry = NumberEntry(
        SPEED, "speed", key, exact, width, "km/h", 3, _recognised(number, key), computation=Computation(FORM, givens)
    )
    stem = (
        Words("A lantern on a cord circles "),
        Given("r", radius, "cm"),
        Words(" from the axis, the cord at "),
        Given("theta", angle, "°"),
        Words(" to the vertical."),
    )
    hints = ((Words("Draw the force diagram."),),)
    facts = replace(FACTS, scene=scene)
    return Item(number, (stem,), None, (entry,), _solution(radius, angle, key), facts, hints)


def _recognised(number: int, key: Decimal) -> tuple[Recognised, ...]:
    """The square in every row, the sine only where it lies apart from the key."""
    found = [Recognised(key**2, Decimal("0.5"), ROOT_FORGOTTEN, ("root-forgotten",))]
    if number in (2, 3):
        found.insert(0, Recognised(key - 1, Decimal("0.05"), SINE, ("sine",)))
    return tuple(found)


def _solution(radius: str, angle: str, key: Decimal) -> tuple[Step, ...]:
    inside = Row((Printed("9.8"), Operator("×"), Printed(radius), UnitNode("cm"), Operator("×"), _tan(f"{angle}°")))
    lines = equals(SPEED, Root(inside)), equals(SPEED, Row((Printed(str(key)), UnitNode("km/h"))))
    letters = Step(5, "Algebra, in letters", ((Math(equals(SPEED, Root(Symbol("r")))),),), "algebra")
    return letters, Step(6, "Numbers and units", tuple((Math(line),) for line in lines), "numbers")


def _tan(angle: str) -> Call:
    return Call("tan", Printed(angle))


def series(count: int = len(ROWS)) -> Iterator[Item]:
    """The variants."""
    return (item(number) for number in range(1, count + 1))


def section(count: int = len(ROWS)) -> Section:
    """The question."""
    return Section("lantern-below-a-peg.speed", FACTS, (), [None] * count, partial(series, count))


def pack(purpose: Purpose = "practice") -> Pack:
    """A pack of this one question."""
    return Pack("The lantern at the fair", purpose, "9.8 N/kg", 7, (section(),))


def adapted(way: Variants, purpose: Purpose = "practice") -> Adapted:
    """The pack with its variants in one template."""
    return adapt(pack(purpose), Delivery(variants=way))
