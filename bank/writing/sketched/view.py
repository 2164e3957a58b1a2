"""What a sketch of a situation shows: a setting, the look of the body, where it stands, and the letters at lengths."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ...item.formula import Node
from ...model.once import once
from ...model.problem import Diagram, Problem, Scene, Spot
from ...model.wording import capital, with_article
from ..directions import place_words
from ..view import notation_of, typical_angle, view_of
from .words import SETTINGS, marked


@dataclass(frozen=True)
class SketchView:
    """One scene as a bystander sees it.

    ``setting`` and ``look`` are names of what is drawn. ``inward`` is the page direction from the body to the centre
    in degrees, anticlockwise from the right, as in the force diagram; None where no diagram says where the body is.
    ``angle`` is the typical angle of a cord or of a place on the circle from the vertical, or of a bank from the
    horizontal, in degrees. ``marks`` are the letters at lengths and angles, by what they measure, such as ``radius``.
    """

    setting: str
    look: str
    spot: Spot | None
    inward: float | None
    angle: float
    marks: tuple[tuple[str, Node], ...]
    title: str
    alternative: str


def sketch_of(
    problem: Problem, diagram: Diagram | None, scene: Scene, letters: Collection[str] = ()
) -> SketchView | None:
    """The view of a scene, None where its file says nothing of it; ``letters`` are the quantities to mark in it."""
    if scene.sketch is None:
        return None
    asked = tuple(sorted(letters))
    return once(problem, ("sketch", asked), lambda: _view(problem, diagram, scene, asked), diagram, scene)


def _view(problem: Problem, diagram: Diagram | None, scene: Scene, letters: tuple[str, ...]) -> SketchView:
    assert scene.sketch is not None
    notation = notation_of(problem, scene)
    measured = {role: name for role, name in _measured(problem, diagram, scene).items() if name in letters}
    marks = tuple((role, notation.symbol(name)) for role, name in measured.items())
    body = with_article(scene.words[diagram.body], "the") if diagram else ""
    told = SETTINGS[scene.sketch.setting].format(
        body=body, Body=capital(body), place=place_words(diagram) if diagram else ""
    )
    sentence = " ".join(filter(None, (" ".join(told.split()).replace(" ,", ",").replace(" .", "."), marked(marks))))
    return SketchView(
        setting=scene.sketch.setting,
        look=scene.sketch.look,
        spot=diagram.spot if diagram else None,
        inward=view_of(problem, diagram, scene).inward if diagram else None,
        angle=typical_angle(problem, diagram) if diagram else 30.0,
        marks=marks,
        title="Sketch of the situation, not to scale",
        alternative=sentence,
    )


def _measured(problem: Problem, diagram: Diagram | None, scene: Scene) -> dict[str, str]:
    """The symbols of lengths and angles that a sketch can mark, by what they measure."""
    assert scene.sketch is not None
    motion = problem.motion
    own = {
        "radius": (diagram and diagram.radius) or motion.radius,
        "diameter": motion.diameter,
        "angle": diagram and (diagram.tilt or diagram.angle),
    }
    marks = scene.sketch.marks
    return {**{role: name for role, name in own.items() if name and name not in marks.values()}, **marks}
