"""Questions about what depends on what, their keys computed from the closed form: change, limit, rank."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeAlias

import numpy as np
import sympy
from numpy.typing import NDArray

from ..item.item import ChoiceEntry, Given, Inline, Math, OrderEntry, Paragraph, Words
from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import system_of
from ..model.bounds import ONE_WAY, ceiling_of, sides
from ..model.evaluation import evaluate, holds
from ..model.mistake import Mistake, OutcomeEdit, ScalingEdit
from ..model.problem import Diagram, Force, Problem, Question, Scene
from ..model.wording import with_article
from ..solving.serial import Tree, dump_sign, sign_from
from ..solving.solution import Kept, Sign, SolvedQuestion, gap, samples_of, sign_of
from ..thinking.options import mixed, right, wrong
from ..variants.variant import Variant
from ..writing.numeric_steps import power_law
from ..writing.stem import asked_name
from ..writing.view import notation_of

Outcome: TypeAlias = Literal["kept", "lost"]
CASES = 4
APART = 0.05  # no two cases of a ranking are closer than this
STEP = 1.1  # how much faster or slower than the limit
POWERS = tuple(map(sympy.Rational, ("-2", "-1", "-1/2", "0", "1/2", "1", "2")))  # those that have plain words
_DONE = {sympy.Integer(2): "doubled", sympy.Rational(1, 2): "halved", sympy.Integer(3): "tripled"}
_TIMES = {1: "the same as before", 2: "twice what it was", 3: "three times what it was"}
_TIMES |= {4: "four times what it was", 9: "nine times what it was"}
_PARTS = {2: "half of what it was", 3: "a third of what it was", 4: "a quarter of what it was"}
_PARTS |= {9: "a ninth of what it was"}
MOST_FACTORS = 5
NO_FACTOR = "not a fixed factor of what it was"
READ_OFF = "Right: read the power of this quantity off the closed form."


# --- what a doubled, halved or tripled quantity does ------------------------------------------------


@dataclass(frozen=True)
class Scaling:
    """A quantity that is taken ``factor`` times."""

    symbol: str
    factor: sympy.Rational

    @property
    def done(self) -> str:
        """What is done to it: doubled, halved or tripled."""
        return _DONE[self.factor]

    def outcome(self, power: sympy.Rational) -> str:
        """What becomes of a quantity that goes with this power of it, in words."""
        times = self.factor**power
        if not times.is_rational:
            return f"greater by the factor √{times**2}" if times > 1 else f"smaller by the factor √{1 / times**2}"
        return _TIMES[times] if times >= 1 else _PARTS[1 / times]


def changes(solved: SolvedQuestion) -> tuple[Scaling, ...]:
    """The first given that varies, and a mass that has cancelled, each doubled, halved and tripled where it may be.

    Which comes first differs from question to question, alike on every machine.
    """
    found = [Scaling(symbol, factor) for symbol in _varied(solved) for factor in _DONE]
    ordered = sorted(found, key=lambda each: hashlib.sha256(f"{solved.id} {each.symbol} {each.done}".encode()).digest())
    return tuple(each for each in ordered if each.symbol not in solved.solution.symbols or _may(solved, each))


def _varied(solved: SolvedQuestion) -> tuple[str, ...]:
    spec = solved.problem.quantities
    varied = [name for name in solved.question.given if spec[name].draw and len(spec[name].draw.values) > 1]  # type: ignore[union-attr]
    angles = {name for name in varied if spec[name].unit.symbol == "deg"}
    masses = [each.mass for each in solved.problem.diagrams if each.spot != "rest"]
    idle = [
        name for name in dict.fromkeys(masses) if name not in solved.solution.symbols and name != solved.question.ask
    ]
    return (*[name for name in varied if name not in angles][:1], *idle[:1])


def _may(solved: SolvedQuestion, asked: Scaling) -> bool:
    """Whether the change is possible, all else held, in most samples that are possible as they are."""
    samples = samples_of(solved.problem, solved.question)
    before = _possible(solved, samples)
    after = _possible(solved, {**samples, asked.symbol: float(asked.factor) * np.asarray(samples[asked.symbol])})
    return bool(2 * np.sum(before & after) >= np.sum(before))


def _possible(solved: SolvedQuestion, samples: Mapping[str, Any]) -> NDArray[np.bool_]:
    """For each sample whether the answer is real, of a sign that it can have, and keeps what holds."""
    answer = evaluate(solved.solution.closed_form, samples)
    possible = np.isfinite(answer) & ((answer > 0) | (not solved.problem.quantities[solved.question.ask].positive))
    for kept in solved.kept:
        if kept.expression is not None:
            possible = possible & holds(kept.expression, samples, strict=kept.strict)
    return np.asarray(possible)


def change(solved: SolvedQuestion, scene: Scene, asked: Scaling, catalogue: Sequence[Mistake]) -> ChoiceEntry | None:
    """What a change does to the asked quantity, the others held; None for a power that has no plain words."""
    power = power_law(solved.solution.closed_form, asked.symbol)
    if power is not None and power not in POWERS:
        return None
    key = NO_FACTOR if power is None else asked.outcome(power)
    options = {key: right((Words(key),), READ_OFF)}
    for mistake in solved.problem.mistakes_from(catalogue):
        if isinstance(mistake.edit, ScalingEdit):
            thought = mistake.edit.power
            other = NO_FACTOR if thought is None else asked.outcome(thought)
            options.setdefault(other, wrong((Words(other),), mistake))
    rising = POWERS if asked.factor > 1 else POWERS[::-1]
    sizes = [*map(asked.outcome, rising), NO_FACTOR]
    shown = sorted(list(options)[:MOST_FACTORS], key=sizes.index)
    return ChoiceEntry(_change_prompt(solved, scene, asked), tuple(options[each] for each in shown))


def _change_prompt(solved: SolvedQuestion, scene: Scene, asked: Scaling) -> Paragraph:
    notation = notation_of(solved.problem, scene)
    name = asked_name(solved.problem, solved.question, scene)
    means = solved.problem.quantities[asked.symbol].means or asked.symbol
    others = [each for each in solved.question.given if each != asked.symbol]
    held = " All else is as before." if others else ""
    return (
        Words(f"The {means} "),
        Math(notation.symbol(asked.symbol)),
        Words(f" is {asked.done}.{held} What is the {name} "),
        Math(notation.symbol(solved.question.ask)),
        Words(" then?"),
    )


# --- faster or slower than the limit ----------------------------------------------------------------


@dataclass(frozen=True)
class Limit:
    """The limiting case of a question: what holds only just there, and the force at its edge in its diagram."""

    kept: Kept
    diagram: Diagram
    force: Force


def limit_of(solved: SolvedQuestion) -> Limit | None:
    """The limit of a question that asks for a speed, a rate or a period; None for any other."""
    limiting, problem = solved.question.limiting, solved.problem
    motion = problem.motion
    rates = {motion.angular_speed, motion.period, motion.speed, *(each.speed for each in problem.diagrams)}
    if limiting is None or solved.question.ask not in rates:
        return None
    for reason in problem.holds:
        relation = reason.relation
        if {relation.left, relation.right} != {limiting.left, limiting.right}:
            continue
        for diagram in problem.diagrams:
            for force in diagram.forces:
                if force.symbol and sympy.Symbol(force.symbol) in (relation.left, relation.right):
                    return Limit(Kept(reason, None, strict=False), diagram, force)
    return None


def _sign_beyond(problem: Problem, question: Question, hold: int) -> Sign | None:
    """The sign of what holds, where the asked quantity is known and the limiting case is not said."""
    free = replace(question, limiting=None, ask="", given=(*question.given, question.ask))
    return sign_of(system_of(problem, free), gap(problem.holds[hold]))


def beyond_task(problem: Problem, question: Question, hold: int) -> Tree:
    """That sign as plain data."""
    return dump_sign(_sign_beyond(problem, question, hold))


def beyond(solved: SolvedQuestion, limit: Limit, factor: float) -> Outcome | None:
    """What happens where the asked quantity is ``factor`` times its limit, from the sign of what holds in samples."""
    place = solved.problem.holds.index(limit.kept.reason)
    if goes_to_worker(solved.problem):
        sign = sign_from(in_worker(solved.problem, solved.question, beyond_task, solved.question, place))
    else:
        sign = _sign_beyond(solved.problem, solved.question, place)
    if sign is None:
        return None
    samples = dict(samples_of(solved.problem, solved.question))
    samples[solved.question.ask] = evaluate(solved.solution.closed_form, samples) * factor
    margins = np.asarray(evaluate(sign.expression, samples))
    margins = margins[np.isfinite(margins)]
    if not len(margins) or (margins > 0).all() == (margins < 0).all():
        return None
    return "kept" if (margins > 0).all() else "lost"


def limit(solved: SolvedQuestion, scene: Scene, factor: float, catalogue: Sequence[Mistake]) -> ChoiceEntry | None:
    """What happens a little above or below the limit; None where it is no plain yes or no."""
    found = limit_of(solved)
    outcome = beyond(solved, found, factor) if found else None
    if found is None or outcome is None:
        return None
    told_kept, told_lost = _outcomes(solved, found, scene)
    texts: dict[str, str] = {
        "kept": told_kept,
        "lost": told_lost,
        "same": "nothing changes: it stays just at the limit",
    }
    options = [right((Words(texts[outcome]),))]
    for mistake in solved.problem.mistakes_from(catalogue):
        if isinstance(mistake.edit, OutcomeEdit) and mistake.edit.outcome != outcome:
            options.append(wrong((Words(texts[mistake.edit.outcome]),), mistake))
    name = asked_name(solved.problem, solved.question, scene)
    grown = "greater" if factor > 1 else "smaller"
    prompt = (Words(f"What happens at a value a little {grown} than the {name}?"),)
    return ChoiceEntry(prompt, mixed(options, f"{solved.id} limit {grown}"), shuffle=True)


def _outcomes(solved: SolvedQuestion, found: Limit, scene: Scene) -> tuple[str, str]:
    """What happens within the limit and beyond it, as the bound is: friction slips, a cord or a surface lets go."""
    shown = scene.forces[found.force.role]
    body = with_article(scene.words[found.diagram.body], "the")
    relation = found.kept.reason.relation
    kind = scene.kind_of(found.force)
    if kind == "friction" and ceiling_of(solved.problem, relation):
        return f"{body} keeps its circle, with friction to spare", f"the friction is not enough, and {body} slips"
    if kind in ONE_WAY and 0 in (relation.left, relation.right):
        return (
            f"{shown.by} {shown.acts} {body}: the {shown.name} is greater than zero",
            f"{shown.by} can no longer act: {body} leaves its circle",
        )
    return _within(
        found, scene, breaks=kind == "tension" and sympy.Symbol(found.force.symbol or "") == sides(relation)[0]
    )


def _within(found: Limit, scene: Scene, *, breaks: bool) -> tuple[str, str]:
    """A force that stays within its bounds, and one that does not; the agent tells it from another of its name."""
    shown = scene.forces[found.force.role]
    names = [words.name for each in found.diagram.forces if (words := scene.forces.get(each.role))]
    if names.count(shown.name) == 1:
        return f"the {shown.name} stays within its bounds", f"the {shown.name} would have to pass its bound"
    if breaks:
        return (
            f"{shown.by} holds: the {shown.name} in it stays within its bounds",
            f"{shown.by} breaks: the {shown.name} in it would have to pass its bound",
        )
    told = f"the {shown.name} of {shown.by}"
    return f"{told} stays within its bounds", f"{told} would have to pass its bound"


# --- rank cases ---------------------------------------------------------------------------------------


def cases(variants: Sequence[Variant]) -> tuple[Variant, ...]:
    """Four of the variants of one scene whose answers are five percent apart at least; () if there are fewer."""
    kept: list[Variant] = []
    for variant in variants:
        if all(_are_apart(variant.exact_si, each.exact_si) for each in kept):
            kept.append(variant)
        if len(kept) == CASES:
            return tuple(kept)
    return ()


def _are_apart(first: float, second: float) -> bool:
    return abs(first - second) > APART * max(abs(first), abs(second))


def rank(solved: SolvedQuestion, scene: Scene, chosen: Sequence[Variant]) -> OrderEntry:
    """Cases to be put in order of the asked quantity, least first, from computed values."""
    options = tuple(tuple(_case(solved, scene, variant)) for variant in chosen)
    order = sorted(range(len(chosen)), key=lambda place: chosen[place].exact_si)
    name = asked_name(solved.problem, solved.question, scene)
    prompt = (Words(f"Put these cases in order of the {name}, the least first."),)
    hint = f"Write the {name} in letters first, then compare the cases term by term."
    return OrderEntry(prompt, options, tuple(order), hint)


def _case(solved: SolvedQuestion, scene: Scene, variant: Variant) -> Iterator[Inline]:
    notation = notation_of(solved.problem, scene)
    for place, name in enumerate(solved.question.given):
        quantity = variant.given[name]
        yield Words(", ") if place else Words("")
        yield Math(notation.symbol(name))
        yield Words(" = ")
        yield Given(name, quantity.number, quantity.unit.printed)
