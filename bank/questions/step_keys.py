"""The steps before a number, so put together that none tells the answer of another."""

from __future__ import annotations

from ..drawing.figure import draw_diagram
from ..item.formula import Row, text
from ..item.item import ChoiceEntry, Math
from ..mechanics.equations import terms_along
from ..model.edit import DiagramEdit, DrawnEdit
from ..thinking.balance import balanced
from ..thinking.force_edits import drawn
from ..thinking.options import mixed, right
from ..writing import prompts
from ..writing.figure_words import alternative
from ..writing.stem import filled
from ..writing.view import notation_of
from .about import About
from .diagram_keys import DRAWN, WrongDiagram, bare_view, sets_of_wrong


def diagram_beside(about: About, equation: ChoiceEntry) -> ChoiceEntry | None:
    """Which force diagram is right, where the options of the next step are equations.

    Only such wrong diagrams are offered as lead to an equation of that step: another one would be ruled out by them.
    None where there are too few.
    """
    bare = bare_view(about)
    offered = _left_sides(equation)
    arrows = dict.fromkeys(DRAWN)
    sets = dict.fromkeys(one for each in arrows for one in sets_of_wrong(about, bare, each))
    alike = [one for one in sets if all(_leads_to(about, each) in offered for each in one)]
    wrong_ones = list(dict.fromkeys(each for one in alike for each in one))
    places = [tuple(wrong_ones.index(each) for each in one) for one in alike]
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name} step"
    chosen = balanced(alternative(bare), [alternative(each.view) for each in wrong_ones], places, draw, pictures=True)
    if not chosen:
        return None
    options = [right(draw_diagram(bare)), *(wrong_ones[place].option for place in chosen)]
    return ChoiceEntry(
        filled(prompts.WHICH_DIAGRAM, body=about.body, place=bare.place), mixed(options, draw), shuffle=True
    )


def _left_sides(equation: ChoiceEntry) -> set[str]:
    """The left-hand sides of the equations that are offered."""
    contents = (option.content for option in equation.options if isinstance(option.content, tuple))
    nodes = (part.node for content in contents for part in content if isinstance(part, Math))
    return {text(node.parts[0]) for node in nodes if isinstance(node, Row)}


def _leads_to(about: About, wrong_one: WrongDiagram) -> str:
    """The left-hand side of the equation that a wrong diagram leads to; "" where it has a force that is none."""
    diagram = about.diagram
    for mistake in wrong_one.mistakes:
        if isinstance(mistake.edit, DiagramEdit) and mistake.edit.way != "forward":
            return ""
        if isinstance(mistake.edit, DrawnEdit):
            diagram = drawn(mistake.edit, about.problem, diagram) or diagram
    terms = tuple(terms_along(about.problem, diagram, "inward"))
    return text(notation_of(about.problem, about.scene).sum(terms)) if terms else ""
