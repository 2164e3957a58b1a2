"""Questions about one diagram, their keys read off the model: which forces act, which equation is right."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import replace

from ..item.formula import Row, text  # text
from ..item.item import ChoiceEntry, Math
from ..mechanics.equations import Equation, System, terms_along
from ..model import wording
from ..model.mistake import AccelerationEdit, DiagramEdit, DrawnEdit, ExtraForceEdit, Mistake
from ..solving.solution import SolvedQuestion
from ..thinking.balance import balanced, sets_of
from ..thinking.edits import edited
from ..thinking.force_edits import drawn
from ..thinking.options import FEWEST_WRONG, mixed, right, wrong
from ..writing import prompts
from ..writing.directions import placeless
from ..writing.stem import filled
from ..writing.view import notation_of
from .about import About

MOST_WRONG = 3
MOST_ABOUT_ACCELERATION = 1  # wrong equations that no right one looks like


# --- which forces act -------------------------------------------------------------------------------


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


# --- complete the equation ----------------------------------------------------------------------------


def equation(about: About, solved: SolvedQuestion) -> ChoiceEntry | None:
    """Which equation is right along the inward axis, the model's or a mistake's; None where too few differ."""
    true = _inward(solved.system, about.diagram.name)
    if true is None:
        return None
    notation = notation_of(about.problem, about.scene)
    shown: Callable[[Equation], Row] = lambda each: notation.equation(each.terms, each.right)  # noqa: E731
    found = {text(shown(each)): (mistake, shown(each)) for mistake, each in _wrong_equations(about, solved, true)}
    found.pop(text(shown(true)), None)
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name} equation"
    about_acceleration = {at for at, (why, _) in enumerate(found.values()) if isinstance(why.edit, AccelerationEdit)}
    sets = sets_of(len(found), MOST_WRONG)
    alike = [each for each in sets if len(about_acceleration.intersection(each)) <= MOST_ABOUT_ACCELERATION] or sets
    chosen = balanced(text(shown(true)), list(found), alike, draw)
    if len(chosen) < FEWEST_WRONG:
        return None
    kept = [list(found.values())[place] for place in chosen]
    options = [right((Math(shown(true)),)), *(wrong((Math(node),), mistake) for mistake, node in kept)]
    prompt = filled(prompts.WHICH_EQUATION, place=about.view.place, body=about.body)
    return ChoiceEntry(prompt, mixed(options, draw), shuffle=True)


def _wrong_equations(about: About, solved: SolvedQuestion, true: Equation) -> Iterator[tuple[Mistake, Equation]]:
    """The equations of mistakes, those of wrong diagrams first; none of them has the net force on both sides."""
    for mistake, edit in about.of(DrawnEdit):
        changed = drawn(edit, about.problem, about.diagram)
        terms = tuple(terms_along(about.problem, changed, "inward")) if changed else ()
        if terms:
            yield mistake, replace(true, terms=terms)
    for mistake in about.mistakes:
        after = None if isinstance(mistake.edit, ExtraForceEdit) else edited(mistake.edit, solved)
        false = _inward(after, about.diagram.name) if isinstance(after, System) else None
        if false is not None and false.terms:
            yield mistake, false


def _inward(system: System, diagram: str) -> Equation | None:
    return next((each for each in system.equations if each.kind == "inward" and each.diagram == diagram), None)
