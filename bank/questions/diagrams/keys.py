"""Which force diagram is right: wrong ones with a force missing, turned, put another way or made up, or two such."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from typing import TypeAlias

from ...drawing.layout import side_of_surface
from ...item.draw import drawn_number
from ...item.formula import Row, Symbol, text
from ...item.item import ChoiceEntry, Math
from ...mechanics.equations import terms_along
from ...model.edit import DiagramEdit, DrawnEdit
from ...model.mistake import Mistake
from ...model.once import once
from ...model.problem import Force
from ...thinking.force_edits import changed_roles, drawn, part_of
from ...thinking.options import mixed
from ...writing import prompts
from ...writing.directions import axes, words
from ...writing.figure_words import alternative
from ...writing.stem import filled
from ...writing.view import DiagramView, ForceView, notation_of, redrawn, typical_angle
from ..about import About
from .sets import DrawnDiagram, chosen

MOST_WRONG = 3
ODD = 3  # one question of so many has a diagram with an arrow too many or too few for certain: a made-up force is one
FEWEST_FAIR = 2  # wrong diagrams of a step have as many arrows as the right one
LESS_FAIR = 6.0  # what counts against equations for each wrong diagram that lacks beside them
# How often the right diagram of a step has each place among those with its arrows, from the least like all to the most.
# Few wrong ones go with the equations, and many scenes leave it the least place or the most, few one between: these
# numbers make up for that over the shipped bank.
STEP_PLACES: Mapping[int, Sequence[float]] = {4: (2.0, 4.0, 4.0, 3.0), 3: (4.0, 4.0, 3.0)}
OUTWARD = "outward"  # in place of a left-hand side: all of its terms are negative
MADE_UP, MADE_UP_LENGTH = "made up", 0.6  # an arrow that is no force
_LABELS = {"inward": Symbol("F", "c"), "outward": Symbol("F", "out"), "forward": Symbol("F", "fwd")}

Thought: TypeAlias = tuple[Mistake, DrawnEdit | DiagramEdit]


def diagram(about: About) -> ChoiceEntry | None:
    """Which force diagram is right; None for a body at rest, and where too few wrong ones can be drawn."""
    bare = bare_view(about)
    if bare.inward is None:
        return None
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name} diagram"
    odd = drawn_number(f"{draw} odd") % ODD == 0
    return _entry(about, [DrawnDiagram(bare), *_wrong_diagrams(about, bare)], draw, {}, odd=odd, at_rest=True)


@dataclass(frozen=True)
class DiagramStep:
    """Which force diagram is right, where the options of the next step are equations.

    Only such wrong diagrams are offered as lead to an equation of that step: another one would be ruled out by them.
    One with no force towards the centre leads to an equation that is never offered (its sum is negative), and is told
    as wrong by that alone, whatever the equations are. ``of`` is the question that it is a step of.
    """

    about: About
    of: str

    def against(self, left_sides: Set[str]) -> float | None:
        """What counts against equations with these left-hand sides; None where they rule out too many diagrams.

        The right one is most like the others beside three with one mistake each, and least like them beside three with
        two each: what lacks of these counts.
        """
        numbers = (self._numbers.get(side, (0, 0, 0)) for side in {OUTWARD, *left_sides})
        odd, single, double = map(sum, zip(*numbers, strict=True))
        if odd + single + double < MOST_WRONG or single + double < FEWEST_FAIR:
            return None
        return LESS_FAIR * sum(max(MOST_WRONG - number, 0) for number in (single, double))

    def entry(self, equation: ChoiceEntry) -> ChoiceEntry | None:
        """The choice beside these equations; None where they leave too few wrong diagrams with as many arrows.

        Of a body with one force there is one such diagram; the right one would stand between it and any other.
        """
        fitting = self._fitting(_left_sides(equation))
        fair = sum(not each.is_odd for each in fitting)
        if self._bare.inward is None or fair < FEWEST_FAIR:
            return None
        draw = f"{self.about.problem.id} {self.about.diagram.name} {self.about.scene.name} {self.of} step"
        return _entry(self.about, [DrawnDiagram(self._bare), *fitting], draw, STEP_PLACES)

    def _fitting(self, left_sides: Set[str]) -> list[DrawnDiagram]:
        return [each for each, side in self._wrong if side == OUTWARD or side in left_sides]

    @cached_property
    def _numbers(self) -> Mapping[str, tuple[int, int, int]]:
        """By left-hand sides, how many wrong diagrams lead there: odd ones, fair ones of one mistake and of two."""
        found = Counter((side, 0 if each.is_odd else len(each.mistakes)) for each, side in self._wrong)
        return {side: (found[side, 0], found[side, 1], found[side, 2]) for side, _ in found}

    @cached_property
    def _bare(self) -> DiagramView:
        return bare_view(self.about)

    @cached_property
    def _wrong(self) -> Sequence[tuple[DrawnDiagram, str]]:
        """The wrong diagrams, each with the left-hand side of the equation that it leads to."""
        found = _wrong_diagrams(self.about, self._bare)
        return once(self.about, "lead to", lambda: [(each, _leads_to(self.about, each)) for each in found], self._bare)


def _entry(
    about: About,
    known: Sequence[DrawnDiagram],
    draw: str,
    often: Mapping[int, Sequence[float]],
    *,
    odd: bool = False,
    at_rest: bool = False,
) -> ChoiceEntry | None:
    """The choice between the right diagram, which is the first, and some wrong ones; None where there are too few.

    ``often``, ``odd`` and ``at_rest`` are what it is ``chosen`` by.
    """
    places = chosen(known, draw, MOST_WRONG, often, odd=odd, at_rest=at_rest)
    if not places:
        return None
    options = [known[place].option for place in (0, *places)]
    asked = prompts.WHICH_MAY_BE if about.either_way else prompts.WHICH_DIAGRAM
    prompt = filled(asked, body=about.body, place=about.view.place)
    return ChoiceEntry(prompt, mixed(options, draw), shuffle=True)


def _left_sides(equation: ChoiceEntry) -> set[str]:
    """The left-hand sides of the equations that are offered."""
    contents = (option.content for option in equation.options if isinstance(option.content, tuple))
    nodes = (part.node for content in contents for part in content if isinstance(part, Math))
    return {text(node.parts[0]) for node in nodes if isinstance(node, Row)}


def _leads_to(about: About, wrong_one: DrawnDiagram) -> str:
    """The left-hand side of the equation that a wrong diagram leads to, or that it is all negative.

    "" where it has a force that is none, or no force along the radius.
    """
    diagram = about.diagram
    for mistake in wrong_one.mistakes:
        if isinstance(mistake.edit, DiagramEdit) and mistake.edit.way != "forward":
            return ""
        if isinstance(mistake.edit, DrawnEdit):
            diagram = drawn(mistake.edit, about.problem, diagram) or diagram
    terms = tuple(terms_along(about.problem, diagram, "inward"))
    if terms and all(each.could_extract_minus_sign() for each in terms):
        return OUTWARD
    return text(notation_of(about.problem, about.scene).sum(terms)) if terms else ""


def bare_view(about: About) -> DiagramView:
    """The diagram without its acceleration; the body stays on its side of the surface, whatever is drawn wrong.

    An angle of a force that leans would tell which way it does.
    """
    return once(about, "bare", lambda: _bare_view(about))


def _bare_view(about: About) -> DiagramView:
    angles = () if about.diagram.tilt else about.view.angles
    bare = replace(about.view, acceleration=None, acceleration_words="", angles=angles)
    return replace(bare, normal=None if bare.surface is None else side_of_surface(bare, bare.surface))


def _wrong_diagrams(about: About, bare: DiagramView) -> Sequence[DrawnDiagram]:
    """What is drawn with one mistake, or with two about different forces: each told in other words than all before."""
    return once(about, "wrong diagrams", lambda: tuple(_told_apart(about, bare)), bare)


def _told_apart(about: About, bare: DiagramView) -> Iterator[DrawnDiagram]:
    thoughts = list(_thoughts(about))
    pairs = (pair for pair in combinations(thoughts, 2) if _part(pair[0]) != _part(pair[1]))
    told = {alternative(bare)}
    for each in (*((thought,) for thought in thoughts), *pairs):
        made = _wrong(about, bare, each)
        words_of_it = alternative(made.view)
        if made.view.forces and words_of_it not in told:
            told.add(words_of_it)
            yield made


def _wrong(about: About, bare: DiagramView, thoughts: tuple[Thought, ...]) -> DrawnDiagram:
    edits = [edit for _, edit in thoughts]
    return DrawnDiagram(
        _view(about, bare, thoughts),
        tuple(mistake for mistake, _ in thoughts),
        is_odd=any(isinstance(edit, DiagramEdit) or edit.way == "missing" for edit in edits),
        weight_turned=any(
            _part(each) == "weight" and edit.way != "missing" for each, edit in zip(thoughts, edits, strict=True)
        ),
        as_at_rest=all(_part(each) not in ("weight", "floor") for each in thoughts),
    )


def _thoughts(about: About) -> Iterator[Thought]:
    """What may be drawn wrong here. Seen from the side, forward on a level circle points out of the page."""
    for mistake, edit in about.of(DrawnEdit):
        if drawn(edit, about.problem, about.diagram) and not _may_be_so(about, edit):
            yield mistake, edit
    for mistake, extra in about.of(DiagramEdit):
        if extra.way in prompts.MADE_UP and (extra.way != "forward" or not about.view.side_view):
            yield mistake, extra


def _may_be_so(about: About, edit: DrawnEdit) -> bool:
    """Whether the force may point that way, or vanish, at another speed: a rod pushes or pulls at the top."""
    is_it = any(part_of(about.diagram, each) == edit.force for each in about.either_way)
    return is_it and edit.way in ("turned", "missing")


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
    """An arrow that is no force: nothing is said to exert it."""
    on_page = axes(about.problem.motion.plane, about.diagram, typical_angle(about.problem, about.diagram))
    page = {"inward": on_page.page(1, 0), "outward": on_page.page(-1, 0), "forward": on_page.page(0, 1)}[way]
    return ForceView(_LABELS[way], prompts.MADE_UP[way], "", "pushes", page, MADE_UP_LENGTH, words(on_page, page))
