"""Which force diagram is right: wrong ones with a force missing, turned, put another way or made up, or two such."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Literal, TypeAlias

from ..drawing.figure import draw_diagram
from ..drawing.layout import side_of_surface
from ..item.formula import Row, Symbol, text
from ..item.item import ChoiceEntry, Math, Option
from ..mechanics.equations import terms_along
from ..model.edit import DiagramEdit, DrawnEdit
from ..model.mistake import Mistake
from ..model.problem import Force
from ..thinking.balance import balanced
from ..thinking.force_edits import changed_roles, drawn
from ..thinking.options import mixed, right, wrong
from ..writing import prompts
from ..writing.directions import axes, words
from ..writing.figure_words import alternative
from ..writing.stem import filled
from ..writing.view import DiagramView, ForceView, notation_of, redrawn, typical_angle
from .about import About

Arrows: TypeAlias = Literal["as many", "fewer", "more", "more or fewer"]

MOST_WRONG = 3
MOST_SETS = 40  # among which the best is looked for
# How often wrong diagrams have fewer, as many or more arrows than the right one: who counts arrows learns nothing.
DRAWN: tuple[Arrows, ...] = ("as many",) * 7 + ("fewer", "more", "more or fewer")
MADE_UP, MADE_UP_LENGTH = "made up", 0.6  # an arrow that is no force
_LABELS = {"inward": Symbol("F", "c"), "outward": Symbol("F", "out"), "forward": Symbol("F", "fwd")}

Thought: TypeAlias = tuple[Mistake, DrawnEdit | DiagramEdit]


@dataclass(frozen=True)
class WrongDiagram:
    """A wrong diagram, and the mistakes that lead to it."""

    view: DiagramView
    mistakes: tuple[Mistake, ...]

    @property
    def option(self) -> Option:
        """The option that shows it."""
        return wrong(draw_diagram(self.view), *self.mistakes, both=len(self.mistakes) > 1)


def diagram(about: About) -> ChoiceEntry | None:
    """Which force diagram is right; None for a body at rest, and where too few wrong ones can be drawn."""
    bare = bare_view(about)
    if bare.inward is None:
        return None
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name} diagram"
    return _entry(about, bare, sets_of_wrong(about, bare, DRAWN[_number(draw) % len(DRAWN)]), draw)


def diagram_beside(about: About, equation: ChoiceEntry) -> ChoiceEntry | None:
    """Which force diagram is right, where the options of the next step are equations.

    Only such wrong diagrams are offered as lead to an equation of that step: another one would be ruled out by them.
    None where there are too few.
    """
    bare = bare_view(about)
    if bare.inward is None:
        return None
    offered = _left_sides(equation)
    sets = dict.fromkeys(one for arrows in dict.fromkeys(DRAWN) for one in sets_of_wrong(about, bare, arrows))
    alike = [one for one in sets if all(_leads_to(about, each) in offered for each in one)]
    return _entry(about, bare, alike, f"{about.problem.id} {about.diagram.name} {about.scene.name} step")


def _entry(about: About, bare: DiagramView, alike: Sequence[tuple[WrongDiagram, ...]], draw: str) -> ChoiceEntry | None:
    """The choice between the right diagram and those of one of the sets; None where there is no set."""
    wrong_ones = list(dict.fromkeys(each for one in alike for each in one))
    places = [tuple(wrong_ones.index(each) for each in one) for one in alike]
    chosen = balanced(alternative(bare), [alternative(each.view) for each in wrong_ones], places, draw, pictures=True)
    if not chosen:
        return None
    options = [right(draw_diagram(bare)), *(wrong_ones[place].option for place in chosen)]
    prompt = filled(prompts.WHICH_DIAGRAM, body=about.body, place=bare.place)
    return ChoiceEntry(prompt, mixed(options, draw), shuffle=True)


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


def _arrows(together: Sequence[tuple[Thought, ...]]) -> Arrows:
    """How many arrows the diagrams of some sets of thoughts have beside the right one."""
    counts = {sum(_one_more_or_less(thought) for thought in each) for each in together}
    if counts == {0}:
        return "as many"
    return "more or fewer" if min(counts) < 0 < max(counts) else "fewer" if min(counts) < 0 else "more"


def _one_more_or_less(thought: Thought) -> int:
    edit = thought[1]
    return 1 if isinstance(edit, DiagramEdit) else -1 if edit.way == "missing" else 0


def _number(draw: str) -> int:
    return int.from_bytes(hashlib.sha256(draw.encode()).digest()[:8], "big")


def bare_view(about: About) -> DiagramView:
    """The diagram without its acceleration; the body stays on its side of the surface, whatever is drawn wrong."""
    bare = replace(about.view, acceleration=None, acceleration_words="")
    return replace(bare, normal=None if bare.surface is None else side_of_surface(bare, bare.surface))


def sets_of_wrong(about: About, bare: DiagramView, arrows: Arrows) -> list[tuple[WrongDiagram, ...]]:
    """Sets of three wrong diagrams, in none of which the right one stands out as that which is most like the others.

    Two mistakes, each alone and both at once; or three ways to draw one force.
    """
    thoughts = list(_thoughts(about))
    known: dict[tuple[Thought, ...], WrongDiagram] = {}
    found = []
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name}"
    every = [*_fans(thoughts), *_pairs(thoughts)]
    every.sort(key=lambda one: _number(" ".join([draw, *(mistake.id for each in one for mistake, _ in each)])))
    for one in ([one for one in every if _arrows(one) == arrows] or every)[:MOST_SETS]:
        views = tuple(known.setdefault(each, _wrong(about, bare, each)) for each in one)
        if _told_apart(bare, views):
            found.append(views)
    return found


def _fans(thoughts: Sequence[Thought]) -> Iterator[tuple[tuple[Thought, ...], ...]]:
    """Three ways to draw one force."""
    for three in combinations(thoughts, MOST_WRONG):
        if len({_part(each) for each in three}) == 1 and _part(three[0]) != MADE_UP:
            yield tuple((each,) for each in three)


def _pairs(thoughts: Sequence[Thought]) -> Iterator[tuple[tuple[Thought, ...], ...]]:
    """Two mistakes, each alone and both at once."""
    for one, other in combinations(thoughts, 2):
        if _part(one) != _part(other):
            yield (one,), (other,), (one, other)


def _wrong(about: About, bare: DiagramView, thoughts: tuple[Thought, ...]) -> WrongDiagram:
    return WrongDiagram(_view(about, bare, thoughts), tuple(mistake for mistake, _ in thoughts))


def _thoughts(about: About) -> Iterator[Thought]:
    """What may be drawn wrong here. Seen from the side, forward on a level circle points out of the page."""
    for mistake, edit in about.of(DrawnEdit):
        if drawn(edit, about.problem, about.diagram):
            yield mistake, edit
    for mistake, extra in about.of(DiagramEdit):
        if extra.way in prompts.MADE_UP and (extra.way != "forward" or not about.view.side_view):
            yield mistake, extra


def _part(thought: Thought) -> str:
    """What a thought changes: a part of the diagram, or nothing that is there."""
    edit = thought[1]
    return edit.force if isinstance(edit, DrawnEdit) else MADE_UP


def _view(about: About, bare: DiagramView, thoughts: Sequence[Thought]) -> DiagramView:
    """The diagram with all of these mistakes, each about another force."""
    forces: dict[str, Force] = {each.role: each for each in about.diagram.forces}
    for edit in (each for _, each in thoughts if isinstance(each, DrawnEdit)):
        after = drawn(edit, about.problem, about.diagram) or about.diagram
        kept = {each.role: each for each in after.forces}
        for role in changed_roles(about.diagram, after):
            forces.pop(role)
            forces |= {role: kept[role]} if role in kept else {}
    in_order = (forces[each.role] for each in about.diagram.forces if each.role in forces)
    after = replace(about.diagram, forces=tuple(in_order))
    view = redrawn(bare, about.problem, after, about.scene)
    made_up = tuple(_made_up(about, edit.way) for _, edit in thoughts if isinstance(edit, DiagramEdit))
    return replace(view, forces=(*view.forces, *made_up))


def _made_up(about: About, way: str) -> ForceView:
    """An arrow that is no force, said to be exerted by something in the story."""
    on_page = axes(about.problem.motion.plane, about.diagram, typical_angle(about.problem, about.diagram))
    page = {"inward": on_page.page(1, 0), "outward": on_page.page(-1, 0), "forward": on_page.page(0, 1)}[way]
    return ForceView(
        _LABELS[way], prompts.MADE_UP[way], agent_of(about), "pushes", page, MADE_UP_LENGTH, words(on_page, page)
    )


def agent_of(about: About) -> str:
    """What touches or holds the body, in the words of the scene; what pulls it where nothing touches it."""
    return about.view.forces[-1].agent


def _told_apart(bare: DiagramView, wrong_ones: Sequence[WrongDiagram]) -> bool:
    """Whether all are told in other words than the right one and each other, and each shows a force."""
    told = {alternative(view) for view in (bare, *(each.view for each in wrong_ones))}
    return len(told) == len(wrong_ones) + 1 and all(each.view.forces for each in wrong_ones)
