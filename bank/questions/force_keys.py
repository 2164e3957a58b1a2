"""Questions about one diagram, their keys read off the model: forces, diagram, equation."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ..drawing.figure import draw_diagram
from ..item.drawing import Drawing
from ..item.formula import Symbol, text
from ..item.item import ChoiceEntry, Math, Paragraph
from ..mechanics.equations import Equation, System
from ..model import wording
from ..model.mistake import DiagramEdit, DropEdit
from ..solving.solution import SolvedQuestion
from ..thinking.edits import edited
from ..thinking.options import FEWEST_WRONG, mixed, right, wrong
from ..writing import prompts
from ..writing.directions import axes, words
from ..writing.stem import filled
from ..writing.view import DiagramView, ForceView, notation_of
from .about import About

MOST_WRONG = 3


# --- which forces act -------------------------------------------------------------------------------


def forces(about: About) -> ChoiceEntry | None:
    """Which forces act, each with its agent; several are right. None for a body at rest, which goes round nothing."""
    if about.view.inward is None:
        return None
    options = [
        right(
            filled(prompts.FORCE_BY, force=force.name, agent=force.agent),
            prompts.FORCE_ACTS.format(agent=force.agent, acts=force.verb),
        )
        for force in about.view.forces
    ]
    for mistake, edit in about.of(DiagramEdit):
        name, agent = prompts.EXTRA_FORCES[edit.way]
        options.append(wrong(filled(prompts.FORCE_BY, force=name, agent=agent), mistake))
    prompt = filled(prompts.WHICH_FORCES, body=about.body, place=about.view.place)
    return ChoiceEntry(
        prompt, mixed(options, f"{about.problem.id} {about.diagram.name} forces"), several=True, shuffle=True
    )


# --- which diagram is right ---------------------------------------------------------------------------


def diagram(about: About) -> ChoiceEntry | None:
    """Which force diagram is right: the true one among some with one force more or less; None for a body at rest."""
    bare = replace(about.view, acceleration=None, acceleration_words="")
    if bare.inward is None:
        return None
    options = [right(draw_diagram(bare))]
    level = about.problem.motion.plane == "horizontal"
    for mistake, extra in about.of(DiagramEdit):
        if extra.way != "forward" or not level:  # seen from the side, forward on a level circle points out of the page
            options.append(wrong(_with_extra(about, bare, extra.way), mistake))
    for mistake, drop in about.of(DropEdit):
        if drop.force == "weight" and level and len(bare.forces) > 1:
            lighter = replace(bare, forces=tuple(each for each in bare.forces if each.name != wording.WEIGHT.name))
            options.append(wrong(draw_diagram(lighter), mistake))
    prompt = filled(prompts.WHICH_DIAGRAM, body=about.body, place=bare.place)
    return ChoiceEntry(
        prompt, mixed(options[: MOST_WRONG + 1], f"{about.problem.id} {about.diagram.name} diagram"), shuffle=True
    )


def _with_extra(about: About, view: DiagramView, way: str) -> Drawing:
    on_page = axes(about.problem.motion.plane, about.diagram, 30.0)
    inward = view.inward or 0.0
    page = {"inward": inward, "outward": (inward + 180) % 360, "forward": on_page.second % 360}[way]
    name, agent = prompts.EXTRA_FORCES[way]
    label = {"inward": Symbol("F", "c"), "outward": Symbol("F", "out"), "forward": Symbol("F", "fwd")}[way]
    extra = ForceView(label, name, agent, "pushes", page, 0.6, words(on_page, page))
    return draw_diagram(replace(view, forces=(*view.forces, extra)))


# --- complete the equation ----------------------------------------------------------------------------


def equation(about: About, solved: SolvedQuestion) -> ChoiceEntry | None:
    """Which equation is right along the inward axis, the model's or a mistake's; None where too few differ."""
    true = _inward(solved.system, about.diagram.name)
    if true is None:
        return None
    notation = notation_of(about.problem, about.scene)
    shown: Callable[[Equation], Paragraph] = lambda each: (Math(notation.equation(each.terms, each.right)),)  # noqa: E731
    options = [right(shown(true))]
    seen = {text(notation.equation(true.terms, true.right))}
    for mistake in about.mistakes:
        changed = edited(mistake.edit, solved)
        false = _inward(changed, about.diagram.name) if isinstance(changed, System) else None
        if false is None or not false.terms or text(notation.equation(false.terms, false.right)) in seen:
            continue
        seen.add(text(notation.equation(false.terms, false.right)))
        options.append(wrong(shown(false), mistake))
    if len(options) < 1 + FEWEST_WRONG:
        return None
    prompt = filled(prompts.WHICH_EQUATION, Place=wording.capital(about.view.place), body=about.body)
    return ChoiceEntry(
        prompt, mixed(options[: MOST_WRONG + 1], f"{about.problem.id} {about.diagram.name} equation"), shuffle=True
    )


def _inward(system: System, diagram: str) -> Equation | None:
    return next((each for each in system.equations if each.kind == "inward" and each.diagram == diagram), None)
