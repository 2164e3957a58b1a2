"""The text alternative of a force diagram tells all that is seen, and nothing that gives an answer away."""

from __future__ import annotations

from dataclasses import replace

from turnwright.bank.drawing.figure import draw_diagram
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Disc, Label, Shape, Stroke
from turnwright.bank.writing.figure_words import alternative
from turnwright.bank.writing.view import AngleView, DiagramView, ForceView

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
        "Force diagram of the paper lantern at the top of a vertical circle. "
        "Two forces are drawn on the paper lantern: "
        "the weight, marked m times g, exerted by the Earth, vertically downwards, towards the centre; "
        "the tension, marked T, exerted by the cord, vertically downwards, towards the centre. "
        "A dashed arc shows part of the circular path, with a dot at the centre. "
        "A dashed line shows the inward axis, which points vertically downwards. "
        "A separate open arrow shows the acceleration, vertically downwards, towards the centre."
    )


def test_a_body_at_rest_has_neither_circle_nor_acceleration_in_words_or_marks() -> None:
    forces = (
        ForceView(WEIGHT, "weight", "the Earth", "pulls", 270, 1.0, "vertically downwards"),
        ForceView(formula.Symbol("T"), "tension", "the cord", "pulls", 90, 1.0, "vertically upwards"),
    )
    drawing = draw_diagram(DiagramView("the lamp", "at rest", "at-rest", None, "", None, "", forces))
    assert drawing.alternative == (
        "Force diagram of the lamp at rest. Two forces are drawn on the lamp: "
        "the weight, marked m times g, exerted by the Earth, vertically downwards; "
        "the tension, marked T, exerted by the cord, vertically upwards."
    )
    assert {type(mark) for mark in drawing.marks} == {Stroke, Shape, Disc, Label}


def test_surface_angle_and_second_axis_are_told() -> None:
    words = alternative(
        replace(
            AT_THE_TOP,
            setting="level-circle",
            inward=180,
            surface=20,
            angles=(AngleView(formula.Symbol("θ"), 90, 110, "theta between the cord and the vertical"),),
            second_axis=90,
            second_axis_label="up",
            second_axis_words="vertically upwards",
        )
    )
    assert "A flat dashed ellipse shows the horizontal circular path" in words
    assert "A light hatched line shows the surface that the body touches." in words
    assert "One angle is marked: theta between the cord and the vertical." in words
    assert "Another dashed line shows the second axis, marked up, which points vertically upwards." in words


def test_the_text_alternative_does_not_depend_on_magnitudes_and_has_no_digit() -> None:
    weight, tension = AT_THE_TOP.forces
    swapped = (replace(weight, length=1.0), replace(tension, length=0.1))
    words = draw_diagram(replace(AT_THE_TOP, forces=swapped)).alternative
    assert words == draw_diagram(AT_THE_TOP).alternative
    assert not any(mark.isdigit() for mark in words)
