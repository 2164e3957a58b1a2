"""What moves to and fro on an arc turns back below the centre; what goes all the way round keeps contact at the top."""

from __future__ import annotations

import re
from decimal import Decimal
from math import cos
from pathlib import Path

import pytest
from turnwright.bank.checking.open_circle import circle_notes
from turnwright.bank.checking.questions import check_question
from turnwright.bank.reading.files import collect, shipped_files
from turnwright.bank.thinking.distractors import telling_pool
from turnwright.bank.variants.variant import VariantPool

from tests.bank import models
from tests.bank.models import GRAVITY

NOTE = "leaves-the-circle"
ARCS = ("through-the-bottom", "round-the-circle")
# what is taken out of a shipped file, or written into it, and a question in which it shows
PLANTED = {
    "a pendulum that is as fast as one that goes round": (
        "through-the-bottom",
        "pull-at-the-bottom",
        ((r"(?ms)^  - that: v\*\*2 .*?(?=^quantities)", ""), (r"from: 2\.20, to: 3\.90", "from: 2.20, to: 6.00")),
    ),
    "an acrobat who is as fast as one who goes round": (
        "round-the-circle",
        "contact-force",
        ((r"(?ms)^  - that: v\*\*2 .*?(?=^quantities)", ""), (r"from: 1\.80, to: 4\.20", "from: 4.40, to: 8.20")),
    ),
    "a bob that goes round and does not get to the top": (
        "through-the-bottom",
        "pull-at-the-bottom",
        ((r"swings along an arc of a vertical circle", "goes round a vertical circle"),),
    ),
}  # fmt: skip


def notes(path: Path, question: str) -> list[str]:
    problems, faults = collect([path])
    assert not faults, faults
    report = check_question(problems[0], problems[0].question(question))
    return [each.found for each in report.notes if each.name == NOTE]


def test_no_shipped_question_has_the_note() -> None:
    tried = 0
    for name in models.shipped_ids():
        solved = models.shipped(name)
        assert not list(circle_notes(solved, telling_pool(models.diagnosed(name), GRAVITY))), name
        tried += solved.problem.motion.plane == "vertical"
    assert tried > 50


@pytest.mark.parametrize("slip", PLANTED)
def test_a_story_that_is_broken_higher_up_is_told(slip: str, tmp_path: Path) -> None:
    stem, question, changes = PLANTED[slip]
    text = next(each for each in shipped_files() if each.stem == stem).read_text("utf-8")
    for pattern, instead in changes:
        text, number = re.subn(pattern, instead, text, count=1)
        assert number == 1, f"{stem} no longer has {pattern}"
    path = tmp_path / f"{stem}.yaml"
    path.write_text(text, "utf-8")
    assert notes(path, question)


def test_bodies_on_an_arc_turn_back_below_the_centre() -> None:
    """By plain arithmetic on printed numbers: v² at the bottom of the circle is at most 2 g r."""
    tried = 0
    for name in models.shipped_ids():
        problem, _, _ = name.partition(".")
        if problem not in ARCS:
            continue
        for variant in VariantPool(models.shipped(name), Decimal("9.81")).draw_up_to(60, 5):
            si = {**{symbol: each.si for symbol, each in variant.given.items()}}
            si[models.shipped(name).question.ask] = variant.exact_si
            if {"v", "r"} <= si.keys():
                lowest = si["v"] ** 2 + 2 * 9.81 * si["r"] * (1 - cos(si.get("theta", 0.0)))
                assert lowest <= 2 * 9.81 * si["r"] * (1 + 1e-9), (name, variant.scene.name, si)
                tried += 1
    assert tried > 300
