"""Givens that are tied to each other: nothing is asked of a change of them, and no value contradicts a fact."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from turnwright.bank.checking.questions import check_question
from turnwright.bank.questions.change_keys import changes
from turnwright.bank.questions.rank_keys import ranking
from turnwright.bank.reading.files import collect
from turnwright.bank.solving.ties import tied
from turnwright.bank.variants.variant import VariantPool
from turnwright.bank.writing.solution import Writer

from tests.bank import models
from tests.bank.models import GRAVITY
from tests.bank.writing.test_solutions import text

ORBITS = "ellipse.farthest-distance"
FREE = "ellipse.nearest-speed"  # the mass is given, and both distances are free


def test_speeds_at_both_ends_of_an_orbit_are_tied_by_the_mass_of_the_star() -> None:
    """By v_p + v_a = 2 G M/(r_p v_p), from the two conservation laws."""
    assert tied(models.shipped(ORBITS)) == {"r_p", "v_p", "v_a"}
    assert tied(models.shipped("two-orbits.period")) == {"r_1", "T_1"}  # by T² = 4 π² r³/(G M)
    assert tied(models.shipped(FREE)) == frozenset()


def test_nothing_is_asked_of_a_change_of_tied_givens() -> None:
    solved = models.shipped(ORBITS)
    variants = VariantPool(solved, GRAVITY).draw_up_to(20, 1)
    live = models.diagnosed(ORBITS).live
    assert changes(solved, live) == ()
    assert [ranking(solved, scene, variants, "draw") for scene in solved.problem.scenes_of(solved.question)] == [
        None
    ] * 2
    assert changes(models.shipped(FREE), models.diagnosed(FREE).live)
    assert {each.symbol for each in changes(models.shipped("two-orbits.period"), live)} <= {"r_2", "m_1", "m_2"}


def test_no_solution_of_the_bank_says_what_only_one_tied_given_does() -> None:
    found = {name: bound for name in models.shipped_ids() if (bound := tied(models.shipped(name)))}
    assert found
    for name, bound in found.items():
        solved = models.shipped(name)
        told = text(Writer(solved, solved.problem.scenes[0]).look_back.paragraphs)
        assert not any(f"only {{{each}}}" in told for each in bound), name
        assert not {each.symbol for each in changes(solved, models.diagnosed(name).live)} & bound, name


@pytest.mark.parametrize(
    ("stem", "question", "scenes"),
    [("ellipse", "farthest-distance", {"comet", "transfer", "mars-orbiter"}), ("two-orbits", "period", {"satellites"})],
)
def test_values_that_contradict_the_mass_of_the_sun_are_told(
    stem: str, question: str, scenes: set[str], tmp_path: Path
) -> None:
    """Planted: the question is asked of all scenes, or the answer to the note is taken out."""
    text = (models.DRAFTS / "orbit" / f"{stem}.yaml").read_text("utf-8")
    text = re.sub(r"(?m)^    scenes: \[small-planet, small-moon\]\n|^answered:\n  tied-givens: .*\n", "", text)
    path = tmp_path / f"{stem}.yaml"
    path.write_text(text, "utf-8")
    problems, faults = collect([path])
    assert not faults
    report = check_question(problems[0], problems[0].question(question))
    told = [each.found for each in report.notes if each.name == "tied-givens"]
    assert {each.rsplit(" ", 1)[1] for each in told} == scenes
