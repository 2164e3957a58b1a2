"""A limit on the wrong side: words of limiting questions against what the hold allows; by `check`."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from turnwright.bank.checking.limit_side import limit_faults, side_of
from turnwright.bank.checking.questions import check_question
from turnwright.bank.reading.files import collect, shipped_files

from tests.bank import models

# file, question, pattern, what stands there instead, the part of the question, what is said
PLANTED = {
    "maximum for minimum, in the stem": (
        "through-the-dip",
        "least-radius",
        ("Determine the minimum radius", "Determine the maximum radius"),
        ("stem", "'maximum' is said, and greater values of r are allowed"),
    ),
    "least for greatest": (
        "flat-bend",
        "greatest-speed",
        ("Calculate the maximum speed", "Calculate the least speed"),
        ("stem", "'least' is said, and smaller values of v are allowed"),
    ),
}


@pytest.mark.parametrize("slip", PLANTED)
def test_check_tells_a_limit_on_the_wrong_side_at_its_place(slip: str, tmp_path: Path) -> None:
    stem, name, (pattern, instead), (part, said) = PLANTED[slip]
    text = next(each for each in shipped_files() if each.stem == stem).read_text("utf-8")
    changed, number = re.subn(pattern, instead, text, count=1)
    assert number == 1, f"{stem} no longer has {pattern}"
    path = tmp_path / f"{stem}.yaml"
    path.write_text(changed, "utf-8")
    problems, faults = collect([path])
    assert not faults
    problem = problems[0]
    report = check_question(problem, problem.question(name))
    place = problem.place_of(problem.question(name), part)
    assert any(each.place == place and said in each.wrong for each in report.faults), report.faults


def test_no_shipped_limit_is_told_and_nearly_all_are_decided() -> None:
    limits = [models.shipped(each) for each in models.shipped_ids()]
    limits = [each for each in limits if each.question.limiting]
    assert not [fault for each in limits for fault in limit_faults(each)]
    assert [each.id for each in limits if side_of(each) is None] == ["over-on-a-rod.bottom-at-the-limit"]


def test_at_least_and_the_lowest_point_are_no_such_words() -> None:
    """ "The normal force must be at least …" and "the speed at the lowest point" leave the words of the limit alone."""
    for name in ("loop-with-a-margin.force-at-the-bottom", "through-the-bottom.greatest-speed"):
        assert side_of(models.shipped(name)) and not list(limit_faults(models.shipped(name)))
