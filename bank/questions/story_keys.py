"""Same problem or not: situations of different stories, matched where their equations are the same but for names."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias, TypeVar

import sympy

from ..errors import Place
from ..item.draw import mixed
from ..item.formula import Node
from ..item.item import MatchEntry, Paragraph, Step, Words
from ..language import capital
from ..limits import budget
from ..mechanics.sameness import RADIUS, SPEED, EquationForm, form_of, renaming
from ..model.problem import Diagram, Problem, Scene
from ..model.wording import force_words, sentence
from ..writing import match_words
from ..writing.directions import place_words, placeless
from ..writing.letters import sense_of
from ..writing.notation import Notation
from ..writing.stem import filled
from ..writing.view import DiagramView, view_of

ROWS = 3
TRIED = 24  # draws of who else is there
_PLACED = ("top", "bottom", "side", "angle")  # of a vertical circle, on which forces change from place to place
_WORD = re.compile(r"[a-z]+")
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
    if form is None or _is_either_way(problem, diagram):
        return
    own = next((group for group in groups if renaming(form, group[0].form) is not None), None)
    if own is None:
        groups.append([])
        own = groups[-1]
    own.append(Situation(problem, diagram, form))


def _is_either_way(problem: Problem, diagram: Diagram) -> bool:
    """Whether a force may act either way, as that of a rod: its story does not tell the sign that it has."""
    return any(sense_of(problem, force.symbol) for force in diagram.forces if force.symbol)


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
        """What it is about: the story, with the body and the place that are meant where there are several."""
        diagram, problem = self.situation.diagram, self.situation.problem
        several = len({each.body for each in problem.diagrams}) > 1
        told = match_words.OF_SEVERAL if several else match_words.SITUATION
        if diagram.spot in _PLACED and not diagram.place:
            told = match_words.AT_A_PLACE
        view = self.view
        return told.format(story=sentence(self.scene.story, self.scene), body=view.body, place=view.place)

    @property
    def body(self) -> str:
        """What its body is called."""
        return self.scene.words[self.situation.diagram.body]


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
        return MatchEntry((Words(match_words.MATCH),), tuple(rows), tuple(columns), self.partners, match_words.FEEDBACK)

    @property
    def step(self) -> Step:
        """What each pair shares, as a step of the solution; its number is given where it stands."""
        pairs = ((row, self.columns[column]) for row, column in zip(self.rows, self.partners, strict=True))
        return Step(0, match_words.HEADING, tuple(paragraph for pair in pairs for paragraph in _shared(*pair)))

    @property
    def tells(self) -> float:
        """How far it is told by words: what words for places tell, and how far words in common are from a guess."""
        return sum(self.by_places) + abs(sum(self.by_words) - ROWS / (ROWS + 1))

    @cached_property
    def by_words(self) -> tuple[float, ...]:
        """For each row how likely it is got right by who compares the words of the stories, and guesses at ties."""
        return self._by(lambda told: _WORD.findall(told.story.lower()))

    @cached_property
    def by_places(self) -> tuple[float, ...]:
        """The same by who compares the words for places alone."""
        return self._by(lambda told: (place_words(told.situation.diagram),))

    def _by(self, words: Callable[[ToldStory], Sequence[str]]) -> tuple[float, ...]:
        columns = [words(each) for each in self.columns]
        found = []
        for row, partner in zip(self.rows, self.partners, strict=True):
            likeness = [likeness_of(words(row), each) for each in columns]
            best = [at for at, each in enumerate(likeness) if each == max(likeness)]
            found.append((partner in best) / len(best))
        return tuple(found)


def likeness_of(first: Sequence[str], second: Sequence[str]) -> float:
    """How many of their words two situations share, 0 to 1."""
    one, other = (frozenset(" ".join(names).split()) for names in (first, second))
    return len(one & other) / len(one | other)


# --- what a pair shares -----------------------------------------------------------------------------


def _shared(first: ToldStory, second: ToldStory) -> Iterator[Paragraph]:
    """The equations of a pair in neutral letters, and what each letter of a force is in either story."""
    one, other = first.situation, second.situation
    letters = _neutral(one)
    form = one.form.renamed(letters)
    moving = sympy.Symbol("m") * sympy.Symbol("v") ** 2 / sympy.Symbol("r")
    inward, across = (each.xreplace({SPEED: sympy.Symbol("v"), RADIUS: sympy.Symbol("r")}) for each in form.equations)
    notation = Notation()
    views = first.view, second.view
    gaps: dict[str, str | Node] = {
        "Body": capital(views[0].body),
        "place": views[0].place,
        "other_body": views[1].body,
        "other_place": views[1].place,
        "equation": notation.equation(sympy.expand(inward + moving), moving),
    }
    if across == 0:
        yield filled(match_words.SHARED_ONE, **gaps)
    else:
        yield filled(match_words.SHARED_TWO, **gaps, second=notation.equation(across, sympy.Integer(0)))
    for name, partner in (renaming(one.form, other.form) or {}).items():
        told = _force(first, name), _force(second, partner)
        if told[0] and told[1]:
            yield _stands_for(notation.symbol(letters[name]), *told[0], *told[1])


def _stands_for(letter: Node, name: str, agent: str, other_name: str, other_agent: str) -> Paragraph:
    """What a letter is in either story."""
    if name == other_name:
        return filled(match_words.STANDS_FOR_ALIKE, letter=letter, name=name, first=agent, second=other_agent)
    first, second = (
        match_words.FORCE.format(force=force, agent=by) for force, by in ((name, agent), (other_name, other_agent))
    )
    return filled(match_words.STANDS_FOR, letter=letter, first=first, second=second)


def _neutral(situation: Situation) -> dict[str, str]:
    """Letters that belong to neither story: m, θ, and F for a force or F_1, F_2 for several."""
    diagram = situation.diagram
    forces = [each.symbol for each in diagram.forces if each.symbol in situation.form.names]
    numbered = forces if len(forces) > 1 else ()
    named = {symbol: f"F_{place}" for place, symbol in enumerate(numbered, 1)} or dict.fromkeys(forces, "F")
    angles = {name: "theta" for name in (diagram.angle, diagram.tilt) if name in situation.form.names}
    return {name: new for name, new in {**named, **angles, diagram.mass: "m"}.items() if name}


def _force(told: ToldStory, symbol: str) -> tuple[str, str] | None:
    """The force of that symbol and its agent: ``tension``, ``the cord``; None where it is no force."""
    for force in told.situation.diagram.forces:
        shown = force_words(told.scene, force.role)
        if force.symbol == symbol and shown:
            return placeless(told.situation.diagram, shown.name), shown.by
    return None


# --- who stands beside whom -------------------------------------------------------------------------


def match(own: Situation, scene: Scene, groups: Groups, draw: str) -> Matching | None:
    """Three situations, ``own`` among them, to be matched with four others; None where the bank has too few.

    ``draw`` names the draw: it decides alike on every machine who else is there, and their order. Of several draws the
    one is taken in which words tell least.
    """
    tried = (_matching(own, scene, groups, f"{draw} {number}") for number in range(TRIED))
    return min(filter(None, tried), key=lambda each: each.tells, default=None)


def _matching(own: Situation, scene: Scene, groups: Groups, draw: str) -> Matching | None:
    chosen = _chosen(own, groups, draw)
    if chosen is None:
        return None
    pairs, left_over = chosen

    known = [ToldStory(own, scene)]

    def told(each: Situation) -> ToldStory:
        """The situation in one of its scenes, one whose body has a name of its own where there is such."""
        if each is own:
            return known[0]
        stories = [ToldStory(each, one) for one in mixed(each.problem.scenes, draw, lambda one: one.name)]
        names = {one.body for one in known}
        known.append(next((one for one in stories if one.body not in names), stories[0]))
        return known[-1]

    rows = mixed(pairs, draw, lambda pair: _name(pair[0]))
    columns = mixed([*(partner for _, partner in pairs), left_over], draw, _name)
    partners = tuple(columns.index(partner) for _, partner in rows)
    return Matching(tuple(told(first) for first, _ in rows), tuple(map(told, columns)), partners)


def _chosen(own: Situation, groups: Groups, draw: str) -> tuple[list[tuple[Situation, Situation]], Situation] | None:
    """Pairs of different problems from three groups, own first, and a situation from a fourth; no problem twice."""
    seen = {own.problem.id}
    mine = next(group for group in groups if own in group)
    others = mixed([group for group in groups if group is not mine], draw, lambda group: _name(group[0]))
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
    return next((each for each in mixed(group, draw, _name) if each.problem.id not in seen), None)


def _name(situation: Situation) -> str:
    return f"{situation.problem.id} {situation.diagram.name}"
