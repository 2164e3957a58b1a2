"""Speeds at which a body would leave its vertical circle higher up, where the story says that it stays there.

What swings freely, or moves to and fro, turns back no higher than the centre. What goes round on a cord or inside a
track still touches it at the top, where v² ≥ g r; on a rod it only has to come up there. Energy leads from either to
the place that is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from ..mechanics.equations import rates
from ..model.evaluation import holds
from ..model.expression import parse_relation
from ..model.problem import Diagram, Problem, Reason, Scene
from ..solving.solution import SolvedQuestion, kept
from ..variants.variant import FIRST, VariantPool
from .note import Note

NAME: Final = "leaves-the-circle"
_BODY = r"\{[aA] (?P<body>[\w-]+)\}"
_TO_AND_FRO = re.compile(rf"{_BODY}[^.]*\b(?:swings|to and fro)\b")
_ALL_ROUND = re.compile(rf"{_BODY}.*\b(?:runs|rolls|slides|goes|\{{the (?P=body)\}}) round (?:the inside of )?a ")
_HIGHER_UP: Final = {"bottom": "1", "side": "0"}  # cosines of the angle to the lowest point


def circle_notes(solved: SolvedQuestion, pool: VariantPool) -> Iterator[Note]:
    """A note for each scene with a variant in which the body does not do what the story says."""
    problem = solved.problem
    for of_scene in pool.pools if problem.motion.plane == "vertical" else ():
        for diagram in problem.diagrams:
            needed = _needed(problem, diagram, of_scene.scene)
            margin = kept(solved.system, needed).expression if needed else None
            if needed is None or margin is None:
                continue
            numbers = of_scene.grid.shuffled(NAME, 0, FIRST)
            values = of_scene.grid.values(numbers[of_scene.judged(numbers).good])
            if not holds(margin, values).all():
                found = f"{needed.text} is broken in the scene {of_scene.scene.name}, where {needed.because}"
                yield Note(NAME, solved.id, found)


def _needed(problem: Problem, diagram: Diagram, scene: Scene) -> Reason | None:
    """What the story of a scene asks of the speed at the place of a diagram; None where it asks nothing."""
    here = rates(problem.motion, diagram)
    cosine = f"cos({diagram.angle})" if diagram.angle_from == "bottom" else _HIGHER_UP.get(diagram.spot)
    if cosine is None or here.speed is None or here.radius is None:
        return None
    if _says(_TO_AND_FRO, scene, diagram):
        text, said = f"{here.speed}**2 <= 2*g*{here.radius}*{cosine}", "the body moves to and fro on an arc"
    elif _says(_ALL_ROUND, scene, diagram):
        held = any(force.kind == "support" for force in diagram.forces)
        text, said = (
            f"{here.speed}**2 >= g*{here.radius}*({2 if held else 3} + 2*{cosine})",
            "the body goes all the way round",
        )
    else:
        return None
    return Reason(parse_relation(text), text, said)


def _says(story: re.Pattern[str], scene: Scene, diagram: Diagram) -> bool:
    found = story.search(scene.story)
    return bool(found and found["body"] == diagram.body)
