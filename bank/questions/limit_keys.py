"""Questions about a slight change in a limiting case: what happens to the body, with the wrong ways to think of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..item.draw import lot
from ..item.item import ChoiceEntry, Option, Paragraph, Step, Words
from ..language import capital
from ..model.edit import OutcomeEdit
from ..model.mistake import Mistake
from ..model.problem import Scene
from ..model.wording import with_article
from ..solving.solution import SolvedQuestion
from ..thinking.options import FEWEST_WRONG, mixed, right, wrong
from ..writing.letters import head_and_tail, name_of
from ..writing.limit_words import ASKING, ASKING_OTHERS, AT, CLOSING, MORE, SEEN, Outcome, Rate, Seeing, Seen, Sense
from ..writing.stem import asked_name, filled
from ..writing.view import notation_of
from .limit_changes import Turn, turns
from .limit_failures import Limit, failure_of, limit_of, rate_of

OFFERED = 4
LEAST_RIGHT = 3
FILLING: tuple[Seeing, ...] = ("astray", "greater", "same", "smaller")  # offered though no change of a question does it
SELDOM = 3  # once in so many questions, or always where a question has fewer than three outcomes of its own
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
        return PastLimit(self, scene, turn, rate, SEEN[failure]) if failure and rate else None


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
    seen: Seen

    @property
    def gaps(self) -> Mapping[str, str]:
        """What fills the gaps of the sentences."""
        limit = self.near.limit
        body, agent = with_article(self.scene.words[limit.diagram.body], "the"), self.scene.forces[limit.force.role].by
        return {"body": body, "Body": capital(body), "agent": agent, "Agent": capital(agent)}

    @property
    def prompt(self) -> Paragraph:
        """What is asked; a scene has one of two forms."""
        solved, turn = self.near.solved, self.turn
        draw = lot(solved.id, turn.symbol, turn.change, self.scene.name)
        name = asked_name(solved.problem, solved.question, self.scene)
        if turn.symbol == solved.question.ask:
            forms = ASKING[self.rate, turn.change]
            return filled(forms[draw[0] % len(forms)], name=name, **self.gaps)
        form = ASKING_OTHERS[draw[0] % len(ASKING_OTHERS)]
        notation = notation_of(solved.problem, self.scene)
        means, tail = head_and_tail(name_of(solved.problem, self.scene, turn.symbol))
        head, end = head_and_tail(name)
        return filled(
            form, at=AT[self.rate], name=head, end=end, asked=notation.symbol(solved.question.ask), means=means,
            tail=tail, letter=notation.symbol(turn.symbol), more=MORE[turn.change], **self.gaps,
        )  # fmt: skip

    @property
    def why(self) -> str:
        """Why it happens."""
        turn, seen = self.turn, self.seen
        told = seen.beyond if turn.outcome == "lost" else seen.edge if turn.of_mass else seen.safe
        return capital(told.format(**self.gaps))

    @property
    def key(self) -> str:
        """What happens."""
        return self.seen.what[self.turn.outcome].format(**self.gaps)

    @property
    def step(self) -> Step:
        """Why and what, as a step of the solution; its number is given where it stands."""
        return Step(0, CLOSING, ((Words(f"{self.why} {self.key}."),),))

    def entry(self, catalogue: Sequence[Mistake]) -> ChoiceEntry | None:
        """The choice among what might be seen; None where too few ways of thinking lead to it."""
        options = [right((Words(f"{self.key}."),), f"Right. {self.why}"), *self._wrong(catalogue)]
        if len(options) <= FEWEST_WRONG:
            return None
        draw = f"{self.near.solved.id} limit {self.turn.symbol} {self.turn.change}"
        return ChoiceEntry(self.prompt, mixed(options, draw), shuffle=True)

    def _wrong(self, catalogue: Sequence[Mistake]) -> Iterator[Option]:
        """What other changes of the question would do, and seldom something else: no outcome is offered to be wrong."""
        own = self.near.solved.problem.mistakes_from(catalogue)
        ways: dict[str, Mistake] = {
            each.edit.outcome: each for each in reversed(own) if isinstance(each.edit, OutcomeEdit)
        }
        others = [each.outcome for each in self.near.turns]
        first, place, *_ = lot(self.near.solved.id)
        fills = not first % SELDOM or len(others) < LEAST_RIGHT
        filling = [*FILLING[place % len(FILLING) :], *FILLING[: place % len(FILLING)]] if fills else []
        made = 1
        for seeing in dict.fromkeys((*others, *filling)):
            thoughts = [[ways[way] for way in both] for both in self._thoughts(seeing) if ways.keys() >= set(both)]
            if made < OFFERED and seeing != self.turn.outcome and seeing in self.seen.what and thoughts:
                words = (Words(f"{self.seen.what[seeing].format(**self.gaps)}."),)
                together = len(thoughts[0]) > 1
                mistakes = thoughts[0] if together else [one for each in thoughts if len(each) == 1 for one in each]
                yield wrong(words, *mistakes, both=together)
                made += 1

    def _thoughts(self, seeing: Seeing) -> Iterator[tuple[str, ...]]:
        """What the mistakes say that lead to something wrong: each alone, or two at once.

        The thoughts in symbols: the bound is forgotten, the force is always at its bound, the change works the other
        way, a force is smaller off its bound, a mass cancels everywhere, a heavier body pulls harder.
        """
        turn = self.turn
        is_lost = turn.outcome == "lost"
        opposite = _OPPOSITE.get(turn.needed)
        if seeing == "astray":
            slides = self.scene.kind_of(self.near.limit.force) == "friction"
            way = "with-friction" if slides else "straight"
            yield (way,) if is_lost else ("lost", way)
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
