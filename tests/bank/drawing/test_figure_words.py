"""The text alternative of a force diagram tells all that is seen, and nothing that gives an answer away."""

from __future__ import annotations

from dataclasses import replace

from turnwright.bank.drawing.figure import draw_diagram
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Disc, Label, Shape, Stroke
from turnwright.bank.writing.figure_words import MOST, alternative, description
from turnwright.bank.writing.view import AngleView, DiagramView, ForceView, view_of

from tests.bank import models

WEIGHT = formula.Row((formula.Symbol("m"), formula.Symbol("g")))
AT_THE_TOP = DiagramView(
    body="the paper lantern",
    place="at the top of a vertical circle",
    setting="vertical-circle",
    inward=270,
    inward_words="vertically downwards",
    acceleration=270,
    acceleration_words="vertically downwards, towards the centre",
    forces=(
        ForceView(WEIGHT, "weight", "the Earth", "pulls", 270, 0.4, "vertically downwards, towards the centre"),
        ForceView(
            formula.Symbol("T"), "tension", "the cord", "pulls", 270, 1.0, "vertically downwards, towards the centre"
        ),
    ),
)


def test_the_text_alternative_reads_as_a_teacher_would_say_it() -> None:
    drawing = draw_diagram(AT_THE_TOP)
    assert drawing.title == "Force diagram of the paper lantern"
    assert drawing.alternative == (
        "Forces on the paper lantern: weight (m times g) down, towards the centre; "
        "tension (T) down, towards the centre. Acceleration down, towards the centre."
    )
    assert drawing.more == (
        "The diagram shows the paper lantern at the top of a vertical circle. "
        "The weight (m times g) is exerted by the Earth and the tension (T) is exerted by the cord. "
        "A dashed arc shows part of the circular path, with a dot at the centre. "
        "A dashed line shows the inward axis, which points vertically downwards."
    )
    assert drawing.description == f"{drawing.alternative} {drawing.more}"


def test_a_body_at_rest_has_neither_circle_nor_acceleration_in_words_or_marks() -> None:
    forces = (
        ForceView(WEIGHT, "weight", "the Earth", "pulls", 270, 1.0, "vertically downwards"),
        ForceView(formula.Symbol("T"), "tension", "the cord", "pulls", 90, 1.0, "vertically upwards"),
    )
    drawing = draw_diagram(DiagramView("the lamp", "at rest", "at-rest", None, "", None, "", forces))
    assert drawing.description == (
        "Forces on the lamp: weight (m times g) down; tension (T) up. The diagram shows the lamp at rest. "
        "The weight (m times g) is exerted by the Earth and the tension (T) is exerted by the cord."
    )
    assert {type(mark) for mark in drawing.marks} == {Stroke, Shape, Disc, Label}


def test_surface_angle_and_second_axis_are_told() -> None:
    view = replace(
        AT_THE_TOP,
        setting="level-circle",
        inward=180,
        surface=20,
        angles=(AngleView(formula.Symbol("θ"), 90, 110, "theta between the cord and the vertical"),),
        second_axis=90,
        second_axis_label="up",
        second_axis_words="vertically upwards",
    )
    words = description(view)
    assert "A flat dashed ellipse shows the horizontal circular path" in words
    assert "A light hatched line shows the surface that the body touches." in words
    assert "Angle theta between the cord and the vertical." in alternative(view)
    assert "Another dashed line shows the second axis, marked up, which points vertically upwards." in words


def test_the_text_alternative_does_not_depend_on_magnitudes_and_has_no_digit() -> None:
    weight, tension = AT_THE_TOP.forces
    swapped = (replace(weight, length=1.0), replace(tension, length=0.1))
    words = draw_diagram(replace(AT_THE_TOP, forces=swapped)).description
    assert words == draw_diagram(AT_THE_TOP).description
    assert not any(mark.isdigit() for mark in words)


def test_what_has_no_room_in_the_alternative_is_in_the_description() -> None:
    """Planted: a body whose name alone is long, and one whose forces take all the room."""
    acceleration = "Acceleration down, towards the centre."
    for body in ("the lantern " * 12, "the lantern " * 30):
        view = replace(AT_THE_TOP, body=body.strip())
        told = draw_diagram(view)
        assert len(told.alternative) < MOST
        assert acceleration not in told.alternative
        assert acceleration in told.more
        assert "tension (T) down" in told.description


def test_no_text_alternative_of_the_bank_is_too_long_to_be_heard() -> None:
    problems = (*models.shipped_problems().values(), *models.drafts())
    views = [view_of(each, diagram, scene) for each in problems for diagram in each.diagrams for scene in each.scenes]
    assert len(views) > 250
    for view in views:
        assert len(alternative(view)) < MOST, alternative(view)
        assert "Acceleration" not in description(view)
