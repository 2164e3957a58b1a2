"""Small packs made by hand, about the lantern that the school swings at the fair: of numbers, and of every kind."""

from __future__ import annotations

import math as numbers
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import get_args

from turnwright.bank.item.drawing import Curve, Disc, Drawing, Label, Shape, Stroke
from turnwright.bank.item.formula import Fraction, Node, Number, Operator, Power, Root, Row, Symbol, UnitNode, equals
from turnwright.bank.item.item import (
    ChoiceEntry,
    Entry,
    Given,
    Item,
    MatchEntry,
    Math,
    Metadata,
    NumberEntry,
    Option,
    OrderEntry,
    Paragraph,
    Recognised,
    Stage,
    Step,
    Words,
)
from turnwright.bank.item.pack import Pack, Section
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.markup.elements import Element
from turnwright.exporters.packages.naming import contents
from turnwright.exporters.qti.assessment_item import assessment_item

G = 9.8
V_TOP, RADIUS, GRAVITY, MASS, TENSION = Symbol("v", "top"), Symbol("r"), Symbol("g"), Symbol("m"), Symbol("T")
SOLUTION_WORDS = "The cord can only pull"
CAUTION = "Swing the lantern over open ground only, with nobody within twice the length of the cord."

LEAST_SPEED = Metadata(
    problem="lantern-over-the-top",
    question="least-speed",
    version=2,
    title="A lantern swung over the top",
    family="vertical circle",
    objectives=("vertical-circle.least-speed", "contact-force.vanishes"),
    level="algebra",
    scene="paper-lantern",
    licence="CC-BY-4.0",
    minutes=4,
    caution=CAUTION,
    difficulty=3,
)
PULL = Metadata(
    problem="lantern-on-a-level-circle",
    question="pull-of-the-cord",
    version=1,
    title="The pull of a level cord",
    family="horizontal circle",
    objectives=("net-force.inward",),
    level="",
    scene="paper-lantern",
    licence="CC-BY-4.0",
    minutes=3,
)


def figure() -> Drawing:
    """The lantern at the top, its weight and the cord, with labels of every kind."""
    marks = (
        Curve(210, 190, 120, 120, dashes=(6, 5)),
        Curve(210, 190, 26, 26, 90, 200, tone="accent", weight="medium"),
        Stroke(210, 190, 210, 70, weight="medium", tone="ink"),
        Stroke(210, 70, 210, 150, weight="bold", tone="accent"),
        Shape(((210, 162), (203, 146), (217, 146)), tone="accent"),
        Stroke(210, 70, 300, 70, weight="medium", tone="soft", dashes=(2, 3)),
        Disc(210, 70, 13),
        Disc(210, 190, 4, filled=True),
        Label(248, 128, equals(Symbol("F", "g"), Row((MASS, GRAVITY))), tone="accent"),
        Label(150, 122, equals(TENSION, Number("0"))),
        Label(330, 70, V_TOP, tone="soft"),
        Label(195, 205, RADIUS),
        Label(210, 335, "the lantern at the top, seen from the side", size=14, tone="soft"),
        Label(60, 300, equals(Power(V_TOP, Number("2")), Row((GRAVITY, RADIUS)))),
        Label(350, 250, equals(Symbol("a", "in"), Fraction(Power(Symbol("v"), Number("2")), RADIUS))),
    )
    return Drawing(
        420,
        360,
        marks,
        "Lantern at the top",
        "A lantern at the top of a circle. One arrow, down: F_g = m g.",
        subject="forces",
    )


def _paragraph(*parts: str | Node | Given) -> Paragraph:
    """Strings stand for words, formula nodes for formulas."""
    return tuple(
        Words(part) if isinstance(part, str) else part if isinstance(part, Given) else Math(part) for part in parts
    )


def _numbered(words: list[tuple[str, Paragraph]]) -> tuple[Step, ...]:
    stages = get_args(Stage)
    return tuple(
        Step(number, heading, (text,), stages[number]) for number, (heading, text) in enumerate(words, start=1)
    )


