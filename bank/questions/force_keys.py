"""Which forces act on a body, read off the model."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator

from ..item.item import ChoiceEntry
from ..model import wording
from ..model.edit import DiagramEdit
from ..model.mistake import Mistake
from ..thinking.options import mixed, right, wrong
from ..writing import prompts
from ..writing.directions import placeless
from ..writing.stem import filled
from .about import About


def forces(about: About) -> ChoiceEntry | None:
    """Which forces act, each with its agent; several are right. None for a body at rest, which goes round nothing."""
    if about.view.inward is None:
        return None
    options = [
        right(
            filled(prompts.FORCE_BY, force=placeless(about.diagram, force.name), agent=force.agent),
            prompts.FORCE_ACTS.format(agent=force.agent),
        )
        for force in about.view.forces
    ]
    options += [
        wrong(filled(prompts.FORCE_BY, force=placeless(about.diagram, name), agent=agent), why)
        for name, agent, why in _no_forces(about)
    ]
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name} forces"
    prompt = filled(prompts.WHICH_FORCES, body=about.body, place=about.view.place)
    return ChoiceEntry(prompt, mixed(options, draw), several=True, shuffle=True)


def _no_forces(about: About) -> Iterator[tuple[str, str, Mistake]]:
    """What is no force on the body, under names and agents that right ones have as well: name, agent, mistake."""
    why = {edit.way: mistake for mistake, edit in about.of(DiagramEdit)}
    touching = about.view.forces[-1]
    weight = next((each for each in about.view.forces if each.name == wording.WEIGHT.name), None)
    if weight and "weight-by-contact" in why:
        yield weight.name, touching.agent, why["weight-by-contact"]
    if weight and "contact-by-earth" in why:
        yield touching.name, weight.agent, why["contact-by-earth"]
    made_up = [way for way in prompts.MADE_UP if way in why]
    start = hashlib.sha256(f"{about.problem.id} {about.diagram.name} {about.scene.name}".encode()).digest()[0]
    for place in range(min(1 if weight else 2, len(made_up))):
        way = made_up[(start + place) % len(made_up)]
        yield prompts.MADE_UP[way], touching.agent, why[way]
