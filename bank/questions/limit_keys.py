"""Questions about a value just past a limit: what fails there, and on which side, from the bound itself."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal, TypeAlias

import numpy as np
import sympy

from ..item.item import ChoiceEntry, Option, Paragraph, Step, Words
from ..language import capital
from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import System, components, system_of
from ..model.bounds import ONE_WAY, ceiling_of, kinds_of, sides
from ..model.edit import OutcomeEdit
from ..model.evaluation import evaluate
from ..model.mistake import Mistake
from ..model.once import once
from ..model.problem import Diagram, Force, Problem, Question, Reason, Scene
from ..model.wording import with_article
from ..solving.cache import cached_sign
from ..solving.serial import dump_sign, sign_from
from ..solving.solution import Sign, SolvedQuestion, gap, samples_of, sign_of
from ..storage.entries import Tree
from ..thinking.options import mixed, right, wrong
from ..writing.limit_words import ASKING, CLOSING, SEEN, Change, Failure, Rate, Seen
from ..writing.stem import asked_name, filled

Outcome: TypeAlias = Literal["kept", "lost"]
STEP = 1.1  # how much faster or slower than the limit
CHANGES: Mapping[Change, float] = {"more": STEP, "less": 1 / STEP}


@dataclass(frozen=True)
class Limit:
    """The limiting case of a question: what holds up to it, and the force at its edge in its diagram."""

    reason: Reason
    diagram: Diagram
    force: Force


def limit_of(solved: SolvedQuestion) -> Limit | None:
    """The limit of a question that asks for a speed, a rate or a period, where something is seen to fail; else None."""
    found = _at_its_edge(solved)
    if found is None or _rate(solved) is None or _comes_by_itself(solved, found):
        return None
    scenes = solved.problem.scenes_of(solved.question)
    return found if any(failure_of(solved.problem, found, scene) for scene in scenes) else None


def _at_its_edge(solved: SolvedQuestion) -> Limit | None:
    limiting, problem = solved.question.limiting, solved.problem
    for reason in problem.holds if limiting else ():
        relation = reason.relation
        if limiting is None or {relation.left, relation.right} != {limiting.left, limiting.right}:
            continue
        for diagram in problem.diagrams:
            for force in diagram.forces:
                if force.symbol and sympy.Symbol(force.symbol) in (relation.left, relation.right):
                    return Limit(reason, diagram, force)
    return None


def _rate(solved: SolvedQuestion) -> Rate | None:
    motion, ask = solved.problem.motion, solved.question.ask
    if ask in {motion.speed, *(each.speed for each in solved.problem.diagrams)}:
        return "speed"
    return "angular speed" if ask == motion.angular_speed else "period" if ask == motion.period else None


def _comes_by_itself(solved: SolvedQuestion, found: Limit) -> bool:
    """Whether the motion itself leads to the limit somewhere on the circle, so that nobody sets the rate there."""
    return bool(found.diagram.angle) and found.diagram.angle not in solved.question.given


# --- what fails -------------------------------------------------------------------------------------


def failure_of(problem: Problem, found: Limit, scene: Scene) -> Failure | None:
    """What is seen past the limit in a scene, from what the bound is; None where nothing is seen to fail.

    Nothing fails at a comfort value that somebody chose, nor where the motion has no such state at all.
    """
    relation, kind = found.reason.relation, scene.kind_of(found.force)
    lower, upper = sides(relation)
    own = sympy.Symbol(found.force.symbol or "")
    if kind == "friction":
        return _slide(found) if lower == own and ceiling_of(problem, relation) else None
    if (lower, upper) == (sympy.Integer(0), own) and kind in ONE_WAY:
        return _let_go(problem, found, kind == "tension")
    if kind == "tension" and lower == own and upper.is_Symbol and not kinds_of(problem, upper.name):
        others = [each for each in found.diagram.forces if each is not found.force and each.law != "weight"]
        return "breaks among others" if any(_inward(found.diagram, each) for each in others) else "breaks"
    return None


def _slide(found: Limit) -> Failure | None:
    """A body at limiting friction slides against the way that the friction points."""
    inward, up = (_part(found.diagram, found.force, axis) for axis in ("inward", "up"))
    if found.diagram.surface == "wall":
        return "slides down the wall" if up > 0 else None
    if found.diagram.surface == "bank":
        return "slides up the slope" if inward > 0 else "slides down the slope"
    return None if up else "slides outwards" if inward > 0 else "slides inwards"


def _let_go(problem: Problem, found: Limit, is_cord: bool) -> Failure | None:
    """What acts one way only, and no longer; on a vertical circle the body then moves as a projectile."""
    inward = _part(found.diagram, found.force, "inward")
    if problem.motion.plane != "vertical" or not inward or found.diagram.spot not in ("top", "angle"):
        return None
    if inward < 0:
        return None if is_cord else "takes off"
    return "goes slack" if is_cord else "falls"


def _inward(diagram: Diagram, force: Force) -> bool:
    return any(axis == "inward" for axis, _ in components(diagram, force))


def _part(diagram: Diagram, force: Force, axis: str) -> float:
    """The sign of a force along an axis: its component at a slope of half a radian."""
    parts = dict(components(diagram, force))
    found = parts.get(axis, sympy.Integer(0))
    return float(found.subs(dict.fromkeys(found.free_symbols, 0.5)))


# --- on which side ----------------------------------------------------------------------------------


def _sign_of_question(solved: SolvedQuestion, hold: int) -> Sign | None:
    """The sign of what holds, where the asked quantity is known and the limiting case is not said."""
    problem, question = solved.problem, solved.question
    if goes_to_worker(problem):
        return sign_from(in_worker(problem, question, beyond_task, question, hold))
    return cached_sign(*_beyond(problem, question, hold))


def _beyond(problem: Problem, question: Question, hold: int) -> tuple[System, sympy.Expr]:
    free = replace(question, limiting=None, ask="", given=(*question.given, question.ask))
    return system_of(problem, free), gap(problem.holds[hold])


def beyond_task(problem: Problem, question: Question, hold: int) -> Tree:
    """That sign as plain data."""
    return dump_sign(sign_of(*_beyond(problem, question, hold)))


def beyond(solved: SolvedQuestion, limit: Limit, factor: float) -> Outcome | None:
    """What happens where the asked quantity is ``factor`` times its limit, from the sign of what holds in samples."""
    place = solved.problem.holds.index(limit.reason)
    sign = once(solved, ("sign beyond", place), partial(_sign_of_question, solved, place))
    if sign is None:
        return None
    samples = dict(samples_of(solved.problem, solved.question))
    samples[solved.question.ask] = evaluate(solved.solution.closed_form, samples) * factor
    margins = np.asarray(evaluate(sign.expression, samples))
    margins = margins[np.isfinite(margins)]
    if not len(margins) or (margins > 0).all() == (margins < 0).all():
        return None
    return "kept" if (margins > 0).all() else "lost"


# --- the question -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class PastLimit:
    """What is asked about a value just past a limit in one scene."""

    solved: SolvedQuestion
    scene: Scene
    change: Change
    rate: Rate
    limit: Limit
    seen: Seen
    outcome: Outcome

    @property
    def gaps(self) -> Mapping[str, str]:
        """What fills the gaps of the sentences."""
        body = with_article(self.scene.words[self.limit.diagram.body], "the")
        agent = self.scene.forces[self.limit.force.role].by
        return {"body": body, "Body": capital(body), "agent": agent, "Agent": capital(agent)}

    @property
    def prompt(self) -> Paragraph:
        """What is asked; a scene has one of two forms."""
        forms = ASKING[self.rate, self.change]
        draw = hashlib.sha256(f"{self.solved.id} {self.change} {self.scene.name}".encode()).digest()
        name = asked_name(self.solved.problem, self.solved.question, self.scene)
        return filled(forms[draw[0] % len(forms)], name=name, **self.gaps)

    @property
    def why(self) -> str:
        """Why it happens."""
        told = self.seen.safe if self.outcome == "kept" else self.seen.beyond
        return capital(told.format(**self.gaps))

    @property
    def key(self) -> str:
        """What happens."""
        told = self.seen.eased if self.outcome == "kept" else self.seen.lost
        return told.format(**self.gaps)

    @property
    def step(self) -> Step:
        """Why and what, as a step of the solution; its number is given where it stands."""
        return Step(0, CLOSING, ((Words(f"{self.why} {self.key}."),),))

    def entry(self, catalogue: Sequence[Mistake]) -> ChoiceEntry:
        """The choice among what might be seen."""
        options = [right((Words(f"{self.key}."),), f"Right. {self.why}"), *self._wrong(catalogue)]
        return ChoiceEntry(self.prompt, mixed(options, f"{self.solved.id} limit {self.change}"), shuffle=True)

    def _wrong(self, catalogue: Sequence[Mistake]) -> Iterator[Option]:
        """The same outcomes are offered on both sides of the limit, so that the offer does not tell the side."""
        own = self.solved.problem.mistakes_from(catalogue)
        ways = {each.edit.outcome: each for each in reversed(own) if isinstance(each.edit, OutcomeEdit)}
        for text, *needed in self._thoughts:
            mistakes = [ways[way] for way in needed if way in ways]
            if len(mistakes) == len(needed):
                yield wrong((Words(f"{text.format(**self.gaps)}."),), *mistakes, both=len(mistakes) > 1)

    @property
    def _thoughts(self) -> Iterator[tuple[str, ...]]:
        """Wrong outcomes, each with what the mistakes that lead to it say of it."""
        seen, safe = self.seen, self.outcome == "kept"
        yield seen.lasting, "kept"
        yield (seen.lost, "lost") if safe else (seen.eased, "kept")
        otherwise, way = (seen.straight, "straight") if seen.straight else (seen.with_friction, "with-friction")
        if not otherwise or not hashlib.sha256(self.solved.id.encode()).digest()[0] % 2:
            yield seen.same, "same"
        else:
            yield (otherwise, "lost", way) if safe else (otherwise, way)


def past_limit(solved: SolvedQuestion, scene: Scene, change: Change) -> PastLimit | None:
    """What is asked just past the limit in a scene; None where nothing is seen to fail, or it is no plain yes or no."""
    found, rate = limit_of(solved), _rate(solved)
    failure = failure_of(solved.problem, found, scene) if found else None
    outcome = beyond(solved, found, CHANGES[change]) if found and failure else None
    if found is None or rate is None or failure is None or outcome is None:
        return None
    return PastLimit(solved, scene, change, rate, found, SEEN[failure], outcome)


def limit(solved: SolvedQuestion, scene: Scene, change: Change, catalogue: Sequence[Mistake]) -> ChoiceEntry | None:
    """What happens just past the limit, as a choice; None where it is not asked."""
    asked = past_limit(solved, scene, change)
    return asked.entry(catalogue) if asked else None