def _least_speed_steps(radius: str, key: str) -> tuple[Step, ...]:
    weight = Row((MASS, GRAVITY))
    inward = Fraction(Row((MASS, Power(V_TOP, Number("2")))), RADIUS)
    root = Root(Row((GRAVITY, RADIUS)))
    filled = Root(Row((Number("9.8"), UnitNode("N/kg"), Operator("×"), Number(radius), UnitNode("m"))))
    return _numbered(
        [
            ("Which way", _paragraph("At the top the centre is below, so the acceleration points down.")),
            ("Forces", _paragraph("Weight ", weight, " down; the cord pulls down with ", TENSION, ".")),
            ("Net force, inward", _paragraph(equals(Row((weight, Operator("+"), TENSION)), inward))),
            ("Limiting case", _paragraph(f"{SOLUTION_WORDS}; at the least speed ", equals(TENSION, Number("0")), ".")),
            ("Algebra", _paragraph(equals(V_TOP, root))),
            ("Numbers", _paragraph(equals(V_TOP, Row((filled, Operator("="), Number(key), UnitNode("m/s")))))),
            ("A look back", _paragraph("A wider circle needs more speed; the mass does not matter.")),
        ]
    )


def _pull_steps(speed: str, key: str) -> tuple[Step, ...]:
    inward = Fraction(Row((MASS, Power(Symbol("v"), Number("2")))), RADIUS)
    return _numbered(
        [
            ("Which way", _paragraph("The acceleration points to the post, the centre of the circle.")),
            ("Forces", _paragraph("The cord pulls inward with ", TENSION, "; the ice bears the weight.")),
            ("Net force, inward", _paragraph(equals(TENSION, inward))),
            ("Limiting case", _paragraph(f"{SOLUTION_WORDS}, and it does at every speed.")),
            ("Algebra", _paragraph(equals(TENSION, inward))),
            ("Numbers", _paragraph("With ", Given("v", speed, "m/s"), ": ", equals(TENSION, Number(key)), " N.")),
            ("A look back", _paragraph("At twice the speed the cord must pull four times as hard.")),
        ]
    )


def least_speed(variant: int = 1) -> Item:
    """What speed keeps the cord taut at the top: v = √(g r)."""
    radius = Decimal("0.85") + Decimal("0.05") * variant
    exact = numbers.sqrt(G * float(radius))
    key = Decimal(f"{exact:.2f}")
    stem = (
        _paragraph("A pupil swings a paper lantern in a vertical circle of radius ", Given("r", str(radius), "m"), "."),
        _paragraph("What is the least speed ", V_TOP, " at the top that keeps the cord taut?"),
    )
    entry = NumberEntry(V_TOP, "least speed at the top", key, exact, Decimal("0.025"), "m/s", 3)
    return Item(variant, stem, figure(), (entry,), _least_speed_steps(str(radius), str(key)), LEAST_SPEED)


def with_stem(item: Item, stem: tuple[Paragraph, ...]) -> Item:
    """The same item with another stem."""
    return replace(item, stem=stem)


def practice_element(item: Item) -> Element:
    """The root of the file of ``item``, as the first variant of the first question of a practice pack."""
    return assessment_item(item, contents(pack()).questions[0], 0)


def pull(variant: int = 1) -> Item:
    """What force bends the path of a lantern on a level circle: F = m v²/r. It has no figure."""
    mass, speed, radius = 0.250, 2.0 + variant / 10, 0.80
    exact = mass * speed**2 / radius
    key = Decimal(f"{exact:.2f}")
    stem = (
        _paragraph(
            "A ", Given("m", "250", "g"), " lantern slides on smooth ice round a post, at the end of a level cord."
        ),
        _paragraph(
            "The cord is ", Given("r", "0.80", "m"), " long, the speed ", Given("v", f"{speed:.1f}", "m/s"), "."
        ),
    )
    entry = NumberEntry(TENSION, "pull of the cord", key, exact, Decimal("0.02"), "N", 3)
    return Item(variant, stem, None, (entry,), _pull_steps(f"{speed:.1f}", str(key)), PULL)


@dataclass(frozen=True)
class Size:
    """How many variants each question has."""

    least_speed: int = 3
    pull: int = 2


def pack(purpose: Purpose = "practice", size: Size | None = None) -> Pack:
    """Both questions, the first with one figure that all of its variants share."""
    size = size or Size()
    return Pack("The lantern at the fair", purpose, "9.8 N/kg", 7, (_first(size.least_speed), _second(size.pull)))


def _first(count: int) -> Section:
    question = "lantern-over-the-top.least-speed"
    items = partial(_series, least_speed, count)
    return Section(question, LEAST_SPEED, (figure(),), [0] * count, items, cautions=(CAUTION,))


def _second(count: int) -> Section:
    question = "lantern-on-a-level-circle.pull-of-the-cord"
    return Section(question, PULL, (), [None] * count, partial(_series, pull, count))


def _series(make: object, count: int) -> Iterator[Item]:
    assert callable(make)
    return (make(variant) for variant in range(1, count + 1))


