"""The weight points vertically downwards: in every diagram of every scene of the bank, as words and as an arrow."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from math import atan2, degrees

import pytest
from lxml import etree
from turnwright.bank.drawing.figure import draw_diagram
from turnwright.bank.model.problem import Diagram, Force, Problem, Scene
from turnwright.bank.reading.files import read_bank
from turnwright.bank.writing import view
from turnwright.exporters.markup.svg import WEIGHTS, svg

DOWN = 270.0
Seen = tuple[Problem, Diagram, Scene]


def diagrams() -> Iterator[Seen]:
    for problem in read_bank():
        for diagram in problem.diagrams:
            if any(force.law == "weight" for force in diagram.forces):
                for scene in problem.scenes:
                    yield problem, diagram, scene


def arrows(file: bytes) -> list[float]:
    """The page direction of each force arrow of an SVG file, in the order of the file, from the ends of its shaft."""
    found = []
    for line in etree.fromstring(file).iter("{*}line"):
        if float(line.get("stroke-width", "0")) == WEIGHTS["bold"]:
            x1, y1, x2, y2 = (float(line.get(each, "")) for each in ("x1", "y1", "x2", "y2"))
            found.append(degrees(atan2(y1 - y2, x2 - x1)) % 360)  # y runs down the page
    return found


def slanting(seen: Iterator[Seen]) -> list[str]:
    """What is wrong with the weights, in the view, in its words and in the file."""
    told = []
    for problem, diagram, scene in seen:
        where = f"{problem.id} {diagram.name} {scene.name}"
        found = view.view_of(problem, diagram, scene)
        drawn = arrows(svg(draw_diagram(found)))
        assert len(drawn) == len(found.forces), where
        (place,) = [at for at, force in enumerate(found.forces) if force.name == "weight"]
        weight = found.forces[place]
        if abs(weight.direction - DOWN) > 1e-3:
            told.append(f"{where}: {weight.direction}")
        if abs(drawn[place] - DOWN) > 0.2:  # coordinates have two decimals
            told.append(f"{where}: drawn at {drawn[place]:.1f}")
        if not re.match("vertically downwards(, |$)", weight.direction_words):
            told.append(f"{where}: {weight.direction_words}")
    return told


def test_the_weight_points_straight_down_in_every_diagram_of_every_scene() -> None:
    seen = list(diagrams())
    assert {diagram.spot for _, diagram, _ in seen} == {"top", "bottom", "side", "angle", "level", "rest"}
    assert {diagram.angle_from for _, diagram, _ in seen} == {None, "top", "bottom"}
    assert slanting(iter(seen)) == []


@pytest.mark.parametrize("angle_from", ["top", "bottom"])
def test_a_weight_across_the_radius_is_noticed(angle_from: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the part of the weight along the path has the other sign, so that it leans."""
    honest = view._parts

    def planted(problem: Problem, diagram: Diagram, force: Force, angle: float) -> tuple[float, float]:
        inward, second = honest(problem, diagram, force, angle)
        return (inward, -second) if force.law == "weight" else (inward, second)

    monkeypatch.setattr(view, "_parts", planted)
    # copies, which know nothing of the views that were made of their problems before
    copies = ((replace(problem), diagram, scene) for problem, diagram, scene in diagrams())
    leaning = [each for each in copies if each[1].angle_from == angle_from][:2]
    assert len(slanting(iter(leaning))) >= 2 * len(leaning) > 0
