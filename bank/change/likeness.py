"""Questions of two banks that are the same in other words: by their equations, and by how their stems read."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import permutations
from math import ceil
from typing import Any, TypeAlias

from ..errors import SolveError
from ..mechanics.sameness import EquationForm, form_of, renaming
from ..model.problem import Problem, Question
from ..solving.cache import solved_question
from ..solving.solution import SolvedQuestion, samples_of
from .letters import agree_somewhere, relettered
from .words import printed

LIKE = 0.8  # share of common words (Jaccard index) from which two stems count as alike; our choice, by trial
MOST_GIVENS = 6
_WORD = re.compile(r"[^\W\d_]+|\{[^{}]*\}")
_KEPT = frozenset("g")


@dataclass(frozen=True)
class StemPair:
    """Two questions whose stems share ``likeness`` of their words, in the scenes where it is most."""

    first: str
    second: str
    likeness: float
    scenes: tuple[str, str]


def words_of(text: str) -> frozenset[str]:
    """The words of a stem in small letters; every number stands for the same word."""
    found = _WORD.findall(text.lower())
    return frozenset("{}" if each.startswith("{") else each for each in found)


def likeness(first: frozenset[str], second: frozenset[str]) -> float:
    """The Jaccard index: common words as a share of all words of both."""
    either = len(first | second)
    return len(first & second) / either if either else 0.0


def like_stems(first: Sequence[Problem], second: Sequence[Problem]) -> Iterator[StemPair]:
    """The pairs of questions with stems alike; each question of the second bank with those that are most like it."""
    found = list(_pairs(list(_stems(first)), list(_stems(second))))
    most: dict[str, float] = {}
    for pair in found:
        most[pair.second] = max(pair.likeness, most.get(pair.second, 0.0))
    yield from (pair for pair in found if pair.likeness == most[pair.second])


_Stem: TypeAlias = tuple[str, str, frozenset[str]]  # its question, its scene, its words


def _pairs(mine: Sequence[_Stem], theirs: Sequence[_Stem]) -> Iterable[StemPair]:
    best: dict[tuple[str, str], StemPair] = {}
    rare = _Rarest([words for *_, words in theirs])
    for one, scene, words in mine:
        for place in rare.maybe_like(words):
            other, other_scene, other_words = theirs[place]
            share = likeness(words, other_words)
            if share >= LIKE and share > getattr(best.get((one, other)), "likeness", 0.0):
                best[one, other] = StemPair(one, other, share, (scene, other_scene))
    return best.values()


class _Rarest:
    """Sets of words by their rarest ones: two sets that are alike have one of these in common.

    Of two sets that share so much, neither has more words without a partner than ``unpaired``; so among one more than
    that, in whatever order both are taken, there is one that the other has among its own. The rarest first leave the
    fewest sets to compare.
    """

    def __init__(self, sets: Sequence[frozenset[str]]) -> None:
        self._often = Counter(word for each in sets for word in each)
        self._sets = sets
        self._held: dict[str, list[int]] = {}
        for place, words in enumerate(sets):
            for word in self._first(words):
                self._held.setdefault(word, []).append(place)

    def _first(self, words: frozenset[str]) -> list[str]:
        unpaired = len(words) - ceil(LIKE * len(words) - 1e-9)
        return sorted(words, key=lambda word: (self._often[word], word))[: unpaired + 1]

    def maybe_like(self, words: frozenset[str]) -> list[int]:
        """The places of the sets that may be alike, in order."""
        found = {place for word in self._first(words) for place in self._held.get(word, ())}
        size = len(words)
        return sorted(
            place for place in found if min(size, len(self._sets[place])) >= LIKE * max(size, len(self._sets[place]))
        )


def _stems(problems: Sequence[Problem]) -> Iterator[_Stem]:
    for problem in problems:
        for question in problem.questions:
            for scene in problem.scenes_of(question):
                yield f"{problem.id}.{question.name}", scene.name, words_of(printed(question, scene))


# --- by equation ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class BankSituation:
    """A problem with its force equations and its solved questions, each found once and only where it is needed."""

    problem: Problem

    @cached_property
    def forms(self) -> tuple[EquationForm, ...]:
        """The force equations of its diagrams."""
        found = (form_of(self.problem, diagram) for diagram in self.problem.diagrams)
        return tuple(each for each in found if each is not None)

    @cached_property
    def uses(self) -> tuple[object, ...]:
        """How names stand in the equations of each diagram: alike where two of them are one but for names."""
        return tuple((len(each.equations), each.kinds) for each in self.forms)

    @cached_property
    def solved(self) -> tuple[SolvedQuestion, ...]:
        """Its questions, without those that have no closed form."""
        return tuple(each for question in self.problem.questions if (each := _solved(self.problem, question)))

    def is_same(self, other: BankSituation) -> bool:
        """Whether every one of its force diagrams is one of the other's but for names; by family without diagrams."""
        if not self.forms or not other.forms:
            return not self.forms and not other.forms and self.problem.family == other.problem.family
        return all(any(renaming(each, one) is not None for one in other.forms) for each in self.forms)


