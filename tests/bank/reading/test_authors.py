"""What an author gets wrong and what still makes equations: each slip, planted in a copy of a shipped problem."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from turnwright.bank.checking.answers import settled
from turnwright.bank.checking.choices import check_choices
from turnwright.bank.checking.questions import check_question
from turnwright.bank.errors import Fault, Place
from turnwright.bank.quantities.gravity import GRAVITY
from turnwright.bank.reading.files import collect, shipped_files

HOLDS = r"holds:\n(?:  .*\n)+(?=quantities:|answered:)"
GRIP = r"grip: \{name: [^}]*?by: [^,}]+"
FIRST_STEM = r"(?s)(questions:\n(?:(?!    stem).)*    stem: \"[^\"]*?)"
LATER_QUESTIONS = r"(?s)(\nquestions:\n  least-height:\n.*?)\n  [a-z-]+:\n    title:.*\Z"


@dataclass(frozen=True)
class Slip:
    """A pattern in a shipped file and what stands there instead; the line where it is told, and what is said.

    Only lines of the model are changed, whatever texts become. ``question`` is what has to be solved before it is told.
    """

    file: str
    pattern: str
    instead: str
    line: str
    says: str
    question: str = ""


SLIPS = {
    "at rest forgotten": Slip("cord-through-a-hole", r"    at: rest\n", "", r"  hanger:", "'at: rest'"),
    "no force inward": Slip("flat-bend", "toward: inward", "toward: up", r"  \w+:\n    body:", "towards the centre"),
    "sine and cosine swapped": Slip(
        "conical-pendulum",
        r"inward: sin\(theta\), up: cos\(theta\)",
        "inward: cos(theta), up: sin(theta)",
        "inward: cos",
        "'up' has cos(theta)",
    ),
    "friction along the normal": Slip(
        "rough-bank-slow",
        r"inward: -cos\(theta\), up: sin\(theta\)",
        "inward: -sin(theta), up: cos(theta)",
        "inward: -sin",
        "'up' has sin(theta)",
    ),
    "the circle exerts a force": Slip(
        "on-a-turntable", GRIP, "grip: {name: friction, by: the circle", "by: the circle", "is no body"
    ),
    "a centripetal force beside the others": Slip(
        "on-a-turntable",
        GRIP,
        "grip: {name: centripetal force, by: the turntable",
        "name: centripetal",
        "no further force",
    ),
    "a ceiling turned round": Slip("flat-bend", r"f <= mu\*N", "f >= mu*N", "kind: friction", "has no ceiling"),
    "a push below zero": Slip("over-the-top", r"that: N >= 0", "that: N <= 0", "that: N <= 0", "write 'N >= 0'"),
    "no hold": Slip("over-the-top", HOLDS, "", r"contact: \{kind", "one way only"),
    "longest for shortest": Slip(
        "on-the-equator",
        "minimum period of rotation",
        "longest period of rotation",
        "name: longest",
        "'longest' is said, and greater values of T are allowed",
        "shortest-period",
    ),
    "a limit on the wrong side": Slip(
        "through-the-dip",
        r"N <= k\*m\*g",
        "N >= k*m*g",
        "name: maximum speed",
        "'maximum' is said, and greater values of v are allowed",
        "greatest-speed",
    ),
    "a radius typed": Slip(
        "over-the-top", r"(stem: .*)\{r\}", r"\1{r} or 0.80 m", "stem: .* or 0.80 m", "'0.80 m' is typed"
    ),
    "a given with too few figures": Slip(
        "on-a-turntable",
        r"figures: 3, draw: \{from: 0\.300, to: 0\.600, step: 0\.050\}",
        "figures: 2, draw: {from: 0.30, to: 0.60, step: 0.05}",
        r"given: \[r, mu\]",
        "'mu' has two significant figures in the scene 'potters-wheel', and the answer is asked to 3",
    ),
    "a constant on top": Slip(
        "weighing-a-planet",
        r"given: \[r_1, T_1, r_2\]\n",
        "given: [r_1, T_1, r_2]\n    extra: [G]\n",
        r"extra: \[G\]",
        "'G' is a constant that the answer does not need",
    ),
    "another quantity asked": Slip("on-a-turntable", r"ask: T\n", "ask: v\n", "stem: .*period", "'ask' names v"),
    "another quantity named": Slip(
        "over-the-top",
        "name: minimum speed at the top",
        "name: minimum radius",
        "name: minimum radius",
        "the name asks for 'radius', and 'ask' names v",
    ),
    "a second quantity asked": Slip(
        "over-the-top",
        FIRST_STEM + r' Calculate [^"]*"',
        r'\1 Calculate the speed and the tension at the top."',
        "stem: .* and the tension",
        "'and the tension' is a second quantity",
    ),
    "a second asking": Slip(
        "over-the-top",
        FIRST_STEM + '"',
        r'\1 What is its period?"',
        "stem: .* its period",
        "is one asking, and 'What is its period?' another",
    ),
    "an equation that nothing needs": Slip(
        "loop-from-a-ramp",
        LATER_QUESTIONS,
        r"\1\n",
        "id: ",
        "no question needs the 'inward' equation of the diagram bottom",
        "least-height",
    ),
    "two forces of one name": Slip(
        "flat-bend",
        r"(?s)(grip: \{name: )[^,]+(.*?support: \{name: )[^,]+",
        r"\1normal force\2normal force",
        r"grip: \{name: normal force",
        "another force of the diagram bend is a normal force by the road as well",
    ),
}


def told(path: Path, question: str) -> list[tuple[Place | None, str]]:
    """What is told of a file, and of one of its questions where one is named."""
    problems, faults = collect([path])
    found: list[Fault] = list(faults)
    if not question or faults:
        return [(each.place, str(each)) for each in found]
    report = check_question(problems[0], problems[0].question(question))
    assert report.solved
    choices = check_choices([report.solved], GRAVITY)
    return [(each.place, str(each)) for each in (*report.faults, *choices.faults)] + [
        (settled(problems[0], each).place, str(each)) for each in choices.notes
    ]


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_that_makes_equations_is_told_at_its_line(name: str, tmp_path: Path) -> None:
    slip = SLIPS[name]
    text = next(each for each in shipped_files() if each.stem == slip.file).read_text("utf-8")
    changed, number = re.subn(slip.pattern, slip.instead, text, count=1)
    assert number == 1, f"{slip.file} no longer has {slip.pattern}"
    path = tmp_path / f"{slip.file}.yaml"
    path.write_text(changed, "utf-8")
    line = re.search(slip.line, changed)
    assert line, slip.line
    number = changed.count("\n", 0, line.start()) + 1
    found = told(path, slip.question)
    assert any(place and place.line == number and slip.says in each for place, each in found), (number, found)


def test_the_shipped_bank_has_none_of_them() -> None:
    assert not collect(shipped_files())[1]
