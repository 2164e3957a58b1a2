"""Same problem or not: situations of different stories, matched where their equations are the same but for names."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import fsum
from typing import TypeAlias, TypeVar

from ..errors import Place
from ..item.draw import mixed
from ..item.item import MatchEntry, Words
from ..limits import budget
from ..mechanics.sameness import EquationForm, form_of, renaming
from ..model.problem import Diagram, Problem, Scene
from ..model.wording import force_words, sentence
from ..writing import match_words
from ..writing.directions import place_words
from ..writing.letters import sense_of
from ..writing.view import DiagramView, view_of

ROWS = 3
TRIED = 40  # draws of who else is there
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
    def holders(self) -> tuple[str, ...]:
        """The kinds of the forces that hold the body, with what exerts them."""
        forces = [(each, force_words(self.scene, each.role)) for each in self.situation.diagram.forces]
        held = ((each, words) for each, words in forces if words and each.law != "weight")
        return tuple(f"{self.scene.kind_of(each)} {words.by}" for each, words in held)

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
    def pairs(self) -> tuple[tuple[ToldStory, ToldStory], ...]:
        """Each row with its column."""
        return tuple((row, self.columns[column]) for row, column in zip(self.rows, self.partners, strict=True))

    @property
    def left_over(self) -> ToldStory:
        """The column that has no row."""
        return next(each for place, each in enumerate(self.columns) if place not in self.partners)

    @property
    def tells(self) -> float:
        """How far it is told by words: what places and holders tell, and how far words in common are from a guess."""
        by_words = (abs(sum(each) - ROWS / (ROWS + 1)) for each in (self.by_words, self.by_rare_words))
        return sum(self.by_places) + sum(self.by_holders) + sum(by_words)

    @cached_property
    def by_words(self) -> tuple[float, ...]:
        """For each row how likely it is got right by who compares the words of the stories, and guesses at ties."""
        return self._by(lambda told: _WORD.findall(told.story.lower()))

    @cached_property
    def by_rare_words(self) -> tuple[float, ...]:
        """The same by who looks for words that few of the columns have: "banked", "at the bottom"."""
        columns = [frozenset(_WORD.findall(each.story.lower())) for each in self.columns]
        rarity = {word: 1 / sum(word in each for each in columns) for each in columns for word in each}

        def shared(row: ToldStory, column: int) -> float:
            both = columns[column].intersection(_WORD.findall(row.story.lower()))
            return round(fsum(rarity[word] for word in both if rarity[word] > 1 / len(columns)), 9)

        return self._guessed(shared)

    @cached_property
    def by_places(self) -> tuple[float, ...]:
        """The same by who compares the words for places alone."""
        return self._by(lambda told: (place_words(told.situation.diagram),))

    @cached_property
    def by_holders(self) -> tuple[float, ...]:
        """The same by who compares what holds the bodies: a cord with a cord, a road with a track."""
        return self._by(lambda told: told.holders)

    def _by(self, words: Callable[[ToldStory], Sequence[str]]) -> tuple[float, ...]:
        columns = [words(each) for each in self.columns]
        return self._guessed(lambda row, column: likeness_of(words(row), columns[column]))

    def _guessed(self, likeness_to: Callable[[ToldStory, int], float]) -> tuple[float, ...]:
        found = []
        for row, partner in zip(self.rows, self.partners, strict=True):
            likeness = [likeness_to(row, column) for column in range(len(self.columns))]
            best = [at for at, each in enumerate(likeness) if each == max(likeness)]
            found.append((partner in best) / len(best))
        return tuple(found)


def likeness_of(first: Sequence[str], second: Sequence[str]) -> float:
    """How many of their words two situations share, 0 to 1."""
    one, other = (frozenset(" ".join(names).split()) for names in (first, second))
    return len(one & other) / len(one | other)


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