class SituationIndex:
    """Situations of a bank by how names stand in their equations, so that only those are compared that may be one."""

    def __init__(self, situations: Iterable[BankSituation]) -> None:
        self._known = list(situations)
        self._with: dict[object, list[int]] = {}
        for place, each in enumerate(self._known):
            self._with.setdefault(each.uses[0] if each.uses else each.problem.family, []).append(place)

    def like(self, other: BankSituation) -> list[BankSituation]:
        """Those of which every diagram may be one of the other's, in order; of one family where there is none."""
        wanted = set(other.uses)
        places = [place for use in wanted or {other.problem.family} for place in self._with.get(use, ())]
        return [self._known[place] for place in sorted(places) if wanted.issuperset(self._known[place].uses)]


def same_equations(first: BankSituation, second: BankSituation) -> list[tuple[str, str]]:
    """(question, question) where two problems of the same force equations ask the same, but for names."""
    if not first.is_same(second):
        return []
    return [(one.id, other.id) for one in first.solved for other in second.solved if _is_same_question(one, other)]


def _solved(problem: Problem, question: Question) -> SolvedQuestion | None:
    try:
        return solved_question(problem, question)
    except SolveError:
        return None


def _is_same_question(one: SolvedQuestion, other: SolvedQuestion) -> bool:
    """Whether closed forms agree under some renaming among givens of one dimension, and both are limits or neither."""
    asks_alike = _dimension(one, one.question.ask) == _dimension(other, other.question.ask)
    is_edge = (one.question.limiting is None) == (other.question.limiting is None)
    if not (asks_alike and is_edge):
        return False
    return any(_agree(one, other, names) for names in _renamings(one, other))


def _dimension(solved: SolvedQuestion, symbol: str) -> tuple[str, bool]:
    unit = solved.problem.quantities[symbol].unit
    return unit.dimension, unit.counts_angle


def _renamings(one: SolvedQuestion, other: SolvedQuestion) -> Iterator[Mapping[str, str]]:
    mine, theirs = (sorted(each.solution.symbols - _KEPT) for each in (one, other))
    if len(mine) != len(theirs) or len(mine) > MOST_GIVENS:
        return
    for order in permutations(theirs):
        pairs = list(zip(mine, order, strict=True))
        if all(_dimension(one, a) == _dimension(other, b) for a, b in pairs):
            yield dict(pairs)


def _agree(one: SolvedQuestion, other: SolvedQuestion, names: Mapping[str, str]) -> bool:
    samples: dict[str, Any] = {
        names.get(name, name): values for name, values in samples_of(one.problem, one.question).items()
    }
    form = relettered(one.solution.closed_form, names)
    return agree_somewhere(form, other.solution.closed_form, samples, samples_of(other.problem, other.question))
