"""Questions of two banks that are the same in other words: by their equations, and by how their stems read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import permutations
from typing import Any

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
    found = list(_pairs(first, second))
    for pair in found:
        if pair.likeness == max(each.likeness for each in found if each.second == pair.second):
            yield pair


def _pairs(first: Sequence[Problem], second: Sequence[Problem]) -> Iterable[StemPair]:
    mine, theirs = list(_stems(first)), list(_stems(second))
    best: dict[tuple[str, str], StemPair] = {}
    for one, scene, words in mine:
        for other, other_scene, other_words in theirs:
            if min(len(words), len(other_words)) < LIKE * max(len(words), len(other_words)):
                continue
            share = likeness(words, other_words)
            if share >= LIKE and share > getattr(best.get((one, other)), "likeness", 0.0):
                best[one, other] = StemPair(one, other, share, (scene, other_scene))
    return best.values()


def _stems(problems: Sequence[Problem]) -> Iterator[tuple[str, str, frozenset[str]]]:
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
    def solved(self) -> tuple[SolvedQuestion, ...]:
        """Its questions, without those that have no closed form."""
        return tuple(each for question in self.problem.questions if (each := _solved(self.problem, question)))

    def is_same(self, other: BankSituation) -> bool:
        """Whether every one of its force diagrams is one of the other's but for names; by family without diagrams."""
        if not self.forms or not other.forms:
            return not self.forms and not other.forms and self.problem.family == other.problem.family
        return all(any(renaming(each, one) is not None for one in other.forms) for each in self.forms)


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
