"""What an author gets wrong and what still makes equations: each slip, planted in a copy of a shipped problem."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from turnwright.bank.errors import Fault
from turnwright.bank.reading.files import collect, shipped_files

HOLDS = r"holds:\n(?:  .*\n)+(?=quantities:)"
# file, pattern, what stands there instead, the place, what is said: only lines of the model, whatever texts become
SLIPS = {
    "at rest forgotten": ("cord-through-a-hole", r"    at: rest\n", "", "diagrams.hanger", "'at: rest'"),
    "sine and cosine swapped": (
        "conical-pendulum",
        r"inward: sin\(theta\), up: cos\(theta\)",
        "inward: cos(theta), up: sin(theta)",
        "components",
        "'up' has cos(theta)",
    ),
    "friction along the normal": (
        "rough-bank-slow",
        r"inward: -cos\(theta\), up: sin\(theta\)",
        "inward: -sin(theta), up: cos(theta)",
        "components",
        "'up' has sin(theta)",
    ),
    "the circle exerts a force": (
        "on-a-turntable",
        r"grip: \{name: [^}]*?by: [^,}]+",
        "grip: {name: friction, by: the circle",
        "forces.grip.by",
        "is no body",
    ),
    "a centripetal force beside the others": (
        "on-a-turntable",
        r"grip: \{name: [^}]*?by: [^,}]+",
        "grip: {name: centripetal force, by: the turntable",
        "forces.grip.name",
        "no further force",
    ),
    "a ceiling turned round": ("flat-bend", r"f <= mu\*N", "f >= mu*N", "grip.kind", "has no ceiling"),
    "a push below zero": ("over-the-top", r"that: N >= 0", "that: N <= 0", "holds.0.that", "write 'N >= 0'"),
    "no hold": ("over-the-top", HOLDS, "", "forces.contact", "one way only"),
    "a radius typed": ("over-the-top", r"(stem: .*)\{r\}", r"\1{r} or 0.80 m", "stem", "'0.80 m' is typed"),
    "another quantity asked": ("on-a-turntable", r"ask: T\n", "ask: v\n", "stem", "'ask' names v"),
}


def faults_of(folder: Path, name: str, pattern: str, instead: str) -> list[Fault]:
    text = next(each for each in shipped_files() if each.stem == name).read_text("utf-8")
    changed, number = re.subn(pattern, instead, text, count=1)
    assert number == 1, f"{name} no longer has {pattern}"
    (folder / f"{name}.yaml").write_text(changed, "utf-8")
    return list(collect([folder / f"{name}.yaml"])[1])


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_that_makes_equations_is_a_fault_at_its_place(slip: str, tmp_path: Path) -> None:
    name, pattern, instead, place, says = SLIPS[slip]
    found = [str(each) for each in faults_of(tmp_path, name, pattern, instead)]
    assert any(place in each and says in each for each in found), found


def test_the_shipped_bank_has_none_of_them() -> None:
    assert not collect(shipped_files())[1]
