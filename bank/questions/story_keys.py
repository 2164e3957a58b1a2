"""Same problem or not: situations of different stories, matched where their equations are the same but for names."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias, TypeVar

from ..errors import Place
from ..item.item import MatchEntry, Paragraph, Step, Words
from ..language import capital
from ..limits import budget
from ..mechanics.equations import force_equations
from ..mechanics.sameness import EquationForm, form_of, renaming
from ..model.problem import Diagram, Problem, Scene
from ..writing import prompts
from ..writing.stem import filled
from ..writing.view import DiagramView, notation_of, view_of

ROWS = 3
_Any = TypeVar("_Any")


@dataclass(frozen=True)
class Situation:
    """A diagram of a problem, with its equations."""

    problem: Problem
    diagram: Diagram
    form: EquationForm


Groups: TypeAlias = tuple[tuple[Situation, ...], ...]


def alike(problems: Sequence[Problem]) -> Groups:
    """All situations of a bank in groups: those of one group are the same problem, no two groups are."""
    groups: list[list[Situation]] = []
    for problem in problems:
        with budget.within(problem.document, problem.id, Place(problem.document.file), budget.seconds()):
            for diagram in problem.diagrams:
                _join(groups, problem, diagram)
    return tuple(map(tuple, groups))


def _join(groups: list[list[Situation]], problem: Problem, diagram: Diagram) -> None:
    """Put a situation to those that are the same problem, or into a group of its own."""
    form = form_of(problem, diagram)
    if form is None:
        return
    own = next((group for group in groups if renaming(form, group[0].form) is not None), None)
    if own is None:
        groups.append([])
        own = groups[-1]
    own.append(Situation(problem, diagram, form))


@dataclass(frozen=True)
class Matching:
    """Rows and columns of situations, each in the scene that it is told in; ``partners[row]`` is a row's column."""

    rows: tuple[ToldStory, ...]
    columns: tuple[ToldStory, ...]
    partners: tuple[int, ...]

    @property
    def entry(self) -> MatchEntry:
        """The entry to be answered."""
        rows, columns = ([(Words(each.story),) for each in side] for side in (self.rows, self.columns))
        return MatchEntry((Words(prompts.MATCH),), tuple(rows), tuple(columns), self.partners, prompts.MATCH_FEEDBACK)

    @property
    def step(self) -> Step:
        """The equations of each pair side by side, as the fourth step of the solution."""
        pairs = ((row, self.columns[column]) for row, column in zip(self.rows, self.partners, strict=True))
        told = (paragraph for row, column in pairs for paragraph in (row.equations, column.equations))
        return Step(4, prompts.MATCH_STEP, tuple(told))


@dataclass(frozen=True)
class ToldStory:
    """A situation in one of its scenes."""

    situation: Situation
    scene: Scene

    @property
    def view(self) -> DiagramView:
        """What is to be seen."""
        return view_of(self.situation.problem, self.situation.diagram, self.scene)

    @property
    def story(self) -> str:
        """What it is about: the title, the body and its place, and the forces on it."""
        view = self.view
        forces = (prompts.FORCE_OF_SITUATION.format(force=each.name, agent=each.agent) for each in view.forces)
        title = self.situation.problem.title
        return prompts.SITUATION.format(title=title, body=view.body, place=view.place, forces=", ".join(forces))

    @property
    def equations(self) -> Paragraph:
        """Its equations of net force, in the symbols of its scene."""
        problem = self.situation.problem
        notation = notation_of(problem, self.scene)
        found = force_equations(problem, self.situation.diagram, frozenset())
        first, *more = [notation.equation(each.terms, each.right) for each in found if each.kind in ("inward", "up")]
        sentence = prompts.ITS_EQUATIONS if more else prompts.ITS_EQUATION
        second = {"second": more[0]} if more else {}
        return filled(sentence, Body=capital(self.view.body), place=self.view.place, equation=first, **second)


def match(own: Situation, scene: Scene, groups: Groups, draw: str) -> Matching | None:
    """Three situations, ``own`` among them, to be matched with four others; None where the bank has too few.

    ``draw`` names the draw: it decides alike on every machine who else is there, and their order.
    """
    chosen = _chosen(own, groups, draw)
    if chosen is None:
        return None
    pairs, left_over = chosen

    def told(each: Situation) -> ToldStory:
        return ToldStory(each, scene if each is own else _mixed(each.problem.scenes, draw, lambda one: one.name)[0])

    rows = _mixed(pairs, draw, lambda pair: _name(pair[0]))
    columns = _mixed([*(partner for _, partner in pairs), left_over], draw, _name)
    partners = tuple(columns.index(partner) for _, partner in rows)
    return Matching(tuple(told(first) for first, _ in rows), tuple(map(told, columns)), partners)


def _chosen(own: Situation, groups: Groups, draw: str) -> tuple[list[tuple[Situation, Situation]], Situation] | None:
    """Pairs of different problems from three groups, own first, and a situation from a fourth; no problem twice."""
    seen = {own.problem.id}
    mine = next(group for group in groups if own in group)
    others = _mixed([group for group in groups if group is not mine], draw, lambda group: _name(group[0]))
    pairs: list[tuple[Situation, Situation]] = []
    for group in (mine, *others):
        first = own if group is mine else _fresh(group, seen, draw)
        partner = _fresh(group, seen | {first.problem.id}, draw) if first else None
        if first and len(pairs) == ROWS:
            return pairs, first
        if first and partner:
            pairs.append((first, partner))
            seen |= {first.problem.id, partner.problem.id}
        elif group is mine:
            return None
    return None


def _fresh(group: Sequence[Situation], seen: set[str], draw: str) -> Situation | None:
    """A situation of a problem that is not there yet."""
    return next((each for each in _mixed(group, draw, _name) if each.problem.id not in seen), None)


def _mixed(things: Sequence[_Any], draw: str, name: Callable[[_Any], str]) -> list[_Any]:
    return sorted(things, key=lambda each: hashlib.sha256(f"{draw} {name(each)}".encode()).digest())


def _name(situation: Situation) -> str:
    return f"{situation.problem.id} {situation.diagram.name}"
