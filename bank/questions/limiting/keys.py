"""Questions about a slight change in a limiting case: what happens to the body, with the wrong ways to think of it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ...item.draw import drawn_number, mixed
from ...item.item import ChoiceEntry, Option, Paragraph, Step, Words
from ...language import capital
from ...model.edit import OutcomeEdit
from ...model.mistake import Mistake
from ...model.problem import Scene
from ...model.wording import with_article
from ...solving.solution import SolvedQuestion
from ...thinking import options
from ...thinking.advice import told_in
from ...thinking.options import FEWEST_WRONG, right, wrong
from ...writing.directions import place_words
from ...writing.letters import head_and_tail, name_of
from ...writing.limit_words import (
    ALIKE,
    ASKING,
    ASKING_OTHERS,
    CHANGED,
    CLOSING,
    MORE,
    NEAR,
    SEEN,
    SETTING,
    THAN,
    WHOM,
    Failure,
    Outcome,
    Rate,
    Seeing,
    Seen,
    Sense,
)  # fmt: skip
from ...writing.stem import asked_name, filled
from ...writing.view import notation_of
from .changes import Turn, turns
from .failures import Limit, failure_of, limit_of, rate_of
from .strips import strip

_HELD: tuple[Seeing, ...] = ("greater", "same", "smaller")
BESIDE_LOST = 2  # outcomes of a motion that goes on, beside two of one that ends
_OPPOSITE: Mapping[Sense, Outcome] = {"greater": "smaller", "smaller": "greater"}


@dataclass(frozen=True)
class NearLimit:
    """The slight changes in the limiting case that one question is asked about."""

    solved: SolvedQuestion
    limit: Limit
    turns: tuple[Turn, ...]

    def asked(self, scene: Scene, turn: Turn) -> PastLimit | None:
        """One of them in a scene; None where nothing is seen to fail there."""
        failure = failure_of(self.solved.problem, self.limit, scene)
        rate = rate_of(self.solved.problem, self.solved.question)
        return PastLimit(self, scene, turn, rate, failure) if failure and rate else None


def near_limit(solved: SolvedQuestion) -> NearLimit | None:
    """What is asked about the limiting case of a question; None where nothing is seen to fail at it."""
    found = limit_of(solved.problem, solved.question)
    return NearLimit(solved, found, turns(solved, found)) if found else None


@dataclass(frozen=True)
class PastLimit:
    """What is asked about one slight change in one scene."""

    near: NearLimit
    scene: Scene
    turn: Turn
    rate: Rate
    failure: Failure

    @property
    def seen(self) -> Seen:
        """What may be seen."""
        return SEEN[self.failure]

    @property
    def gaps(self) -> Mapping[str, str]:
        """What fills the gaps of the sentences."""
        limit = self.near.limit
        body, agent = with_article(self.scene.words[limit.diagram.body], "the"), self.scene.forces[limit.force.role].by
        return {"body": body, "Body": capital(body), "agent": agent, "Agent": capital(agent)}

    @property
    def prompt(self) -> Paragraph:
        """What is asked; a scene has one of two forms. No owner of the rate is named: it is the one of the stem."""
        solved, turn = self.near.solved, self.turn
        forms, more = (ASKING, THAN) if turn.symbol == solved.question.ask else (ASKING_OTHERS, MORE)
        notation = notation_of(solved.problem, self.scene)
        means, tail = head_and_tail(name_of(solved.problem, self.scene, turn.symbol))
        form = 0 if self._is_said_there else self._draw("prompt") % len(forms)
        return filled(
            forms[form], rate=self.rate, end=self._place_of_rate,
            asked=notation.symbol(solved.question.ask), means=means, tail=tail, letter=notation.symbol(turn.symbol),
            more=more[turn.change], whom=self._whom, near=self._near,
        )  # fmt: skip

    def _draw(self, what: str) -> int:
        return drawn_number(self.near.solved.id, self.turn.symbol, self.turn.change, self.scene.name, what)

    @property
    def setting(self) -> Paragraph:
        """What the stem says of the limit in place of its asking."""
        asked = notation_of(self.near.solved.problem, self.scene).symbol(self.near.solved.question.ask)
        about = self.seen.about.format(**self.gaps)
        where = "" if self._is_there else f" {place_words(self.near.limit.diagram)}"
        return filled(SETTING, rate=self.rate, end=self._place_of_rate, asked=asked, about=about, where=where)

    @property
    def _place_of_rate(self) -> str:
        """The place that belongs to the rate: at the top."""
        _, end = head_and_tail(asked_name(self.near.solved.problem, self.near.solved.question, self.scene))
        return "" if end.startswith(" for ") else end

    @property
    def _whom(self) -> str:
        """Whom it happens to; nobody, where it is the cord that is watched."""
        return "" if self.seen.what["lost"].startswith("{Agent}") else WHOM.format(**self.gaps)

    @property
    def _is_there(self) -> bool:
        """Whether the limit is reached where the rate is told, or everywhere on the circle."""
        problem, diagram, ask = self.near.solved.problem, self.near.limit.diagram, self.near.solved.question.ask
        if problem.motion.plane != "vertical" or ask in (problem.motion.speed, diagram.speed):
            return True
        return bool(diagram.place) and ask not in {each.speed for each in problem.diagrams}

    @property
    def _is_said_there(self) -> bool:
        """Whether the rate is told with its place, on a vertical circle: what happens is asked for that place."""
        is_vertical = self.near.solved.problem.motion.plane == "vertical"
        return is_vertical and self._is_there and bool(self._place_of_rate)

    @property
    def _near(self) -> str:
        """Where it happens; what holds exactly at a place is asked for that place, and what ends may end before it."""
        place = place_words(self.near.limit.diagram)
        if self.near.solved.problem.motion.plane != "vertical":
            return ""
        if self._is_said_there:
            return ""
        is_near = not self._is_there and not self.turn.of_mass and place.startswith("at ")
        return NEAR.format(place=place.removeprefix("at ")) if is_near else f" {place}"

    @property
    def why(self) -> str:
        """Why it happens."""
        turn, seen = self.turn, self.seen
        is_lost = turn.outcome == "lost"
        told = seen.beyond if is_lost else seen.edge if turn.of_mass else seen.safe
        ceiling = CHANGED[turn.ceiling] if turn.ceiling else ""
        if turn.ceiling == turn.needed and turn.ceiling in ALIKE:
            ceiling = ALIKE[turn.ceiling].format(how="less" if is_lost == (turn.needed == "greater") else "more")
        return capital(told.format(**self.gaps, needed=CHANGED[turn.needed], ceiling=ceiling))

    @property
    def key(self) -> str:
        """What happens."""
        return self.seen.what[self.turn.outcome].format(**self.gaps)

    @property
    def step(self) -> Step:
        """Why and what, and on a vertical circle the motion drawn: a step that is numbered where it stands."""
        near, problem = self.near, self.near.solved.problem
        drawn = strip(problem, near.limit, self.scene, self.failure, self.turn.outcome, self.gaps)
        return Step(0, CLOSING, ((Words(f"{self.why} {self.key}."),), *drawn))

    def entry(self, catalogue: Sequence[Mistake]) -> ChoiceEntry | None:
        """The choice among what might be seen; None where too few ways of thinking lead to it."""
        offered = [right((Words(f"{self.key}."),), f"Correct. {self.why}"), *self._wrong(catalogue)]
        if len(offered) <= FEWEST_WRONG:
            return None
        draw = f"{self.near.solved.id} limit {self.turn.symbol} {self.turn.change}"
        return ChoiceEntry(self.prompt, options.mixed(offered, draw), shuffle=True)

    def _wrong(self, catalogue: Sequence[Mistake]) -> Iterator[Option]:
        """Other outcomes, each with the mistakes that lead to it."""
        own = told_in(self.near.solved, self.scene, self.near.solved.problem.mistakes_from(catalogue))
        ways: dict[str, Mistake] = {
            each.edit.outcome: each for each in reversed(own) if isinstance(each.edit, OutcomeEdit)
        }
        found: dict[Seeing, list[list[Mistake]]] = {}
        for seeing in self.seen.what:
            thoughts = [[ways[way] for way in both] for both in self._thoughts(seeing) if ways.keys() >= set(both)]
            if seeing != self.turn.outcome and thoughts:
                found[seeing] = thoughts
        for seeing in self._offered(found):
            words = (Words(f"{self.seen.what[seeing].format(**self.gaps)}."),)
            thoughts = found[seeing]
            together = len(thoughts[0]) > 1
            mistakes = thoughts[0] if together else [one for each in thoughts if len(each) == 1 for one in each]
            yield wrong(words, *mistakes, both=together)

    def _offered(self, found: Collection[Seeing]) -> list[Seeing]:
        """The wrong ones: with the key two ways in which the motion ends and two in which it goes on.

        So no option is the only one of its sort, and the options do not settle whether the motion ends. What some
        change of the question does comes first.
        """
        held = mixed([each for each in found if each in _HELD], f"{self.near.solved.id} {self._draw('held')}")
        possible = {each.outcome for each in self.near.turns}
        held.sort(key=lambda each: each not in possible)
        ended = [each for each in found if each not in _HELD]
        if self.turn.outcome == "lost":
            return [*ended, *held[:BESIDE_LOST]]
        return [*ended, *held[:1]]

    def _thoughts(self, seeing: Seeing) -> Iterator[tuple[str, ...]]:
        """What the mistakes say that lead to something wrong: each alone, or two at once.

        The thoughts in symbols: the bound is forgotten, the force is always at its bound, the change works the other
        way, a force is smaller off its bound, a mass cancels everywhere, a heavier body pulls harder.
        """
        turn = self.turn
        is_lost = turn.outcome == "lost"
        opposite = _OPPOSITE.get(turn.needed)
        if seeing == "astray":
            yield (self.seen.path,) if is_lost else ("lost", self.seen.path)
        if seeing == "lost":
            yield ("lost",)
        if is_lost and seeing == (turn.needed if opposite else "greater"):
            yield ("kept",)
        if seeing == turn.ceiling:
            yield ("at-limit",)
        if seeing == "same":
            yield ("cancelled",) if turn.of_mass else ("same",)
        if seeing == opposite:
            yield ("turned", "kept") if turn.ceiling is None and seeing == "smaller" else ("turned",)
        if seeing == "smaller" and turn.outcome == "same" and turn.ceiling:
            yield ("eased",)
        if seeing == "greater" and turn.of_mass:
            yield ("heavier",)