# --- every kind of entry ----------------------------------------------------------------------------

ROOT_FORGOTTEN, MISTAKE = "You stopped at the square of the speed.", "root-forgotten"
HINTS = ("Look at the highest point.", "There the cord may just go slack.", "So the weight alone bends the path.")
FEEDBACK = "Compare the speeds at the two places."


def number(variant: int = 1) -> NumberEntry:
    """The least speed, with the wrong number that comes from a root left out."""
    entry = least_speed(variant).entry
    square = Recognised(entry.key**2, Decimal("0.09"), ROOT_FORGOTTEN, (MISTAKE,))
    return replace(entry, recognised=(square,))


def choice(variant: int = 1) -> ChoiceEntry:
    """Three speeds in order of size."""
    key = least_speed(variant).entry.key
    wrong = Option(_paragraph(f"{key**2} m/s"), False, ROOT_FORGOTTEN, (MISTAKE,))
    low = Option(_paragraph(f"{key / 2} m/s"), False, "At this speed the cord goes slack.", ("halved",))
    return ChoiceEntry(_paragraph("Choose ", V_TOP, "."), (low, Option(_paragraph(f"{key} m/s"), True), wrong))


def arrow(down: bool) -> Drawing:
    """The lantern with one arrow."""
    words = "an arrow down" if down else "an arrow up"
    marks = (Disc(60, 60, 13), Stroke(60, 60, 60, 110 if down else 10, weight="bold", tone="accent"))
    return Drawing(120, 120, marks, "Lantern with one arrow", f"The lantern at the top of its circle, {words}.")


def pictures(variant: int = 1) -> ChoiceEntry:
    """Which way does the net force point? The right drawing stands first in every other variant."""
    options = [Option(arrow(down=True), True, "The centre is below."), Option(arrow(down=False), False, "", ("out",))]
    return ChoiceEntry(_paragraph("Which way?"), tuple(options if variant % 2 else reversed(options)), shuffle=True)


def several(variant: int = 1) -> ChoiceEntry:
    """Which forces act? Three options, of which two are right, share two marks."""
    options = (
        Option(_paragraph("weight ", Row((MASS, GRAVITY))), True, "The earth pulls."),
        Option(_paragraph("a force outward"), False, "Nothing pushes outward.", ("outward-force",)),
        Option(_paragraph("tension ", TENSION), True),
    )
    return ChoiceEntry((), options, several=True, marks=2)


def order(variant: int = 1) -> OrderEntry:
    """Four speeds, to be put in order of the pull of the cord."""
    speeds = tuple(_paragraph(Given("v", f"{speed + variant}", "m/s")) for speed in (7, 5, 8, 6))
    return OrderEntry(_paragraph("Least pull first."), speeds, (1, 3, 0, 2), FEEDBACK, marks=1)


def matching(variant: int = 1) -> MatchEntry:
    """Three places with the way the acceleration points there; one way serves twice."""
    rows = tuple(map(_paragraph, ("at the top", "at the bottom", "at the top, faster")))
    return MatchEntry((), rows, tuple(map(_paragraph, ("up", "down"))), (1, 0, 1), FEEDBACK, marks=1)


def of_kind(*entries: Callable[[int], Entry], hints: tuple[str, ...] = ()) -> Callable[[int], Item]:
    """A maker of items about the least speed that are answered by these entries."""
    spoken = tuple(map(_paragraph, hints))
    return lambda variant: replace(least_speed(variant), entries=tuple(make(variant) for make in entries), hints=spoken)


KINDS: dict[str, Callable[[int], Item]] = {
    "number": of_kind(number, hints=HINTS),
    "choice": of_kind(choice),
    "pictures": of_kind(pictures),
    "several": of_kind(several),
    "order": of_kind(order),
    "match": of_kind(matching),
    "stepwise": of_kind(several, number, order, matching, hints=HINTS),
}


def every_kind(purpose: Purpose = "practice") -> Pack:
    """A section of two variants for each of ``KINDS``."""
    return Pack("Every kind", purpose, "9.8 N/kg", 7, tuple(kind(name) for name in KINDS))


def kind(name: str, count: int = 2) -> Section:
    """The section of this one of ``KINDS``."""
    shown = (arrow(down=True), arrow(down=False)) if name == "pictures" else ()
    items = partial(_series, KINDS[name], count)
    return Section(f"lantern-over-the-top.{name}", LEAST_SPEED, (figure(),), [0] * count, items, shown)
